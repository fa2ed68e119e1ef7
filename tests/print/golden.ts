import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { inflateSync } from 'node:zlib';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { encodePng, type PageImage } from '../../src/print/raster.js';

/** What a fine picture allows: less than a tick of 1 mm that is moved by 0.1 mm. */
const ALLOWED_FINE = 12;

/** The pictures that were compared in this process, by their paths. */
const compared = new Set<string>();

/**
 * The golden pictures beside a test whose names its pattern matches and that nothing has been compared
 * with: to be asked when all its pages have been drawn.
 */
export const forgottenGoldens = (test: string, own: RegExp): string[] => {
  const folder = fileURLToPath(new URL('./golden/', test));
  return readdirSync(folder)
    .filter((file) => /^(?:(?!\.new|\.diff).)*\.png$/.test(file) && own.test(file))
    .filter((file) => !compared.has(`${folder}${file}`));
};

interface Manner {
  readonly encode: (image: PageImage) => Uint8Array;
  /** Pixels that may differ. */
  readonly allowed: number;
  /** Whether the soft edges of lines count, too. */
  readonly includeAA: boolean;
}

/** No pixel may differ but by what an eye does not see: a sign before a figure is two of them. */
const COLOUR: Manner = { encode: encodePng, allowed: 0, includeAA: true };

const FINE: Manner = {
  encode: ({ width, height, data }) => {
    const png = new PNG({ width, height });
    png.data = Buffer.from(data);
    return PNG.sync.write(png, { colorType: 0, filterType: 0, deflateLevel: 9 });
  },
  allowed: ALLOWED_FINE,
  includeAA: true,
};

/**
 * Compares a drawn page with the picture kept as `golden/<name>.png` beside the test named by `test`
 * (its `import.meta.url`). On a difference the new picture and one of the differences are left beside it
 * as `<name>.new.png` and `<name>.diff.png`, and the words of the fault are given back; null when they
 * match. `UPDATE_GOLDEN=1` in the environment writes the picture instead.
 */
export const compareGolden = (
  test: string,
  name: string,
  image: PageImage,
  { encode, allowed, includeAA }: Manner = COLOUR,
): string | null => {
  const at = (ending: string): string =>
    fileURLToPath(new URL(`./golden/${name}${ending}.png`, test));
  const kept = at('');
  compared.add(kept);
  if (process.env.UPDATE_GOLDEN === '1') {
    mkdirSync(dirname(kept), { recursive: true });
    writeFileSync(kept, encode(image));
    return null;
  }
  if (!existsSync(kept))
    return `there is no golden picture "${name}"; make it with UPDATE_GOLDEN=1`;
  const golden = PNG.sync.read(readFileSync(kept));
  if (golden.width !== image.width || golden.height !== image.height) {
    writeFileSync(at('.new'), encode(image));
    return `"${name}" is ${image.width} x ${image.height} pixels, its golden picture ${golden.width} x ${golden.height}`;
  }
  const difference = new PNG({ width: golden.width, height: golden.height });
  const count = pixelmatch(golden.data, image.data, difference.data, golden.width, golden.height, {
    threshold: 0.1,
    includeAA,
  });
  if (count <= allowed) {
    for (const left of ['.new', '.diff']) rmSync(at(left), { force: true });
    return null;
  }
  writeFileSync(at('.new'), encode(image));
  writeFileSync(at('.diff'), PNG.sync.write(difference));
  return `"${name}" differs from its golden picture in ${count} pixels; see ${name}.diff.png`;
};

/** Luminance as a grey printer gives it (ITU-R BT.601 weights). */
const inGrey = (image: PageImage): PageImage => {
  const data = new Uint8Array(image.data.length);
  for (let i = 0; i < data.length; i += 4) {
    const grey = Math.round(
      0.299 * image.data[i] + 0.587 * image.data[i + 1] + 0.114 * image.data[i + 2],
    );
    data[i] = data[i + 1] = data[i + 2] = grey;
    data[i + 3] = 255;
  }
  return { width: image.width, height: image.height, data };
};

/** Sixteen levels of grey: enough to show a line's place, and a third of the bytes. */
const inSteps = ({ width, height, data }: PageImage): PageImage => {
  const stepped = new Uint8Array(data.length);
  for (let i = 0; i < data.length; i += 4) {
    const grey = 0.299 * data[i] + 0.587 * data[i + 1] + 0.114 * data[i + 2];
    stepped[i] = stepped[i + 1] = stepped[i + 2] = 17 * Math.round(grey / 17);
    stepped[i + 3] = 255;
  }
  return { width, height, data: stepped };
};

/**
 * Whether a picture is kept just so. Large pictures that are packed as `FINE` packs them are looked at without
 * being decoded in full, which takes ten times as long; false for any other.
 */
const isKeptJustSo = (kept: string, { width, height, data }: PageImage): boolean => {
  if (!existsSync(kept)) return false;
  const file = readFileSync(kept);
  const parts: Buffer[] = [];
  for (let at = 8; at + 12 <= file.length; at += 12 + file.readUInt32BE(at)) {
    const part = file.subarray(at + 8, at + 8 + file.readUInt32BE(at));
    const kind = file.toString('latin1', at + 4, at + 8);
    if (kind === 'IDAT') parts.push(part);
    if (kind !== 'IHDR') continue;
    // Eight bits, grey, not interlaced.
    const packed = part[8] === 8 && part[9] === 0 && part[12] === 0;
    if (!packed || part.readUInt32BE(0) !== width || part.readUInt32BE(4) !== height) return false;
  }
  const rows = inflateSync(Buffer.concat(parts));
  for (let y = 0; y < height; y++) {
    const row = y * (width + 1);
    if (rows[row] !== 0) return false;
    for (let x = 0; x < width; x++) {
      if (rows[row + 1 + x] !== data[4 * (y * width + x)]) return false;
    }
  }
  return true;
};

/** A whole page at a resolution where a tenth of a millimetre shows, in grey and held to the pixel. */
export const compareFineGolden = (test: string, name: string, image: PageImage): string | null => {
  const stepped = inSteps(image);
  const kept = fileURLToPath(new URL(`./golden/${name}.png`, test));
  if (process.env.UPDATE_GOLDEN !== '1' && isKeptJustSo(kept, stepped)) {
    compared.add(kept);
    return null;
  }
  return compareGolden(test, name, stepped, FINE);
};

/** The same page as a grey printer gives it; a golden picture of its own. */
export const compareGreyGolden = (test: string, name: string, image: PageImage): string | null =>
  compareGolden(test, `${name}-grey`, inGrey(image));
