import { describe, expect, test } from 'vitest';
import { preflight } from '../../src/check/preflight.js';
import { readBook } from '../../src/check/read-book.js';
import type { HoleFigures } from '../../src/course/hole-figures.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { cardParts, composeCardPage } from '../../src/page/front/card-page.js';
import { cardOf } from '../../src/page/front/card-rows.js';
import type { PageContext } from '../../src/page/kit/page-modules.js';
import { textMarksOf } from '../../src/page/marks/mark-texts.js';
import type { Page } from '../../src/page/marks/marks.js';
import { shortenedWords } from '../../src/page/shortened-words.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';

const measure = measureWith(openFonts());

const holesOf = (count: number, more: (i: number) => Partial<HoleFigures> = () => ({})) =>
  Array.from(
    { length: count },
    (_, i): HoleFigures =>
      ({
        id: `${i + 1}`,
        name: `Hole ${i + 1}`,
        par: 4,
        strokeIndex: 1 + (i % 18),
        loop: null,
        tees: [
          { name: 'Back', at: [0, 0], length: 300 + i, rise: null },
          { name: 'Short', at: [0, 0], length: 200, rise: null },
        ],
        ...more(i),
      }) as HoleFigures,
  );

const sums = (holes: HoleFigures[]) =>
  cardOf(holes, { units: 'metric' })
    .rows.filter((row) => row.kind === 'sum')
    .map((row) => [row.name, row.par, ...row.lengths]);

describe('the sums of a card', () => {
  test.each([
    [9, ['total']],
    [18, ['out', 'in', 'total']],
    [27, ['first nine', 'second nine', 'third nine', 'total']],
    [36, ['out', 'in', 'first eighteen', 'out', 'in', 'second eighteen', 'total']],
  ])('of %i holes', (count, names) => {
    expect(sums(holesOf(count)).map(([name]) => name)).toEqual(names);
  });

  test('loops by name have a sum each', () => {
    const loops = ['North', 'South', 'East'];
    const holes = holesOf(27, (i) => ({ loop: loops[Math.floor(i / 9)] }));
    expect(sums(holes).map(([name, par, back]) => [name, par, back])).toEqual([
      ['North', 36, 2736],
      ['South', 36, 2817],
      ['East', 36, 2898],
    ]);
  });

  test('tees of the whole course stand before one that is not on every hole, however long', () => {
    const holes = holesOf(9, (i) =>
      i === 0
        ? {}
        : {
            tees: [
              { name: 'Short', at: [0, 0], length: 200, rise: null },
              { name: 'Giant', at: [0, 0], length: 500, rise: null },
              { name: 'Back', at: [0, 0], length: 300, rise: null },
            ],
          },
    );
    expect(cardOf(holes, { units: 'metric' }).tees).toEqual(['Back', 'Short', 'Giant']);
  });

  test('a sum stands wherever all holes of the loop have the tee', () => {
    const holes = holesOf(18, (i) =>
      i === 12 ? { tees: [{ name: 'Back', at: [0, 0], length: 312, rise: null }] } : {},
    );
    const [out, home, total] = sums(holes);
    expect(out.at(-1)).toBe(1800);
    expect(home.at(-1)).toBeNull();
    expect(total.at(-1)).toBeNull();
    expect(total[2]).toBe(18 * 300 + 153);
  });
});

describe('the pages of a card', () => {
  const partsOf = (name: string, holes: HoleFigures[]) =>
    cardParts(
      {
        layout: loadLayout(name),
        side: 'left',
        label: '',
        measure,
        book: { units: 'metric' },
      } as unknown as PageContext,
      holes,
    );

  test('one page for 9, 18 and 27 holes', () => {
    for (const count of [9, 18, 27]) expect(partsOf('pocket', holesOf(count))).toHaveLength(1);
  });

  test('two where one is too small, cut after a loop', () => {
    const parts = partsOf('a6', holesOf(36));
    expect(parts).toHaveLength(2);
    expect(parts[0].rows).toEqual([0, 21]);
    expect(parts[1].rows).toEqual([21, 43]);
  });
});

describe('a long name on the card', () => {
  const layout = loadLayout('pocket');
  const twoLines = 'The Ferrywoman’s Long Way Round to Inner Skerry and Home';
  const eightyThree =
    'The Ferrywoman’s Long Way Round to Inner Skerry, past the Old Lighthouse, and Home.';
  const cardWith = (name: string, count = 18): Page => {
    const holes = holesOf(count, () => ({ name }));
    const book = { title: 'Links', units: 'metric' } as PageContext['book'];
    const context: PageContext = { layout, measure, side: 'right', book, label: '3' };
    const [part] = cardParts(context, holes);
    return composeCardPage({ ...context, holes, ...part, part: 0 });
  };
  const texts = (page: Page) => textMarksOf(page.marks).map(({ text }) => text);

  test('stands on two lines where its row is high enough, whole, and no two run into each other', async () => {
    const page = cardWith(twoLines);
    expect(texts(page).filter((one) => one.includes('Ferrywoman')).length).toBe(18);
    expect(shortenedWords([page])).toEqual([]);
    const lines = texts(page).filter((one) => twoLines.includes(one) && one.includes(' '));
    expect(lines.slice(0, 2).join(' ')).toBe(twoLines);
    const words = { fonts: openFonts(), title: 'Card', language: 'en' };
    const bytes = await writePdf([page], layout, { ...words, edition: 'plain' });
    const rules = preflight(await readBook(bytes, 'card.pdf'));
    expect(
      rules.filter(({ rule, verdict }) => rule === 'legibility' && verdict === 'fail'),
    ).toEqual([]);
  });

  test('of 83 letters is shortened, read aloud whole, and told with its page', () => {
    expect(eightyThree.length).toBe(83);
    const page = cardWith(eightyThree);
    const [line, ...more] = shortenedWords([page, { ...page, label: '4' }]);
    expect(line).toMatch(/^shortened, as there is no room for more: "The Ferry.*…" on pages 3, 4$/);
    expect(more).toEqual([]);
    expect(JSON.stringify(page.marks)).toContain(JSON.stringify(eightyThree));
  });

  test('many are counted', () => {
    const holes = Array.from({ length: 20 }, (_, i) => cardWith(`${i} ${eightyThree}`, 1));
    expect(shortenedWords(holes).at(-1)).toBe('and 8 more are shortened');
  });
});
