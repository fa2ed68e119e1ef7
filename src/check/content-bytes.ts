import { inflateSync } from 'node:zlib';
import { decodePDFRawStream, PDFArray, type PDFDict, PDFName, PDFRawStream } from 'pdf-lib';

/** What a stream holds, unpacked: by Node's zlib, which takes a fraction of the library's time, where that can read it. */
export const streamBytes = (stream: PDFRawStream): Uint8Array => {
  const { dict, contents } = stream;
  const isPlain =
    dict.lookup(PDFName.of('Filter')) === PDFName.of('FlateDecode') &&
    !dict.has(PDFName.of('DecodeParms'));
  if (isPlain) {
    try {
      return inflateSync(contents);
    } catch {
      // Of what is damaged the library tells, or reads what can be read.
    }
  }
  return decodePDFRawStream(stream).decode();
};

/** The streams of a page's content, one or several. */
export const contentStreams = (page: PDFDict): PDFRawStream[] => {
  const contents = page.lookup(PDFName.of('Contents'));
  const streams =
    contents instanceof PDFArray
      ? Array.from({ length: contents.size() }, (_, i) => contents.lookup(i))
      : [contents];
  return streams.filter((stream) => stream instanceof PDFRawStream);
};

/** All bytes of a page's content. */
export const contentBytes = (page: PDFDict): Uint8Array =>
  Buffer.concat(contentStreams(page).flatMap((stream) => [streamBytes(stream), Uint8Array.of(10)]));
