import { COMMANDS, type Command } from './commands.js';
import { type Argument, GLOBAL_OPTIONS, type OptionTaker } from './options.js';

/**
 * The pages of help. They are set here and not by the parser, which takes as long to load as all else that
 * a page of help needs.
 */

/** Columns of the page, as on the narrowest terminal that is common. */
const WIDTH = 80;

/** A line of a list: what is named, what it does, and what may be given for it. */
interface Row {
  readonly name: string;
  readonly words: string;
  readonly given: string;
}

const wrapped = (words: string, width: number): string[] => {
  const lines: string[] = [''];
  for (const word of words.split(' ')) {
    const last = lines[lines.length - 1];
    if (last === '') lines[lines.length - 1] = word;
    else if (last.length + 1 + word.length <= width) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
};

/** What may be given, at the right: on the last line if that has room, else below. */
const withGiven = (lines: readonly string[], given: string, room: number): string[] => {
  if (given === '') return [...lines];
  const last = lines[lines.length - 1];
  if (last.length + 1 + given.length <= room) {
    return [...lines.slice(0, -1), last + given.padStart(room - last.length)];
  }
  return [...lines, ...wrapped(given, room).map((line) => line.padStart(room))];
};

/** Names in a column of their own, and beside each its words. */
const setRows = (title: string, rows: readonly Row[]): string[] => {
  if (rows.length === 0) return [];
  const left = 4 + Math.max(...rows.map(({ name }) => name.length));
  const room = WIDTH - left;
  return [
    '',
    title,
    ...rows.flatMap(({ name, words, given }) => {
      const lines = withGiven(wrapped(words, room), given, room);
      return lines.map((line, i) => (i === 0 ? `  ${name}`.padEnd(left) : ' '.repeat(left)) + line);
    }),
  ];
};

const givenFor = ({ type, choices, array, demandOption, ...rest }: Argument): string =>
  [
    ...(array === true ? ['[array]'] : type === undefined ? [] : [`[${type}]`]),
    ...(demandOption === true ? ['[required]'] : []),
    ...(choices === undefined
      ? []
      : [`[choices: ${choices.map((choice) => `"${choice}"`).join(', ')}]`]),
    ...(rest.default === undefined ? [] : [`[default: ${JSON.stringify(rest.default)}]`]),
  ].join(' ');

const rowOf = (name: string, argument: Argument): Row => ({
  name,
  words: argument.describe,
  given: givenFor(argument),
});

const ASKED: Argument = { type: 'boolean', describe: '' };
const COMMON: readonly Row[] = [
  ...Object.entries(GLOBAL_OPTIONS).map(([name, argument]) => rowOf(`--${name}`, argument)),
  rowOf('--version', { ...ASKED, describe: 'show the version' }),
  rowOf('--help', { ...ASKED, describe: 'show this help' }),
];

const helpOfProgram = (): string[] => [
  'Surveys of putting greens in, pocket yardage books out.',
  '',
  'runnel <command>',
  ...setRows(
    'Commands:',
    Object.values(COMMANDS).map(({ signature, describe }) => ({
      name: `runnel ${signature}`,
      words: describe,
      given: '',
    })),
  ),
  ...setRows('Options:', COMMON),
];

const helpOfCommand = async (command: Command): Promise<string[]> => {
  const positionals: Row[] = [];
  const own: Row[] = [];
  const taker: OptionTaker = {
    positional: (name, argument) => {
      positionals.push(rowOf(name, argument));
      return taker;
    },
    option: (name, argument) => {
      own.push(rowOf(`--${name}`, argument));
      return taker;
    },
  };
  (await command.options())(taker);
  return [
    `runnel ${command.signature}`,
    '',
    ...wrapped(command.describe, WIDTH),
    ...setRows('Positionals:', positionals),
    ...setRows('Options:', [...own, ...COMMON]),
  ];
};

/** The page of help of a command, or of the program. */
export const helpPage = async (command: Command | undefined): Promise<string> =>
  (command === undefined ? helpOfProgram() : await helpOfCommand(command)).join('\n');
