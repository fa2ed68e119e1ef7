import type { Layout, SheetPlan } from '../../layout/layout.js';
import { PAPERS } from '../../layout/paper.js';
import { MM_PER_INCH, pointsToMm } from '../../units.js';
import {
  circleSteps,
  fillPath,
  hatch,
  rectSteps,
  rule,
  stroke,
  strokePath,
  text,
} from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { setParagraph, setParagraphs } from '../kit/paragraph.js';
import type { Mark, MeasureText, Mm, Page } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';

/** A printer at home leaves this much of a sheet bare. Common practice, no source. */
const BARE = 8;
const BAR = 50;
const TEXT = 11;

/** How an instruction sheet is told: by which words, and how wide they are. */
type Setting = Worded & { readonly measure: MeasureText };

const printSteps = (plan: SheetPlan, sheet: Sheet, tell: Worded): string[] => {
  const lies = phrase(tell, sheet.width > sheet.height ? 'first.landscape' : 'first.portrait');
  const key = (
    { 'one side': 'one-side', 'long edge': 'long-edge', 'short edge': 'short-edge' } as const
  )[plan.duplex];
  const isTwoSided = plan.duplex !== 'one side';
  return [
    phrase(tell, `first.${key}`, { number: 1, paper: PAPERS[plan.paper].title, lies }),
    phrase(tell, 'first.ruler', { number: 2, length: BAR }),
    ...(isTwoSided ? [phrase(tell, 'first.light', { number: 3 })] : []),
    phrase(tell, 'first.rest', { number: isTwoSided ? 4 : 3 }),
  ];
};

/** What is done with the printed sheets. */
const followingSteps = ({ scheme, up }: SheetPlan, tell: Worded): string[] => {
  switch (scheme) {
    case 'leaves':
      return [phrase(tell, up === 1 ? 'first.trim' : 'first.cut')];
    case 'stack':
      return [phrase(tell, 'first.pile'), phrase(tell, 'first.piles', { count: up })];
    case 'saddle':
      return [
        ...(up > 2 ? [phrase(tell, 'first.pairs')] : []),
        phrase(tell, 'first.fold'),
        phrase(tell, 'first.staple'),
      ];
    case 'fold-up':
      return [
        phrase(tell, 'first.trim-one'),
        phrase(tell, 'first.fold-half'),
        phrase(tell, 'first.fold-fan'),
        phrase(tell, 'first.read-strip'),
      ];
  }
};

/** Leaves of a book made for stapling are bound as they are. */
const bindingSteps = ({ binding }: Layout, plan: SheetPlan, tell: Worded): string[] => {
  if (plan.scheme === 'saddle' || plan.scheme === 'fold-up') return [];
  if (binding.method === 'perfect') return [phrase(tell, 'first.glue')];
  if (binding.method === 'wire-o') return [phrase(tell, 'first.punch')];
  return [phrase(tell, 'first.hold')];
};

interface Sheet {
  readonly width: number;
  readonly height: number;
}

/** A bar of 50 mm between the outer edges of its end strokes, in steps of 10. */
const rulerBar = (at: Mm, upright: boolean, tell: Worded): Mark => {
  const marks: Mark[] = [];
  for (let i = 0; i < 5; i++) {
    const along = i * 10;
    marks.push(
      fillPath(
        upright ? rectSteps(at[0], at[1] + along, 2, 10) : rectSteps(at[0] + along, at[1], 10, 2),
        i % 2 === 0 ? DARK : PAPER,
        // Inside the bar's ends, so that the stroke adds nothing to its length.
        {},
      ),
    );
  }
  marks.push(
    strokePath(
      upright
        ? rectSteps(at[0] + 0.1, at[1] + 0.1, 1.8, BAR - 0.2)
        : rectSteps(at[0] + 0.1, at[1] + 0.1, BAR - 0.2, 1.8),
      stroke(0.2, DARK, { cap: 'butt', join: 'miter' }),
    ),
    text(
      upright ? [at[0] + 4.6, at[1] + BAR / 2] : [at[0] + BAR / 2, at[1] + 5.4],
      `${BAR} ${phrase(tell, 'unit.mm')}`,
      'text',
      7.5,
      { align: 'centre', ...(upright ? { turn: 90 } : {}) },
    ),
  );
  return {
    kind: 'group',
    role: 'figure',
    alt: phrase(tell, 'first.bar-alt', { length: BAR }),
    marks,
  };
};

const rings = (at: Mm): Mark[] =>
  [1, 2].map((r) => strokePath(circleSteps(at[0], at[1], r), stroke(0.12)));

const cross = ([x, y]: Mm): Mark[] => [
  rule(x - 3, y, x + 3, y, stroke(0.12)),
  rule(x, y - 3, x, y + 3, stroke(0.12)),
];

/** Where the register is looked at: near the corners and in the middle of the foot. */
const registerSpots = ({ width, height }: Sheet): Mm[] => {
  const edge = BARE + 6;
  return [
    [edge, edge],
    [width - edge, edge],
    [edge, height - edge],
    [width - edge, height - edge],
    [width / 2, height - edge],
  ];
};

/** What the printer must be able to show: the smallest type, the thinnest line, every tone and hachure. */
const printSample = (cell: Cell, tell: Worded): Mark[] => {
  const tones = [0.16, 0.35, 0.55, 0.74];
  const width = 12;
  return [
    ...tones.flatMap((tone, i) => {
      const steps = rectSteps(cell.x + i * width, cell.y, width, 5);
      return [
        fillPath(steps, { ink: 'tint', tone }),
        ...(i >= 2 ? [hatch(steps, 60, i === 2 ? 1.25 : 0.62, stroke(0.1))] : []),
        strokePath(steps, stroke(0.12)),
      ];
    }),
    rule(cell.x, cell.y + 7, cell.x + 4 * width, cell.y + 7, stroke(0.09)),
    text([cell.x, cell.y + 10.4], phrase(tell, 'first.sample'), 'text', 6),
  ];
};

const front = (
  layout: Layout,
  plan: SheetPlan,
  sheet: Sheet,
  { measure, ...tell }: Setting,
  last: readonly string[],
): Mark[] => {
  const left = BARE + 14;
  const width = sheet.width - 2 * left;
  const top = BARE + 8;
  const bars = top + 12;
  const steps = [...printSteps(plan, sheet, tell), ...followingSteps(plan, tell), ...last];
  const wordsTop = bars + BAR + 6;
  const foot = sheet.height - BARE - 12;
  const column: Cell = {
    x: left,
    y: wordsTop,
    width: Math.min(width, 190),
    height: foot - wordsTop,
  };
  const intro = setParagraph(
    phrase(tell, 'first.head', { layout: layout.title }),
    { x: left, y: top, width, height: 10 },
    { face: 'title-bold', size: 15, leading: 18 },
    measure,
  );
  return [
    ...intro.marks,
    rulerBar([left, bars], true, tell),
    rulerBar([left + 14, bars], false, tell),
    ...printSample({ x: left + 14, y: bars + 14, width: 60, height: 12 }, tell),
    ...setParagraphs(
      steps,
      column,
      { face: 'text', lead: 1.25, gap: 1.4 },
      { full: TEXT, least: 6.5 },
      measure,
    ).marks,
    ...registerSpots(sheet).flatMap(rings),
  ];
};

const back = (sheet: Sheet, tell: Worded): Mark[] => [
  ...registerSpots(sheet).flatMap(cross),
  text([sheet.width / 2, sheet.height / 2], phrase(tell, 'first.back'), 'text', TEXT, {
    align: 'centre',
  }),
  text(
    [sheet.width / 2, sheet.height / 2 + pointsToMm(TEXT) * 1.4],
    phrase(tell, 'first.size', {
      width: Number((sheet.width / MM_PER_INCH).toFixed(2)),
      height: Number((sheet.height / MM_PER_INCH).toFixed(2)),
      width_mm: Math.round(sheet.width),
      height_mm: Math.round(sheet.height),
    }),
    'text',
    TEXT,
    { align: 'centre' },
  ),
];

/**
 * The sheet that is printed before all others: how to print, cut, fold and bind, and a test that shows
 * whether the printer keeps the scale and puts both sides back to back. `last`: what is done with the leaves, where
 * they are not bound to a book.
 */
export const composeFirstSheet = (
  layout: Layout,
  plan: SheetPlan,
  sheet: Sheet,
  setting: Setting,
  last: readonly string[] = bindingSteps(layout, plan, setting),
): Page[] => {
  const page = (id: string, title: string, marks: readonly Mark[]): Page => ({
    id,
    title,
    label: id,
    width: sheet.width,
    height: sheet.height,
    marks,
  });
  const sides = [
    page('first-sheet', phrase(setting, 'first.title'), front(layout, plan, sheet, setting, last)),
  ];
  if (plan.duplex !== 'one side') {
    sides.push(page('first-sheet-back', phrase(setting, 'first.back-title'), back(sheet, setting)));
  }
  return sides;
};
