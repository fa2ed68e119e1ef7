import { createHash } from 'node:crypto';
import { PDFArray, type PDFContext, PDFDict, PDFName, PDFRawStream, PDFRef } from 'pdf-lib';
import { INPUT_LIMITS } from '../input-limits.js';

/** Entries of a page that lead out of it, or that reading its drawing does not look at. */
const ASIDE = new Set([
  ...['/Parent', '/Annots', '/StructParents', '/Tabs'],
  // When it was made, and its own digest.
  ...['/LastModified', '/PieceInfo'],
]);

const hex = (...parts: readonly (string | Uint8Array)[]): string => {
  const hash = createHash('sha256');
  for (const part of parts) hash.update(part);
  return hash.digest('hex');
};

/** Digests of what is drawn. */
export interface DrawnDigests {
  readonly ofPage: (page: PDFDict) => string | null;
  /** Of a form by itself; null for one that is nested too deep. */
  readonly ofForm: (form: PDFRawStream) => string | null;
}

const FORM = PDFName.of('Form');

/**
 * Digests of pages by all that they draw with: their content, and the forms, fonts, colours and states that it names,
 * each as it lies in the file. Null for a page that takes something from the pages above it, or is nested too deep.
 *
 * @param onForm is told the digest of each form that a page draws with.
 */
export const startPageDigests = (
  context: PDFContext,
  onForm: (digest: string) => void,
): DrawnDigests => {
  const known = new Map<string, string>();
  const tell = (value: unknown, deep: number): string => {
    if (deep > INPUT_LIMITS.pdfDepth) throw new RangeError('nested too deep');
    if (value instanceof PDFRef) {
      const found = known.get(value.tag) ?? tell(context.lookup(value), deep + 1);
      known.set(value.tag, found);
      return found;
    }
    if (value instanceof PDFRawStream) {
      const digest = hex('stream ', tell(value.dict, deep + 1), value.contents);
      if (value.dict.get(PDFName.of('Subtype')) === FORM) onForm(digest);
      return digest;
    }
    if (value instanceof PDFDict) {
      const entries = value
        .entries()
        .filter(([key]) => !ASIDE.has(key.asString()))
        .map(([key, one]) => [key.asString(), tell(one, deep + 1)]);
      return hex('dictionary ', JSON.stringify(entries));
    }
    if (value instanceof PDFArray) {
      return hex('array ', JSON.stringify(value.asArray().map((one) => tell(one, deep + 1))));
    }
    return `${value}`;
  };
  const shallow = (digest: () => string): string | null => {
    try {
      return digest();
    } catch (error) {
      if (error instanceof RangeError) return null;
      throw error;
    }
  };
  return {
    ofPage: (page) => {
      if (!page.has(PDFName.of('MediaBox')) || !page.has(PDFName.of('Resources'))) return null;
      const annotations = page.lookup(PDFName.of('Annots'));
      const count = annotations instanceof PDFArray ? annotations.size() : 0;
      return shallow(() => hex(`page ${count} `, tell(page, 0)));
    },
    ofForm: (form) => shallow(() => tell(form, 0)),
  };
};
