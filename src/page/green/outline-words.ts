import { crossingsAlongY } from '../../course/green-size.js';
import { metresToPaces, pointsToMm } from '../../units.js';
import type { OutlinedGreen } from '../book-content.js';
import { circleSteps, rule, stroke, strokePath, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { PageContext, PageModule } from '../kit/page-modules.js';
import { fitWording } from '../kit/paragraph.js';
import { worthFoot, worthShort } from '../kit/worth-lines.js';
import type { Mark, Mm } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';
import { approachMarks } from './hole-approach.js';
import { locationList } from './location-list.js';

export interface OutlinePageContext extends PageContext {
  readonly green: OutlinedGreen;
}

type Module = PageModule<OutlinePageContext>;

/** Where a line of words stands: its left end and base, and the room it has, millimetres. */
type LineCell = Pick<Cell, 'x' | 'width'> & { readonly base: number };

/** Front, middle and back, and the sides from the middle, in paces; in the order of their weight. */
const figureParts = ({ outline }: OutlinedGreen, tell: Worded): readonly string[] => {
  const alongY = crossingsAlongY(outline, 0);
  const back = alongY[alongY.length - 1] ?? 0;
  const across = crossingsAlongY(
    outline.map(([x, y]) => [y, x]),
    back / 2,
  );
  const paces = (metres: number): string => `${Math.round(metresToPaces(Math.abs(metres)))}`;
  const deep = phrase(tell, 'outline.deep', { middle: paces(back / 2), back: paces(back) });
  return across.length < 2
    ? [deep]
    : [
        deep,
        phrase(tell, 'outline.wide', {
          left: paces(across[0]),
          right: paces(across[across.length - 1]),
        }),
      ];
};

/** "front 0, middle 12, back 25 …" in one line, in the longest wording that fits. */
export const figureLine = (
  { green, layout, measure, book }: OutlinePageContext,
  { x, width, base }: LineCell,
): Mark[] => {
  const northUp = green.northUp ? [phrase(book, 'outline.north-up')] : [];
  const parts = [...figureParts(green, book), ...northUp];
  const wordings = parts.map((_, i) => parts.slice(0, parts.length - i).join(' · '));
  const fitted = fitWording(
    wordings,
    width,
    { face: 'text', size: layout.type.table, least: 6 },
    measure,
  );
  return fitted === null ? [] : [text([x, base], fitted.text, 'text', fitted.size)];
};

const FALL_ARROW = 7;
const BESIDE_ARROW = 1.6;

/** Ring, arrow and question: the sign to draw at the rings once the fall is known. */
export const fallSign = ([x, y]: Mm, size: number, tell: Worded): Mark[] => {
  const tip: Mm = [x + FALL_ARROW, y];
  const wing = (side: 1 | -1): Mm => [tip[0] - 1.8, tip[1] + side * 0.8];
  return [
    strokePath(circleSteps(x, y, RING), stroke(0.2)),
    rule(x + RING + 0.1, y, tip[0], tip[1], stroke(0.25)),
    rule(...wing(1), ...tip, stroke(0.25)),
    rule(...wing(-1), ...tip, stroke(0.25)),
    text(
      [x + FALL_ARROW + BESIDE_ARROW, y + pointsToMm(size) * 0.34],
      phrase(tell, 'outline.fall'),
      'text',
      size,
    ),
  ];
};

/** Of a ring for a pencil, millimetres. */
export const RING = 0.45;

/** Width that the sign takes with its question, millimetres. */
export const fallSignWidth = (
  size: number,
  { measure, book }: Pick<PageContext, 'measure' | 'book'>,
): number => RING + FALL_ARROW + BESIDE_ARROW + measure(phrase(book, 'outline.fall'), 'text', size);

/** The sign at the right end of a line. */
export const fallAtRight = ({ x, width, base }: LineCell, context: PageContext): Mark[] => {
  const size = context.layout.type.table;
  const at = x + width - fallSignWidth(size, context) + RING;
  return fallSign([at, base - pointsToMm(size) * 0.3], size, context.book);
};

/** Front, middle and back; the approach to the hole locations, if any are known. */
export const figuresModule: Module = (context, cell) => {
  const { layout, green, measure, book } = context;
  const { table, small } = layout.type;
  const step = pointsToMm(table) * 1.36;
  if (green.approaches.length > 0) {
    const below = { ...cell, y: cell.y + step, height: cell.height - step };
    return [
      ...figureLine(context, { ...cell, base: cell.y + step * 0.7 }),
      ...approachMarks(green.approaches, below, context),
    ];
  }
  const from = phrase(book, green.northUp ? 'outline.north-up' : 'outline.from-front');
  return [
    text(
      [cell.x, cell.y + step * 0.7],
      phrase(book, 'outline.paces', { from }),
      'text-italic',
      small,
    ),
    ...figureParts(green, book).map((part, i): Mark => {
      const sizes = { face: 'text', size: table, least: 6 } as const;
      const size = fitWording([part], cell.width, sizes, measure)?.size ?? 6;
      return text([cell.x, cell.y + step * (i + 1.75)], part, 'text', size);
    }),
  ];
};

/** In place of the key of grades: what is to be drawn at the rings. */
export const fallKeyModule: Module = (context, cell) => {
  const { layout, measure, green, book } = context;
  const { table, small } = layout.type;
  const step = pointsToMm(table) * 1.36;
  const told = phrase(book, 'outline.by-hand');
  const width = Math.max(22, measure(told, 'text-italic', small));
  const x = cell.x + cell.width - width;
  const own = green.worth === null ? [] : surveyWords(context, width);
  return [
    text([x, cell.y + step * 0.7], told, 'text-italic', small),
    ...fallSign([x + RING, cell.y + step * 1.5], table, book),
    ...own.map((words, i) => text([x, cell.y + step * (2.75 + 0.8 * i)], words, 'text', small)),
  ];
};

/** What the survey of the green is worth, where it has one. */
const surveyWords = (
  { green: { worth }, layout, measure, book }: OutlinePageContext,
  width: number,
): string[] => {
  if (worth === null) return [];
  const told = phrase(book, 'outline.survey', { worth: worthShort(worth, book) });
  const words = `${told}${worth.overruled === null ? '' : ' *'}`;
  return measure(words, 'text', layout.type.small) <= width ? [words] : [];
};

/**
 * The hole locations that the course file gives, then room for those of some days. A layout with no other
 * cells for them gets the figures of the outline and the sign of the fall here, too.
 */
export const locationsModule: Module = (context, cell) => {
  const { layout } = context;
  const { table, small } = layout.type;
  const has = (module: string): boolean =>
    layout.pages.green?.some((one) => one.module === module) ?? false;
  const line = pointsToMm(table) * 1.36;
  const first = { ...cell, base: cell.y + line * 0.7 };
  const keyWidth = fallSignWidth(table, context) + 2;
  const head = [
    ...(has('approach') ? [] : figureLine(context, { ...first, width: first.width - keyWidth })),
    ...(has('band-key') ? [] : fallAtRight(first, context)),
  ];
  const top = cell.y + (head.length === 0 ? 0 : line * 1.1);
  const worth = surveyWords(context, cell.width / 2);
  const right = cell.x + cell.width;
  return [
    ...head,
    ...locationList(context.green.locations, context, {
      ...cell,
      y: top,
      height: cell.y + cell.height - top,
    }),
    ...worth.map((words) =>
      text([right, top + line * 0.7], words, 'text', small, { align: 'right' }),
    ),
  ];
};

/** What the foot of the page says of the source of the outline, the longest wording first. */
export const sourceWordings = ({ worth }: OutlinedGreen, tell: Worded): string[] => {
  if (worth === null) return [phrase(tell, 'outline.source')];
  const own = worthFoot(worth, tell);
  return [phrase(tell, 'outline.source-and', { more: own[0] }), ...own];
};
