/** Whether a smaller file shows the same. */
type StillShows = (bytes: Buffer) => Promise<boolean>;

/** Tries that a finding is worth. */
const MOST_TRIES = 120;
const MOST_MILLISECONDS = 10_000;

/** Cuts away half, a quarter, an eighth … of a file as long as what is left still shows the finding. */
export const shrunk = async (bytes: Buffer, stillShows: StillShows): Promise<Buffer> => {
  let small = bytes;
  let tries = 0;
  const end = performance.now() + MOST_MILLISECONDS;
  const mayTry = (): boolean => tries < MOST_TRIES && performance.now() < end;
  for (let piece = Math.ceil(small.length / 2); piece >= 1 && mayTry(); ) {
    let hasCut = false;
    for (let at = 0; at < small.length && mayTry(); ) {
      const without = Buffer.concat([small.subarray(0, at), small.subarray(at + piece)]);
      tries++;
      if (without.length > 0 && (await stillShows(without))) {
        small = without;
        hasCut = true;
      } else at += piece;
    }
    if (!hasCut || piece > small.length) piece = piece === 1 ? 0 : Math.ceil(piece / 2);
  }
  return small;
};
