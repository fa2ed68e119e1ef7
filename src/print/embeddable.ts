import { InputFault } from '../fault.js';

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

/** Where a table of a font lies; null where it has none. */
const tableAt = (view: DataView, tag: string): number | null => {
  const count = view.getUint16(4);
  for (let i = 0; i < count; i++) {
    const at = 12 + i * TABLE_RECORD;
    if (at + TABLE_RECORD > view.byteLength) return null;
    const name = String.fromCharCode(...[0, 1, 2, 3].map((k) => view.getUint8(at + k)));
    if (name !== tag) continue;
    const [from, length] = [view.getUint32(at + 8), view.getUint32(at + 12)];
    return from + length <= view.byteLength ? from : null;
  }
  return null;
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
 * A table that is cut off or has another sum than the file states; null where all are whole. What sets type by
 * damaged tables may never end. Source: OpenType specification 1.9.1, Calculating checksums.
 */
const damagedTable = (view: DataView): string | null => {
  const count = view.getUint16(4);
  for (let i = 0; i < count; i++) {
    const at = 12 + i * TABLE_RECORD;
    if (at + TABLE_RECORD > view.byteLength) return 'directory';
    const name = String.fromCharCode(...[0, 1, 2, 3].map((k) => view.getUint8(at + k)));
    const [stated, from, length] = [4, 8, 12].map((k) => view.getUint32(at + k));
    if (from + length > view.byteLength) return name;
    const left = name === 'head' && length >= 12 ? view.getUint32(from + ADJUSTMENT) : 0;
    if ((sumOf(view, from, length) - left) >>> 0 !== stated) return name;
  }
  return null;
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
  const damaged = damagedTable(view);
  if (damaged !== null) {
    throw new InputFault(
      {},
      `the font is damaged in its table "${damaged}"`,
      'take it from its maker again',
    );
  }
  const os2 = tableAt(view, 'OS/2');
  if (tableAt(view, 'glyf') === null || os2 === null) {
    throw new InputFault({}, 'the font lacks its outlines or its table OS/2', cure);
  }
  const refused = refusal(view.getUint16(os2 + 8));
  if (refused !== null) throw new InputFault({}, `the font says that ${refused} (fsType)`, cure);
};
