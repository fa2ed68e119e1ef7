import { readdirSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';

export const OWN_LAYOUTS = fileURLToPath(new URL('../../layouts/', import.meta.url));

/** The names of the layouts that come with the program. */
export const ownLayouts = (): string[] =>
  readdirSync(OWN_LAYOUTS)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => basename(name, '.yaml'))
    .sort();
