/** A place for what is put into a wording: "{count} greens". */
export const SLOT = /\{(\w+)\}/g;

/** A wording with what belongs into its places. */
export const filled = (
  wording: string,
  values: Readonly<Record<string, string | number>>,
): string => wording.replace(SLOT, (_, name: string) => `${values[name]}`);

/** So many of something, in English: "1 point", "2 points"; `many` where it is not the word with an s. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;
