import { inflateSync } from 'node:zlib';
import { decodePDFRawStream, PDFArray, type PDFDict, PDFName, PDFRawStream } from 'pdf-lib';
import { INPUT_LIMITS } from '../input-limits.js';

const PIECE = 65_536;

const tooLong = (): Error =>
  new Error(`a stream holds over ${INPUT_LIMITS.pdfStream} bytes unpacked`);

/** Unpacked by the library, piece by piece: it would go on for as long as a stream does. */
const unpackedByLibrary = (stream: PDFRawStream): Uint8Array => {
  const source = decodePDFRawStream(stream);
  const parts: Uint8Array[] = [];
  let size = 0;
  for (;;) {
    const part = source.getBytes(PIECE) as Uint8Array;
    if (part.length === 0) return parts.length === 1 ? parts[0] : Buffer.concat(parts, size);
    size += part.length;
    if (size > INPUT_LIMITS.pdfStream) throw tooLong();
    parts.push(part);
  }
};

/**
 * What a stream holds, unpacked: by Node's zlib, which takes a fraction of the library's time, where that can read it.
 *
 * @throws Error for one that holds more than any page does.
 */
export const streamBytes = (stream: PDFRawStream): Uint8Array => {
  const { dict, contents } = stream;
  const isPlain =
    dict.lookup(PDFName.of('Filter')) === PDFName.of('FlateDecode') &&
    !dict.has(PDFName.of('DecodeParms'));
  if (isPlain) {
    try {
      return inflateSync(contents, { maxOutputLength: INPUT_LIMITS.pdfStream });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ERR_BUFFER_TOO_LARGE') throw tooLong();
      // Of what is damaged the library tells, or reads what can be read.
    }
  }
  return unpackedByLibrary(stream);
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
