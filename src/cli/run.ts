import yargs, { type Argv } from 'yargs';
import { InputFault, plainWords } from '../fault.js';
import { MESSAGE_LIMITS } from '../input-limits.js';
import { machineFault } from '../machine-fault.js';
import { COMMANDS, namedCommand } from './commands.js';
import { endProgress, say } from './output.js';

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
  const message = error instanceof Error ? error.message : String(error);
  say(`runnel: internal fault: ${plainWords(message.split('\n')[0], MESSAGE_LIMITS.problem)}`);
  if (process.env.RUNNEL_TRACE !== undefined && error instanceof Error) say(error.stack ?? '');
  return 1;
};

/** The parser tells a wrong choice in several lines: "Invalid values:", then the argument and its choices. */
const oneLine = (message: string): string =>
  message
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .join(' ');

/** What the parser refused, with the word that a misspelt one most likely means. */
const refusal = async (message: string, parser: Argv, named: boolean): Promise<InputFault> => {
  const problem = oneLine(message);
  const unknown = /^Unknown (?:argument|command)s?: ([^,]+)/.exec(problem)?.[1];
  if (unknown === undefined) return new InputFault({ file: 'command line' }, problem);
  const { nearestWord } = await import('../nearest-word.js');
  // The parser keeps what it knows of options; its types leave that out.
  const { key } = (parser as unknown as { getOptions(): { key: object } }).getOptions();
  const near = nearestWord(unknown, [...Object.keys(key), ...(named ? [] : Object.keys(COMMANDS))]);
  return new InputFault(
    { file: 'command line' },
    problem,
    near === undefined
      ? '`runnel --help` lists what there is'
      : `did you mean "${Object.hasOwn(COMMANDS, near) && !named ? '' : '--'}${near}"?`,
  );
};

/** Does what one command line says. */
const obey = async (argv: readonly string[]): Promise<void> => {
  const parser = yargs([...argv])
    .scriptName('runnel')
    .usage('Surveys of putting greens in, pocket yardage books out.\n\n$0 <command>')
    .option('json', {
      type: 'boolean',
      default: false,
      global: true,
      describe: 'machine-readable result on stdout',
    })
    .option('units', {
      choices: ['imperial', 'metric'] as const,
      default: 'imperial' as const,
      global: true,
      describe: 'units shown',
    })
    .demandCommand(1, 'name a command; `runnel --help` lists them')
    // The program's own words are English; so are the parser's, whatever the machine's language.
    .detectLocale(false)
    .strict()
    .version()
    .help()
    .exitProcess(false);
  const named = namedCommand(argv);
  for (const command of named === undefined ? Object.values(COMMANDS) : [named]) {
    const options = command === named ? await command.options() : (own: Argv): Argv => own;
    parser.command(command.signature, command.describe, options, async (args) => {
      const work = await command.run();
      await work(args as never);
    });
  }
  let refused: string | undefined;
  parser.fail((message, error) => {
    refused = error === undefined ? message : undefined;
    throw error ?? new Error(message);
  });
  try {
    await parser.parseAsync();
  } catch (error) {
    throw refused === undefined ? error : await refusal(refused, parser, named !== undefined);
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
