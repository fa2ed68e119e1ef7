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

/** A printer at home leaves this much of a sheet bare. Common practice, no source. */
const BARE = 8;
const BAR = 50;
const TEXT = 11;

const printSteps = (plan: SheetPlan, sheet: Sheet): string[] => {
  const lies = sheet.width > sheet.height ? 'landscape' : 'portrait';
  const sides =
    plan.duplex === 'one side' ? 'on one side' : `on both sides, turned over on the ${plan.duplex}`;
  return [
    `1. Print this sheet alone (${plan.duplex === 'one side' ? 'page 1' : 'pages 1 and 2'} of the file) on ${PAPERS[plan.paper].title}, ${lies}, ${sides}, at 100 % or “actual size”. Switch off “fit to page”.`,
    `2. Lay a ruler on both bars. Each is ${BAR} mm long between its ends. If one is not, the printer changes the scale: greens would be wrong, and a green image could be larger than the Rules allow.`,
    ...(plan.duplex === 'one side'
      ? []
      : [
          '3. Hold the sheet against the light. The cross of the other side should stand in the small ring of this side (1 mm) everywhere. Within the large ring (2 mm) the book still works; beyond it, try the other edge for turning over, or other paper.',
        ]),
    `${plan.duplex === 'one side' ? 3 : 4}. If the bars and rings are right, print the rest of the file in the same way.`,
  ];
};

const FOLLOWING: Readonly<Record<SheetPlan['scheme'], (plan: SheetPlan) => readonly string[]>> = {
  leaves: ({ up }) =>
    up === 1
      ? ['Trim each sheet at the corner marks, and keep the sheets in their order.']
      : [
          'Cut each sheet at the corner marks (where there are none, halve it each way). Take its leaves from left to right, the upper row first, then the next sheet.',
        ],
  stack: ({ up }) => [
    'Keep all sheets in one pile, the first on top, and cut the whole pile at the corner marks (where there are none, halve it each way).',
    `Lay the ${up} small piles on each other: from left to right, the upper row first, the first pile on top.`,
  ],
  saddle: ({ up }) => [
    ...(up > 2
      ? [
          'Cut each sheet at the corner marks between its pairs of pages (where there are none, halve it). Take the pairs from left to right, the upper row first, then the next sheet. A piece without print is not needed.',
        ]
      : []),
    'Fold each piece at the dashed ticks, and put each into the one before it: the cover is outermost.',
    'Staple twice through the fold from outside. Then trim the three open edges at the corner marks.',
  ],
  'fold-up': () => [
    'Trim the sheet at its corner marks, where there are any.',
    'With the cover facing you, fold the lower half back behind the upper half.',
    'Fold the strip to and fro like a fan, one panel wide, so that the cover stays on top.',
    'Read the strip from the cover to the right, turn it over and read on; then open it out for the rest.',
  ],
};

const BINDING: Readonly<Record<Layout['binding']['method'], string | null>> = {
  loose: null,
  'saddle stitch': null,
  perfect:
    'For a glued back, clamp the leaves with their backs level, roughen the backs, glue them and let them dry under weight.',
  'wire-o':
    'Punch the binding edge: left on odd pages, right on even ones. A clear strip is left for the holes.',
  'fold-up': null,
};

/** Leaves of a book made for stapling are bound as they are. */
const bindingSteps = (layout: Layout, plan: SheetPlan): string[] => {
  if (plan.scheme === 'saddle' || plan.scheme === 'fold-up') return [];
  const words = BINDING[layout.binding.method];
  return [
    words ??
      'Hold the leaves together with two staples or a ring at the binding edge: left on odd pages, right on even ones.',
  ];
};

interface Sheet {
  readonly width: number;
  readonly height: number;
}

/** A bar of 50 mm between the outer edges of its end strokes, in steps of 10. */
const rulerBar = (at: Mm, upright: boolean): Mark => {
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
      `${BAR} mm`,
      'text',
      7.5,
      { align: 'centre', ...(upright ? { turn: 90 } : {}) },
    ),
  );
  return {
    kind: 'group',
    role: 'figure',
    alt: `A bar that measures ${BAR} mm at full size`,
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
const printSample = (cell: Cell): Mark[] => {
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
    text(
      [cell.x, cell.y + 10.4],
      'The tones differ, strokes stand apart; this is 6 pt type.',
      'text',
      6,
    ),
  ];
};

const front = (
  layout: Layout,
  plan: SheetPlan,
  sheet: Sheet,
  measure: MeasureText,
  last: readonly string[],
): Mark[] => {
  const left = BARE + 14;
  const width = sheet.width - 2 * left;
  const top = BARE + 8;
  const bars = top + 12;
  const steps = [...printSteps(plan, sheet), ...FOLLOWING[plan.scheme](plan), ...last];
  const wordsTop = bars + BAR + 6;
  const foot = sheet.height - BARE - 12;
  const column: Cell = {
    x: left,
    y: wordsTop,
    width: Math.min(width, 190),
    height: foot - wordsTop,
  };
  const intro = setParagraph(
    `${layout.title}: how to print and bind it`,
    { x: left, y: top, width, height: 10 },
    { face: 'title-bold', size: 15, leading: 18 },
    measure,
  );
  return [
    ...intro.marks,
    rulerBar([left, bars], true),
    rulerBar([left + 14, bars], false),
    ...printSample({ x: left + 14, y: bars + 14, width: 60, height: 12 }),
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

const back = (sheet: Sheet): Mark[] => [
  ...registerSpots(sheet).flatMap(cross),
  text(
    [sheet.width / 2, sheet.height / 2],
    'The back of the first sheet. Hold it against the light.',
    'text',
    TEXT,
    { align: 'centre' },
  ),
  text(
    [sheet.width / 2, sheet.height / 2 + pointsToMm(TEXT) * 1.4],
    `Sheet ${Number((sheet.width / MM_PER_INCH).toFixed(2))} x ${Number((sheet.height / MM_PER_INCH).toFixed(2))} in, ${Math.round(sheet.width)} x ${Math.round(sheet.height)} mm.`,
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
  measure: MeasureText,
  last: readonly string[] = bindingSteps(layout, plan),
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
    page('first-sheet', 'Print this first', front(layout, plan, sheet, measure, last)),
  ];
  if (plan.duplex !== 'one side') {
    sides.push(page('first-sheet-back', 'Print this first, back', back(sheet)));
  }
  return sides;
};
