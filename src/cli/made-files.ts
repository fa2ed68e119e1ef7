import { join } from 'node:path';

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
