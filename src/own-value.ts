/**
 * What a table holds under a word that a file or a person gave: `constructor` and its like stand in every
 * object and in no table.
 */
export const ownValue = <T>(table: Readonly<Record<string, T>>, word: string): T | undefined =>
  Object.hasOwn(table, word) ? table[word] : undefined;
