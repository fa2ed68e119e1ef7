import { existsSync, readdirSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';

const OWN_LAYOUTS = fileURLToPath(new URL('../../layouts/', import.meta.url));

/** The file of a layout, by the name of one of ours or by the path of the user's own. */
export const layoutFileOf = (nameOrPath: string): string => {
  const own = `${OWN_LAYOUTS}${nameOrPath}.yaml`;
  return /^[\w-]+$/.test(nameOrPath) && existsSync(own) ? own : nameOrPath;
};

/** The names of the layouts that come with the program. */
export const ownLayouts = (): string[] =>
  readdirSync(OWN_LAYOUTS)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => basename(name, '.yaml'))
    .sort();
