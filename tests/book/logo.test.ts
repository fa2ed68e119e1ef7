import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { degrees, LineCapStyle, PDFDocument, rgb } from 'pdf-lib';
import { PNG } from 'pngjs';
import { afterAll, describe, expect, test } from 'vitest';
import { loadLogo } from '../../src/book/logo/load-logo.js';
import { preflight } from '../../src/check/preflight.js';
import { readBook } from '../../src/check/read-book.js';
import type { Course } from '../../src/course/course.js';
import type { Mark, Page, PathMark } from '../../src/page/marks/marks.js';
import type { LogoPicture } from '../../src/page/marks/picture.js';
import { openFonts } from '../../src/print/fonts.js';
import { pathBox } from '../../src/print/path-geometry.js';
import { writePdf } from '../../src/print/pdf.js';
import { rasterise } from '../../src/print/raster.js';
import { writeSvg } from '../../src/print/svg.js';
import { ownLayout } from '../print/sample-pages.js';

const folder = mkdtempSync(join(tmpdir(), 'logo-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const load = (
  name: string,
  bytes: string | Uint8Array,
  width = 20,
): Promise<LogoPicture | null> => {
  writeFileSync(join(folder, name), bytes);
  const course = { folder, imprint: { logo: { file: name, width } } };
  return loadLogo(course as unknown as Course);
};

const svg = (inner: string, more = 'viewBox="0 0 40 20"'): string =>
  `<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" ${more}>${inner}</svg>`;

const greyPng = (columns: number, rows: number, shade: (x: number, y: number) => number[]) => {
  const png = new PNG({ width: columns, height: rows });
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) {
      const [r, g = r, b = r, a = 255] = shade(x, y);
      png.data.set([r, g, b, a], 4 * (y * columns + x));
    }
  }
  return PNG.sync.write(png);
};

const boxes = (picture: LogoPicture | null) =>
  picture!.marks.map((mark) => pathBox((mark as PathMark).steps));

describe('a logo in SVG', () => {
  test('lies in its frame by its viewBox and transforms, in the inks of the book', async () => {
    const picture = await load(
      'a.svg',
      svg(`<g transform="translate(10 0) scale(2)" fill="#fff"><rect width="5" height="5"/></g>
        <path d="M0 0h10v10h-10z" style="fill:rgb(10,90,160); fill-rule: evenodd"/>
        <circle cx="30" cy="10" r="5" fill="none" stroke="black" stroke-width="2"/>
        <g transform="rotate(90, 20, 10)"><polygon points="10,10 20,10 20,12"/></g>
        <rect x="1" y="2" width="3" height="4" fill="#808080"/>`),
    );
    // 40 units are 20 mm: by hand, each unit half a millimetre.
    expect(picture).toMatchObject({ width: 20, height: 10 });
    const [square, blue, ring, turned] = boxes(picture);
    expect(square).toEqual({ minX: 5, maxX: 10, minY: 0, maxY: 5 });
    expect(blue).toEqual({ minX: 0, maxX: 5, minY: 0, maxY: 5 });
    expect(ring.minX).toBeCloseTo(12.5, 3);
    // A circle of four cubics is out by at most a thousandth of its radius or so.
    expect(ring.maxY).toBeCloseTo(7.5, 1);
    // A quarter turn on the page is clockwise: 10 left of the middle is 10 above it.
    expect([turned.minX, turned.minY, turned.maxX, turned.maxY].map((v) => +v.toFixed(6))).toEqual([
      9, 0, 10, 5,
    ]);
    const marks = picture!.marks as readonly PathMark[];
    expect(marks.map(({ fill }) => fill?.ink)).toEqual([
      'paper',
      'tint',
      undefined,
      'dark',
      'dark',
    ]);
    expect(marks[1].rule).toBe('evenodd');
    expect(marks[2].stroke).toMatchObject({ width: 1, paint: { ink: 'dark', tone: 1 } });
    expect(marks[4].fill?.tone).toBeCloseTo(0.498, 2);
  });

  test.each([
    ['<text x="1">Us</text>', /a\.svg, line 1: it has an element "text"; turn type/],
    ['<image href="x.png"/>', /element "image"/],
    ['<rect width="5" height="5" fill="url(#g)"/>', /"url\(#g\)" is no flat colour/],
    ['<rect width="5" height="5" opacity="0.5"/>', /opacity is not 1/],
    ['<rect width="5" height="5" clip-path="url(#c)"/>', /clip-path/],
    ['<rect width="5" height="5" transform="spin(3)"/>', /no transform/],
    ['<path d="M0 0 L nonsense"/>', /a path cannot be read|no number|draws nothing/],
    ['<path d="M0 0 L 9 9" fill="none" stroke="black" stroke-width="0.1"/>', /0\.14 pt wide/],
    ['<g/>', /draws nothing/],
    [
      '<defs><style>.a{fill:#2e6b8a}</style></defs><rect width="9" height="9"/>',
      /a style sheet.*"presentation attributes"/,
    ],
    ['<rect visibility="hidden" width="9" height="9"/>', /parts that are not shown/],
    ['<svg viewBox="0 0 9 9"><rect width="9" height="9"/></svg>', /a drawing inside the drawing/],
    ['<rect x="-1" width="9" height="9"/>', /a shape runs out of the viewBox/],
    ['<rect display="none" width="9" height="9"/>', /draws nothing/],
    ['<rect>', /not well-formed/],
  ])('%s is refused in a line', async (inner, words) => {
    await expect(load('a.svg', svg(inner))).rejects.toThrow(words);
  });

  test('keeps dashes, round ends and corners of its lines', async () => {
    const drawn = `<g stroke="#000" fill="none" stroke-dasharray="6, 2" stroke-linecap="round">
      <path d="M4 4h20v9" stroke-linejoin="round"/></g>`;
    const [mark] = (await load('a.svg', svg(drawn)))!.marks as readonly PathMark[];
    expect(mark.stroke).toMatchObject({ dash: [3, 1], cap: 'round', join: 'round', width: 0.5 });
  });

  test('without a frame, or of another kind, it is refused', async () => {
    await expect(load('a.svg', svg('<rect width="1" height="1"/>', ''))).rejects.toThrow(/viewBox/);
    await expect(load('a.svg', '<html/>')).rejects.toThrow(/no SVG drawing/);
    await expect(load('a.txt', 'hello')).rejects.toThrow(/neither SVG, PDF nor PNG/);
  });
});

describe('a logo in PNG', () => {
  const shades = (x: number): number[] => [x % 256];

  test('is taken in greys at 300 pixels to an inch and more', async () => {
    // 25.4 mm are an inch.
    const picture = await load('a.png', greyPng(300, 150, shades), 25.4);
    expect(picture).toMatchObject({ width: 25.4, height: 12.7 });
    const [mark] = picture!.marks;
    expect(mark).toMatchObject({ kind: 'image', columns: 300, rows: 150 });
    await expect(load('a.png', greyPng(299, 150, shades), 25.4)).rejects.toThrow(
      /299 pixels across are 299 to an inch at 25\.4 mm; give 300 pixels or more/,
    );
  });

  test('is refused in colours, half see-through, or damaged', async () => {
    const at = (x: number, pixel: number[]) => greyPng(300, 4, (u) => (u === x ? pixel : [200]));
    await expect(load('a.png', at(6, [200, 10, 10]))).rejects.toThrow(
      /pixel 7 of row 1 is coloured/,
    );
    await expect(load('a.png', at(6, [9, 9, 9, 100]))).rejects.toThrow(/half see-through/);
    await expect(load('a.png', at(0, [0]).subarray(0, 60))).rejects.toThrow(/damaged/);
  });
});

describe('a logo in PDF', () => {
  const pdf = async (draw: (page: ReturnType<PDFDocument['addPage']>) => void) => {
    const document = await PDFDocument.create();
    draw(document.addPage([100, 50]));
    return document.save();
  };

  test('is its paths, upright and to scale', async () => {
    const bytes = await pdf((page) => {
      page.drawRectangle({ x: 10, y: 30, width: 20, height: 10, color: rgb(0, 0, 0) });
      page.drawRectangle({ x: 50, y: 0, width: 50, height: 50, color: rgb(0.1, 0.3, 0.8) });
    });
    const picture = await load('a.pdf', bytes);
    expect(picture).toMatchObject({ width: 20, height: 10 });
    const [first] = boxes(picture);
    // A fifth of a millimetre a point; its upper edge 10 points below the page's.
    for (const [side, value] of Object.entries({ minX: 2, maxX: 6, minY: 2, maxY: 4 })) {
      expect(first[side as keyof typeof first]).toBeCloseTo(value, 6);
    }
    expect((picture!.marks as readonly PathMark[]).map(({ fill }) => fill?.ink)).toEqual([
      'dark',
      'tint',
    ]);
  });

  test('keeps dashes and round ends; turned, or out of its page, it is refused', async () => {
    const line = { start: { x: 10, y: 10 }, end: { x: 90, y: 10 }, thickness: 4 };
    const dashed = await pdf((page) =>
      page.drawLine({ ...line, dashArray: [10, 5], lineCap: LineCapStyle.Round }),
    );
    const [mark] = (await load('a.pdf', dashed))!.marks as readonly PathMark[];
    expect(mark.stroke?.dash?.map((one) => Number(one.toFixed(6)))).toEqual([2, 1]);
    expect(mark.stroke?.cap).toBe('round');
    const turned = await pdf((page) => {
      page.drawLine(line);
      page.setRotation(degrees(90));
    });
    await expect(load('a.pdf', turned)).rejects.toThrow(/turned by 90 degrees; save it upright/);
    const out = await pdf((page) => page.drawRectangle({ x: 80, y: 10, width: 30, height: 9 }));
    await expect(load('a.pdf', out)).rejects.toThrow(/draws outside its page/);
  });

  test('with type, or broken, it is refused', async () => {
    const typed = await pdf((page) => page.drawText('Us', { x: 10, y: 10 }));
    await expect(load('a.pdf', typed)).rejects.toThrow(/it holds type/);
    await expect(load('a.pdf', '%PDF-1.4 nothing')).rejects.toThrow(/broken/);
  });
});

describe('a picture in shades on a page', () => {
  const layout = ownLayout('pocket');
  const words = { fonts: openFonts(), title: 'T', language: 'en' };
  const box = { x: 20, y: 30, width: 25.4, height: 25.4 };
  const shades = Uint8Array.from({ length: 300 * 300 }, (_, i) => (i % 300 < 150 ? 0 : 255));
  const mark: Mark = { kind: 'image', box, columns: 300, rows: 300, shades };
  const page: Page = {
    id: 'a',
    title: 'A',
    label: '1',
    width: 107.95,
    height: 177.8,
    marks: [mark],
  };
  const loose = { ...layout, binding: { ...layout.binding, method: 'loose' as const } };

  test('passes the check in every model of inks, and its resolution is told', async () => {
    for (const model of ['spot', 'cmyk', 'grey'] as const) {
      const own = { ...loose, inks: { ...layout.inks, model } };
      const bytes = await writePdf([page], own, { ...words, edition: 'press' });
      const findings = preflight(await readBook(bytes, 'a.pdf'));
      expect(findings.filter(({ verdict }) => verdict === 'fail')).toEqual([]);
      expect(findings.find(({ rule }) => rule === 'images')?.words).toContain('300 pixels');
    }
    const wide: Mark = { ...mark, box: { ...box, width: 30, height: 30 } };
    const coarse = { ...page, marks: [wide] };
    const bytes = await writePdf([coarse], loose, { ...words, edition: 'press' });
    const failed = preflight(await readBook(bytes, 'a.pdf')).filter((f) => f.verdict === 'fail');
    expect(failed.map(({ rule }) => rule)).toEqual(['images']);
  });

  test('is drawn where it lies, dark on the left', async () => {
    const bytes = await writePdf([page], loose, { ...words, edition: 'screen' });
    const [{ width, data }] = await rasterise(bytes, 100);
    const at = (x: number, y: number): number =>
      data[4 * (Math.round((y / 25.4) * 100) * width + Math.round((x / 25.4) * 100))];
    expect([at(26, 40), at(40, 40), at(26, 60), at(19, 40)]).toEqual([0, 255, 255, 255]);
    expect(writeSvg(page, layout.inks, words.fonts)).toContain('href="data:image/png;base64,');
  });
});
