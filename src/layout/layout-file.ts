import { existsSync, readFileSync } from 'node:fs';
import { InputFault } from '../fault.js';
import type { Layout } from './layout.js';
import { parseLayout } from './load-layout.js';
import { OWN_LAYOUTS, ownLayouts } from './own-layouts.js';

/** A layout by the name of one of ours, or by the path of the user's own file. */
export const loadLayout = (nameOrPath: string): Layout => {
  const own = `${OWN_LAYOUTS}${nameOrPath}.yaml`;
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
