import { join } from 'node:path';
import { ownLayouts } from '../layout/layout-file.js';

/** Arguments that several commands take, in one wording. */
export const COURSE = {
  type: 'string',
  demandOption: true,
  describe: 'course folder or course file',
} as const;

export const HOLE = {
  type: 'string',
  demandOption: true,
  describe: 'the hole, as the course file names it',
} as const;

export const OUT = { type: 'string', default: 'out', describe: 'folder for what is made' } as const;

export const layoutOption = () =>
  ({
    type: 'string',
    default: 'pocket',
    describe: `a layout file, or one of ${ownLayouts().join(', ')}`,
  }) as const;

/** What a manifest says of the files that a run made. */
export const madeFiles = (
  folder: string,
  products: readonly {
    readonly file: string;
    readonly what: string;
    readonly bytes: { readonly length: number };
  }[],
): { readonly file: string; readonly what: string; readonly bytes: number }[] =>
  products.map(({ file, what, bytes }) => ({
    file: join(folder, file),
    what,
    bytes: bytes.length,
  }));
