import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fromArrayBuffer } from 'geotiff';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Layout } from '../../src/layout/layout.js';
import { planBook } from '../../src/page/book-pages.js';
import { circleSteps, fillPath, rectSteps, rule, stroke, text } from '../../src/page/kit/draw.js';
import { type Mark, PAPER, type Page, TINT } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { busiest, fullestBook, fullestGround } from '../page/fullest-pages.js';
import { ownLayout } from '../print/sample-pages.js';

/** The plates of a press file, as Ghostscript's device tiffsep separates them: 0 is solid ink, 255 none. */
const folder = mkdtempSync(join(tmpdir(), 'runnel-plates-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const fonts = openFonts();
const DPI = 300;
/** Of whole pages, of which there are many. */
const PAGE_DPI = 150;

type Plates = ReadonlyMap<string, Uint8Array>;

let files = 0;
const platesOf = async (layout: Layout, marks: readonly Mark[], dpi = DPI): Promise<Plates> => {
  const { width, height } = layout.page;
  const page: Page = { id: 'one', title: 'One', label: '1', width, height, marks };
  const loose = { ...layout, binding: { ...layout.binding, method: 'loose' as const } };
  const pdf = await writePdf([page], loose, {
    fonts,
    title: 'T',
    language: 'en',
    edition: 'press',
  });
  const stem = `file${files++}`;
  const file = join(folder, `${stem}.pdf`);
  writeFileSync(file, pdf);
  const { status, stderr } = spawnSync(
    'gs',
    [
      ...['-q', '-dBATCH', '-dNOPAUSE', '-sDEVICE=tiffsep', '-sCompression=none', `-r${dpi}`],
      // Inside the trim: marks for the printer stand on all plates.
      ...['-dUseTrimBox', `-sOutputFile=${join(folder, `${stem}.tif`)}`],
      file,
    ],
    { encoding: 'utf8' },
  );
  expect([status, stderr]).toEqual([0, '']);
  const plates = new Map<string, Uint8Array>();
  for (const name of readdirSync(folder)) {
    const plate = name.startsWith(`${stem}(`) ? /\((.*)\)\.tif$/.exec(name)?.[1] : undefined;
    if (plate === undefined) continue;
    const bytes = readFileSync(join(folder, name));
    const tiff = await fromArrayBuffer(
      bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length) as ArrayBuffer,
    );
    const [pixels] = await (await tiff.getImage()).readRasters();
    plates.set(plate, Uint8Array.from(pixels as Uint8Array));
  }
  return plates;
};

const inked = (plates: Plates): string[] =>
  [...plates]
    .filter(([, pixels]) => pixels.some((value) => value < 250))
    .map(([name]) => name)
    .sort();

const spot = ownLayout('pocket');
const cmyk: Layout = { ...spot, inks: { ...spot.inks, model: 'cmyk' } };
const band = fillPath(rectSteps(20, 40, 60, 40), { ink: 'tint', tone: 0.5 });
const type = text([30, 60], 'Kelpward 11″', 'text-bold', 9);

describe('separations', () => {
  it.each([
    ['spot', spot],
    ['cmyk', cmyk],
  ])(
    'dark type leaves no trace on the plates of the tint below it (%s)',
    async (_, layout) => {
      const bare = await platesOf(layout, [band]);
      const typed = await platesOf(layout, [band, type]);
      const dark = layout === spot ? spot.inks.dark.name : 'Black';
      for (const [name, pixels] of typed) {
        const isSame = Buffer.from(pixels).equals(
          Buffer.from(bare.get(name) ?? new Uint8Array(pixels.length).fill(255)),
        );
        expect(isSame, name).toBe(name !== dark);
      }
    },
    60_000,
  );

  it('fine lines of a build are on one plate, wide ones on all of theirs', async () => {
    const line = (width: number) => [rule(20, 60, 80, 60, stroke(width, TINT))];
    expect(inked(await platesOf(cmyk, line(0.12)))).toEqual(['Cyan']);
    expect(inked(await platesOf(cmyk, line(0.6)))).toEqual(['Black', 'Cyan', 'Magenta', 'Yellow']);
    expect(inked(await platesOf(spot, line(0.12)))).toEqual([spot.inks.tint.name]);
  }, 60_000);

  it('white is no ink: it opens the tint and puts nothing on another plate', async () => {
    const white = fillPath(circleSteps(50, 60, 8), PAPER);
    const plates = await platesOf(spot, [band, white]);
    expect(inked(plates)).toEqual([spot.inks.tint.name]);
    const lit = (pixels: Uint8Array): number => pixels.filter((value) => value < 250).length;
    const tint = spot.inks.tint.name;
    const open = lit((await platesOf(spot, [band])).get(tint)!) - lit(plates.get(tint)!);
    const expected = Math.PI * ((8 / 25.4) * DPI) ** 2;
    expect(Math.abs(open / expected - 1)).toBeLessThan(0.01);
  }, 60_000);

  it('a spot book names its own plates alone', async () => {
    const page: Page = {
      id: 'one',
      title: 'One',
      label: '1',
      width: 107.95,
      height: 177.8,
      marks: [band, type, fillPath(circleSteps(50, 60, 8), PAPER)],
    };
    const pdf = await writePdf([page], spot, {
      fonts,
      title: 'T',
      language: 'en',
      edition: 'press',
    });
    const file = join(folder, 'named.pdf');
    const plain = join(folder, 'plain.pdf');
    writeFileSync(file, pdf);
    spawnSync('qpdf', ['--stream-data=uncompress', file, plain]);
    const drawn = readFileSync(plain, 'latin1');
    expect(drawn).toMatch(/\/InkTint cs/);
    expect(drawn).not.toMatch(/^[\d. ]+ [kK]$/m);
  }, 60_000);
});

/** Marks that are left of a page by what each is; groups and cuts stay round what they hold. */
const only = (marks: readonly Mark[], isKept: (mark: Mark) => boolean): Mark[] =>
  marks.flatMap((mark): Mark[] => {
    if (mark.kind !== 'group' && mark.kind !== 'clip') return isKept(mark) ? [mark] : [];
    const inside = only(mark.marks, isKept);
    if (mark.kind === 'clip') return [{ ...mark, marks: inside }];
    // An image of ground would miss its outline.
    const { ground: _, ...rest } = mark;
    return [{ ...rest, marks: inside }];
  });

/** Dark type that lies on what is below it; a halo opens that on purpose. */
const isType = (mark: Mark): boolean =>
  mark.kind === 'text' && mark.paint.ink === 'dark' && mark.halo === undefined;

const isFineLine = (mark: Mark): boolean =>
  (mark.kind === 'path' || mark.kind === 'hatch') &&
  !(mark.kind === 'path' && mark.fill !== undefined) &&
  mark.stroke !== undefined &&
  mark.stroke.width < 0.35;

const inkOf = (mark: Mark): string | undefined =>
  mark.kind === 'path' || mark.kind === 'hatch' ? mark.stroke?.paint.ink : undefined;

describe('separations of a whole book', () => {
  let pages: Page[] = [];
  beforeAll(async () => {
    const ground = await fullestGround(spot);
    const book = fullestBook(ground, spot);
    const kinds = new Set(['cover', 'card', 'hole', 'green', 'tables', 'imprint', 'back-cover']);
    const seen = new Set<string>();
    pages = planBook({ ...book, greens: book.greens.slice(0, 2) }, spot, measureWith(fonts))
      .filter(({ kind, holeId }) => kind !== 'hole' || holeId === busiest(ground.holes).id)
      .filter(({ kind }) => kinds.has(kind) && !seen.has(kind) && seen.add(kind))
      .map((planned) => planned.compose());
    expect(pages).toHaveLength(kinds.size);
  }, 120_000);

  it('dark type of no page cuts into another plate than its own', async () => {
    let typed = 0;
    for (const [layout, dark] of [
      [spot, spot.inks.dark.name],
      [cmyk, 'Black'],
    ] as const) {
      for (const { id, marks } of pages) {
        const all = await platesOf(layout, marks, PAGE_DPI);
        const bare = await platesOf(
          layout,
          only(marks, (mark) => !isType(mark)),
          PAGE_DPI,
        );
        for (const [name, pixels] of all) {
          const blank = new Uint8Array(pixels.length).fill(255);
          const isSame = Buffer.from(pixels).equals(Buffer.from(bare.get(name) ?? blank));
          if (name !== dark) expect(isSame, `${id}, ${name}`).toBe(true);
          else if (!isSame) typed += 1;
        }
      }
    }
    expect(typed).toBe(2 * pages.length);
  }, 400_000);

  it('fine lines of every page stand on one plate: of the tint and of the dark ink', async () => {
    let lined = 0;
    for (const { id, marks } of pages) {
      for (const ink of ['dark', 'tint']) {
        const lines = only(marks, (mark) => isFineLine(mark) && inkOf(mark) === ink);
        for (const [layout, plate] of [
          [spot, spot.inks[ink as 'dark' | 'tint'].name],
          [cmyk, ink === 'dark' ? 'Black' : 'Cyan'],
        ] as const) {
          const found = inked(await platesOf(layout, lines, PAGE_DPI));
          if (found.length === 0) continue;
          expect(found, `${id}, ${ink}`).toEqual([plate]);
          lined += 1;
        }
      }
    }
    expect(lined).toBeGreaterThan(10);
  }, 400_000);
});
