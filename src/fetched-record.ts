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

/** Whether a value of a record is brought when it is asked for. */
export const isFetched = <T extends object>(record: T, key: keyof T): boolean =>
  Object.getOwnPropertyDescriptor(record, key)?.get !== undefined;

/** A record without some of its values, which are not brought for that. */
export const withoutValues = <T extends object, K extends keyof T>(
  record: T,
  keys: readonly K[],
): Omit<T, K> => {
  const told = Object.getOwnPropertyDescriptors(record) as Record<keyof T, PropertyDescriptor>;
  for (const key of keys) delete told[key];
  return Object.defineProperties({}, told) as Omit<T, K>;
};
