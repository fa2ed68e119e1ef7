/** A place for what is put into a wording: "{count} greens". */
export const SLOT = /\{(\w+)\}/g;

/** A wording with what belongs into its places. */
export const filled = (
  wording: string,
  values: Readonly<Record<string, string | number>>,
): string => wording.replace(SLOT, (_, name: string) => `${values[name]}`);
