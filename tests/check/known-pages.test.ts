import { deserialize, serialize } from 'node:v8';
import { describe, expect, it } from 'vitest';
import { startKnownPages } from '../../src/check/known-pages.js';
import { preflight } from '../../src/check/preflight.js';
import { readBook } from '../../src/check/read-book.js';
import { checkRules } from '../../src/check/rules-check.js';
import { refuseFailing } from '../../src/check/self-check.js';
import type { Box } from '../../src/geometry.js';
import { rule, stroke, text } from '../../src/page/kit/draw.js';
import { type Page, TINT } from '../../src/page/marks/marks.js';
import { openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { writeSheets } from '../../src/print/sheet-pdf.js';
import { ownLayout, samplePage, samplePages } from '../print/sample-pages.js';

const words = { fonts: openFonts(), title: 'Test', language: 'en' };
const pocket = ownLayout('pocket');
const files = async (pages: readonly Page[]): Promise<Uint8Array[]> => [
  await writePdf(pages, pocket, { ...words, edition: 'screen' }),
  await writePdf(pages, pocket, { ...words, edition: 'press' }),
  await writeSheets(pages, pocket, pocket.sheets[0], words),
];

describe('pages that passed the check before', () => {
  it('pass again by the same rules in the same words, and only those that have changed are read', async () => {
    const pages = samplePages(pocket, 4);
    const first = startKnownPages();
    const made = await files(pages);
    const inFull = await Promise.all(made.map((pdf) => readBook(pdf, 'test.pdf')));
    for (const pdf of made) await readBook(pdf, 'test.pdf', first);
    const kept = deserialize(serialize(first.give()));
    const second = startKnownPages(kept);
    for (const [i, pdf] of made.entries()) {
      const book = await readBook(pdf, 'test.pdf', second);
      expect(preflight(book)).toEqual(preflight(inFull[i]));
      expect(checkRules(book)).toEqual(checkRules(inFull[i]));
    }
    expect(second.give()).toBeNull();
    const third = startKnownPages(kept);
    const more = { ...pages[3], marks: [...pages[3].marks, rule(40, 90, 60, 90, stroke(0.5))] };
    for (const pdf of await files([...pages.slice(0, 3), more])) {
      await readBook(pdf, 'test.pdf', third);
    }
    // The last page, alone, on its side of a sheet and as a form by itself; all other forms go on being known.
    const changed = [...third.give()!.keys()].filter((digest) => !kept.has(digest));
    expect(changed.filter((digest) => digest.startsWith('form '))).toHaveLength(1);
    expect(changed).toHaveLength(4);
    const forms = (known: Iterable<string>) => [...known].filter((one) => one.startsWith('form '));
    expect(forms(third.give()!.keys())).toHaveLength(forms(kept.keys()).length);
  });

  it('pass as forms on all sheets by the same rules in the same words, each form read once', async () => {
    const pages = samplePages(pocket, 8);
    let read = 0;
    const known = startKnownPages();
    const counted: typeof known = {
      ...known,
      form: (digest, readForm) =>
        known.form(digest, () => {
          read += 1;
          return readForm();
        }),
    };
    for (const plan of pocket.sheets) {
      const pdf = await writeSheets(pages, pocket, plan, words);
      const [inFull, inShort] = [
        await readBook(pdf, 'a.pdf'),
        await readBook(pdf, 'a.pdf', counted),
      ];
      expect(preflight(inShort)).toEqual(preflight(inFull));
      expect(checkRules(inShort)).toEqual(checkRules(inFull));
    }
    // Plans of the same bleed share them.
    expect(read).toBeGreaterThan(0);
    expect(read).toBeLessThan((pages.length * pocket.sheets.length) / 2);
  });

  it('as forms whose words reach those of the page beside them are read with these', async () => {
    const far = text([70, 60], 'words that run over the edge of their page and on', 'text', 9);
    const near = text([2, 60], 'words that begin at the edge of theirs', 'text', 9);
    const pages = [0, 1, 2, 3].map((i) => samplePage(i, 107.95, 177.8, [far, near]));
    const pdf = await writeSheets(pages, pocket, pocket.sheets[0], words);
    const known = startKnownPages();
    const [inFull, inShort] = [await readBook(pdf, 'a.pdf'), await readBook(pdf, 'a.pdf', known)];
    const touching = preflight(inFull).filter(({ words: told }) => told.includes('run into'));
    expect(touching.length).toBeGreaterThan(0);
    expect(preflight(inShort)).toEqual(preflight(inFull));
  });

  it.each(['pocket', 'fold-up'])(
    'lie as forms where they lie when a sheet of %s is read as it runs',
    async (name) => {
      // Shifted, and of a fold-up sheet turned by half, too.
      const layout = ownLayout(name);
      const plan = layout.sheets[layout.sheets.length - 1];
      const pdf = await writeSheets(samplePages(layout, 8), layout, plan, words);
      const [inFull, inShort] = [
        await readBook(pdf, 'a.pdf'),
        await readBook(pdf, 'a.pdf', startKnownPages()),
      ];
      /** Around all marks of each page on the sheet. */
      const around = ({ drawn }: (typeof inFull.pages)[number]) =>
        drawn.placed.map(({ number }, on) => {
          const boxes = [...drawn.paints, ...drawn.texts].filter((one) => one.on === on);
          const all = boxes.map(({ box }) => box);
          const corner = (of: (box: Box) => number, end: (...all: number[]) => number) =>
            Math.round(1e6 * end(...all.map(of)));
          return [
            number,
            corner(({ minX }) => minX, Math.min),
            corner(({ minY }) => minY, Math.min),
            corner(({ maxX }) => maxX, Math.max),
            corner(({ maxY }) => maxY, Math.max),
          ];
        });
      expect(inFull.pages.flatMap(({ drawn }) => drawn.placed)).toHaveLength(8);
      expect(inShort.pages.map(around)).toEqual(inFull.pages.map(around));
      for (const [i, { drawn }] of inShort.pages.entries()) {
        const full = inFull.pages[i].drawn;
        expect(drawn.placed).toEqual(full.placed);
        expect(drawn.shows).toEqual(full.shows);
        expect(drawn.grounds.length).toBe(full.grounds.length);
      }
    },
  );

  it('of a book of more than a run keeps are put away, and brought when their drawing is asked for', async () => {
    const [pdf] = await files(samplePages(pocket, 4));
    const [page] = (await readBook(pdf, 'test.pdf')).pages;
    const away: Uint8Array[] = [];
    let brought = 0;
    const known = startKnownPages(new Map(), (packed) => {
      away.push(packed);
      return () => {
        brought += 1;
        return away[0];
      };
    });
    const short = startKnownPages().note('page', page);
    for (let i = 0; i < 1024; i++) known.note(`page ${i}`, page);
    expect(away).toEqual([]);
    const over = known.note('one more', page);
    expect(away.length).toBe(1);
    const before = brought;
    expect(over.drawn.strokes).toEqual(short.drawn.strokes);
    expect(brought).toBe(before + 1);
    expect(known.recall('one more')).toBeNull();
    expect(known.give()!.size).toBe(1024);
  });

  it('hold marks that are alike as one that lies around them, in whatever order they were drawn', async () => {
    const inks = [stroke(0.5), stroke(0.7), stroke(0.5, TINT)];
    const marks = Array.from({ length: 24 }, (_, i) =>
      rule(20 + i, 40 + i, 40 + i, 40 + i, inks[i < 12 ? i % 3 : Math.floor(i / 4) % 3]),
    );
    const words = ['9', 'practice', '10'].map((one, i) => text([20, 90 + 5 * i], one, 'text', 9));
    const pdf = await writePdf([samplePage(0, 107.95, 177.8, [...marks, ...words])], pocket, {
      ...{ fonts: openFonts(), title: 'Test', language: 'en' },
      edition: 'screen',
    });
    const [page] = (await readBook(pdf, 'test.pdf')).pages;
    const { strokes, paints, texts } = startKnownPages().note('page', page).drawn;
    const around = <T extends { readonly box: Box }>(
      all: readonly T[],
      alike: (one: T) => unknown,
    ) =>
      [...new Set(all.map((one) => JSON.stringify(alike(one))))]
        .map((key) => all.filter((one) => JSON.stringify(alike(one)) === key))
        .map((group) => ({
          minX: Math.min(...group.map(({ box }) => box.minX)),
          minY: Math.min(...group.map(({ box }) => box.minY)),
          maxX: Math.max(...group.map(({ box }) => box.maxX)),
          maxY: Math.max(...group.map(({ box }) => box.maxY)),
        }));
    const { drawn } = page;
    expect(strokes.length).toBeLessThan(drawn.strokes.length / 5);
    expect(strokes.length).toBeGreaterThan(2);
    expect(strokes.map(({ box }) => box)).toEqual(
      around(drawn.strokes, ({ width, colour }) => [width, colour]),
    );
    expect(paints.map(({ box }) => box)).toEqual(
      around(drawn.paints, ({ colour, overprint }) => [colour, overprint]),
    );
    expect(texts.map(({ box }) => box)).toEqual(
      around(drawn.texts, ({ font, size, text: said, colour }) => [
        ...[font.name, size, said === 'practice', colour],
      ]),
    );
  });

  it('do not let pass a page that fails, and it is told in full', async () => {
    const pages = samplePages(pocket, 4);
    const known = startKnownPages();
    const product = async (one: readonly Page[]) => ({
      file: 'book.pdf',
      bytes: await writePdf(one, pocket, { ...words, edition: 'press' }),
    });
    await refuseFailing([await product(pages)], new Map(), known);
    const marks = [text([1, 60], 'outside', 'text', 9), text([40, 90], 'tiny', 'text', 3)];
    const sheet = async (one: readonly Page[]) => ({
      file: 'sheets.pdf',
      bytes: await writeSheets(one, pocket, pocket.sheets[0], words),
    });
    await refuseFailing([await sheet(pages)], new Map(), known);
    for (const [mark, make] of marks.flatMap((mark) => [
      [mark, product] as const,
      [mark, sheet] as const,
    ])) {
      const bad = [...pages.slice(0, 3), samplePage(3, 107.95, 177.8, [mark])];
      const one = await make(bad);
      const told = async (before?: typeof known): Promise<string> => {
        return refuseFailing([one], new Map(), before).then(
          () => 'passed',
          (error) => String(error.message),
        );
      };
      const inFull = await told();
      expect(inFull).toContain('it would fail its own check');
      // Twice: what failed is no more known to pass the second time.
      expect(await told(known)).toBe(inFull);
      expect(await told(known)).toBe(inFull);
    }
  });
});
