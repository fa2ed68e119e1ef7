import { ownLayouts } from '../layout/own-layouts.js';

/**
 * What each command takes. It stands apart from what the commands do, so that a page of help loads none of
 * it: nothing but words may be imported here.
 */
export type Options = (taker: OptionTaker) => OptionTaker;

/** One argument of a command, as the parser and the help take it. */
export interface Argument {
  readonly describe: string;
  readonly type?: 'string' | 'number' | 'boolean';
  readonly choices?: readonly string[];
  readonly default?: string | number | boolean;
  readonly demandOption?: boolean;
  readonly array?: boolean;
  /** It names a file or a folder. */
  readonly path?: true | undefined;
  /** It is a green speed. */
  readonly greenSpeed?: true | undefined;
}

/** What is told of each argument in turn: the parser, or who writes the help. */
export interface OptionTaker {
  readonly positional: (name: string, argument: Argument) => OptionTaker;
  readonly option: (name: string, argument: Argument) => OptionTaker;
}

/** What every command takes. */
export const GLOBAL_OPTIONS: Readonly<Record<string, Argument>> = {
  json: { type: 'boolean', default: false, describe: 'machine-readable result on stdout' },
  units: { choices: ['imperial', 'metric'], describe: 'units shown (imperial)' },
  outside: {
    type: 'boolean',
    default: false,
    describe: 'the course file may name files outside its folder',
  },
};

/** Arguments that several commands take, in one wording. */
export const COURSE_ARGUMENT = {
  type: 'string',
  demandOption: true,
  path: true,
  describe: 'course folder or course file',
} as const;

export const HOLE_ARGUMENT = {
  type: 'string',
  demandOption: true,
  describe: 'the hole, as the course file names it',
} as const;

export const OUT_OPTION = {
  type: 'string',
  default: 'out',
  path: true,
  describe: 'folder for what is made',
} as const;

/** Of a command that makes no files there, but finds there what others have kept. */
export const CACHE_OPTION = {
  type: 'string',
  default: 'out',
  path: true,
  describe: 'folder whose cache of fitted greens is used',
} as const;

export const LOCATIONS_OPTION = {
  type: 'string',
  path: true,
  describe: 'a CSV file with the columns hole,day,on,in,side; else the one in the course file',
} as const;

export const layoutOption = () =>
  ({
    type: 'string',
    default: 'pocket',
    path: true,
    describe: `a layout file, or one of ${ownLayouts().join(', ')}`,
  }) as const;
