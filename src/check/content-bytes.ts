import { decodePDFRawStream, PDFArray, type PDFDict, PDFName, PDFRawStream } from 'pdf-lib';

/** All bytes of a page's content, whether it is one stream or several. */
export const contentBytes = (page: PDFDict): Uint8Array => {
  const contents = page.lookup(PDFName.of('Contents'));
  const streams =
    contents instanceof PDFArray
      ? Array.from({ length: contents.size() }, (_, i) => contents.lookup(i))
      : [contents];
  return Buffer.concat(
    streams.flatMap((stream) =>
      stream instanceof PDFRawStream
        ? [decodePDFRawStream(stream).decode(), Uint8Array.of(10)]
        : [],
    ),
  );
};
