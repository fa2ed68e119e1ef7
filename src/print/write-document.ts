import {
  type PDFContext,
  PDFCrossRefSection,
  type PDFDict,
  PDFHeader,
  PDFRawStream,
  PDFTrailer,
  PDFTrailerDict,
} from 'pdf-lib';
import { gathered, type PiecedBytes } from '../file-bytes.js';
import { packedByLibrary } from './deflated.js';
import { type DocumentParts, looseRef, writtenBytes } from './document-parts.js';

/** Objects of a stream of objects. */
const IN_A_STREAM = 100;

type Told = Record<string, unknown>;

const dictionaryOf = (context: PDFContext, told: Told): PDFDict =>
  context.obj(told as Record<string, never>) as PDFDict;

/** A stream whose dictionary says in this order what it is, packed as the library packs. */
const streamOfLibrary = (
  context: PDFContext,
  raw: Uint8Array,
  told: (length: number) => Told,
): PDFRawStream => {
  const contents = packedByLibrary(context, raw);
  return PDFRawStream.of(dictionaryOf(context, told(contents.length)), contents);
};

const trailerOf = ({ trailerInfo: { Root, Info, ID } }: PDFContext, size: number): Told => ({
  Size: size,
  Root,
  Info,
  ID,
});

const frameOf = (number: number): readonly [before: string, after: string] => [
  `${number} 0 obj\n`,
  '\nendobj\n\n',
];

const NEWLINE = Uint8Array.of(10);

/** The file: the objects of these numbers, one after the other, and what is made of where they lie. */
const together = (
  parts: DocumentParts,
  minor: number,
  numbers: Iterable<number>,
  end: (offsets: readonly number[], at: number) => Uint8Array,
): PiecedBytes => {
  const header = Buffer.concat([writtenBytes(PDFHeader.forVersion(1, minor)), NEWLINE, NEWLINE]);
  const offsets: number[] = [];
  let size = header.length;
  for (const number of numbers) {
    offsets.push(size);
    size += frameOf(number).join('').length + parts.lengthOf(number);
  }
  const last = end(offsets, size);
  function* all(): Generator<Uint8Array> {
    yield header;
    for (const number of numbers) {
      const [before, after] = frameOf(number);
      yield Buffer.from(before, 'latin1');
      yield parts.of(number);
      yield Buffer.from(after, 'latin1');
    }
    yield last;
  }
  return { length: size + last.length, pieces: () => gathered(all()) };
};

/** A file of PDF 1.4: every object by itself, and a table of where they lie (ISO 32000-1, 7.5.4). */
export const plainFile = (parts: DocumentParts): PiecedBytes => {
  const { context } = parts;
  const numbers = parts.numbers();
  return together(parts, 4, numbers, (offsets, at) => {
    const section = PDFCrossRefSection.create();
    for (const [i, number] of numbers.entries()) section.addEntry(looseRef(number), offsets[i]);
    const told = dictionaryOf(context, trailerOf(context, context.largestObjectNumber + 1));
    return Buffer.concat([
      ...[writtenBytes(section), NEWLINE],
      ...[writtenBytes(PDFTrailerDict.of(told)), NEWLINE, NEWLINE],
      writtenBytes(PDFTrailer.forLastCrossRefSectionOffset(at)),
    ]);
  });
};

/** Packs objects into a stream that becomes an object of its own (ISO 32000-1, 7.5.7). */
const packObjects = (parts: DocumentParts, numbers: Uint32Array, into: number): void => {
  let [offset, head] = [0, ''];
  for (const number of numbers) {
    head += `${number} ${offset} `;
    offset += parts.lengthOf(number) + 1;
  }
  const raw = Buffer.alloc(head.length + offset, NEWLINE);
  let end = raw.write(head, 'latin1');
  // One at a time: the parent tree of a tagged book takes megabytes.
  for (const number of numbers) {
    raw.set(parts.of(number), end);
    end += parts.lengthOf(number) + 1;
  }
  const told = { Filter: 'FlateDecode', Type: 'ObjStm', N: numbers.length, First: head.length };
  parts.note(
    into,
    streamOfLibrary(parts.context, raw, () => told),
  );
};

/** Figures of an entry: its kind, and two of its place. */
const FIGURES = 3;

/** Entries of a stream of cross-references, three figures an object (ISO 32000-1, table 18). */
interface Entries {
  readonly set: (number: number, kind: number, place: number, within: number) => void;
  /** The numbers that have one. */
  readonly numbers: () => Uint32Array;
  /** One of the figures of an entry. */
  readonly of: (number: number, figure: number) => number;
}

const startEntries = (count: number): Entries => {
  // The last figure is a place among a hundred, or the generation of what is free, of two bytes.
  const rows = [new Uint8Array(count), new Float64Array(count), new Uint16Array(count)];
  const isSet = new Uint8Array(count);
  return {
    set: (number, kind, place, within) => {
      rows[0][number] = kind;
      rows[1][number] = place;
      rows[2][number] = within;
      isSet[number] = 1;
    },
    numbers: () => new Uint32Array(count).map((_, i) => i).filter((i) => isSet[i] === 1),
    of: (number, figure) => rows[figure][number],
  };
};

/** Bytes that an unsigned number takes; a nought takes one. */
const widthOf = (value: number): number => Math.max(1, Math.ceil(value.toString(2).length / 8));

/** Numbers that follow each other: the first of each run and how many there are (ISO 32000-1, table 17, Index). */
const runsOf = (numbers: Uint32Array): number[] => {
  const runs: number[] = [];
  numbers.forEach((number, i) => {
    if (i > 0 && number === numbers[i - 1] + 1) runs[runs.length - 1] += 1;
    else runs.push(number, 1);
  });
  return runs;
};

/** The stream of cross-references (ISO 32000-1, 7.5.8), which is the object after all others. */
const crossReferences = (context: PDFContext, entries: Entries, number: number): PDFRawStream => {
  const numbers = entries.numbers();
  // A tagged book has some ten thousand objects: loops by index leave the collector nothing to do.
  const greatest = [0, 0, 0];
  for (const one of numbers) {
    for (let i = 0; i < FIGURES; i++) greatest[i] = Math.max(greatest[i], entries.of(one, i));
  }
  const widths = greatest.map(widthOf);
  const data = Buffer.alloc(numbers.length * (widths[0] + widths[1] + widths[2]));
  let end = 0;
  for (const one of numbers) {
    for (let i = 0; i < FIGURES; i++) end = data.writeUIntBE(entries.of(one, i), end, widths[i]);
  }
  return streamOfLibrary(context, data, (length) => ({
    ...trailerOf(context, number + 1),
    ...{ Filter: 'FlateDecode', Type: 'XRef', Length: length },
    ...{ W: widths, Index: runsOf(numbers) },
  }));
};

/** A file of PDF 1.7 whose small objects lie packed in streams (from PDF 1.5 on). */
export const packedFile = (parts: DocumentParts): PiecedBytes => {
  const { context } = parts;
  const numbers = parts.numbers();
  const small = numbers.filter((number) => !parts.isStream(number));
  const large = Array.from(numbers.filter(parts.isStream));
  const streams = Math.ceil(small.length / IN_A_STREAM);
  const last = context.largestObjectNumber + 1 + streams;
  const entries = startEntries(last + 1);
  for (let i = 0; i < streams; i++) {
    const number = context.largestObjectNumber + 1 + i;
    const packed = small.subarray(i * IN_A_STREAM, (i + 1) * IN_A_STREAM);
    packObjects(parts, packed, number);
    for (const [k, one] of packed.entries()) entries.set(one, 2, number, k);
    large.push(number);
  }
  return together(parts, 7, large, (offsets, at) => {
    for (const [i, one] of large.entries()) entries.set(one, 1, offsets[i], 0);
    entries.set(0, 0, 0, 65_535);
    entries.set(last, 1, at, 0);
    const [before, after] = frameOf(last);
    return Buffer.concat([
      Buffer.from(before),
      writtenBytes(crossReferences(context, entries, last)),
      Buffer.from(after),
      writtenBytes(PDFTrailer.forLastCrossRefSectionOffset(at)),
    ]);
  });
};
