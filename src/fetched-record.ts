/** How the values of a record are brought when they are asked for. */
type Bringing<L> = { readonly [K in keyof L]: () => L[K] };

/** A record some of whose values are brought each time that they are asked for, so that it need not hold them. */
export const fetchedRecord = <T extends object, L extends object>(
  told: T,
  asked: Bringing<L>,
): T & L => {
  const record = Object.defineProperties({}, Object.getOwnPropertyDescriptors(told));
  for (const [key, get] of Object.entries(asked)) {
    Object.defineProperty(record, key, { get: get as () => unknown, enumerable: true });
  }
  return record as T & L;
};

/** A record with another value; one that was brought when asked for is so, too, and all others stay as they were. */
export const withValue = <T extends object, K extends keyof T>(
  record: T,
  key: K,
  value: () => T[K],
): T => {
  const told = Object.getOwnPropertyDescriptors(record);
  const isFetched = told[key]?.get !== undefined;
  if (!isFetched) return { ...record, [key]: value() };
  return Object.defineProperties({}, { ...told, [key]: { get: value, enumerable: true } }) as T;
};
