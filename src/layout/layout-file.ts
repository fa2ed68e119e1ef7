import { existsSync } from 'node:fs';
import { dirname, isAbsolute, join } from 'node:path';
import { InputFault } from '../fault.js';
import { readTextFile } from '../user-text.js';
import type { Layout } from './layout.js';
import { parseLayout, type ShownUnits } from './load-layout.js';
import { layoutFileOf, ownLayouts } from './own-layouts.js';

/** The files that a layout names lie beside its own. */
const withPaths = (layout: Layout, folder: string): Layout => {
  const { words, faces } = layout;
  const path = (name: string): string => (isAbsolute(name) ? name : join(folder, name));
  return {
    ...layout,
    ...(words === undefined ? {} : { words: path(words) }),
    ...(faces === undefined
      ? {}
      : {
          faces: Object.fromEntries(
            Object.entries(faces).map(([face, name]) => [face, path(name)]),
          ) as NonNullable<Layout['faces']>,
        }),
  };
};

/** A layout by the name of one of ours, or by the path of the user's own file, with the tables of the units shown. */
export const loadLayout = (nameOrPath: string, shown: ShownUnits = {}): Layout => {
  const file = layoutFileOf(nameOrPath);
  if (!existsSync(file)) {
    throw new InputFault(
      { file: nameOrPath },
      'no such layout',
      `name a file or one of ${ownLayouts().join(', ')}`,
    );
  }
  const layout = parseLayout(
    readTextFile(file, `name a file or one of ${ownLayouts().join(', ')}`),
    file !== nameOrPath ? `layouts/${nameOrPath}.yaml` : file,
    shown,
  );
  return withPaths(layout, dirname(file));
};
