/** The same words in the same order. */
export const sameRefs = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((one, i) => one === b[i]);

/** Whether a word of the map is the number of a hole. */
export const isHoleNumber = (ref: string): boolean => /^\d+$/.test(ref);

/** "2" before "10", and loops by their letters. */
export const byNumber = (a: string, b: string): number => {
  const [x, y] = [/^(\D*)(\d*)/.exec(a)!, /^(\D*)(\d*)/.exec(b)!];
  if (x[1] !== y[1]) return x[1] < y[1] ? -1 : 1;
  return Number(x[2]) - Number(y[2]) || (a < b ? -1 : a > b ? 1 : 0);
};

/** The same words in any order. */
export const sameSet = (a: readonly string[], b: readonly string[]): boolean =>
  new Set(a).size === new Set(b).size && a.every((one) => b.includes(one));

/** Words of holes in the order given, runs of three numbers and more in short: "1–12, 14, P". */
export const inRuns = (refs: readonly string[], to = '–'): string => {
  const runs: string[][] = [];
  for (const ref of refs) {
    const last = runs[runs.length - 1];
    const isNext =
      isHoleNumber(ref) && Number(last?.[last.length - 1] ?? Number.NaN) === Number(ref) - 1;
    if (isNext) last.push(ref);
    else runs.push([ref]);
  }
  return runs
    .map((run) => (run.length < 3 ? run.join(', ') : `${run[0]}${to}${run[run.length - 1]}`))
    .join(', ');
};
