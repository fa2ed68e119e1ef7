import type { Options } from './options.js';

/** A command: its line and words for the help, and how to load what it takes and what it does. */
export interface Command {
  readonly signature: string;
  readonly describe: string;
  /** Course or layout may choose the units where the command line does not. */
  readonly unitsOfCourse?: true;
  readonly options: () => Promise<Options>;
  readonly run: () => Promise<(args: never) => void | Promise<void>>;
}

/**
 * Every command of the program, in the order of its help. Only words stand here: a command's code is loaded
 * when it runs, so that help is there at once.
 */
export const COMMANDS: Readonly<Record<string, Command>> = {
  book: {
    signature: 'book [course..]',
    describe: 'make the whole book of a course, or of several',
    unitsOfCourse: true,
    options: async () => (await import('./options-of-books.js')).bookOptions,
    run: async () => (await import('./book.js')).runBook,
  },
  cache: {
    signature: 'cache',
    describe: 'what is kept so that it need not be made again: how much, and clearing it',
    options: async () => (await import('./options-of-books.js')).cacheOptions,
    run: async () => (await import('./cache.js')).runCache,
  },
  check: {
    signature: 'check <file>',
    describe: 'preflight a book, and measure it against the Rules',
    options: async () => (await import('./options-of-books.js')).checkOptions,
    run: async () => (await import('./check.js')).runCheck,
  },
  compare: {
    signature: 'compare <older> <newer>',
    describe: 'two surveys of one green: what moved, and which tables change',
    unitsOfCourse: true,
    options: async () => (await import('./options-of-surveys.js')).compareOptions,
    run: async () => (await import('./compare.js')).runCompare,
  },
  day: {
    signature: 'day <course>',
    describe: 'the pages that change: hole locations and putts of a day at its green speed',
    unitsOfCourse: true,
    options: async () => (await import('./options-of-days.js')).dayOptions,
    run: async () => (await import('./day.js')).runDay,
  },
  distances: {
    signature: 'distances <course> <hole>',
    describe:
      'a hole: from landmarks, tees or any point to the green and the hazards; widths, heights',
    unitsOfCourse: true,
    options: async () => (await import('./options-of-days.js')).distancesOptions,
    run: async () => (await import('./distances.js')).runDistances,
  },
  green: {
    signature: 'green <course> <hole>',
    describe: 'one green: how its ground falls and drains, as figures, as a page, as GeoJSON',
    unitsOfCourse: true,
    options: async () => (await import('./options-of-books.js')).greenOptions,
    run: async () => (await import('./green.js')).runGreen,
  },
  holes: {
    signature: 'holes <course>',
    describe: 'hole locations of a day as points on the green, and surveyed points as paces',
    unitsOfCourse: true,
    options: async () => (await import('./options-of-days.js')).holesOptions,
    run: async () => (await import('./holes.js')).runHoles,
  },
  layouts: {
    signature: 'layouts',
    describe: 'list the layouts, or print the schema of a layout file',
    options: async () => (await import('./options-of-books.js')).layoutsOptions,
    run: async () => (await import('./layouts.js')).runLayouts,
  },
  locate: {
    signature: 'locate <course> [hole]',
    describe:
      'where a hole could be cut: areas of a green by published guidance, or a rota of days',
    unitsOfCourse: true,
    options: async () => (await import('./options-of-days.js')).locateOptions,
    run: async () => (await import('./locate.js')).runLocate,
  },
  new: {
    signature: 'new <folder>',
    describe: 'make a course folder from a map',
    options: async () => (await import('./options-of-books.js')).newOptions,
    run: async () => (await import('./new.js')).runNew,
  },
  proof: {
    signature: 'proof <course>',
    describe: 'the pages in a browser on this machine, with putts on every green',
    unitsOfCourse: true,
    options: async () => (await import('./options-of-books.js')).proofOptions,
    run: async () => (await import('./proof.js')).runProof,
  },
  putt: {
    signature: 'putt',
    describe: 'one putt, solved on a survey; coordinates in metres of the survey',
    unitsOfCourse: true,
    options: async () => (await import('./options-of-surveys.js')).puttOptions,
    run: async () => (await import('./putt.js')).runPutt,
  },
  roll: {
    signature: 'roll <course> <file>',
    describe: 'green speed, aim and survey by balls that were sent off and where they came to rest',
    unitsOfCourse: true,
    options: async () => (await import('./options-of-surveys.js')).rollOptions,
    run: async () => (await import('./roll.js')).runRoll,
  },
  speed: {
    signature: 'speed',
    describe: 'green speed from two rolls on one slope, up and down',
    options: async () => (await import('./options-of-days.js')).speedOptions,
    run: async () => (await import('./speed.js')).runSpeed,
  },
  station: {
    signature: 'station <course> <hole>',
    describe: 'a practice station anywhere on a green: four tees, one marker, and what to picture',
    unitsOfCourse: true,
    options: async () => (await import('./options-of-days.js')).stationOptions,
    run: async () => (await import('./station.js')).runStation,
  },
  survey: {
    signature: 'survey [file]',
    describe: 'what a survey is worth: break tables, fall arrows, or the outline only',
    unitsOfCourse: true,
    options: async () => (await import('./options-of-surveys.js')).surveyOptions,
    run: async () => (await import('./survey.js')).runSurvey,
  },
  words: {
    signature: 'words',
    describe: 'the words of the pages, as a file to write them in another language',
    options: async () => (yargs) => yargs,
    run: async () => (await import('./words.js')).runWordTable,
  },
};

/** The command that a command line names: its first word that is one. */
export const namedCommand = (argv: readonly string[]): Command | undefined =>
  argv.map((word) => (Object.hasOwn(COMMANDS, word) ? COMMANDS[word] : undefined)).find(Boolean);
