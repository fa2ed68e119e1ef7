/** Ways to damage a file. Each takes numbers from 0 to 1 from a seeded source: the same number, the same damage. */
export type Random = () => number;
export type Damage = (bytes: Buffer, random: Random, others: readonly Buffer[]) => Buffer;

export const below = (random: Random, limit: number): number => Math.floor(random() * limit);
export const oneOf = <T>(random: Random, list: readonly T[]): T => list[below(random, list.length)];
