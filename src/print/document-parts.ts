import { type PDFContext, type PDFObject, PDFRef, PDFStream } from 'pdf-lib';
import { type StoreBlock, startBytes } from './byte-store.js';

/**
 * The objects of a PDF as they become final: each is written out when it is given its place and held no longer, so that what
 * is in memory does not grow with the pages.
 */
export interface DocumentParts {
  readonly context: PDFContext;
  /** Writes an object that the context does not count. */
  readonly note: (number: number, object: PDFObject) => void;
  /** Writes an object from its text, which comes in pieces and has no other letters than Latin-1 has. */
  readonly noteText: (number: number, pieces: Iterable<string>) => void;
  readonly of: (number: number) => Uint8Array;
  readonly lengthOf: (number: number) => number;
  readonly isStream: (number: number) => boolean;
  /** The objects that the context has been given, from the first. */
  readonly numbers: () => Uint32Array;
}

/** What the library writes: an object, or a part of a file. */
interface Written {
  sizeInBytes(): number;
  copyBytesInto(buffer: Uint8Array, offset: number): number;
}

export const writtenBytes = (written: Written): Uint8Array => {
  const bytes = new Uint8Array(written.sizeInBytes());
  written.copyBytesInto(bytes, 0);
  return bytes;
};

/** Where parts lie, by the number of their object. */
interface Places {
  readonly note: (number: number, at: number, length: number, isStream: boolean) => void;
  readonly at: (number: number) => number;
  /** 0: there is none. */
  readonly lengthOf: (number: number) => number;
  readonly isStream: (number: number) => boolean;
}

/** In typed arrays, since a tagged book has hundreds of thousands of objects. */
const startPlaces = (): Places => {
  let at = new Float64Array(1024);
  let lengths = new Uint32Array(1024);
  let streams = new Uint8Array(1024);
  const larger = <T extends Float64Array | Uint32Array | Uint8Array>(to: T, from: T): T => {
    to.set(from);
    return to;
  };
  return {
    note: (number, place, length, isStream) => {
      if (number >= at.length) {
        const size = 2 * Math.max(number, at.length);
        at = larger(new Float64Array(size), at);
        lengths = larger(new Uint32Array(size), lengths);
        streams = larger(new Uint8Array(size), streams);
      }
      at[number] = place;
      lengths[number] = length;
      streams[number] = isStream ? 1 : 0;
    },
    at: (number) => at[number],
    lengthOf: (number) => (number < lengths.length ? lengths[number] : 0),
    isStream: (number) => streams[number] === 1,
  };
};

/** A reference that goes when no one holds it; the library keeps each of its own for good, and a tagged page has a hundred. */
export const looseRef = (number: number): PDFRef =>
  Object.assign(Object.create(PDFRef.prototype) as PDFRef, {
    objectNumber: number,
    generationNumber: 0,
    tag: `${number} 0 R`,
  });

/** Takes over what the context is given from now on; `store` keeps the blocks of what is written. */
export const startParts = (context: PDFContext, store?: StoreBlock): DocumentParts => {
  const bytes = startBytes(store);
  const places = startPlaces();
  const { lengthOf, isStream } = places;
  const note = (number: number, object: PDFObject): void => {
    const written = writtenBytes(object);
    places.note(number, bytes.append(written), written.length, object instanceof PDFStream);
  };
  const noteText = (number: number, pieces: Iterable<string>): void => {
    let [at, length] = [0, 0];
    for (const piece of pieces) {
      const place = bytes.append(Buffer.from(piece, 'latin1'));
      if (length === 0) at = place;
      length += piece.length;
    }
    places.note(number, at, length, false);
  };
  Reflect.set(context, 'nextRef', (): PDFRef => {
    context.largestObjectNumber += 1;
    return looseRef(context.largestObjectNumber);
  });
  Reflect.set(context, 'assign', ({ objectNumber }: PDFRef, object: PDFObject): void => {
    note(objectNumber, object);
    context.largestObjectNumber = Math.max(context.largestObjectNumber, objectNumber);
  });
  return {
    ...{ context, note, noteText, lengthOf, isStream },
    of: (number) => bytes.read(places.at(number), lengthOf(number)),
    numbers: () =>
      new Uint32Array(context.largestObjectNumber)
        .map((_, i) => i + 1)
        .filter((number) => lengthOf(number) > 0),
  };
};
