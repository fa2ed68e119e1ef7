import { createHash } from 'node:crypto';
import { PDFHexString, type PDFRef, PDFString } from 'pdf-lib';
import { streamKey } from './deflated.js';
import { type DocumentWords, documentDate } from './document-words.js';

export const PRODUCER = 'Runnel';

/** As PDF writes dates (ISO 32000-1, 7.9.4). */
export const dateOf = (words: DocumentWords): PDFString =>
  PDFString.of(`D:${documentDate(words).replaceAll(/[-:TZ]/g, '')}Z00'00'`);

/** Our own data in a document or in a page of it (ISO 32000-1, 14.5). */
export const ownData = (
  words: DocumentWords,
  data: PDFRef | PDFHexString,
): Record<string, unknown> => ({
  PieceInfo: { [PRODUCER]: { LastModified: dateOf(words), Private: data } },
});

/** What tells a page's content, or a form's, from any other. */
export const contentKey = (content: string | Uint8Array): string => streamKey(content);

/** 32 digits of 16, by the keys of a page's content and of the forms that it places, by name. */
export const madeDigest = (content: string, forms: ReadonlyMap<string, string>): string => {
  const named = [...forms].sort(([a], [b]) => (a < b ? -1 : 1));
  const hash = createHash('sha256').update(JSON.stringify([content, named]));
  return hash.digest('hex').slice(0, 32).toUpperCase();
};

/** By what a page that has been changed since, or is of another program, is told from one as it was made. */
export const madeMark = (
  words: DocumentWords,
  content: string,
  forms: ReadonlyMap<string, string>,
): Record<string, unknown> => ({
  LastModified: dateOf(words),
  ...ownData(words, PDFHexString.of(madeDigest(content, forms))),
});
