import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import { InputFault } from '../fault.js';
import type { Layout } from './layout.js';
import { parseLayout } from './load-layout.js';

const FOLDER = fileURLToPath(new URL('../../layouts/', import.meta.url));

/** The names of the layouts that come with the program. */
export const ownLayouts = (): string[] =>
  readdirSync(FOLDER)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => basename(name, '.yaml'))
    .sort();

/** A layout by the name of one of ours, or by the path of the user's own file. */
export const loadLayout = (nameOrPath: string): Layout => {
  const own = `${FOLDER}${nameOrPath}.yaml`;
  const file = /^[\w-]+$/.test(nameOrPath) && existsSync(own) ? own : nameOrPath;
  if (!existsSync(file)) {
    throw new InputFault(
      { file: nameOrPath },
      'no such layout',
      `name a file or one of ${ownLayouts().join(', ')}`,
    );
  }
  return parseLayout(
    readFileSync(file, 'utf8'),
    file === own ? `layouts/${nameOrPath}.yaml` : file,
  );
};
