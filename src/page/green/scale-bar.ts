import { scaleLinear } from 'd3-scale';
import { MM_PER_INCH, pointsToMm, yardsToMetres } from '../../units.js';
import { fillPath, rectSteps, stroke, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { PageContext } from '../kit/page-modules.js';
import { DARK, type Mark, type Mm, PAPER } from '../marks/marks.js';
import { phrase } from '../words/words.js';

/** Yards or metres. */
const BAR_LENGTH = 20;
const BAR_STEPS = 4;
const BAR_HEIGHT = 1.3;

const pairs = <T>(values: readonly T[]): [T, T][] =>
  values.slice(1).map((value, i) => [values[i], value]);

/**
 * A bar of four steps of five yards (or metres) whose length on paper is printed with it, so that a
 * ruler can check the print: beside the bar, or in lines under it.
 */
export const scaleBarMarks = (
  { layout, book }: PageContext,
  scale: number,
  { x, y }: Pick<Cell, 'x' | 'y'>,
  words: 'beside' | 'under' = 'beside',
): Mark[] => {
  const metric = book.units === 'metric';
  const ground = metric ? BAR_LENGTH : yardsToMetres(BAR_LENGTH);
  const bar = (ground * 1000) / scale;
  const along = scaleLinear([0, BAR_LENGTH], [x, x + bar]);
  const ticks = along.ticks(BAR_STEPS);
  const size = layout.type.small;
  const top = y + 1.2;
  const base = top + BAR_HEIGHT + pointsToMm(size) * 0.95;
  const marks: Mark[] = pairs(ticks).map(([from, to], i) =>
    fillPath(
      rectSteps(along(from), top, along(to) - along(from), BAR_HEIGHT),
      i % 2 === 0 ? DARK : PAPER,
      { stroke: stroke(0.15) },
    ),
  );
  for (const tick of ticks) {
    marks.push(
      text([along(tick), base], String(tick), 'text', size, {
        align: tick === 0 ? 'left' : 'centre',
      }),
    );
  }
  const onPaper = metric
    ? `${Number(bar.toFixed(1))} ${phrase(book, 'unit.mm')}`
    : `${Number((bar / MM_PER_INCH).toFixed(2))} ${phrase(book, 'unit.in')}`;
  const note = phrase(book, 'green.scale', {
    length: BAR_LENGTH,
    unit: phrase(book, metric ? 'unit.m' : 'unit.yd'),
    paper: onPaper,
    scale: Math.round(scale),
  });
  const at: Mm =
    words === 'beside' ? [x + bar + 3.2, top + BAR_HEIGHT] : [x, base + pointsToMm(size) * 1.35];
  marks.push(text(at, note, 'text', size));
  return [{ kind: 'group', role: 'figure', alt: phrase(book, 'green.scale-alt', { note }), marks }];
};
