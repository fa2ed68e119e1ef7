import { inflateSync } from 'node:zlib';
import {
  PDFArray,
  PDFContext,
  PDFDict,
  PDFName,
  PDFNumber,
  type PDFObject,
  PDFObjectParser,
  PDFRawStream,
  type PDFRef,
} from 'pdf-lib';
import { type FileBytes, type FilePart, fileBytesOf } from '../file-bytes.js';
import { firstIndex } from '../first-index.js';
import { INPUT_LIMITS } from '../input-limits.js';

/**
 * A PDF as this program writes it, one cross-reference and no updates, whose objects are parsed when they are asked for: what is
 * held of it does not grow with its pages. Whoever reads foreign files parses them whole.
 */
export interface LazyPdf {
  readonly context: PDFContext;
  readonly catalog: PDFDict;
  /** Its pages in their order. */
  readonly pages: () => Iterable<PDFDict>;
}

/** Where objects lie, by their number. */
interface CrossReference {
  readonly trailer: PDFDict;
  /** Where it lies itself, behind all objects. */
  readonly at: number;
  /** 0: there is none; 1: at an offset of the file; 2: in a stream of objects (ISO 32000-1, table 18). */
  readonly kinds: Uint8Array;
  /** The offset, or the number of the stream. */
  readonly places: Float64Array;
  /** The place in the stream. */
  readonly indices: Uint32Array;
}

/** Objects, and streams of them, that are held: those asked for last. */
const MOST_HELD = 512;
const MOST_STREAMS = 8;
const latin1 = (bytes: Uint8Array): string =>
  Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString('latin1');

const numberIn = (dictionary: PDFDict, key: string): number => {
  const value = dictionary.get(PDFName.of(key));
  if (value instanceof PDFNumber) return value.asNumber();
  throw new Error(`no number /${key}`);
};

const numbersIn = (dictionary: PDFDict, key: string): number[] => {
  const value = dictionary.get(PDFName.of(key));
  if (!(value instanceof PDFArray)) throw new Error(`no list /${key}`);
  return value.asArray().map((one) => (one instanceof PDFNumber ? one.asNumber() : Number.NaN));
};

/** The last of those that are asked for, made when they are not held. */
const heldLast = <T>(most: number, make: (key: number) => T): ((key: number) => T) => {
  const held = new Map<number, T>();
  return (key) => {
    const value = held.has(key) ? (held.get(key) as T) : make(key);
    held.delete(key);
    // A stream is large, and asked for once.
    if (value instanceof PDFRawStream) return value;
    held.set(key, value);
    if (held.size > most) held.delete(held.keys().next().value as number);
    return value;
  };
};

const emptyReference = (trailer: PDFDict, at: number): CrossReference => {
  const size = numberIn(trailer, 'Size');
  if (!(size > 0 && size <= INPUT_LIMITS.pdfNumbers))
    throw new Error('an absurd number of objects');
  for (const key of ['Prev', 'XRefStm', 'Encrypt']) {
    if (trailer.has(PDFName.of(key))) throw new Error(`a file with /${key}`);
  }
  return {
    ...{ trailer, at },
    kinds: new Uint8Array(size),
    places: new Float64Array(size),
    indices: new Uint32Array(size),
  };
};

/** The object that the bytes begin with. */
const objectIn = (bytes: Uint8Array, context: PDFContext): PDFObject => {
  const head = /^(\d{1,10}) (\d{1,5}) obj\s/.exec(latin1(bytes.subarray(0, 32)));
  if (head === null) throw new Error('no object where there should be one');
  return PDFObjectParser.forBytes(bytes.subarray(head[0].length), context).parseObject();
};

/** A table of entries of 20 bytes (ISO 32000-1, 7.5.4), which the bytes begin with; `at` is where they lie. */
const readTable = (bytes: Uint8Array, at: number, context: PDFContext): CrossReference => {
  const sections: { readonly first: number; readonly from: number; readonly count: number }[] = [];
  let from = 'xref\n'.length;
  for (;;) {
    const head = /^(\d{1,10}) (\d{1,10})\s/.exec(latin1(bytes.subarray(from, from + 32)));
    if (head === null) break;
    const [first, count] = [Number(head[1]), Number(head[2])];
    sections.push({ first, from: from + head[0].length, count });
    from += head[0].length + 20 * count;
  }
  const word = /^\s*trailer/.exec(latin1(bytes.subarray(from, from + 32)));
  if (word === null) throw new Error('no trailer');
  const rest = bytes.subarray(from + word[0].length);
  const trailer = PDFObjectParser.forBytes(rest, context).parseObject();
  if (!(trailer instanceof PDFDict)) throw new Error('no trailer');
  const reference = emptyReference(trailer, at);
  for (const { first, from: start, count } of sections) {
    for (let i = 0; i < count; i++) {
      const entry = latin1(bytes.subarray(start + 20 * i, start + 20 * i + 18));
      if (!/^\d{10} \d{5} [nf]$/.test(entry)) throw new Error('a damaged cross-reference');
      if (entry.endsWith('f')) continue;
      reference.kinds[first + i] = 1;
      reference.places[first + i] = Number(entry.slice(0, 10));
    }
  }
  return reference;
};

/** A stream of entries (ISO 32000-1, 7.5.8), which the bytes begin with; `at` is where they lie. */
const readStream = (bytes: Uint8Array, at: number, context: PDFContext): CrossReference => {
  const stream = objectIn(bytes, context);
  if (!(stream instanceof PDFRawStream)) throw new Error('no stream of cross-references');
  const reference = emptyReference(stream.dict, at);
  const { kinds, places, indices } = reference;
  const data = inflateSync(stream.contents, { maxOutputLength: INPUT_LIMITS.pdfStream });
  const widths = numbersIn(stream.dict, 'W');
  const index = numbersIn(stream.dict, 'Index');
  let i = 0;
  const next = (width: number): number => {
    let value = 0;
    for (let k = 0; k < width; k++) value = 256 * value + data[i++];
    return value;
  };
  for (let s = 0; s < index.length; s += 2) {
    for (let k = 0; k < index[s + 1]; k++) {
      const [kind, place, within] = widths.map(next);
      kinds[index[s] + k] = kind;
      places[index[s] + k] = place;
      indices[index[s] + k] = within;
    }
  }
  return reference;
};

const readReference = ({ length, read }: FileBytes, context: PDFContext): CrossReference => {
  const tail = latin1(read(Math.max(0, length - 64), length));
  const at = Number(/startxref\s+(\d{1,15})\s+%%EOF\s*$/.exec(tail)?.[1]);
  if (!(at >= 0 && at < length)) throw new Error('no cross-reference');
  const bytes = read(at, length);
  const isTable = latin1(bytes.subarray(0, 5)) === 'xref\n';
  return (isTable ? readTable : readStream)(bytes, at, context);
};

/** Where what lies at a place ends at the latest: where the next object or the cross-reference begins. */
const endsOf = ({ kinds, places, at: last }: CrossReference): ((at: number) => number) => {
  const starts = places.filter((_, number) => kinds[number] === 1).sort();
  return (at) => {
    const next = firstIndex(starts.length, (k) => starts[k] > at);
    return next < starts.length ? Math.min(starts[next], last) : last;
  };
};

/** The objects of a stream of objects (ISO 32000-1, 7.5.7). */
interface ObjectStream {
  readonly data: Uint8Array;
  readonly offsets: readonly number[];
}

const unpackObjects = (stream: PDFObject): ObjectStream => {
  if (!(stream instanceof PDFRawStream)) throw new Error('no stream of objects');
  const data = inflateSync(stream.contents, { maxOutputLength: INPUT_LIMITS.pdfStream });
  const first = numberIn(stream.dict, 'First');
  const head = latin1(data.subarray(0, first)).trim().split(/\s+/).map(Number);
  return { data, offsets: head.filter((_, i) => i % 2 === 1).map((offset) => first + offset) };
};

const startObjects = (
  { read }: FileBytes,
  context: PDFContext,
  reference: CrossReference,
): ((number: number) => PDFObject | undefined) => {
  const { kinds, places, indices } = reference;
  const endOf = endsOf(reference);
  const objectAt = (at: number): PDFObject => objectIn(read(at, endOf(at)), context);
  const streamOf = heldLast(MOST_STREAMS, (number) => unpackObjects(objectAt(places[number])));
  return heldLast(MOST_HELD, (number) => {
    if (kinds[number] === 1) return objectAt(places[number]);
    if (kinds[number] !== 2) return undefined;
    const { data, offsets } = streamOf(places[number]);
    const at = offsets[indices[number]];
    if (at === undefined) throw new Error(`object ${number} is not in its stream`);
    return PDFObjectParser.forBytes(data.subarray(at), context).parseObject();
  });
};

const isOf = (node: PDFDict, type: string): boolean =>
  node.lookup(PDFName.of('Type')) === PDFName.of(type);

function* pagesBelow(node: unknown, depth = 0): Generator<PDFDict> {
  if (!(node instanceof PDFDict) || depth > INPUT_LIMITS.pdfTree)
    throw new Error('a damaged tree of pages');
  if (!isOf(node, 'Pages')) {
    yield node;
    return;
  }
  const kids = node.lookup(PDFName.of('Kids'));
  if (!(kids instanceof PDFArray)) throw new Error('a damaged tree of pages');
  for (let i = 0; i < kids.size(); i++) yield* pagesBelow(kids.lookup(i), depth + 1);
}

/** Opens a PDF that this program has written; throws an error for one that is written otherwise. */
export const openLazily = (pdf: Uint8Array | FilePart): LazyPdf => {
  const context = PDFContext.create();
  const file = fileBytesOf(pdf);
  const reference = readReference(file, context);
  const object = startObjects(file, context, reference);
  // All look-ups of the library go through its map of objects.
  Reflect.set(context, 'indirectObjects', {
    get: (ref: PDFRef) => object(ref.objectNumber),
  });
  const { trailer } = reference;
  const root = trailer.lookup(PDFName.of('Root'));
  if (!(root instanceof PDFDict)) throw new Error('no catalogue');
  const entry = (key: string) => trailer.get(PDFName.of(key));
  Reflect.set(context, 'trailerInfo', {
    Root: entry('Root'),
    Info: entry('Info'),
    ID: entry('ID'),
  });
  return {
    context,
    catalog: root,
    pages: () => pagesBelow(root.lookup(PDFName.of('Pages'))),
  };
};
