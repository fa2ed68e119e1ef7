import type { PDFRef } from 'pdf-lib';
import { type PiecedBytes, wholeOf } from '../file-bytes.js';
import type { Layout, SheetPlan } from '../layout/layout.js';
import { oneByOne } from '../others-turn.js';
import type { Page } from '../page/marks/marks.js';
import { mmToPoints } from '../units.js';
import { bookFacts } from './book-facts.js';
import { drawnContent } from './content.js';
import { startFontBook } from './font-embedding.js';
import { type Imposition, impose, type Slot } from './impose.js';
import { type ColourModel, number } from './inks.js';
import { keptContent, notedContent } from './kept-drawing.js';
import { PAGE_TAG } from './marked-content.js';
import type { PdfOptions } from './pdf.js';
import {
  addForm,
  addPage,
  finishDocument,
  type PageContent,
  type PdfBox,
  startDocument,
} from './pdf-document.js';
import { pressCondition } from './press-conditions.js';
import { cropMarks, foldMarks, registrationMarks, runsOver } from './printer-marks.js';

export interface SheetOptions extends Omit<PdfOptions, 'edition'> {
  /** Composes the sheet that is printed at home before all others, front and back: instructions and a test. */
  readonly first?: (sheet: { readonly width: number; readonly height: number }) => readonly Page[];
}

const points = (box: readonly number[]): PdfBox =>
  box.map(mmToPoints) as unknown as [number, number, number, number];

/** The matrix that puts a page's form, whose origin is its lower left corner, into its slot. */
const matrixOf = (slot: Slot, page: Page): string => {
  const x = slot.x + slot.shift;
  const at =
    slot.turn === 0
      ? [1, 0, 0, 1, mmToPoints(x), mmToPoints(slot.y)]
      : [-1, 0, 0, -1, mmToPoints(x + page.width), mmToPoints(slot.y + page.height)];
  return `${at.map(number).join(' ')} cm`;
};

/** Millimetres. */
const TICK = 6;

/** Short ticks on a fold's line outside the pages, at both of its ends. */
const foldTicks = (
  [x1, y1, x2, y2]: readonly [number, number, number, number],
  sheet: Imposition,
  trims: readonly PdfBox[],
): PdfBox[] => {
  const upright = x1 === x2;
  const tick = (from: number, limit: number): PdfBox => {
    const out = Math.sign(limit - from);
    const near = from + out;
    const far = from + out * Math.min(TICK, Math.abs(limit - from));
    return points(upright ? [x1, near, x1, far] : [near, y1, far, y1]);
  };
  const ends = upright
    ? [tick(y1, 0), tick(y2, sheet.height)]
    : [tick(x1, 0), tick(x2, sheet.width)];
  return ends.filter(
    ([a, b, c, d]) => Math.hypot(c - a, d - b) >= mmToPoints(1.5) && !runsOver([a, b, c, d], trims),
  );
};

const union = (boxes: readonly PdfBox[]): PdfBox => [
  Math.min(...boxes.map((b) => b[0])),
  Math.min(...boxes.map((b) => b[1])),
  Math.max(...boxes.map((b) => b[2])),
  Math.max(...boxes.map((b) => b[3])),
];

/** The pages of a book on sheets, as a plan of its layout says. All pages have the layout's size. */
export const sheetsInPieces = async (
  pages: readonly Page[],
  layout: Layout,
  plan: SheetPlan,
  options: SheetOptions,
): Promise<PiecedBytes> => {
  const { fonts, first } = options;
  const press = plan.inks === 'press';
  const model: ColourModel = press ? layout.inks.model : 'screen';
  const imposition = impose(pages.length, layout.page, plan, layout.binding);
  const book = startFontBook(fonts);
  const draft = startDocument(book, options, options.store);
  const { width, height } = layout.page;
  const bleed = press ? Math.min(layout.press.bleed, plan.gutter / 2) : 0;
  const drawing = press ? 'inked' : 'plain';
  const setting = { fonts, inks: layout.inks, model };
  const draw = (page: Page): PageContent =>
    keptContent(page, drawing, book) ??
    notedContent(page, drawing, book, (watched) =>
      drawnContent(page.marks, { ...setting, book: watched, height: page.height }),
    );

  const media: PdfBox = points([0, 0, imposition.width, imposition.height]);
  const labels: string[] = [];
  const sides = plan.duplex === 'one side' ? 1 : 2;
  const before = press ? [] : (first?.(imposition) ?? []);
  for (const [i, page] of before.slice(0, sides).entries()) {
    addPage(draft, { content: draw(page), media, trim: media, bleed: media });
    labels.push(i === 0 ? 'first sheet' : 'first sheet, back');
  }
  const forms: PDFRef[] = await oneByOne(pages, (page) =>
    addForm(draft, draw(page), points([-bleed, -bleed, width + bleed, height + bleed])),
  );

  const addSide = (slots: readonly Slot[], label: string): void => {
    const used: Record<string, PDFRef> = {};
    const content: string[] = [];
    const trims = slots.map((s) => points([s.x, s.y, s.x + width, s.y + height]));
    for (const slot of slots) {
      if (slot.page === null) continue;
      const name = `Page${slot.page + 1}`;
      used[name] = forms[slot.page];
      content.push(
        `/${PAGE_TAG} << /Number ${slot.page + 1} /Trim [0 0 ${number(mmToPoints(width))} ${number(mmToPoints(height))}] >> BDC`,
        `q ${matrixOf(slot, pages[slot.page])} /${name} Do Q`,
        'EMC',
      );
    }
    const trim = union(trims);
    if (plan.marks) {
      content.push(
        cropMarks(
          plan.scheme === 'saddle' ? pairs(trims) : plan.scheme === 'fold-up' ? [trim] : trims,
          mmToPoints(bleed),
          media,
          press,
        ),
        foldMarks(
          imposition.folds.flatMap((fold) => foldTicks(fold, imposition, trims)),
          press,
        ),
      );
      if (press) content.push(registrationMarks(trim, mmToPoints(bleed), media));
    }
    const b = mmToPoints(bleed);
    addPage(draft, {
      content: content.filter((part) => part !== '').join('\n'),
      media,
      trim,
      bleed: [trim[0] - b, trim[1] - b, trim[2] + b, trim[3] + b],
      forms: used,
    });
    labels.push(label);
  };
  imposition.sheets.forEach((sheet, i) => {
    addSide(sheet.front, `sheet ${i + 1} front`);
    if (sheet.back !== null) addSide(sheet.back, `sheet ${i + 1} back`);
  });
  return finishDocument(draft, {
    inks: layout.inks,
    model,
    bookmarks: labels.map((title, page) => ({ title, page })),
    labels,
    press: press ? pressCondition(layout.press.condition) : null,
    registration: press && plan.marks,
    facts: bookFacts(layout, pages.length, plan),
  });
};

/** The same, in memory. */
export const writeSheets = async (
  ...asked: Parameters<typeof sheetsInPieces>
): Promise<Uint8Array> => wholeOf(await sheetsInPieces(...asked));

/** Facing pages are cut as one piece. */
const pairs = (trims: readonly PdfBox[]): PdfBox[] =>
  trims.flatMap((trim, i) => (i % 2 === 0 ? [union([trim, trims[i + 1]])] : []));
