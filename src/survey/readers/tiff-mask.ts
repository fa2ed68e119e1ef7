import { GeoTIFF, type GeoTIFFImage } from 'geotiff';
import { InputFault } from '../../fault.js';
import { type ByteSource, bytesInMemory } from './byte-source.js';
import type { ReadOptions } from './file-reader.js';
import { checkTiffDirectory } from './tiff-directory.js';

/** The library's source, drawing on ours; a request past the end gives the bytes that there are. */
export const sourceOver = (bytes: ByteSource) => ({
  get fileSize(): number {
    return bytes.size;
  },
  fetch: async (slices: readonly { offset: number; length: number }[]): Promise<ArrayBuffer[]> => {
    const got: ArrayBuffer[] = [];
    for (const { offset, length } of slices) {
      if (!(offset >= 0) || !(length >= 0)) throw new Error('a block lies outside the file');
      const piece = await bytes.read(offset, length);
      // A copy of its own: the piece may be a view of a larger buffer, as Node's are.
      got.push(new Uint8Array(piece).buffer);
    }
    return got;
  },
  close: async (): Promise<void> => {},
});

/** The mask of a file beside the grid, as large as the grid. */
const maskOfFile = async (
  mask: Uint8Array,
  image: GeoTIFFImage,
  source: string,
): Promise<GeoTIFFImage> => {
  const bytes = bytesInMemory(mask);
  await checkTiffDirectory(bytes, `${source}.msk`);
  const tiff = await GeoTIFF.fromSource(sourceOver(bytes) as never);
  const other = await tiff.getImage(0);
  if (other.getWidth() === image.getWidth() && other.getHeight() === image.getHeight())
    return other;
  throw new InputFault(
    { file: `${source}.msk` },
    `the mask has ${other.getWidth()} x ${other.getHeight()} cells and the grid ${image.getWidth()} x ${image.getHeight()}`,
    'give the mask that belongs to the grid, or none',
  );
};

/** A mask stands in a directory of its own behind the grid (TIFF 6.0, NewSubfileType 4). */
const maskOfDirectory = async (
  tiff: GeoTIFF,
  image: GeoTIFFImage,
): Promise<GeoTIFFImage | null> => {
  const count = await tiff.getImageCount().catch(() => 1);
  for (let k = 1; k < Math.min(count, 32); k++) {
    const other = await tiff.getImage(k).catch(() => null);
    const type = Number(other?.fileDirectory.getValue('NewSubfileType' as never) ?? 0);
    if (other === null || (type & 4) === 0) continue;
    if (other.getWidth() === image.getWidth() && other.getHeight() === image.getHeight())
      return other;
  }
  return null;
};

/** The mask of a grid, in the file beside it or in its own; null when there is none. */
export const maskOfGrid = (
  tiff: GeoTIFF,
  image: GeoTIFFImage,
  { mask, source }: ReadOptions,
): Promise<GeoTIFFImage | null> =>
  mask === undefined || mask === null
    ? maskOfDirectory(tiff, image)
    : maskOfFile(mask, image, source);
