import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { encodePng, type PageImage } from '../../src/print/raster.js';

/** Part of the pixels that may differ: none that an eye would see, but rounding in the last bit. */
const ALLOWED = 0.0002;

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

/**
 * Compares a drawn page with the picture kept as `golden/<name>.png` beside the test named by `test`
 * (its `import.meta.url`). On a difference the new picture and one of the differences are left beside it
 * as `<name>.new.png` and `<name>.diff.png`, and the words of the fault are given back; null when they
 * match. `UPDATE_GOLDEN=1` in the environment writes the picture instead.
 */
export const compareGolden = (test: string, name: string, image: PageImage): string | null => {
  const at = (ending: string): string =>
    fileURLToPath(new URL(`./golden/${name}${ending}.png`, test));
  const kept = at('');
  compared.add(kept);
  if (process.env.UPDATE_GOLDEN === '1') {
    mkdirSync(dirname(kept), { recursive: true });
    writeFileSync(kept, encodePng(image));
    return null;
  }
  if (!existsSync(kept))
    return `there is no golden picture "${name}"; make it with UPDATE_GOLDEN=1`;
  const golden = PNG.sync.read(readFileSync(kept));
  if (golden.width !== image.width || golden.height !== image.height) {
    writeFileSync(at('.new'), encodePng(image));
    return `"${name}" is ${image.width} x ${image.height} pixels, its golden picture ${golden.width} x ${golden.height}`;
  }
  const difference = new PNG({ width: golden.width, height: golden.height });
  const count = pixelmatch(golden.data, image.data, difference.data, golden.width, golden.height, {
    threshold: 0.1,
  });
  if (count <= ALLOWED * golden.width * golden.height) {
    for (const left of ['.new', '.diff']) rmSync(at(left), { force: true });
    return null;
  }
  writeFileSync(at('.new'), encodePng(image));
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

/** The same page as a grey printer gives it; a golden picture of its own. */
export const compareGreyGolden = (test: string, name: string, image: PageImage): string | null =>
  compareGolden(test, `${name}-grey`, inGrey(image));
