import { setImmediate } from 'node:timers/promises';

/** Between two pieces of long work: a signal, or a line of progress, gets its turn. */
export const othersTurn = (): Promise<void> => setImmediate();

/** What is made of each, in its order, with a turn for others before each. */
export const oneByOne = async <T, U>(
  all: Iterable<T>,
  make: (one: T, i: number) => U,
): Promise<U[]> => {
  const made: U[] = [];
  for (const one of all) {
    await othersTurn();
    made.push(make(one, made.length));
  }
  return made;
};
