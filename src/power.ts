/**
 * Powers that are the same bits in every Node. ECMA-262 leaves `**` to the engine as "an implementation-approximated
 * value": V8's of Node 24 differs in last places from that of Node 20, while its exp and log are the same in both. A book
 * is the same bytes wherever it is made, so the code takes its powers from here (`** 2` and powers of two are exact).
 */

/** A base to a whole exponent of 0 or more, by products. */
export const wholePower = (base: number, exponent: number): number => {
  let product = 1;
  for (let k = 0; k < exponent; k++) product *= base;
  return product;
};

/** Powers of ten that are whole doubles and in use: by what a figure of 15 digits is divided. */
export const POWERS_OF_TEN: readonly number[] = Array.from({ length: 16 }, (_, k) =>
  wholePower(10, k),
);

/** A base of 0 or more to any exponent but 0, to within (1 + |exponent log base|) roundings. */
export const realPower = (base: number, exponent: number): number =>
  Math.exp(exponent * Math.log(base));

/** Ten to any exponent, as smoothings are searched by. */
export const tenTo = (exponent: number): number => realPower(10, exponent);
