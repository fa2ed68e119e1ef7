import type { BookNumber } from '../../course/course.js';
import { InputFault } from '../../fault.js';
import type { Layout } from '../../layout/layout.js';
import { mmToPoints, pointsToMm } from '../../units.js';
import { fillPath, rectSteps, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { Mark, MeasureText, PathStep } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';
import { ADD_ON_APART, BARS, type Elements, elementsOf } from './bars.js';

/**
 * Measures of EAN-13 symbols with an add-on, in modules where no unit is said (ISO/IEC 15420; figures from
 * memory): a module of 0.33 mm, drawn at 0.8 to 2 times that; bars 22.85 mm high at once, guard bars 5 modules
 * longer; light strips of 11 modules before, 7 behind, 5 behind an add-on, which stands 7 to 12 apart: readers
 * stop looking for it from some 10 on.
 */
const EAN = {
  module: 0.33,
  least: 0.8,
  high: 22.85 / 0.33,
  guard: 5,
  symbol: 95,
  before: 11,
  behind: 7,
  behindAddOn: 5,
} as const;

/** Larger than once is of no use to a shop; the size goes down in these steps. */
const STEP = 0.05;
/** Digits and the number above, points at once; the digits of an add-on stand above its bars. */
const DIGITS = 10;
const NUMBER = 8;
/** Paper above and below the symbol, millimetres. */
const RIM = 1;

/** Height over all at once, millimetres: number, bars, digits. */
const heightAt = (size: number): number =>
  2 * RIM + size * (pointsToMm(NUMBER) * 1.35 + EAN.module * EAN.high + pointsToMm(DIGITS) * 0.95);

/** A reader sees by red light (ISO/IEC 15416): the bars are to give back at most this share of it. */
const MOST_RED = 0.25;

/** Throws InputFault where the layout's dark ink would not be seen by a reader. */
const requireDarkBars = ({ name, inks }: Layout): void => {
  const [cyan, , , black] = inks.dark.cmyk;
  if (1 - Math.min(1, cyan + black) <= MOST_RED) return;
  throw new InputFault(
    { file: `layout ${name}`, place: 'inks.dark' },
    'a bar code in this ink is not seen by red light',
    'take a dark ink whose cyan and black come to 0.75 or more, or leave out the ISBN',
  );
};

export interface BarCode {
  readonly isbn: BookNumber;
  readonly addOn: string | null;
}

/** Bars from the left at `x`; those of an add-on begin lower, below its digits. Millimetres. */
const barSteps = (
  { widths, isLong }: Elements,
  { x, y, unit }: { readonly x: number; readonly y: number; readonly unit: number },
  addOnTop: number,
): PathStep[] => {
  let at = x;
  return widths.flatMap((modules, i): PathStep[] => {
    const left = at;
    at += modules * unit;
    if (i % 2 === 1) return [];
    const bar = i / 2;
    const top = bar < BARS ? y : addOnTop;
    const isDown = bar >= BARS || isLong[bar];
    const bottom = y + unit * (EAN.high + (isDown ? EAN.guard : 0));
    return rectSteps(left, top, modules * unit, bottom - top);
  });
};

/**
 * The bar code of a book on its own piece of paper, as large as the cell allows up to once, at its lower left.
 *
 * @throws InputFault where the cell does not take the smallest that the standard allows.
 */
export const barCodeMarks = (
  { isbn, addOn, words }: BarCode & Worded,
  cell: Cell,
  layout: Layout,
  measure: MeasureText,
): Mark[] => {
  requireDarkBars(layout);
  const elements = elementsOf(isbn.ean, addOn);
  const modules = elements.widths.reduce((sum, width) => sum + width, 0);
  const across = EAN.before + modules + (addOn === null ? EAN.behind : EAN.behindAddOn);
  let size = 1;
  const fits = (): boolean =>
    across * EAN.module * size <= cell.width + 1e-9 && heightAt(size) <= cell.height + 1e-9;
  while (!fits() && size > EAN.least + 1e-9) size = Math.max(EAN.least, size - STEP);
  if (!fits()) {
    const [wide, high] = [across * EAN.module * EAN.least, heightAt(EAN.least)];
    throw new InputFault(
      { file: `layout ${layout.name}`, place: 'bar-code' },
      `its room of ${cell.width.toFixed(1)} x ${cell.height.toFixed(1)} mm is too small for a bar code`,
      `give it ${wide.toFixed(1)} x ${high.toFixed(1)} mm, the least of the standard`,
    );
  }
  const unit = EAN.module * size;
  const panel = {
    x: cell.x,
    y: cell.y + cell.height - heightAt(size),
    width: across * unit,
    height: heightAt(size),
  };
  const x = panel.x + EAN.before * unit;
  const y = panel.y + RIM + size * pointsToMm(NUMBER) * 1.35;
  const digits = DIGITS * size;
  const below = y + unit * EAN.high + pointsToMm(digits) * 0.8;
  const addOnTop = y + pointsToMm(digits) * 0.9;
  const addOnMiddle = x + 0.5 * (EAN.symbol + ADD_ON_APART + modules) * unit;
  const figures = (at: number, words: string, base: number): Mark =>
    text([x + at * unit, base], words, 'text', digits, { align: 'centre' });
  const number = `ISBN ${isbn.written}`;
  const room = EAN.symbol * unit;
  const numberSize = Math.max(
    6,
    Math.min(NUMBER * size, (room / measure(number, 'text', mmToPoints(1))) * mmToPoints(1)),
  );
  return [
    {
      kind: 'group',
      role: 'figure',
      alt:
        addOn === null
          ? phrase({ words }, 'imprint.bar-code', { number: isbn.ean })
          : phrase({ words }, 'imprint.bar-code-add-on', { number: isbn.ean, addOn }),
      marks: [
        fillPath(rectSteps(panel.x, panel.y, panel.width, panel.height), PAPER),
        fillPath(barSteps(elements, { x, y, unit }, addOnTop), DARK),
        text([x, panel.y + RIM + pointsToMm(numberSize) * 0.75], number, 'text', numberSize),
        figures(-6.5, isbn.ean[0], below),
        figures(24.5, isbn.ean.slice(1, 7), below),
        figures(70.5, isbn.ean.slice(7), below),
        ...(addOn === null
          ? []
          : [
              text([addOnMiddle, y + pointsToMm(digits) * 0.68], addOn, 'text', digits, {
                align: 'centre',
              }),
            ]),
      ],
    },
  ];
};
