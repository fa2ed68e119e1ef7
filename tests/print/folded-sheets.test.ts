import { describe, expect, it } from 'vitest';
import { readBook as readPdf } from '../../src/check/read-book.js';
import type { Layout, SheetPlan } from '../../src/layout/layout.js';
import { openFonts } from '../../src/print/fonts.js';
import type { Slot } from '../../src/print/impose.js';
import { writeSheets } from '../../src/print/sheet-pdf.js';
import { pointsToMm } from '../../src/units.js';
import { readBook } from './fold-simulation.js';
import { ownLayout, ownLayoutNames, samplePage } from './sample-pages.js';

/**
 * Sheets as a printer gets them: which page lies where, and which way up, is read off the drawn words of the PDF,
 * not asked of what laid them out; then the paper is cut, folded and read by hand (`fold-simulation`).
 */

const fonts = openFonts();
/** The heading "Page 7" stands centred, its baseline so far below the page's top; a rule beneath it. Millimetres. */
const BASELINE = 14;

type Sheet = Awaited<ReturnType<typeof readPdf>>['pages'][number];

/** Where the pages of one side lie; the height of capitals tells a heading's middle from its baseline. */
const slotsOf = ({ drawn }: Sheet, { page }: Layout): Slot[] =>
  drawn.texts.flatMap((word): Slot[] => {
    const number = /^Page (\d+)$/.exec(word.text)?.[1];
    if (number === undefined) return [];
    const mm = (value: number): number => pointsToMm(value);
    const middle = mm((word.box.minX + word.box.maxX) / 2);
    const line = mm((word.box.minY + word.box.maxY) / 2);
    // The rule under the heading is the stroke of the page's width nearest to it.
    const rules = drawn.strokes
      .filter(({ box }) => {
        const [from, to] = [mm(box.minX), mm(box.maxX)];
        return (
          Math.abs((from + to) / 2 - middle) < 0.5 && Math.abs(to - from - page.width + 20) < 1
        );
      })
      .map(({ box }) => mm((box.minY + box.maxY) / 2))
      .sort((a, b) => Math.abs(a - line) - Math.abs(b - line));
    const isUpright = rules[0] < line;
    const top = isUpright ? rules[0] + BASELINE + 2 : rules[0] - BASELINE - 2;
    return [
      {
        page: Number(number) - 1,
        x: middle - page.width / 2,
        y: isUpright ? top - page.height : top,
        turn: isUpright ? 0 : 180,
        shift: 0,
      },
    ];
  });

/** Blank places of a side, so that paper without print is turned, too: those behind or beside printed ones. */
const withBlanks = (slots: readonly Slot[], all: readonly Slot[]): Slot[] => [
  ...slots,
  ...all
    .filter((place) => slots.every((one) => Math.hypot(one.x - place.x, one.y - place.y) > 10))
    .map((place) => ({ ...place, page: null })),
];

const plans = ownLayoutNames().flatMap((name) => {
  const layout = ownLayout(name);
  return layout.sheets.map((plan) => [`${name}, ${plan.name}`, layout, plan] as const);
});

const foldedAndRead = async (layout: Layout, plan: SheetPlan, count: number) => {
  const { width, height } = layout.page;
  const pages = Array.from({ length: count }, (_, i) => samplePage(i, width, height));
  const words = { fonts, title: 'Folded', language: 'en' };
  const pdf = await readPdf(await writeSheets(pages, layout, plan, words), 'sheets.pdf');
  const sides = pdf.pages.map((one) => slotsOf(one, layout));
  const { media } = pdf.pages[0];
  const size = { width: pointsToMm(media.maxX), height: pointsToMm(media.maxY) };
  const step = plan.duplex === 'one side' ? 1 : 2;
  const sheets = [];
  for (let i = 0; i < sides.length; i += step) {
    sheets.push({ front: sides[i], back: step === 1 ? null : sides[i + 1] });
  }
  // The first sheet is full on both sides: what is blank on others is where it is not there.
  const [full] = sheets;
  const turned = sheets.map(({ front, back }) => ({
    front: withBlanks(front, full.front),
    back: back === null || full.back === null ? null : withBlanks(back, full.back),
  }));
  return readBook({ ...size, sheets: turned }, layout.page, plan.scheme, plan.duplex, 2.5);
};

const readsInOrder = async (_: string, layout: Layout, plan: SheetPlan): Promise<void> => {
  const onSheet = plan.up * (plan.duplex === 'one side' ? 1 : 2);
  const count = plan.scheme === 'saddle' ? 2 * onSheet : Math.ceil(2.5 * onSheet);
  const read = await foldedAndRead(layout, plan, count);
  expect(read.filter((page) => page !== null)).toEqual(Array.from({ length: count }, (__, i) => i));
};

/** The first plan of each scheme, for the quick run. */
const isFirst = ([, , { scheme }]: (typeof plans)[number], i: number): boolean =>
  plans.findIndex(([, , plan]) => plan.scheme === scheme) === i;

describe('sheets as they are printed', () => {
  it.each(plans.filter(isFirst))('%s: read in order when they are cut and folded', readsInOrder);

  it.each(plans.filter((plan, i) => !isFirst(plan, i)))(
    '%s: read in order when they are cut and folded, too',
    { tags: 'long' },
    readsInOrder,
  );
});
