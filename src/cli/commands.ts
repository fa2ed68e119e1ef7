import type { CommandModule } from 'yargs';
import { bookCommand } from './book.js';
import { holesCommand } from './holes.js';

/** Every command of the program, in the order of its help. */
export const COMMANDS: readonly CommandModule<object, never>[] = [
  bookCommand,
  holesCommand,
] as readonly CommandModule<object, never>[];
