import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fromArrayBuffer } from 'geotiff';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import { bookNumber } from '../../src/course/book-number.js';
import { wholeOf } from '../../src/file-bytes.js';
import { spineOf } from '../../src/layout/cover-spine.js';
import { barCodeMarks } from '../../src/page/front/bar-code.js';
import { composeBookCover } from '../../src/page/front/book-cover.js';
import { composeBackCover } from '../../src/page/front/imprint-page.js';
import { fillPath, rectSteps } from '../../src/page/kit/draw.js';
import { type Mark, type Page, TINT } from '../../src/page/marks/marks.js';
import { writeCovers } from '../../src/print/cover-pdf.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { ownLayout, ownLayoutNames } from '../print/sample-pages.js';

/** Bar codes as Poppler renders the page: a reader of another family reads them, a ruler measures their bars. */
const folder = mkdtempSync(join(tmpdir(), 'runnel-bars-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const fonts = openFonts();
const layout = ownLayout('pocket');
const CELL = { x: 8, y: 100, height: 40 };

beforeAll(() => {
  const wasm = createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm');
  prepareZXingModule({ overrides: { wasmBinary: readFileSync(wasm).buffer as ArrayBuffer } });
});

const rendered = async (
  marks: readonly Mark[],
  edition: 'press' | 'screen',
  dpi: number,
  /** Of the picture, in its pixels: one row; the whole page where it is left out. */
  row?: number,
): Promise<PNG> => {
  const { width, height } = layout.page;
  const page: Page = { id: 'one', title: 'One', label: '1', width, height, marks };
  const loose = { ...layout, binding: { ...layout.binding, method: 'loose' as const } };
  const options = { fonts, title: 'T', language: 'en', edition };
  const file = join(folder, `${edition}.pdf`);
  writeFileSync(file, await writePdf([page], loose, options));
  const out = join(folder, `${edition}-${dpi}`);
  const { status, stderr } = spawnSync(
    'pdftoppm',
    [
      ...['-png', '-gray', '-r', `${dpi}`, '-singlefile'],
      ...(row === undefined
        ? []
        : ['-x', '0', '-W', `${Math.ceil((width / 25.4) * dpi)}`, '-y', `${row}`, '-H', '1']),
      ...[file, out],
    ],
    { encoding: 'utf8' },
  );
  expect([status, stderr]).toEqual([0, '']);
  return PNG.sync.read(readFileSync(`${out}.png`));
};

/** Without its add-on a symbol is read, too, where a line runs above that. */
const readIn = async (
  { width, height, data }: PNG,
  eanAddOnSymbol: 'Read' | 'Require',
): Promise<readonly string[]> => {
  const image = { width, height, data: new Uint8ClampedArray(data), colorSpace: 'srgb' as const };
  const found = await readBarcodes(image as ImageData, {
    formats: ['EAN13'],
    eanAddOnSymbol,
  });
  return found.map(({ text }) => text);
};

/** Invented numbers of a seed, their check digits by the rule of the standard: the wrong ones are refused. */
const numbers = (seed: number, count: number): string[] => {
  let state = seed;
  const digit = (): number => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return Math.floor(state / 65536) % 10;
  };
  return Array.from({ length: count }, () => {
    const first = `979${Array.from({ length: 9 }, digit).join('')}`;
    const whole = Array.from({ length: 10 }, (_, check) => `${first}${check}`);
    const right = whole.filter((one) => 'number' in bookNumber(one));
    expect(right).toHaveLength(1);
    return right[0];
  });
};

const barsOf = (ean: string, addOn: string | null, width: number): Mark[] => [
  // On a tint, to which the symbol brings paper of its own.
  fillPath(rectSteps(0, 0, layout.page.width, layout.page.height), TINT),
  ...barCodeMarks(
    { isbn: { written: ean, ean }, addOn },
    { ...CELL, width },
    layout,
    measureWith(fonts),
  ),
];

/** A plate of the cut cover as Ghostscript's device tiffsep separates it: 0 is solid ink, 255 none. */
const plateOf = async (
  stem: string,
  plate: string,
): Promise<{ readonly width: number; readonly height: number; readonly shades: Uint8Array }> => {
  const bytes = readFileSync(join(folder, `${stem}(${plate}).tif`));
  const tiff = await fromArrayBuffer(
    bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length) as ArrayBuffer,
  );
  const image = await tiff.getImage();
  const [shades] = await image.readRasters();
  const [width, height] = [image.getWidth(), image.getHeight()];
  return { width, height, shades: shades as Uint8Array };
};

const PLATE_DPI = 300;

const COVER_BOOK = {
  ...({ title: 'Links', setting: 'by the sea', use: 'play', units: 'imperial' } as const),
  ...{ stimp: 3, past: 0.3, greens: [] },
  imprint: {
    ...{ edition: null, buyer: 'Us', publisher: 'Press', copyright: null, contact: [] },
    ...{ surveyed: null, price: null, made: null, logo: null, about: null },
    ...{ isbn: { written: '979-9-00-000001-1', ean: '9799000000011' }, addOn: '51400' },
  },
};

describe('bar codes on the rendered page', () => {
  it('stand on the dark plate of a cover alone, the tint left open below them', async () => {
    const glued = ownLayout('pocket-glued');
    const plan = glued.cover!;
    const spine = spineOf(84, glued, plan);
    const cover = composeBookCover(COVER_BOOK, glued, plan, spine.width, measureWith(fonts));
    const file = join(folder, 'cover.pdf');
    const options = { fonts, title: 'Links', language: 'en' };
    const covers = await writeCovers([() => cover], glued, plan, spine, options);
    writeFileSync(file, wholeOf(covers));
    const { status, stderr } = spawnSync(
      'gs',
      [
        ...[
          '-q',
          '-dBATCH',
          '-dNOPAUSE',
          '-sDEVICE=tiffsep',
          '-sCompression=none',
          `-r${PLATE_DPI}`,
        ],
        ...['-dUseTrimBox', `-sOutputFile=${join(folder, 'cover.tif')}`, file],
      ],
      { encoding: 'utf8' },
    );
    expect([status, stderr]).toEqual([0, '']);
    for (const process of ['Cyan', 'Magenta', 'Yellow', 'Black']) {
      const { shades } = await plateOf('cover', process);
      expect(shades.findIndex((shade) => shade !== 255)).toBe(-1);
    }
    const { width, height, shades } = await plateOf('cover', plan.inks.dark.name);
    const dark = new PNG({ width, height });
    dark.data.fill(255);
    for (let i = 0; i < shades.length; i++) dark.data.fill(shades[i], 4 * i, 4 * i + 3);
    expect(await readIn(dark, 'Require')).toEqual(['979900000001151400']);
    // Where the dark plate has solid ink, the tint is its ground, a line of its own, or open: no type is cut out of it.
    const tint = await plateOf('cover', plan.inks.tint.name);
    const open: number[] = [];
    for (let i = 0; i < tint.shades.length; i++) if (tint.shades[i] === 255) open.push(i);
    const across = open.map((i) => i % tint.width);
    const down = open.map((i) => Math.floor(i / tint.width));
    const least = (values: readonly number[]): number => values.reduce((a, b) => Math.min(a, b));
    const most = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b));
    const wide = most(across) - least(across) + 1;
    const high = most(down) - least(down) + 1;
    // One whole rectangle: the paper of the bar code, 167 modules of 0.33 mm (add-on, light strips and all).
    expect(open).toHaveLength(wide * high);
    expect((wide / PLATE_DPI) * 25.4).toBeCloseTo((11 + 95 + 9 + 47 + 5) * 0.33, 0);
  });

  it('are read back, add-on and all, at every size', async () => {
    for (const [i, ean] of numbers(118_000, 6).entries()) {
      const addOn = [null, '51299', '07'][i % 3];
      const width = (addOn === null ? 30 : 46) + (i > 2 ? 20 : 0);
      const marks = barsOf(ean, addOn, width);
      for (const edition of ['screen', 'press'] as const) {
        const image = await rendered(marks, edition, 300);
        expect(await readIn(image, addOn === null ? 'Read' : 'Require')).toEqual([
          `${ean}${addOn ?? ''}`,
        ]);
      }
    }
  });

  it('are read back from the last page of a sold book, in its press file and on a screen', async () => {
    const sold = ownLayoutNames()
      .map(ownLayout)
      .filter(({ pages }) => pages['back-cover'] !== undefined);
    expect(sold.length).toBeGreaterThan(1);
    for (const own of sold) {
      const back = composeBackCover({
        ...{ layout: own, measure: measureWith(fonts), book: COVER_BOOK },
        ...({ side: 'left', label: '84' } as const),
      });
      for (const edition of ['screen', 'press'] as const) {
        const image = await rendered(back.marks, edition, 300);
        expect(await readIn(image, 'Require'), `${own.name}, ${edition}`).toEqual([
          '979900000001151400',
        ]);
      }
    }
  }, 60_000);

  it('have every bar and space within the tolerance of ISO/IEC 15420', async () => {
    const [ean] = numbers(118_001, 1);
    for (const [width, size] of [
      [80, 1],
      [30, 0.8],
    ] as const) {
      const dpi = 2400;
      const unit = 0.33 * size;
      // A line through the bars: from the cell's foot up, past the digits.
      const y = Math.round(((CELL.y + CELL.height - 12) / 25.4) * dpi);
      const image = await rendered(barsOf(ean, null, width), 'screen', dpi, y);
      const dark = Array.from({ length: image.width }, (_, x) => image.data[x * 4] < 60);
      const runs: number[] = [];
      let from = dark.indexOf(true);
      for (let x = from; x <= dark.lastIndexOf(true) + 1; x++) {
        if (dark[x] === dark[x - 1]) continue;
        if (x > from) runs.push(((x - from) / dpi) * 25.4);
        from = x;
      }
      expect(runs).toHaveLength(59);
      // Tolerance of a bar or space of a module X up to 0.33 mm: X - 0.229 mm (ISO/IEC 15420; from memory).
      const most = unit - 0.229;
      const errors = runs.map((run) => Math.abs(run - Math.round(run / unit) * unit));
      expect(Math.max(...errors)).toBeLessThan(most);
      // The drawing itself errs by the pixels of the picture alone.
      expect(Math.max(...errors)).toBeLessThan(2 * (25.4 / dpi));
      expect(runs.reduce((sum, run) => sum + Math.round(run / unit), 0)).toBe(95);
    }
  });
});
