import { faultsAt } from '../fault.js';
import type { Layout } from '../layout/layout.js';
import { readNamedFile } from '../named-file.js';
import { requireEmbeddable } from '../print/embeddable.js';
import { readFontFile } from '../print/font-files.js';
import { type Fonts, openFonts } from '../print/fonts.js';
import { digestOfParts } from './cache-keys.js';
import { digestOfFile } from './file-digest.js';

/**
 * The faces of a layout: the program's own, and those that it names files of.
 *
 * @throws InputFault for a file that is no TrueType font or may not be embedded.
 */
export const openFontsOf = ({ faces }: Pick<Layout, 'faces'>): Fonts => {
  if (faces === undefined) return openFonts();
  return openFonts((face) => {
    const file = faces[face];
    if (file === undefined) return { bytes: readFontFile(face) };
    const bytes = readNamedFile(file, 'name a font file by the key "faces"');
    faultsAt({ file }, () => requireEmbeddable(bytes));
    return { bytes, file };
  });
};

/** A digest of the files of a layout's own faces; empty where it has none. */
export const facesDigest = ({ faces }: Pick<Layout, 'faces'>): string =>
  faces === undefined
    ? ''
    : digestOfParts(Object.entries(faces).flatMap(([face, file]) => [face, digestOfFile(file)]));
