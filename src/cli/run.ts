import { readFileSync } from 'node:fs';
import type { Argv } from 'yargs';
import { InputFault, quoted } from '../fault.js';
import { INPUT_LIMITS } from '../input-limits.js';
import { machineFault } from '../machine-fault.js';
import { COMMANDS, type Command, namedCommand } from './commands.js';
import type { Argument, OptionTaker } from './options.js';
import { endProgress, printText, say, sayInternal } from './output.js';

/** Bad input is told in one line and exits with 2, a fault of the machine with 3, an internal one with 1. */
export const tellFault = (error: unknown): number => {
  if (error instanceof InputFault) {
    say(`runnel: ${error.message}`);
    return 2;
  }
  const refused = machineFault(error);
  if (refused !== null) {
    say(`runnel: ${refused}`);
    return 3;
  }
  sayInternal(error);
  if (process.env.RUNNEL_TRACE !== undefined && error instanceof Error) {
    for (const line of (error.stack ?? '').split('\n')) say(line);
  }
  return 1;
};

const onCommandLine = (problem: string, cure?: string): InputFault =>
  new InputFault({ file: 'command line' }, problem, cure);

/** What the parser knows of the options; its types leave that out. */
const knownTo = (parser: Argv): { readonly key: object; readonly array: readonly string[] } =>
  (parser as unknown as { getOptions(): { key: object; array: string[] } }).getOptions();

/** A word that is not known, with the one that it most likely means. */
const unknownWord = async (
  words: string,
  parser: Argv,
  command: Command | undefined,
): Promise<InputFault> => {
  const { nearestWord } = await import('../nearest-word.js');
  const options = [...Object.keys(knownTo(parser).key), 'help'];
  const commands = command === undefined ? Object.keys(COMMANDS) : [];
  const near = nearestWord(words.split(',')[0], [...options, ...commands]);
  const help = command === undefined ? 'runnel' : `runnel ${command.signature.split(' ')[0]}`;
  return onCommandLine(
    `not known: ${words
      .split(', ')
      .map((word) => quoted(word))
      .join(', ')}`,
    near === undefined
      ? `\`${help} --help\` lists what is`
      : `did you mean ${quoted(commands.includes(near) ? near : `--${near}`)}?`,
  );
};

/** So begins what the parser says of a line that lacks an option or a name. */
const LACKS = /^(Missing required|Not enough non-option) arguments?:/;

/** What the parser refused, in one line of our words. */
const refusal = async (
  message: string,
  parser: Argv,
  command: Command | undefined,
): Promise<InputFault> => {
  const words = message.trim().replaceAll(/\s+/g, ' ');
  const usage = command === undefined ? undefined : `write: runnel ${command.signature}`;
  const told = (pattern: RegExp): string[] | undefined => pattern.exec(words)?.slice(1);
  const unknown = told(/^Unknown (?:argument|command)s?: (.*)$/);
  if (unknown !== undefined) return unknownWord(unknown[0], parser, command);
  const missing = told(/^Missing required arguments?: (.*)$/);
  if (missing !== undefined) {
    const options = missing[0].split(', ').map((name) => `--${name}`);
    return onCommandLine(
      `missing: ${options.join(', ')}`,
      usage && [usage, ...options.map((option) => `${option} …`)].join(' '),
    );
  }
  const few = told(/^Not enough non-option arguments: got (\d+), need at least (\d+)$/);
  if (few !== undefined) {
    const [given, wanted] = few.map(Number);
    const problem = given === 0 ? 'nothing is named' : `${given} of ${wanted} names are given`;
    return onCommandLine(problem, usage);
  }
  const choice = told(/^Invalid values: Argument: (\S+), Given: (.*), Choices: (.*)$/);
  if (choice !== undefined) {
    // As the parser tells it: in quotation marks of its own.
    const given = choice[1].replaceAll(/^"|"$/g, '').replaceAll(/\\(.)/g, '$1');
    return onCommandLine(`--${choice[0]} ${quoted(given)} is not known`, `use one of ${choice[2]}`);
  }
  const bare = told(/^Not enough arguments following: (.*)$/);
  if (bare !== undefined) return onCommandLine(`--${bare[0]} wants a value`);
  return onCommandLine(words);
};

/** What the parser is told of an argument, and what it does not look at. */
type Told = Argument & { readonly isOption: boolean };

const SAY_OR_LEAVE = 'give it a value, or leave it out';

/** A word that says nothing, or a dash where a file is to be named. */
const checkWord = (name: string, value: unknown, told: Told | undefined): void => {
  const [called, path] = [told?.isOption === false ? name : `--${name}`, told?.path];
  if (typeof value === 'string' && value.trim() === '') {
    throw onCommandLine(`${called} is empty`, SAY_OR_LEAVE);
  }
  if (path && value === '-') {
    throw onCommandLine(`${called} is "-"`, 'name a file or folder (./- for one of that name)');
  }
};

/** Values that the parser lets pass: a number or a word that is none, an option given twice. */
const checkValues = (
  args: Readonly<Record<string, unknown>>,
  parser: Argv,
  told: ReadonlyMap<string, Told>,
  argv: readonly string[],
): void => {
  const { array } = knownTo(parser);
  // Of a dash among the names the parser makes an empty word.
  const hasBlank = argv.some((word) => word.trim() === '');
  for (const [name, value] of Object.entries(args)) {
    if (told.get(name)?.isOption && Array.isArray(value) && value.length === 0) {
      throw onCommandLine(`--${name} wants a value`);
    }
    for (const word of [value].flat()) {
      checkWord(name, word === '' && !hasBlank ? '-' : word, told.get(name));
    }
    if (typeof value === 'number' && !Number.isFinite(value)) {
      throw onCommandLine(`--${name} is not a number`, 'write digits');
    }
    if (Array.isArray(value) && name !== '_' && !array.includes(name)) {
      throw onCommandLine(`--${name} is given ${value.length} times`, 'give it once');
    }
  }
};

/**
 * What is wrong with the words of a line that lacks others: whoever is told of those alone comes back with these.
 * What is given stands first, since it is what the reader has before the eyes.
 */
const wrongBesides = async (
  lacking: InputFault,
  parser: Argv,
  told: ReadonlyMap<string, Told>,
  argv: readonly string[],
): Promise<InputFault> => {
  const given = parser.parsed === false ? {} : parser.parsed.argv;
  try {
    checkValues(given, parser, told, argv);
    for (const [name, value] of Object.entries(given)) {
      if (told.get(name)?.greenSpeed !== true || typeof value !== 'string') continue;
      const { stimpArgument } = await import('./lengths.js');
      stimpArgument(`--${name}`, value);
    }
  } catch (error) {
    if (!(error instanceof InputFault)) throw error;
    const cures = [error.cure, lacking.problem, lacking.cure].filter(
      (words) => words !== undefined,
    );
    return new InputFault(error.where, error.problem, cures.join('; '));
  }
  return lacking;
};

/** The parser words its own help in every run, for nobody: the less it is told of, the less work. */
const UNTOLD = { hidden: true } as const;

/** What the parser is told of an argument: nothing that only we look at. */
const forParser = ({ path: _, greenSpeed: __, ...argument }: Argument) => ({
  ...argument,
  ...UNTOLD,
});

/** An option as the parser is told of it: without its value it would be taken for one that is not given. */
const untoldOption = (argument: Argument) => ({
  ...forParser(argument),
  ...(argument.type !== 'boolean' && argument.array !== true ? { nargs: 1 } : {}),
});

/** A parser that takes arguments and tells nobody of them; each is entered in `told`. */
const untold = (parser: Argv, told: Map<string, Told>): OptionTaker => {
  const taker: OptionTaker = {
    positional: (name, argument) => {
      told.set(name, { ...argument, isOption: false });
      parser.positional(name, forParser(argument));
      return taker;
    },
    option: (name, argument) => {
      told.set(name, { ...argument, isOption: true });
      parser.option(name, untoldOption(argument));
      return taker;
    },
  };
  return taker;
};

/** The parser would look for a version in the folder that it is called from. */
const ownVersion = (): string =>
  JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')).version;

/** The parser, which knows what every command takes. */
const openParser = async (argv: readonly string[]): Promise<Argv> => {
  const [{ default: yargs }, { GLOBAL_OPTIONS }] = await Promise.all([
    import('yargs'),
    import('./options.js'),
  ]);
  const parser = yargs([...argv])
    .scriptName('runnel')
    .demandCommand(1, 'name a command; `runnel --help` lists them')
    // The program's own words are English; so are the parser's, whatever the machine's language.
    .detectLocale(false)
    .strict()
    // Else "--from.x" makes a record of what is a word.
    .parserConfiguration({ 'dot-notation': false })
    .version(ownVersion())
    .help(false)
    .wrap(null)
    .exitProcess(false);
  for (const [name, argument] of Object.entries(GLOBAL_OPTIONS)) {
    parser.option(name, { ...untoldOption(argument), global: true });
  }
  return parser;
};

/** Whether help is asked for, before whatever else is wrong. */
const asksForHelp = (argv: readonly string[]): boolean => {
  const end = argv.indexOf('--');
  return argv[0] === 'help' || argv.slice(0, end < 0 ? undefined : end).includes('--help');
};

/** No pattern is to meet a word that goes on and on. */
const refuseLongWords = (argv: readonly string[]): void => {
  const long = argv.find((word) => word.length > INPUT_LIMITS.word);
  if (long === undefined) return;
  throw onCommandLine(
    `a word of ${long.length} characters, ${quoted(long, 20)}`,
    `write ${INPUT_LIMITS.word} at most`,
  );
};

/** An option with an empty word: the parser takes it for nought where a number is wanted. */
const refuseEmptyValues = (argv: readonly string[]): void => {
  const end = argv.indexOf('--');
  const words = argv.slice(0, end < 0 ? undefined : end);
  const at = words.findIndex(
    (word, i) =>
      /^--[^=\s]+=\s*$/.test(word) || (/^--[^=]+$/.test(word) && words[i + 1]?.trim() === ''),
  );
  if (at >= 0) throw onCommandLine(`${words[at].split('=')[0]} is empty`, SAY_OR_LEAVE);
};

/** Does what one command line says. */
const obey = async (argv: readonly string[]): Promise<void> => {
  refuseLongWords(argv);
  refuseEmptyValues(argv);
  const named = namedCommand(argv);
  if (asksForHelp(argv)) {
    const { helpPage } = await import('./help.js');
    printText(await helpPage(named));
    return;
  }
  const parser = await openParser(argv);
  const told = new Map<string, Told>();
  for (const command of named === undefined ? Object.values(COMMANDS) : [named]) {
    const options = command === named ? await command.options() : null;
    const take = (own: Argv): Argv => {
      options?.(untold(own, told));
      return own;
    };
    parser.command(command.signature, false, take, async (args) => {
      checkValues(args, parser, told, argv);
      const work = await command.run();
      const units = args.units ?? (command.unitsOfCourse === true ? undefined : 'imperial');
      await work({ ...args, units } as never);
    });
  }
  let refused: string | undefined;
  // A command's own error comes without a message of the parser's.
  parser.fail((message: string | null, error) => {
    refused = message ?? undefined;
    throw error ?? new Error(message ?? '');
  });
  try {
    await parser.parseAsync();
  } catch (error) {
    if (refused === undefined) throw error;
    const fault = await refusal(refused, parser, named);
    throw LACKS.test(refused) ? await wrongBesides(fault, parser, told, argv) : fault;
  }
};

/** Runs one command line (without node and script); resolves to the exit code. */
export const run = async (argv: readonly string[]): Promise<number> => {
  try {
    await obey(argv);
    return 0;
  } catch (error) {
    return tellFault(error);
  } finally {
    endProgress();
  }
};
