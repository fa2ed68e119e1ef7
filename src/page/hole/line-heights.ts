import type { HoleFigures } from '../../course/hole-figures.js';
import type { HeightAlong } from '../../course/line-heights.js';
import { pointsToMm } from '../../units.js';
import { circleSteps, fillPath, lineSteps, rule, stroke, strokePath, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { PageContext } from '../kit/page-modules.js';
import { fitWording } from '../kit/paragraph.js';
import type { Mark, Mm } from '../marks/marks.js';
import { PAPER, TINT } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { shownLength, unitWord } from './hole-words.js';

/** Ground that moves by less is drawn as flat, metres; level ground is not drawn. */
const FLAT = 8;
const LEVEL = 1;
/** Over its words, clear of the hole's drawing. */
const ABOVE = 0.8;
const BETWEEN_FIGURES = 1.2;
/** Half the sign of a landing place, and between a figure and the line under it, millimetres. */
const LANDING = 0.6;
const UNDER_FIGURE = 0.6;
/** A figure's height, of the line pitch. */
const FIGURE = 0.72;

/** The rise at a place of the line, between the heights beside it. */
const riseAt = (heights: readonly HeightAlong[], along: number): number => {
  const after = heights.findIndex((one) => one.along >= along);
  if (after <= 0) return heights[after < 0 ? heights.length - 1 : 0].rise;
  const [a, b] = [heights[after - 1], heights[after]];
  return a.rise + ((along - a.along) / (b.along - a.along)) * (b.rise - a.rise);
};

interface ToldPlace {
  readonly along: number;
  readonly what: 'green' | 'landing' | 'hazard';
}

/** Places whose rise is told: the green, the landing place, then the hazards, those that cross the line first. */
const toldPlaces = (hole: HoleFigures): ToldPlace[] => {
  const end = hole.heights[hole.heights.length - 1].along;
  const inPlay = hole.hazards.filter((one) => !one.greenside || one.crosses);
  return [
    { along: end, what: 'green' as const },
    ...(hole.landing === null ? [] : [{ along: hole.landing.along, what: 'landing' as const }]),
    ...[...inPlay]
      .sort((a, b) => Number(b.crosses) - Number(a.crosses))
      .map(({ along }) => ({ along: Math.min(end, along), what: 'hazard' as const })),
  ];
};

const signed = (value: number): string =>
  value > 0 ? `+${value}` : value < 0 ? `\u2212${-value}` : '0';

/** Whether a hole's ground is known along its line and moves enough to be drawn. */
export const hasHeights = ({ heights }: HoleFigures): boolean => {
  const rises = heights.map((one) => one.rise);
  return rises.length > 3 && Math.max(...rises) - Math.min(...rises) >= LEVEL;
};

/** Height that the words and figures take beside the drawing's own, millimetres. */
export const heightsOverhead = (small: number): number => ABOVE + 3 * pointsToMm(small);

/** A cell, and how high the drawing is under its words, millimetres. */
export interface HeightsRoom {
  readonly cell: Cell;
  readonly high: number;
}

interface Drawn {
  readonly at: (along: number, rise: number) => Mm;
  readonly heights: readonly HeightAlong[];
}

/** The base of a figure over the ground from one length to another: on no line, that of the tee's level among them. */
const figureBase = (
  { at, heights }: Drawn,
  [from, to]: readonly [number, number],
  top: number,
  high: number,
): number => {
  const rises = [from, to].map((along) => riseAt(heights, along));
  const between = heights.filter(({ along }) => along > from && along < to);
  const ground = Math.max(...rises, ...between.map(({ rise }) => rise));
  const base = Math.min(at(0, ground)[1], top) - UNDER_FIGURE;
  const level = at(0, 0)[1];
  const isThrough = level < base + UNDER_FIGURE / 2 && level > base - high - UNDER_FIGURE / 2;
  return isThrough ? level - UNDER_FIGURE : base;
};

/**
 * The ground along the line of play from the rearmost tee to the middle of the green, with the rise of the
 * landing place, of hazards and of the green. Heights are drawn larger than lengths.
 */
export const lineHeightMarks = (
  hole: HoleFigures,
  { cell, high }: HeightsRoom,
  { layout, book, measure }: PageContext,
): Mark[] => {
  const { heights } = hole;
  const size = layout.type.small;
  const line = pointsToMm(size);
  const rises = heights.map((one) => one.rise);
  const [low, top] = [Math.min(0, ...rises), Math.max(0, ...rises)];
  const scale = high / Math.max(FLAT, top - low);
  const end = heights[heights.length - 1].along;
  const foot = cell.y + ABOVE + 2.2 * line + high;
  const at = (along: number, rise: number): Mm => [
    cell.x + (along / end) * cell.width,
    foot - (rise - low) * scale,
  ];
  const unit = unitWord(book);
  const words = fitWording(
    [
      phrase(book, 'heights.from', {
        tee: hole.tees[0]?.name ?? phrase(book, 'heights.the-tee'),
        unit,
      }),
      phrase(book, 'heights.signs', { unit }),
      phrase(book, 'heights.short', { unit }),
    ],
    cell.width,
    { face: 'text-italic', size, least: 6 },
    measure,
  );
  const marks: Mark[] = [
    ...(words === null
      ? []
      : [text([cell.x, cell.y + ABOVE + 0.8 * line], words.text, 'text-italic', words.size)]),
    rule(...at(0, 0), ...at(end, 0), stroke(0.12, TINT, { dash: [0.6, 0.6] })),
    strokePath(lineSteps(heights.map(({ along, rise }) => at(along, rise))), stroke(0.35)),
  ];
  const taken: [number, number][] = [];
  const inWords: { readonly along: number; readonly words: string }[] = [];
  for (const { along, what } of toldPlaces(hole)) {
    const rise = riseAt(heights, along);
    const [x, y] = at(along, rise);
    if (what === 'landing') {
      marks.push(fillPath(circleSteps(x, y, LANDING), PAPER, { stroke: stroke(0.25) }));
    } else if (what === 'hazard') {
      marks.push(rule(x, y, x, y + 1.3, stroke(0.3)));
    }
    const told = signed(Math.round(shownLength(rise, book.units)));
    const width = measure(told, 'text', size);
    const left = Math.min(Math.max(cell.x, x - width / 2), cell.x + cell.width - width);
    const isFree = taken.every(
      ([from, to]) => left > to + BETWEEN_FIGURES || left + width < from - BETWEEN_FIGURES,
    );
    if (!isFree) continue;
    taken.push([left, left + width]);
    inWords.push({ along, words: phrase(book, `heights.at-${what}`, { rise: told }) });
    const span = [left, left + width].map((one) => ((one - cell.x) / cell.width) * end);
    const sign = what === 'landing' ? y - LANDING - stroke(0.25).width / 2 : y;
    const base = figureBase({ at, heights }, [span[0], span[1]], sign, FIGURE * line);
    marks.push(text([left, base], told, 'text', size, { halo: 0.4 }));
  }
  const told = inWords.sort((a, b) => a.along - b.along).map((one) => one.words);
  const alt = phrase(book, 'heights.alt', { unit, heights: told.join(', ') });
  return [{ kind: 'group', role: 'figure', alt, marks }];
};
