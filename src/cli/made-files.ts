import { join } from 'node:path';
import { byteLengthOf } from '../book/stored-bytes.js';

/** What a manifest says of the files that a run made. */
export const madeFiles = (
  folder: string,
  products: readonly {
    readonly file: string;
    readonly what: string;
    readonly bytes: Uint8Array;
  }[],
): { readonly file: string; readonly what: string; readonly bytes: number }[] =>
  products.map((product) => ({
    file: join(folder, product.file),
    what: product.what,
    bytes: byteLengthOf(product),
  }));
