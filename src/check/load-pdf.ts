import {
  type LoadOptions,
  PDFArray,
  PDFDocument,
  PDFName,
  PDFNumber,
  PDFObjectParser,
  PDFObjectStreamParser,
  PDFRawStream,
  PDFRef,
  PDFXRefStreamParser,
} from 'pdf-lib';
import { INPUT_LIMITS } from '../input-limits.js';
import { streamBytes } from './content-bytes.js';
import { quietly } from './quiet-library.js';

/**
 * Streams of objects and of cross-references (ISO 32000-1, 7.5.7 and 7.5.8) of a PDF that the library reads whole: it would
 * unpack them for as long as they go on, make as many entries as they name, and read an object again for each
 * that starts where it does. Here what all of a file's hold is bounded, and each part is read once.
 */

/** Bytes of such streams that have been unpacked, by the file (its context). */
const unpacked = new WeakMap<object, number>();

const boundedBytes = (stream: PDFRawStream): Uint8Array => {
  const { context } = stream.dict;
  const data = streamBytes(stream);
  const all = (unpacked.get(context) ?? 0) + data.length;
  if (all > INPUT_LIMITS.pdfObjects) {
    throw new Error(`streams of objects hold over ${INPUT_LIMITS.pdfObjects} bytes unpacked`);
  }
  unpacked.set(context, all);
  return data;
};

const countIn = ({ dict }: PDFRawStream, key: string, most: number): number => {
  const count = dict.lookup(PDFName.of(key), PDFNumber).asNumber();
  if (Number.isInteger(count) && count >= 0 && count <= most) return count;
  throw new Error(`/${key} of a stream of objects is no number of its bytes`);
};

/** Numbers of the objects and where each starts. */
const startsIn = (stream: PDFRawStream, data: Uint8Array): { number: number; start: number }[] => {
  const first = countIn(stream, 'First', data.length);
  const count = countIn(stream, 'N', data.length);
  const head = Buffer.from(data.subarray(0, first))
    .toString('latin1')
    .trim()
    .split(/\s+/, 2 * count);
  if (head.length !== 2 * count && count > 0) throw new Error('too few objects in a stream');
  return Array.from({ length: count }, (_, i) => ({
    number: Number(head[2 * i]),
    start: first + Number(head[2 * i + 1]),
  }));
};

const readObjects = (stream: PDFRawStream): void => {
  const data = boundedBytes(stream);
  const { context } = stream.dict;
  const starts = startsIn(stream, data);
  if (!starts.every(({ number, start }) => Number.isInteger(number) && start <= data.length)) {
    throw new Error('a damaged head of a stream of objects');
  }
  // An object ends where the next one starts: no byte is read twice.
  let end = data.length;
  const objects = [...starts].sort((a, b) => b.start - a.start);
  for (const { number, start } of objects) {
    const parser = PDFObjectParser.forBytes(data.subarray(start, end), context);
    context.assign(PDFRef.of(number), parser.parseObject());
    end = start;
  }
};

/** Of each section of cross-references, how many entries it names. */
const countsOf = ({ dict }: PDFRawStream): unknown[] => {
  const index = dict.lookup(PDFName.of('Index'));
  if (!(index instanceof PDFArray)) return [dict.lookup(PDFName.of('Size'))];
  return index.asArray().flatMap((_, i) => (i % 2 === 1 ? [index.lookup(i)] : []));
};

/** An entry takes a byte at least; the library makes as many as are named, whether there are bytes for them or not. */
const withFewEntries = (stream: PDFRawStream): PDFRawStream => {
  const data = boundedBytes(stream);
  const all = countsOf(stream).reduce<number>(
    (sum, n) => sum + (n instanceof PDFNumber && n.asNumber() >= 0 ? n.asNumber() : Infinity),
    0,
  );
  if (all > data.length) throw new Error('more cross-references than bytes');
  const dict = stream.dict.clone();
  dict.delete(PDFName.of('Filter'));
  return PDFRawStream.of(dict, data);
};

const entriesByLibrary = PDFXRefStreamParser.forStream;

/** Sets the library's readers of both to bounded ones; a second time it changes nothing. */
const boundLibrary = (): void => {
  PDFObjectStreamParser.forStream = (stream) =>
    ({ parseIntoContext: async () => readObjects(stream) }) as PDFObjectStreamParser;
  PDFXRefStreamParser.forStream = (stream) => entriesByLibrary(withFewEntries(stream));
};

/**
 * A PDF of any program, read whole; nothing is said on the way.
 *
 * @throws the library's errors, in words for its authors.
 */
export const loadPdf = (bytes: Uint8Array, options: LoadOptions): Promise<PDFDocument> => {
  boundLibrary();
  return quietly(() => PDFDocument.load(bytes, { updateMetadata: false, ...options }));
};
