import { InputFault, quoted } from '../fault.js';

/**
 * Bits of the field fsType of the table OS/2, by which a font says whether it may be embedded. Source: OpenType
 * specification 1.9.1, OS/2: fsType (ISO/IEC 14496-22).
 */
const RESTRICTED = 0x0002;
const PREVIEW = 0x0004;
const EDITABLE = 0x0008;
const NO_SUBSETTING = 0x0100;
const BITMAPS_ONLY = 0x0200;

/** Of the first bytes: TrueType outlines. A font with other outlines, or several fonts in a file, is not read. */
const TRUE_TYPE: readonly number[] = [0x00010000, 0x74727565];

const TABLE_RECORD = 16;
/** Where the table OS/2 holds fsType. */
const FS_TYPE = 8;

interface FontTable {
  readonly name: string;
  /** The sum that the file states of it. */
  readonly stated: number;
  readonly from: number;
  readonly length: number;
}

/** The tables that the directory of a font names; null where it is cut off. */
const tablesOf = (view: DataView): FontTable[] | null => {
  const count = view.getUint16(4);
  if (12 + count * TABLE_RECORD > view.byteLength) return null;
  return Array.from({ length: count }, (_, i) => {
    const at = 12 + i * TABLE_RECORD;
    const name = String.fromCharCode(...[0, 1, 2, 3].map((k) => view.getUint8(at + k)));
    const [stated, from, length] = [4, 8, 12].map((k) => view.getUint32(at + k));
    return { name, stated, from, length };
  });
};

const refusal = (fsType: number): string | null => {
  // Where several permissions are set, the least restrictive holds.
  if ((fsType & RESTRICTED) !== 0 && (fsType & (PREVIEW | EDITABLE)) === 0) {
    return 'it may not be embedded without leave of its maker';
  }
  if ((fsType & NO_SUBSETTING) !== 0) return 'it may be embedded whole only, and books hold a part';
  if ((fsType & BITMAPS_ONLY) !== 0) return 'only its bitmaps may be embedded';
  return null;
};

/** The sum of a table's numbers of four bytes, the last filled up with noughts. */
const sumOf = (view: DataView, from: number, length: number): number => {
  let sum = 0;
  const whole = from + length - (length % 4);
  for (let at = from; at < whole; at += 4) sum = (sum + view.getUint32(at)) >>> 0;
  for (let at = whole; at < from + length; at++) {
    sum = (sum + view.getUint8(at) * 2 ** (8 * (3 - (at - whole)))) >>> 0;
  }
  return sum;
};

/** Where the table head holds what makes the sum of the whole file right: its own sum is taken without. */
const ADJUSTMENT = 8;

/**
 * Whether a table is cut off or has another sum than the file states. What sets type by damaged tables may never end.
 * Source: OpenType specification 1.9.1, Calculating checksums.
 */
const isDamaged = (view: DataView, { name, stated, from, length }: FontTable): boolean => {
  if (from + length > view.byteLength) return true;
  const left = name === 'head' && length >= 12 ? view.getUint32(from + ADJUSTMENT) : 0;
  return (sumOf(view, from, length) - left) >>> 0 !== stated;
};

/**
 * Refuses a font file that is no TrueType font or is damaged, or that says of itself that it may not be embedded in part.
 *
 * @throws InputFault without a file: who read it names it.
 */
export const requireEmbeddable = (bytes: Uint8Array): void => {
  const cure = 'take a TrueType font (TTF) whose licence allows embedding';
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 12 || !TRUE_TYPE.includes(view.getUint32(0))) {
    throw new InputFault({}, 'this is no TrueType font', cure);
  }
  const tables = tablesOf(view);
  const damaged = tables === null ? 'directory' : tables.find((one) => isDamaged(view, one))?.name;
  if (tables === null || damaged !== undefined) {
    throw new InputFault(
      {},
      `the font is damaged in its table ${quoted(damaged)}`,
      'take it from its maker again',
    );
  }
  const os2 = tables.find(({ name }) => name === 'OS/2');
  if (os2 === undefined || tables.every(({ name }) => name !== 'glyf')) {
    throw new InputFault({}, 'the font lacks its outlines or its table OS/2', cure);
  }
  const refused = refusal(view.getUint16(os2.from + FS_TYPE));
  if (refused !== null) throw new InputFault({}, `the font says that ${refused} (fsType)`, cure);
};
