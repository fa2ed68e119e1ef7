import type { KnownPages } from '../check/known-pages.js';
import { refuseFailing } from '../check/self-check.js';
import { refuseUnfit } from '../check/use-check.js';
import type { PassedFile, UncheckedFile } from './unchecked-file.js';

/** Reads one file back; `known`: pages that have been read already. */
export const checkFile = async (
  { held, ...product }: UncheckedFile,
  known?: KnownPages,
): Promise<PassedFile | null> => {
  const { file, bytes } = product;
  const read =
    held === undefined
      ? []
      : [[bytes, await refuseUnfit(bytes, held.use, held.layout, known)] as const];
  return (await refuseFailing([product], new Map(read), known)).get(file) ?? null;
};
