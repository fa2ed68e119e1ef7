import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Face } from '../page/marks/marks.js';

/**
 * The TTF files behind the faces. They come with npm packages under the SIL Open Font License 1.1; WOFF
 * files would embed as they are and make an invalid font in a PDF.
 */
const FILES: Readonly<Record<Face, string>> = {
  text: 'source-sans-3/400Regular/SourceSans3_400Regular.ttf',
  'text-bold': 'source-sans-3/600SemiBold/SourceSans3_600SemiBold.ttf',
  'text-italic': 'source-sans-3/400Regular_Italic/SourceSans3_400Regular_Italic.ttf',
  title: 'alegreya/500Medium/Alegreya_500Medium.ttf',
  'title-bold': 'alegreya/700Bold/Alegreya_700Bold.ttf',
  // A caddie's own notes, in a hand: Latin, Greek and Cyrillic.
  note: 'playpen-sans/500Medium/PlaypenSans_500Medium.ttf',
};

export const FACES = Object.keys(FILES) as readonly Face[];

const resolve = createRequire(import.meta.url).resolve;

export const readFontFile = (face: Face): Uint8Array =>
  readFileSync(resolve(`@expo-google-fonts/${FILES[face]}`));

/** The licences of the families, shipped with every book. */
export const readFontLicence = (family: 'source-sans-3' | 'alegreya' | 'playpen-sans'): string =>
  readFileSync(resolve(`@expo-google-fonts/${family}/LICENSE_FONT`), 'utf8');
