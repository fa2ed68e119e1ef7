import { InputFault } from '../../fault.js';
import { counted } from '../../wording.js';
import { type ByteSource, PIECE } from './byte-source.js';
import type { FileReader, ReadPoint } from './file-reader.js';
import { type LasHeader, readLasHeader } from './las-header.js';
import { unpackedRecords } from './laz.js';

/** LAS 1.4 R15, table 9: class 2 is ground. */
const GROUND = [2];

/** Whole records of a file that is not compressed. */
async function* plainRecords(bytes: ByteSource, header: LasHeader): AsyncGenerator<Uint8Array> {
  const perPiece = Math.max(1, Math.floor(PIECE / header.recordLength));
  for (let at = 0; at < header.pointCount; at += perPiece) {
    const count = Math.min(perPiece, header.pointCount - at);
    yield await bytes.read(
      header.pointOffset + at * header.recordLength,
      count * header.recordLength,
    );
  }
}

/** Takes a point that lies outside the header's box; one that lies nowhere on Earth is damage. */
const takeOutside = (
  take: ReadPoint,
  [x, y, z]: readonly [number, number, number],
  place: () => string,
  source: string,
): void => {
  try {
    take(x, y, z, place);
  } catch (error) {
    if (!(error instanceof InputFault)) throw error;
    throw new InputFault(
      { file: source, place: place() },
      `the position ${[x, y, z].map((v) => Number(v.toPrecision(6))).join(', ')} lies far outside the box that the header states`,
      'the file is damaged; fetch it again',
    );
  }
};

/**
 * LAS and LAZ: the points of a cloud that are classed as ground and not withheld, streamed in pieces.
 *
 * @throws InputFault for a damaged file, most points outside the box that its header states, and a cloud in
 * which nothing is classed as ground.
 */
export const readLas: FileReader = async (bytes, context) => {
  const { source, classes } = context.options;
  const header = await readLasHeader(bytes, source);
  const take = context.begin(header.stated);
  const ground = new Set(classes ?? GROUND);
  const modern = header.format >= 6;
  const counts = new Map<number, number>();
  const { scale, offset, recordLength } = header;
  // Half a unit of the last place, and what rounding of the header's own box may add.
  const slack = scale.map((s, k) => 2 * s + 1e-9 * Math.abs(header.max[k]));
  let index = 0;
  let kept = 0;
  let outside = 0;
  const place = (): string => `point ${index + 1}`;
  const records = header.compressed
    ? unpackedRecords(bytes, header, source)
    : plainRecords(bytes, header);
  for await (const block of records) {
    const view = new DataView(block.buffer, block.byteOffset, block.byteLength);
    for (let at = 0; at + recordLength <= block.byteLength; at += recordLength, index++) {
      const flags = view.getUint8(at + 15);
      const group = modern ? view.getUint8(at + 16) : flags & 0x1f;
      const withheld = modern ? (flags & 0x04) !== 0 : (flags & 0x80) !== 0;
      const x = view.getInt32(at, true) * scale[0] + offset[0];
      const y = view.getInt32(at + 4, true) * scale[1] + offset[1];
      const z = view.getInt32(at + 8, true) * scale[2] + offset[2];
      const isOutside =
        !(x >= header.min[0] - slack[0] && x <= header.max[0] + slack[0]) ||
        !(y >= header.min[1] - slack[1] && y <= header.max[1] + slack[1]) ||
        !(z >= header.min[2] - slack[2] && z <= header.max[2] + slack[2]);
      if (isOutside) outside += 1;
      counts.set(group, (counts.get(group) ?? 0) + 1);
      if (withheld || !ground.has(group)) continue;
      kept += 1;
      if (isOutside) takeOutside(take, [x, y, z], place, source);
      else take(x, y, z, place);
    }
  }
  if (index < header.pointCount) {
    throw new InputFault(
      { file: source, place: place() },
      `the points end after ${index} of ${header.pointCount}`,
      'the file is cut off or damaged; fetch it again',
    );
  }
  if (kept === 0) {
    const listed = [...counts]
      .sort((a, b) => a[0] - b[0])
      .map(([group, count]) => `${group} (${counted(count, 'point')})`)
      .join(', ');
    throw new InputFault(
      { file: source },
      `no point is of the ground classes ${[...ground].join(', ')}; the classes here are ${listed || 'none'}`,
      'classify the ground, or name the classes to take as ground by --classes or the key classes',
    );
  }
  if (2 * outside > index) {
    throw new InputFault(
      { file: source },
      `${outside} of ${counted(index, 'point')} ${outside === 1 ? 'lies' : 'lie'} outside the box that the header states`,
      'the file is damaged; fetch it again',
    );
  }
  return {
    kind: 'cloud',
    cellSize: null,
    breaklines: [],
    notes:
      outside === 0
        ? []
        : [
            `${counted(outside, 'point lies', 'points lie')} outside the box that the header states`,
          ],
    how: `${header.compressed ? 'LAZ' : 'LAS'} ${header.version}, point format ${header.format}, ${kept} of ${counted(index, 'point')} of class ${[...ground].join(', ')}`,
  };
};
