import { PDFArray, type PDFContext, PDFDict, PDFName, PDFNumber, PDFRawStream } from 'pdf-lib';
import { streamBytes } from './content-bytes.js';

/** A font as a PDF carries it. */
export interface DrawnFont {
  readonly name: string;
  readonly embedded: boolean;
  readonly subset: boolean;
  readonly hasUnicode: boolean;
  /** Bytes a code. */
  readonly codeLength: 1 | 2;
  /** Characters of a code; empty when the font does not say. */
  readonly charactersOf: (code: number) => string;
  /** Thousandths of the type size. */
  readonly widthOf: (code: number) => number;
}

const nameOf = (dictionary: PDFDict, key: string): string | null => {
  const value = dictionary.lookup(PDFName.of(key));
  return value instanceof PDFName ? value.decodeText() : null;
};

const streamText = (context: PDFContext, value: unknown): string | null => {
  const stream = context.lookup(value as never);
  if (!(stream instanceof PDFRawStream)) return null;
  return new TextDecoder('latin1').decode(streamBytes(stream));
};

const charactersOfHex = (hex: string): string =>
  String.fromCharCode(...(hex.match(/.{4}/g) ?? []).map((unit) => Number.parseInt(unit, 16)));

/** The bfchar and bfrange entries of a ToUnicode map (ISO 32000-1, 9.10.3). */
const readToUnicode = (map: string): Map<number, string> => {
  const characters = new Map<number, string>();
  for (const [, block] of map.matchAll(/beginbfchar([\s\S]*?)endbfchar/g)) {
    for (const [, code, to] of block.matchAll(/<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>/g)) {
      characters.set(Number.parseInt(code, 16), charactersOfHex(to));
    }
  }
  for (const [, block] of map.matchAll(/beginbfrange([\s\S]*?)endbfrange/g)) {
    for (const [, from, to, first] of block.matchAll(
      /<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>/g,
    )) {
      const start = Number.parseInt(from, 16);
      const base = Number.parseInt(first, 16);
      for (let code = start; code <= Number.parseInt(to, 16); code++) {
        characters.set(code, String.fromCodePoint(base + code - start));
      }
    }
  }
  return characters;
};

/** The W array of a CID font (ISO 32000-1, 9.7.4.3). */
const readWidths = (descendant: PDFDict): Map<number, number> => {
  const widths = new Map<number, number>();
  const list = descendant.lookup(PDFName.of('W'));
  if (!(list instanceof PDFArray)) return widths;
  for (let i = 0; i < list.size(); ) {
    const first = list.lookup(i, PDFNumber).asNumber();
    const next = list.lookup(i + 1);
    if (next instanceof PDFArray) {
      for (let j = 0; j < next.size(); j++) {
        widths.set(first + j, next.lookup(j, PDFNumber).asNumber());
      }
      i += 2;
    } else {
      const last = list.lookup(i + 1, PDFNumber).asNumber();
      const width = list.lookup(i + 2, PDFNumber).asNumber();
      for (let code = first; code <= last; code++) widths.set(code, width);
      i += 3;
    }
  }
  return widths;
};

/** Reads what a checker needs of a font dictionary. */
export const readFont = (context: PDFContext, font: PDFDict): DrawnFont => {
  const composite = nameOf(font, 'Subtype') === 'Type0';
  const descendants = font.lookup(PDFName.of('DescendantFonts'));
  const descendant = descendants instanceof PDFArray ? descendants.lookup(0) : font;
  const holder = descendant instanceof PDFDict ? descendant : font;
  const descriptor = holder.lookup(PDFName.of('FontDescriptor'));
  const embedded =
    nameOf(font, 'Subtype') === 'Type3' ||
    (descriptor instanceof PDFDict &&
      ['FontFile', 'FontFile2', 'FontFile3'].some((key) => descriptor.has(PDFName.of(key))));
  const name = nameOf(font, 'BaseFont') ?? 'unnamed';
  const map = streamText(context, font.get(PDFName.of('ToUnicode')));
  const characters = map === null ? new Map<number, string>() : readToUnicode(map);
  const widths = composite ? readWidths(holder) : new Map<number, number>();
  return {
    name: name.replace(/^[A-Z]{6}\+/, ''),
    embedded,
    subset: /^[A-Z]{6}\+/.test(name),
    hasUnicode: map !== null,
    codeLength: composite ? 2 : 1,
    charactersOf: (code) =>
      characters.get(code) ?? (composite || map !== null ? '' : String.fromCharCode(code)),
    widthOf: (code) => widths.get(code) ?? (composite ? 0 : 500),
  };
};
