import type { Face } from '../page/marks/marks.js';
import type { Fonts } from '../print/fonts.js';
import type { KeptShapes } from '../print/shaped-texts.js';
import { type Cache, keep, recall } from './cache.js';
import { digestOfParts, wholeProgramDigest } from './cache-keys.js';

type ByFace = Readonly<Partial<Record<Face, KeptShapes>>>;

/** `faces`: a digest of the files of a layout's own faces; empty where it has none. */
const keyOfShapes = (faces: string): string =>
  digestOfParts(['shapes', wholeProgramDigest(), faces]);

const entriesOf = (fonts: Fonts): [Face, Fonts[Face]][] =>
  Object.entries(fonts) as [Face, Fonts[Face]][];

/**
 * Setting text is a good part of the work of a book, and the same words come again in every run: the faces take over what
 * earlier runs set, which all courses share.
 */
export const recallShapes = (cache: Cache, fonts: Fonts, faces = ''): void => {
  const kept = cache.folder === null ? null : recall<ByFace>(cache, 'shapes', keyOfShapes(faces));
  if (kept === null) return;
  for (const [face, { shapes }] of entriesOf(fonts)) {
    const own = kept[face];
    if (own !== undefined) shapes.take(own);
  }
};

/** Keeps what the faces have set, where that is more than what was kept. */
export const keepShapes = (cache: Cache, fonts: Fonts, faces = ''): void => {
  if (cache.folder === null) return;
  const isGrown = entriesOf(fonts).some(([, { shapes }]) => shapes.isGrown());
  if (!isGrown) return;
  const all = Object.fromEntries(
    entriesOf(fonts).map(([face, { shapes }]) => [face, shapes.give()]),
  );
  keep(cache, 'shapes', keyOfShapes(faces), all);
};
