import { InputFault } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import type { ByteSource } from './byte-source.js';

/** Bytes of one value of each TIFF field type (TIFF 6.0, section 2; 16 to 18 are BigTIFF's). */
const TYPE_SIZE: Readonly<Record<number, number>> = {
  1: 1,
  2: 1,
  3: 2,
  4: 4,
  5: 8,
  6: 1,
  7: 1,
  8: 2,
  9: 4,
  10: 8,
  11: 4,
  12: 8,
  13: 4,
  16: 8,
  17: 8,
  18: 8,
};

/**
 * Throws unless every field of the file's first directory lies inside the file, so that the library
 * that reads it next is never led to ask for memory that a damaged count promises.
 */
export const checkTiffDirectory = async (bytes: ByteSource, source: string): Promise<void> => {
  const cut = (what: string): InputFault =>
    new InputFault(
      { file: source, place: 'TIFF directory' },
      what,
      'the file is cut off or damaged; fetch it again',
    );
  const head = await bytes.read(0, 16);
  if (head.length < 8) throw cut('the file ends inside its header');
  const view = new DataView(head.buffer, head.byteOffset, head.length);
  const little = head[0] === 0x49;
  const big = view.getUint16(2, little) === 43;
  if (big && head.length < 16) throw cut('the file ends inside its header');
  const offset = big ? Number(view.getBigUint64(8, little)) : view.getUint32(4, little);
  const countSize = big ? 8 : 2;
  const entrySize = big ? 20 : 12;
  const counter = await bytes.read(offset, countSize);
  if (offset < 8 || counter.length < countSize) throw cut('the directory lies outside the file');
  const countView = new DataView(counter.buffer, counter.byteOffset, countSize);
  const count = big ? Number(countView.getBigUint64(0, little)) : countView.getUint16(0, little);
  if (count < 1 || count > SURVEY_LIMITS.tiffFields) throw cut(`the directory has ${count} fields`);
  const entries = await bytes.read(offset + countSize, count * entrySize);
  if (entries.length < count * entrySize)
    throw cut('the directory reaches past the end of the file');
  const fields = new DataView(entries.buffer, entries.byteOffset, entries.length);
  for (let i = 0; i < count; i++) {
    const at = i * entrySize;
    const tag = fields.getUint16(at, little);
    const size = TYPE_SIZE[fields.getUint16(at + 2, little)];
    if (size === undefined) throw cut(`field ${tag} is of an unknown type`);
    const values = big
      ? Number(fields.getBigUint64(at + 4, little))
      : fields.getUint32(at + 4, little);
    const length = size * values;
    if (length <= (big ? 8 : 4)) continue;
    const place = big
      ? Number(fields.getBigUint64(at + 12, little))
      : fields.getUint32(at + 8, little);
    if (place + length > bytes.size) throw cut(`field ${tag} reaches past the end of the file`);
  }
};
