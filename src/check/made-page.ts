import { PDFArray, PDFDict, PDFHexString, PDFName, PDFRawStream, PDFString } from 'pdf-lib';
import { contentKey, madeDigest, PRODUCER } from '../print/made-page.js';
import { contentStreams, streamBytes } from './content-bytes.js';

const inside = (holder: unknown, ...keys: readonly string[]): unknown =>
  keys.reduce<unknown>(
    (found, key) => (found instanceof PDFDict ? found.lookup(PDFName.of(key)) : undefined),
    holder,
  );

const digitsOf = (told: PDFHexString | PDFString): string =>
  Buffer.from(told.asBytes()).toString('hex').toUpperCase();

/** Our own pages have links alone, which draw nothing. */
const isBareLink = (annotation: unknown): boolean =>
  inside(annotation, 'Subtype') === PDFName.of('Link') && inside(annotation, 'AP') === undefined;

/** Whether something is laid over the page that is not in its content. */
const isDrawnOver = (page: PDFDict): boolean => {
  const laid = inside(page, 'Annots');
  return (
    laid instanceof PDFArray &&
    Array.from({ length: laid.size() }, (_, i) => laid.lookup(i)).some((one) => !isBareLink(one))
  );
};

/**
 * Whether a page draws what this program drew on it: it carries the digest of its content, and that is still right. Else it
 * has been changed since, or another program made it, and what its marks mean is not known.
 */
export const isAsMade = (page: PDFDict): boolean => {
  const told = inside(page, 'PieceInfo', PRODUCER, 'Private');
  const [content, ...more] = contentStreams(page);
  // Another program may write the same bytes as digits of either case, or as letters.
  if (!(told instanceof PDFHexString || told instanceof PDFString)) return false;
  if (content === undefined || more.length > 0) return false;
  const forms = new Map<string, string>();
  const objects = inside(page, 'Resources', 'XObject');
  for (const [name] of objects instanceof PDFDict ? objects.entries() : []) {
    const form = (objects as PDFDict).lookup(name);
    if (!(form instanceof PDFRawStream)) return false;
    forms.set(name.decodeText(), contentKey(streamBytes(form)));
  }
  return (
    digitsOf(told) === madeDigest(contentKey(streamBytes(content)), forms) && !isDrawnOver(page)
  );
};
