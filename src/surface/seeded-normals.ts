/**
 * Standard normal numbers from a seed: a generator of shifts (Marsaglia, J. Stat. Softw. 8 (2003) 14) and
 * the polar method (Marsaglia & Bray, SIAM Rev. 6 (1964) 260-264).
 */
export const seededNormals = (seed: number): (() => number) => {
  let state = seed >>> 0 || 1;
  const uniform = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state / 4_294_967_296;
  };
  let spare: number | null = null;
  return () => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    for (;;) {
      const a = 2 * uniform() - 1;
      const b = 2 * uniform() - 1;
      const s = a * a + b * b;
      if (s >= 1 || s === 0) continue;
      const size = Math.sqrt((-2 * Math.log(s)) / s);
      spare = b * size;
      return a * size;
    }
  };
};

/** A seed from numbers: equal numbers, equal seed (the FNV-1a hash over their bytes). */
export const seedOf = (numbers: Float64Array): number => {
  let hash = 0x811c9dc5;
  for (const byte of new Uint8Array(numbers.buffer, numbers.byteOffset, numbers.byteLength)) {
    hash = Math.imul(hash ^ byte, 0x01000193);
  }
  return hash >>> 0;
};
