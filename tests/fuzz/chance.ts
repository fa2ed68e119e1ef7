import { seeded } from '../survey/foreign-texts.js';

/** Ways to damage a file. Each takes numbers from 0 to 1 from a seeded source: the same number, the same damage. */
export type Random = () => number;
export type Damage = (bytes: Buffer, random: Random, others: readonly Buffer[]) => Buffer;

/** A number of a text (FNV-1a). */
const hashOf = (text: string): number =>
  [...text].reduce((hash, c) => Math.imul(hash ^ c.charCodeAt(0), 16_777_619), 2_166_136_261) >>> 0;

/** The source of a case: by its number, and by its kind, so that those of one kind differ from those of another. */
export const randomOfCase = (kind: string, number: number): Random =>
  seeded(hashOf(kind) ^ Math.imul(number, 2_654_435_761));

export const below = (random: Random, limit: number): number => Math.floor(random() * limit);
export const oneOf = <T>(random: Random, list: readonly T[]): T => list[below(random, list.length)];
