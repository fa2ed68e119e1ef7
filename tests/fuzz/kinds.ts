import type { Damage } from './chance.js';

/** A whole file to be damaged. */
export interface Seed {
  readonly name: string;
  readonly bytes: Buffer;
  readonly options?: Readonly<Record<string, unknown>>;
}

export interface CaseContext {
  /** A folder that the cases of one process share. */
  readonly folder: string;
  readonly number: number;
}

/** A kind of file: what it is damaged from, how, and what reads it. `read` throws what the reader throws. */
export interface Kind {
  readonly name: string;
  readonly damage: Damage;
  readonly seeds: () => readonly Seed[] | Promise<readonly Seed[]>;
  readonly read: (bytes: Buffer, seed: Seed, context: CaseContext) => Promise<void>;
}
