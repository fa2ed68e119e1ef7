import { PDFiumLibrary } from '@hyzyla/pdfium';
import { PDFDocument } from 'pdf-lib';
import { beforeAll, describe, expect, it } from 'vitest';
import { preflight } from '../../src/check/preflight.js';
import { readBook } from '../../src/check/read-book.js';
import type { Layout } from '../../src/layout/layout.js';
import { composeFirstSheet } from '../../src/page/front/first-sheet.js';
import { rule, stroke, text } from '../../src/page/kit/draw.js';
import type { Mark, Page } from '../../src/page/marks/marks.js';
import { readFontFile } from '../../src/print/font-files.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { impose } from '../../src/print/impose.js';
import { writePdf } from '../../src/print/pdf.js';
import { rasterise } from '../../src/print/raster.js';
import { writeSheets } from '../../src/print/sheet-pdf.js';
import { MM_PER_INCH, mmToPoints } from '../../src/units.js';
import { atDepth } from '../depth.js';
import { NAMES } from './names.js';
import { ownLayout, ownLayoutNames, samplePage, samplePages } from './sample-pages.js';

const fonts = openFonts();
const measure = measureWith(fonts);
const words = { fonts, title: 'Test “Bögen”', language: 'en' };
/** Points: the bound that the issue sets on trim sizes and positions. */
const BOUND = 0.01;

const pocket = ownLayout('pocket');

const textOf = async (pdf: Uint8Array): Promise<string[]> => {
  const library = await PDFiumLibrary.init();
  const document = await library.loadDocument(pdf);
  const texts = [...document.pages()].map((page) => page.getText());
  document.destroy();
  library.destroy();
  return texts;
};

describe('the book as PDF', () => {
  it.each(['screen', 'plain', 'press'] as const)(
    '%s: two runs give the same bytes',
    async (edition) => {
      const pages = samplePages(pocket, 4);
      const first = await writePdf(pages, pocket, { ...words, edition });
      const second = await writePdf(pages, pocket, {
        ...words,
        fonts: openFonts((face) => ({ bytes: readFontFile(face) })),
        edition,
      });
      expect(Buffer.compare(first, second)).toBe(0);
    },
  );

  it('a change of one mark changes the file’s identifier', async () => {
    const ids = await Promise.all(
      [0, 1].map(async (i) => {
        const pdf = await writePdf([samplePage(i)], pocket, { ...words, edition: 'press' });
        return String((await PDFDocument.load(pdf)).context.trailerInfo.ID);
      }),
    );
    expect(ids[0]).not.toBe(ids[1]);
  });

  it.each(ownLayoutNames())(
    '%s: trim, bleed and crop marks are where they should be',
    async (name) => {
      const layout = ownLayout(name);
      const pdf = await writePdf(samplePages(layout, 5), layout, { ...words, edition: 'press' });
      const book = await readBook(pdf, 'press.pdf');
      const width = mmToPoints(layout.page.width);
      const height = mmToPoints(layout.page.height);
      const bleed = mmToPoints(layout.press.bleed);
      for (const { trim, bleed: bled, drawn } of book.pages) {
        expect(Math.abs(trim!.maxX - trim!.minX - width)).toBeLessThan(BOUND);
        expect(Math.abs(trim!.maxY - trim!.minY - height)).toBeLessThan(BOUND);
        expect(Math.abs(trim!.minX - bled!.minX - bleed)).toBeLessThan(BOUND);
        expect(Math.abs(bled!.maxY - trim!.maxY - bleed)).toBeLessThan(BOUND);
        const upright = drawn.crops.filter(([x1, , x2]) => x1 === x2).map(([x]) => x);
        const level = drawn.crops.filter(([, y1, , y2]) => y1 === y2).map(([, y]) => y);
        expect(upright.length + level.length).toBe(8);
        expect(Math.abs(Math.min(...upright) - trim!.minX)).toBeLessThan(BOUND);
        expect(Math.abs(Math.max(...upright) - trim!.maxX)).toBeLessThan(BOUND);
        expect(Math.abs(Math.min(...level) - trim!.minY)).toBeLessThan(BOUND);
        expect(Math.abs(Math.max(...level) - trim!.maxY)).toBeLessThan(BOUND);
      }
    },
  );

  it.each(
    ownLayoutNames().flatMap((name) => ownLayout(name).sheets.map((plan) => [name, plan] as const)),
  )('%s, sheets $1.name: every page stands within 0.01 pt of its place', async (name, plan) => {
    const layout = ownLayout(name);
    const count = 21;
    const pdf = await writeSheets(samplePages(layout, count), layout, plan, words);
    const book = await readBook(pdf, 'sheets.pdf');
    const imposition = impose(count, layout.page, plan, layout.binding);
    const sides = imposition.sheets.flatMap(({ front, back }) =>
      back === null ? [front] : [front, back],
    );
    expect(book.pages.length).toBe(sides.length);
    sides.forEach((slots, i) => {
      const { placed } = book.pages[i].drawn;
      const wanted = slots.filter((slot) => slot.page !== null);
      expect(placed.map((p) => p.number)).toEqual(wanted.map((slot) => slot.page! + 1));
      wanted.forEach((slot, j) => {
        const { trim } = placed[j];
        expect(Math.abs(trim.minX - mmToPoints(slot.x + slot.shift))).toBeLessThan(BOUND);
        expect(Math.abs(trim.minY - mmToPoints(slot.y))).toBeLessThan(BOUND);
        expect(Math.abs(trim.maxX - trim.minX - mmToPoints(layout.page.width))).toBeLessThan(BOUND);
        expect(Math.abs(trim.maxY - trim.minY - mmToPoints(layout.page.height))).toBeLessThan(
          BOUND,
        );
      });
    });
  });

  it('says what it is: title, language, labels, bookmarks; a press file is PDF/X-1a:2003', async () => {
    const pages = samplePages(pocket, 6);
    const screen = await readBook(
      await writePdf(pages, pocket, { ...words, edition: 'screen' }),
      's',
    );
    const press = await readBook(
      await writePdf(pages, pocket, { ...words, edition: 'press' }),
      'p',
    );
    for (const book of [screen, press]) {
      expect(book.title).toBe('Test “Bögen”');
      expect(book.language).toBe('en');
      expect(book.hasBookmarks && book.hasLabels && book.hasMetadata && book.hasIdentifier).toBe(
        true,
      );
    }
    expect(screen.tagged).toBe(true);
    expect(screen.version).toBe('1.7');
    expect(press.version).toBe('1.4');
    expect(press.standard).toBe('PDF/X-1a:2003');
    expect(press.outputCondition).toBe('FOGRA47');
    expect(press.trapped).toBe('False');
    // Saddle stitch takes pages by four.
    expect(press.pages.length).toBe(8);
  });

  it('gives back its text in every script, kerned and turned', { tags: 'long' }, async () => {
    const names = Object.values(NAMES).flat();
    const faces = ['text', 'text-bold', 'text-italic', 'title', 'title-bold', 'note'] as const;
    const pages = faces.map((face, f): Page => {
      const marks: Mark[] = names.map((name, i) =>
        text([10, 10 + i * 6], name, face, 9, f === 1 ? { halo: 0.4 } : {}),
      );
      return { ...samplePage(f), marks };
    });
    const extracted = await textOf(await writePdf(pages, pocket, { ...words, edition: 'press' }));
    faces.forEach((_, f) => {
      const lines = extracted[f].split(/\r?\n/).map((line) => line.trim().normalize('NFC'));
      expect(lines.filter((line) => line !== '')).toEqual(names.map((n) => n.normalize('NFC')));
    });
  });

  it('measures text as it prints it', async () => {
    const sample = 'Kestrel’s Elbow 1½ To AV';
    const marks: Mark[] = [text([20, 40], sample, 'title', 17)];
    const pdf = await writePdf([{ ...samplePage(0), marks }], pocket, {
      ...words,
      edition: 'plain',
    });
    const { box, size, text: got } = (await readBook(pdf, 'm')).pages[0].drawn.texts[0];
    expect(got).toBe(sample);
    expect(size).toBeCloseTo(17, 6);
    expect(Math.abs(box.maxX - box.minX - mmToPoints(measure(sample, 'title', 17)))).toBeLessThan(
      0.05,
    );
    expect(Math.abs(box.minX - mmToPoints(20))).toBeLessThan(BOUND);
  });
});

describe('the first sheet', () => {
  // The quick run looks at the first of each layout.
  const plans = ownLayoutNames().flatMap((name) =>
    ownLayout(name)
      .sheets.filter(({ inks }) => inks === 'home')
      .slice(0, atDepth(1, 10))
      .map((plan) => [name, plan] as const),
  );
  const firstOf = (layout: Layout, plan: (typeof plans)[number][1]): Promise<Uint8Array> =>
    writeSheets(samplePages(layout, 8), layout, plan, {
      ...words,
      first: (sheet) => composeFirstSheet(layout, plan, sheet, { measure }),
    });

  it.each(plans)(
    '%s, $1.name: both bars measure 50 mm, as written and as drawn',
    { tags: 'deep' },
    async (name, plan) => {
      const pdf = await firstOf(ownLayout(name), plan);
      const [page] = (await readBook(pdf, 'first.pdf')).pages;
      // The bars are the fills of 10 x 2 mm.
      const near = (a: number, mm: number): boolean => Math.abs(a - mmToPoints(mm)) < BOUND;
      const fills = page.drawn.paints.map((paint) => paint.box);
      const level = fills.filter((b) => near(b.maxX - b.minX, 10) && near(b.maxY - b.minY, 2));
      const upright = fills.filter((b) => near(b.maxX - b.minX, 2) && near(b.maxY - b.minY, 10));
      expect(level.length).toBe(5);
      expect(upright.length).toBe(5);
      const bar = Math.max(...level.map((b) => b.maxX)) - Math.min(...level.map((b) => b.minX));
      const post =
        Math.max(...upright.map((b) => b.maxY)) - Math.min(...upright.map((b) => b.minY));
      expect(Math.abs(bar - mmToPoints(50))).toBeLessThan(BOUND);
      expect(Math.abs(post - mmToPoints(50))).toBeLessThan(BOUND);
    },
  );

  it('drawn at 600 pixels to an inch, the level bar is 1181 pixels long', {
    tags: 'long',
  }, async () => {
    const [name, plan] = plans[0];
    const pdf = await firstOf(ownLayout(name), plan);
    const dpi = 600;
    const [{ width, data }] = await rasterise(pdf, dpi, [0]);
    const [page] = (await readBook(pdf, 'first.pdf')).pages;
    const bars = page.drawn.paints
      .map((paint) => paint.box)
      .filter((b) => Math.abs(b.maxY - b.minY - mmToPoints(2)) < BOUND && b.maxX - b.minX > 28);
    const y = (bars[0].minY + bars[0].maxY) / 2;
    // A row just inside the bar's frame, which is drawn the whole length.
    const top = page.media.maxY - bars[0].maxY;
    const row = Math.round(((top + mmToPoints(0.1)) / 72) * dpi);
    const from = Math.round(((Math.min(...bars.map((b) => b.minX)) - 9) / 72) * dpi);
    let dark = 0;
    for (let x = from; x < from + 1500; x++) if (data[4 * (row * width + x)] < 128) dark++;
    expect(Math.abs(dark - (50 / MM_PER_INCH) * dpi)).toBeLessThanOrEqual(2);
    expect(y).toBeGreaterThan(0);
  });

  it.each(plans)(
    '%s, $1.name: its words stand on the paper and apart',
    { tags: 'deep' },
    async (name, plan) => {
      const pdf = await firstOf(ownLayout(name), plan);
      const book = await readBook(pdf, 'first.pdf');
      for (const { drawn, media } of book.pages.slice(0, plan.duplex === 'one side' ? 1 : 2)) {
        expect(drawn.texts.length).toBeGreaterThan(1);
        for (const { box, text: words } of drawn.texts) {
          const edge = mmToPoints(6);
          const inside =
            box.minX > edge &&
            box.minY > edge &&
            box.maxX < media.maxX - edge &&
            box.maxY < media.maxY - edge;
          expect(inside, words).toBe(true);
        }
      }
      const first = { ...book, pages: book.pages.slice(0, 2) };
      const touching = preflight(first).filter(({ rule }) => rule === 'legibility');
      expect(touching.map(({ verdict }) => verdict)).toEqual(['pass']);
    },
  );

  const turned = plans.filter(([, plan]) => plan.duplex !== 'one side');
  it.each(turned)(
    '%s, $1.name: crosses lie exactly behind the rings',
    { tags: 'deep' },
    async (name, plan) => {
      const layout = ownLayout(name);
      const pdf = await firstOf(layout, plan);
      const [front, back] = (await readBook(pdf, 'first.pdf')).pages;
      const middles = (
        boxes: readonly { minX: number; maxX: number; minY: number; maxY: number }[],
      ) => boxes.map((b) => [(b.minX + b.maxX) / 2, (b.minY + b.maxY) / 2] as const);
      const ringSize = mmToPoints(4);
      const rings = middles(
        front.drawn.strokes
          .map((s) => s.box)
          .filter(
            (b) =>
              Math.abs(b.maxX - b.minX - ringSize) < 0.02 &&
              Math.abs(b.maxY - b.minY - ringSize) < 0.02,
          ),
      );
      const arms = middles(back.drawn.strokes.map((s) => s.box));
      const { maxX: width, maxY: height } = front.media;
      const upright = height >= width;
      const mirrored = upright === (plan.duplex === 'long edge');
      expect(rings.length).toBe(5);
      for (const [x, y] of rings) {
        const behind = mirrored ? [width - x, y] : [x, height - y];
        expect(arms.some(([u, v]) => Math.hypot(u - behind[0], v - behind[1]) < BOUND)).toBe(true);
      }
    },
  );
});

describe('size', () => {
  let bytes = 0;
  beforeAll(async () => {
    // As many marks as an 18-hole book holds: 38 pages of a busy green or of four tables.
    const busy = Array.from({ length: 38 }, (_, p): Page => {
      const marks: Mark[] = [];
      for (let i = 0; i < 400; i++) {
        const x = 10 + ((i * 37 + p) % 88);
        const y = 20 + ((i * 53 + p * 7) % 140);
        marks.push(text([x, y], `${(i * 7 + p) % 60}½`, 'text', 7.5));
        marks.push(rule(x, y, x + 3, y + ((i + p) % 5), stroke(0.12)));
      }
      return samplePage(p, 107.95, 177.8, marks);
    });
    bytes = (await writePdf(busy, pocket, { ...words, edition: 'screen' })).length;
  });
  it('a book of 38 busy pages is under 3 MB', () => {
    expect(bytes).toBeLessThan(3_000_000);
  });
});
