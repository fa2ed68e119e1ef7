import { existsSync } from 'node:fs';
import { InputFault } from '../fault.js';
import { readNamedFile } from '../named-file.js';
import type { Layout } from './layout.js';
import { parseLayout } from './load-layout.js';
import { layoutFileOf, ownLayouts } from './own-layouts.js';

/** A layout by the name of one of ours, or by the path of the user's own file. */
export const loadLayout = (nameOrPath: string): Layout => {
  const file = layoutFileOf(nameOrPath);
  if (!existsSync(file)) {
    throw new InputFault(
      { file: nameOrPath },
      'no such layout',
      `name a file or one of ${ownLayouts().join(', ')}`,
    );
  }
  return parseLayout(
    readNamedFile(file, `name a file or one of ${ownLayouts().join(', ')}`).toString('utf8'),
    file !== nameOrPath ? `layouts/${nameOrPath}.yaml` : file,
  );
};
