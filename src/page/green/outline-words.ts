import { crossingsAlongY } from '../../course/green-size.js';
import type { Layout } from '../../layout/layout.js';
import { metresToPaces, pointsToMm } from '../../units.js';
import type { OutlinedGreen } from '../book-content.js';
import { circleSteps, rule, stroke, strokePath, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { asRoomAllows, locationWords, moreRow } from '../kit/location-words.js';
import type { PageContext, PageModule } from '../kit/page-modules.js';
import { fitOrShorten, fitWording } from '../kit/paragraph.js';
import { WORTH_SHORT, worthFoot } from '../kit/worth-lines.js';
import type { Mark, MeasureText, Mm } from '../marks/marks.js';
import { approachMarks } from './hole-approach.js';

export interface OutlinePageContext extends PageContext {
  readonly green: OutlinedGreen;
}

type Module = PageModule<OutlinePageContext>;

/** Where a line of words stands: its left end and base, and the room it has, millimetres. */
type LineCell = Pick<Cell, 'x' | 'width'> & { readonly base: number };

/** Front, middle and back, and the sides from the middle, in paces; in the order of their weight. */
const figureParts = ({ outline }: OutlinedGreen): readonly string[] => {
  const alongY = crossingsAlongY(outline, 0);
  const back = alongY[alongY.length - 1] ?? 0;
  const across = crossingsAlongY(
    outline.map(([x, y]) => [y, x]),
    back / 2,
  );
  const paces = (metres: number): string => `${Math.round(metresToPaces(Math.abs(metres)))}`;
  const deep = `front 0, middle ${paces(back / 2)}, back ${paces(back)}`;
  return across.length < 2
    ? [deep]
    : [deep, `from the middle ${paces(across[0])} left, ${paces(across[across.length - 1])} right`];
};

const NORTH_UP = 'from the south edge; north is up';

/** "front 0, middle 12, back 25 …" in one line, in the longest wording that fits. */
export const figureLine = (
  green: OutlinedGreen,
  { x, width, base }: LineCell,
  layout: Layout,
  measure: MeasureText,
): Mark[] => {
  const parts = [...figureParts(green), ...(green.northUp ? [NORTH_UP] : [])];
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

/** Ring, arrow and question: the sign to draw at the rings once the fall is known. */
export const fallSign = ([x, y]: Mm, size: number): Mark[] => {
  const tip: Mm = [x + FALL_ARROW, y];
  const wing = (side: 1 | -1): Mm => [tip[0] - 1.8, tip[1] + side * 0.8];
  return [
    strokePath(circleSteps(x, y, RING), stroke(0.2)),
    rule(x + RING + 0.1, y, tip[0], tip[1], stroke(0.25)),
    rule(...wing(1), ...tip, stroke(0.25)),
    rule(...wing(-1), ...tip, stroke(0.25)),
    text([x + FALL_ARROW + 1.6, y + pointsToMm(size) * 0.34], 'fall?', 'text', size),
  ];
};

/** Of a ring for a pencil, millimetres. */
export const RING = 0.45;

/** Width that the sign takes with its question, millimetres. */
const fallSignWidth = (size: number, measure: MeasureText): number =>
  RING + FALL_ARROW + 1.6 + measure('fall?', 'text', size);

/** The sign at the right end of a line. */
export const fallAtRight = (
  { x, width, base }: LineCell,
  layout: Layout,
  measure: MeasureText,
): Mark[] => {
  const size = layout.type.table;
  const at = x + width - fallSignWidth(size, measure) + RING;
  return fallSign([at, base - pointsToMm(size) * 0.3], size);
};

/** Front, middle and back; the approach to the hole locations, if any are known. */
export const figuresModule: Module = ({ layout, green, measure }, cell) => {
  const { table, small } = layout.type;
  const step = pointsToMm(table) * 1.36;
  if (green.approaches.length > 0) {
    const below = { ...cell, y: cell.y + step, height: cell.height - step };
    return [
      ...figureLine(green, { ...cell, base: cell.y + step * 0.7 }, layout, measure),
      ...approachMarks(green.approaches, below, table, small),
    ];
  }
  const words = green.northUp ? NORTH_UP : 'from the front edge';
  return [
    text([cell.x, cell.y + step * 0.7], `paces, ${words}`, 'text-italic', small),
    ...figureParts(green).map((part, i): Mark => {
      const sizes = { face: 'text', size: table, least: 6 } as const;
      const size = fitWording([part], cell.width, sizes, measure)?.size ?? 6;
      return text([cell.x, cell.y + step * (i + 1.75)], part, 'text', size);
    }),
  ];
};

/** In place of the key of grades: what is to be drawn at the rings. */
export const fallKeyModule: Module = ({ layout, measure, green }, cell) => {
  const { table, small } = layout.type;
  const step = pointsToMm(table) * 1.36;
  const told = 'to be drawn by hand';
  const width = Math.max(22, measure(told, 'text-italic', small));
  const x = cell.x + cell.width - width;
  const own = green.worth === null ? [] : surveyWords(green, width, small, measure);
  return [
    text([x, cell.y + step * 0.7], told, 'text-italic', small),
    ...fallSign([x + RING, cell.y + step * 1.5], table),
    ...own.map((words, i) => text([x, cell.y + step * (2.75 + 0.8 * i)], words, 'text', small)),
  ];
};

/** What the survey of the green is worth, where it has one. */
const surveyWords = (
  { worth }: OutlinedGreen,
  width: number,
  size: number,
  measure: MeasureText,
): string[] => {
  if (worth === null) return [];
  const words = `survey: ${WORTH_SHORT[worth.worth]}${worth.overruled === null ? '' : ' *'}`;
  return measure(words, 'text', size) <= width ? [words] : [];
};

/**
 * The hole locations that the course file gives, then room for those of some days. A layout with no other
 * cells for them gets the figures of the outline and the sign of the fall here, too.
 */
export const locationsModule: Module = ({ layout, green, measure }, cell) => {
  const { table, small } = layout.type;
  const has = (module: string): boolean =>
    layout.pages.green?.some((one) => one.module === module) ?? false;
  const line = pointsToMm(table) * 1.36;
  const first = { ...cell, base: cell.y + line * 0.7 };
  const keyWidth = fallSignWidth(table, measure) + 2;
  const head = [
    ...(has('approach')
      ? []
      : figureLine(green, { ...first, width: first.width - keyWidth }, layout, measure)),
    ...(has('band-key') ? [] : fallAtRight(first, layout, measure)),
  ];
  const top = cell.y + (head.length === 0 ? 0 : line * 1.1);
  const worth = surveyWords(green, cell.width / 2, small, measure);
  const right = cell.x + cell.width;
  const step = pointsToMm(table) * 1.6;
  const rows = Math.max(0, Math.min(4, Math.floor((cell.y + cell.height - top - step) / step)));
  return [
    ...head,
    text([cell.x, top + step * 0.6], 'hole locations, paces', 'text-italic', small),
    ...worth.map((words) =>
      text([right, top + step * 0.6], words, 'text', small, { align: 'right' }),
    ),
    ...locationRows(green, { ...cell, y: top + step * 0.6 }, { rows, step, table, small }, measure),
  ];
};

/** Locations below each other, in two columns where one is too short; the rest is lines to write on. */
const locationRows = (
  { locations }: OutlinedGreen,
  { x, y, width }: Cell,
  { rows, step, table, small }: Readonly<Record<'rows' | 'step' | 'table' | 'small', number>>,
  measure: MeasureText,
): Mark[] => {
  const columns = locations.length > rows ? 2 : 1;
  const { shown, more } = asRoomAllows(locations, columns * rows);
  const at = (i: number): Mm => [
    x + (width / columns) * Math.floor(i / rows),
    y + step * (1 + (i % rows)),
  ];
  return [
    ...shown.map((one, i) => {
      const words = `${one.name}: ${locationWords(one)}`;
      const sizes = { face: 'text', size: table, least: 6 } as const;
      const { text: said, size } = fitOrShorten(words, width / columns - 1.5, sizes, measure);
      return text(at(i), said, 'text', size);
    }),
    ...moreRow(at(shown.length), more, small),
    ...Array.from({ length: Math.max(0, rows - locations.length) }, (_, i) => {
      const [, base] = at(locations.length + i);
      return rule(x, base, x + 0.8 * width, base, stroke(0.12));
    }),
  ];
};

/** What the foot of the page says of the source of the outline, the longest wording first. */
export const sourceWordings = ({ worth }: OutlinedGreen): string[] => {
  if (worth === null) return ['outline from the map; its fall is not surveyed'];
  const own = worthFoot(worth);
  return [`outline from the map · ${own[0]}`, ...own];
};
