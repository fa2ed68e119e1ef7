/**
 * The parent tree of a tagged document (ISO 32000-1, 14.7.4.4) as it grows: by page the elements of its content, by annotation
 * the element of a link. In typed arrays, since a tagged book has hundreds of thousands of elements.
 */
export interface ParentTree {
  /** Notes the numbers of the elements that a key leads to: of a page a list, of an annotation one. */
  readonly note: (key: number, owners: readonly number[] | number) => void;
  /** The object that holds it, as a PDF writes it, piece by piece; keys that nothing was noted of are left out. */
  readonly pieces: () => Iterable<string>;
}

/** What stands for the count of a key that leads to one element and no list, and of a key without any. */
const ALONE = 2 ** 32 - 1;
const NONE = ALONE - 1;

/** The array, or a larger one that begins with it. */
const withRoom = (array: Uint32Array, size: number, filled: number): Uint32Array => {
  if (size <= array.length) return array;
  const larger = new Uint32Array(Math.max(size, Math.ceil(1.5 * array.length))).fill(filled);
  larger.set(array);
  return larger;
};

export const startParentTree = (): ParentTree => {
  let owners: Uint32Array = new Uint32Array(1024);
  let starts: Uint32Array = new Uint32Array(64);
  let counts: Uint32Array = new Uint32Array(64).fill(NONE);
  let [end, keys] = [0, 0];
  const add = (owner: number): void => {
    owners = withRoom(owners, end + 1, 0);
    owners[end++] = owner;
  };
  const wordsOf = (key: number): string => {
    const [at, count] = [starts[key], counts[key]];
    if (count === NONE) return '';
    if (count === ALONE) return `${key} ${owners[at]} 0 R `;
    let list = '';
    for (let i = at; i < at + count; i++) list += `${owners[i]} 0 R `;
    return `${key} [ ${list}] `;
  };
  return {
    note: (key, of) => {
      starts = withRoom(starts, key + 1, 0);
      counts = withRoom(counts, key + 1, NONE);
      starts[key] = end;
      counts[key] = typeof of === 'number' ? ALONE : of.length;
      keys = Math.max(keys, key + 1);
      if (typeof of === 'number') add(of);
      else for (const owner of of) add(owner);
    },
    *pieces() {
      yield '<<\n/Nums [ ';
      for (let key = 0; key < keys; key++) yield wordsOf(key);
      yield ']\n>>';
    },
  };
};
