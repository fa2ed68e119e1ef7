/** How the values of a record are brought when they are asked for. */
type Bringing<L> = { readonly [K in keyof L]: () => L[K] };

type Brought = Readonly<Record<string, () => unknown>>;

const BRINGING = Symbol('bringing');

interface Fetched {
  readonly [BRINGING]?: Brought;
}

const bringingOf = (record: object): Brought | undefined => (record as Fetched)[BRINGING];

const getters = new Map<string, PropertyDescriptor>();

/** The same getter for each record that has such a key: with one of its own V8 keeps a record as a table, several times as large. */
const getterOf = (key: string): PropertyDescriptor => {
  const found = getters.get(key) ?? {
    get(this: object) {
      return bringingOf(this)?.[key]();
    },
    enumerable: true,
  };
  getters.set(key, found);
  return found;
};

/** What a record holds itself. */
const heldOf = (record: object): object => {
  const bringing = bringingOf(record);
  if (bringing === undefined) return record;
  const held: Record<string, unknown> = {};
  for (const key of Object.keys(record)) {
    if (!(key in bringing)) held[key] = (record as Record<string, unknown>)[key];
  }
  return held;
};

/** A record some of whose values are brought each time that they are asked for, so that it need not hold them. */
export const fetchedRecord = <T extends object, L extends object>(
  told: T,
  asked: Bringing<L>,
): T & L => {
  const record = { ...heldOf(told) };
  const bringing = { ...bringingOf(told), ...asked } as Brought;
  Object.defineProperty(record, BRINGING, { value: bringing });
  for (const key of Object.keys(bringing)) Object.defineProperty(record, key, getterOf(key));
  return record as T & L;
};

/** A record with another value; one that was brought when asked for is so, too, and all others stay as they were. */
export const withValue = <T extends object, K extends keyof T & string>(
  record: T,
  key: K,
  value: () => T[K],
): T =>
  bringingOf(record)?.[key] === undefined
    ? withHeld(record, { [key]: value() })
    : fetchedRecord(record, { [key]: value });

/** A record with further values, or others; what is brought when it is asked for still is. */
export const withHeld = <T extends object, M extends object>(record: T, more: M): T & M => {
  const bringing = bringingOf(record);
  return bringing === undefined
    ? { ...record, ...more }
    : (fetchedRecord({ ...heldOf(record), ...more }, bringing) as T & M);
};
