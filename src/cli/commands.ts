import type { CommandModule } from 'yargs';

type Command = CommandModule<object, never>;

/** Every command of the program, in the order of its help. */
const COMMANDS: Readonly<Record<string, () => Promise<unknown>>> = {
  book: async () => (await import('./book.js')).bookCommand,
  check: async () => (await import('./check.js')).checkCommand,
  compare: async () => (await import('./compare.js')).compareCommand,
  day: async () => (await import('./day.js')).dayCommand,
  green: async () => (await import('./green.js')).greenCommand,
  holes: async () => (await import('./holes.js')).holesCommand,
  layouts: async () => (await import('./layouts.js')).layoutsCommand,
  locate: async () => (await import('./locate.js')).locateCommand,
  new: async () => (await import('./new.js')).newCommand,
  proof: async () => (await import('./proof.js')).proofCommand,
  putt: async () => (await import('./putt.js')).puttCommand,
  speed: async () => (await import('./speed.js')).speedCommand,
  survey: async () => (await import('./survey.js')).surveyCommand,
};

/** The one command that a command line begins with, so that no other's code is loaded; else all of them. */
export const commandsFor = async (argv: readonly string[]): Promise<readonly Command[]> => {
  const named = Object.keys(COMMANDS).filter((name) => name === argv[0]);
  const names = named.length > 0 ? named : Object.keys(COMMANDS);
  return (await Promise.all(names.map((name) => COMMANDS[name]()))) as Command[];
};
