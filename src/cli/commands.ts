import type { CommandModule } from 'yargs';
import { bookCommand } from './book.js';
import { checkCommand } from './check.js';
import { compareCommand } from './compare.js';
import { dayCommand } from './day.js';
import { greenCommand } from './green.js';
import { holesCommand } from './holes.js';
import { layoutsCommand } from './layouts.js';
import { locateCommand } from './locate.js';
import { newCommand } from './new.js';
import { proofCommand } from './proof.js';
import { puttCommand } from './putt.js';
import { speedCommand } from './speed.js';
import { surveyCommand } from './survey.js';

/** Every command of the program, in the order of its help. */
export const COMMANDS: readonly CommandModule<object, never>[] = [
  bookCommand,
  checkCommand,
  compareCommand,
  dayCommand,
  greenCommand,
  holesCommand,
  layoutsCommand,
  locateCommand,
  newCommand,
  proofCommand,
  puttCommand,
  speedCommand,
  surveyCommand,
] as readonly CommandModule<object, never>[];
