import { inflateSync } from 'node:zlib';
import { PDFDict, PDFName, PDFRawStream } from 'pdf-lib';
import { InputFault } from '../fault.js';
import { INPUT_LIMITS } from '../input-limits.js';
import { loadPdf } from './load-pdf.js';
import { isLockedPdf, LOCKED } from './locked-pdf.js';

const inside = (dictionary: unknown, key: string): unknown =>
  dictionary instanceof PDFDict ? dictionary.lookup(PDFName.of(key)) : undefined;

/**
 * The record of what a book's pages rest on, which its PDF carries as its own data; null where it carries none.
 *
 * @throws InputFault for bytes that are no PDF that can be read.
 */
export const recordOfPdf = async (bytes: Uint8Array, file: string): Promise<string | null> => {
  let catalog: PDFDict;
  try {
    ({ catalog } = await loadPdf(bytes, { throwOnInvalidObject: true }));
  } catch (error) {
    const isLocked = isLockedPdf(Buffer.from(bytes).toString('latin1'), error);
    throw new InputFault(
      { file },
      isLocked ? LOCKED : 'this is no PDF that can be read',
      'name a PDF of the earlier edition as `runnel book` made it, or the books.json of its run',
    );
  }
  const record = inside(inside(inside(catalog, 'PieceInfo'), 'Runnel'), 'Private');
  if (!(record instanceof PDFRawStream)) return null;
  // A program that rewrote the file may have left it unpacked.
  if (!record.dict.has(PDFName.of('Filter'))) return Buffer.from(record.contents).toString('utf8');
  try {
    return inflateSync(record.contents, { maxOutputLength: INPUT_LIMITS.pdfRecord }).toString(
      'utf8',
    );
  } catch {
    return null;
  }
};
