/** Takes a block of bytes away; gives what brings it again. */
export type StoreBlock = (block: Uint8Array) => () => Uint8Array;

/** Bytes one after the other, which are asked for again. */
export interface ByteStore {
  /** Gives where they lie. */
  readonly append: (bytes: Uint8Array) => number;
  readonly read: (at: number, length: number) => Uint8Array;
}

/** Bytes of a block, and blocks that are held at a time beside the one that is being filled. */
const BLOCK = 2 ** 18;
const MOST_HELD = 4;

const inMemory: StoreBlock = (block) => () => block;

/** A store whose full blocks are kept by `store`; in memory where it is left out. */
export const startBytes = (store: StoreBlock = inMemory): ByteStore => {
  const full: (() => Uint8Array)[] = [];
  const held = new Map<number, Uint8Array>();
  let block = new Uint8Array(BLOCK);
  let end = 0;
  const blockOf = (i: number): Uint8Array => {
    if (i === full.length) return block;
    const found = held.get(i) ?? full[i]();
    held.delete(i);
    held.set(i, found);
    if (held.size > MOST_HELD) held.delete(held.keys().next().value as number);
    return found;
  };
  /** Goes through the pieces of a stretch, each inside one block. */
  const pieces = (
    at: number,
    length: number,
    each: (done: number, within: number, count: number, i: number) => void,
  ): void => {
    for (let done = 0; done < length; ) {
      const within = (at + done) % BLOCK;
      const count = Math.min(BLOCK - within, length - done);
      each(done, within, count, Math.floor((at + done) / BLOCK));
      done += count;
    }
  };
  return {
    append: (bytes) => {
      const at = end;
      pieces(at, bytes.length, (done, within, count) => {
        block.set(bytes.subarray(done, done + count), within);
        if (within + count < BLOCK) return;
        full.push(store(block));
        block = new Uint8Array(BLOCK);
      });
      end += bytes.length;
      return at;
    },
    read: (at, length) => {
      const bytes = new Uint8Array(length);
      pieces(at, length, (done, within, count, i) => {
        bytes.set(blockOf(i).subarray(within, within + count), done);
      });
      return bytes;
    },
  };
};
