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

/** All bytes of a page's content, whether it is one stream or several. */
export const contentBytes = (page: PDFDict): Uint8Array => {
  const contents = page.lookup(PDFName.of('Contents'));
  const streams =
    contents instanceof PDFArray
      ? Array.from({ length: contents.size() }, (_, i) => contents.lookup(i))
      : [contents];
  return Buffer.concat(
    streams.flatMap((stream) =>
      stream instanceof PDFRawStream ? [streamBytes(stream), Uint8Array.of(10)] : [],
    ),
  );
};
