import yargs from 'yargs';
import { InputFault } from '../fault.js';
import { commandsFor } from './commands.js';
import { endProgress, say } from './output.js';

/** Bad input is told in one line and exits with 2, an internal fault in one line with 1. */
const exitCodeOf = (error: unknown): number => {
  if (error instanceof InputFault) {
    say(`runnel: ${error.message}`);
    return 2;
  }
  const message = error instanceof Error ? error.message : String(error);
  say(`runnel: internal fault: ${message.split('\n')[0]}`);
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

/** Runs one command line (without node and script); resolves to the exit code. */
export const run = async (argv: readonly string[]): Promise<number> => {
  let code = 0;
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
    .command([...(await commandsFor(argv))])
    .demandCommand(1, 'name a command; `runnel --help` lists them')
    .strict()
    .version()
    .help()
    .exitProcess(false)
    .fail((message, error) => {
      throw error ?? new InputFault({ file: 'command line' }, oneLine(message));
    });
  try {
    await parser.parseAsync();
  } catch (error) {
    code = exitCodeOf(error);
  } finally {
    endProgress();
  }
  return code;
};
