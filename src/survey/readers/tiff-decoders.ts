import { inflateSync } from 'node:zlib';
import { addDecoder, BaseDecoder, type ImageFileDirectory } from 'geotiff';
import { ZSTDDecoder } from 'zstddec';
import { SURVEY_LIMITS } from '../../input-limits.js';

/**
 * Decoders of TIFF blocks that know how many bytes a block may become. Those of the GeoTIFF library
 * believe the data, and a damaged block can ask them for any amount of memory.
 */

interface BlockParameters {
  readonly tileWidth: number;
  readonly tileHeight: number;
  readonly predictor: number;
  readonly planarConfiguration: number;
  readonly bitsPerSample: number | number[];
  readonly blockBytes: number;
}

const parametersOf = async (directory: ImageFileDirectory): Promise<BlockParameters> => {
  const value = async (tag: string): Promise<unknown> => directory.loadValue(tag as never);
  const number = async (tag: string, otherwise: number): Promise<number> =>
    Number((await value(tag)) ?? otherwise);
  const tiled = !directory.hasTag('StripOffsets');
  const length = await number('ImageLength', 0);
  const tileWidth = await number(tiled ? 'TileWidth' : 'ImageWidth', 0);
  const tileHeight = tiled
    ? await number('TileLength', 0)
    : Math.min(length, await number('RowsPerStrip', length));
  const planarConfiguration = await number('PlanarConfiguration', 1);
  const bits = Array.from((await value('BitsPerSample')) as ArrayLike<number>);
  const perCell = (planarConfiguration === 2 ? bits.slice(0, 1) : bits).reduce((a, b) => a + b, 0);
  return {
    tileWidth,
    tileHeight,
    planarConfiguration,
    bitsPerSample: bits,
    predictor: await number('Predictor', 1),
    blockBytes: Math.min(
      SURVEY_LIMITS.tiffBlock,
      Math.ceil((tileWidth * tileHeight * perCell) / 8),
    ),
  };
};

/** The library asks for a class of decoders; this makes one of a function. */
const decoderOf = (
  decode: (block: Uint8Array, limit: number) => Uint8Array,
): (() => Promise<typeof BaseDecoder>) => {
  class BoundedDecoder extends BaseDecoder {
    override decodeBlock(buffer: ArrayBufferLike): ArrayBufferLike {
      const limit = (this.parameters as unknown as BlockParameters).blockBytes;
      const out = decode(new Uint8Array(buffer), limit);
      // Predictors view the buffer from its start, and rows past the end of a short block must read as absent.
      return out.byteOffset === 0 && out.byteLength === out.buffer.byteLength
        ? out.buffer
        : out.slice().buffer;
    }
  }
  return async () => BoundedDecoder;
};

/**
 * LZW as TIFF writes it: codes of 9 to 12 bits, most significant bit first, the width growing one code
 * early. Source: TIFF 6.0, section 13.
 */
const unpackLzw = (block: Uint8Array, limit: number): Uint8Array => {
  const CLEAR = 256;
  const END = 257;
  const out = new Uint8Array(limit);
  // A table entry is the place in `out` where its string was last written, and its length.
  const place = new Int32Array(4096);
  const length = new Int32Array(4096);
  let size = 0;
  let next = 258;
  let width = 9;
  let previous = -1;
  let previousPlace = 0;
  let previousLength = 0;
  let held = 0;
  let bits = 0;
  let at = 0;
  for (;;) {
    while (bits < width && at < block.length) {
      held = ((held << 8) | block[at++]) & 0xffffff;
      bits += 8;
    }
    if (bits < width) break;
    bits -= width;
    const code = (held >>> bits) & ((1 << width) - 1);
    if (code === END) break;
    if (code === CLEAR) {
      next = 258;
      width = 9;
      previous = -1;
      continue;
    }
    const start = size;
    if (code < 256) {
      if (size >= limit) break;
      out[size++] = code;
    } else if (code < next) {
      const end = Math.min(limit, size + length[code]);
      for (let from = place[code]; size < end; from++) out[size++] = out[from];
    } else if (code === next && previous >= 0) {
      const end = Math.min(limit, size + previousLength + 1);
      for (let from = previousPlace; size < end; from++) out[size++] = out[from];
    } else {
      throw new Error('a code of the LZW data is not in its table');
    }
    if (previous >= 0 && next < 4096) {
      // The string of the previous code and the first byte of this one stand side by side in `out`.
      place[next] = previousPlace;
      length[next] = previousLength + 1;
      next += 1;
      if (next + 1 >= 1 << width && width < 12) width += 1;
    }
    previous = code;
    previousPlace = start;
    previousLength = size - start;
    if (size >= limit) break;
  }
  return out.subarray(0, size);
};

const unpackBits = (block: Uint8Array, limit: number): Uint8Array => {
  const out = new Uint8Array(limit);
  let size = 0;
  for (let at = 0; at < block.length && size < limit; ) {
    const count = block[at++];
    if (count < 128) {
      const run = block.subarray(at, Math.min(at + count + 1, at + limit - size));
      out.set(run, size);
      size += run.length;
      at += count + 1;
    } else if (count > 128) {
      const end = Math.min(limit, size + 257 - count);
      out.fill(block[at] ?? 0, size, end);
      size = end;
      at += 1;
    }
  }
  return out.subarray(0, size);
};

const inflateBlock = (block: Uint8Array, limit: number): Uint8Array => {
  const out = inflateSync(block, { maxOutputLength: limit + 1 });
  return new Uint8Array(out);
};

const zstandard = new ZSTDDecoder();

let registered = false;

/** Registers the decoders with the GeoTIFF library, once. */
export const registerDecoders = (): void => {
  if (registered) return;
  registered = true;
  const add = (codes: number[], load: () => Promise<typeof BaseDecoder>): void => {
    addDecoder(codes, load, parametersOf as never, false);
  };
  add(
    [1],
    decoderOf((block) => block),
  );
  add([5], decoderOf(unpackLzw));
  add([8, 32946], decoderOf(inflateBlock));
  add([32773], decoderOf(unpackBits));
  add([50000], async () => {
    await zstandard.init();
    return decoderOf((block, limit) => zstandard.decode(block, limit))();
  });
};

/** Compressions that are read, by their number in the file. */
export const COMPRESSIONS: Readonly<Record<number, string>> = {
  1: 'none',
  5: 'LZW',
  8: 'DEFLATE',
  32946: 'DEFLATE',
  32773: 'PackBits',
  50000: 'Zstandard',
  34887: 'LERC',
};
