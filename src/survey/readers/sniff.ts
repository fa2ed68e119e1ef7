import { InputFault } from '../../fault.js';
import type { ByteSource } from './byte-source.js';

export type SurveyFormat = 'points' | 'ascii-grid' | 'geotiff' | 'landxml' | 'las';

/** TIFF and BigTIFF, little and big end first. */
const TIFF = ['49492a00', '49492b00', '4d4d002a', '4d4d002b'];

/** First bytes (hexadecimal) of files that are often handed over in place of a survey. */
const NOT_SURVEYS: readonly (readonly [string, string, string])[] = [
  ['504b0304', 'a ZIP archive or a spreadsheet', 'unpack it, or save the sheet as CSV'],
  ['1f8b', 'a gzip archive', 'unpack it first'],
  ['25504446', 'a PDF', 'ask for the points behind the drawing'],
  ['0000270a', 'a shapefile', 'export its points as CSV'],
  ['89504e47', 'a picture', 'ask for the grid of heights behind it'],
  ['ffd8ff', 'a picture', 'ask for the grid of heights behind it'],
  ['41433130', 'a drawing', 'ask for the surface as LandXML or the points as CSV'],
];

/**
 * The format of a survey by its first bytes, never by its name.
 *
 * @throws InputFault for an empty file and for a known format that is not a survey.
 */
export const sniffFormat = async (bytes: ByteSource, source: string): Promise<SurveyFormat> => {
  const head = Buffer.from(await bytes.read(0, 4096));
  if (head.length === 0) throw new InputFault({ file: source }, 'the file is empty');
  const start = head.toString('hex', 0, 8);
  const text = head.toString('latin1');
  if (text.startsWith('LASF')) return 'las';
  if (TIFF.some((mark) => start.startsWith(mark))) return 'geotiff';
  for (const [mark, what, cure] of NOT_SURVEYS) {
    if (start.startsWith(mark)) throw new InputFault({ file: source }, `this is ${what}`, cure);
  }
  if (/^\s*0\r?\n\s*SECTION/.test(text)) {
    throw new InputFault(
      { file: source },
      'this is a drawing exchange file',
      'ask for the surface as LandXML or the points as CSV',
    );
  }
  const plain = text
    .replaceAll('\0', '')
    .replace(/^(\u00ef\u00bb\u00bf|\u00ff\u00fe|\u00fe\u00ff)/, '');
  if (/^\s*</.test(plain)) return 'landxml';
  if (/^\s*ncols\s/i.test(plain)) return 'ascii-grid';
  return 'points';
};
