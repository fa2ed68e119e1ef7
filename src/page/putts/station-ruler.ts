import { layingReading } from '../../putt/rounding.js';
import { pointsToMm } from '../../units.js';
import { circleSteps, fillPath, rule, stroke, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { PageContext } from '../kit/page-modules.js';
import { withUnit } from '../kit/unit-words.js';
import type { Mark } from '../marks/marks.js';
import { DARK } from '../marks/marks.js';
import { phrase } from '../words/words.js';

/** What the ruler takes of the page, millimetres. */
export const RULER_HEIGHT = 10;
/** Between two strokes and between two that are longer, millimetres of true size. */
const STROKES = { imperial: { fine: 12.7, whole: 25.4 }, metric: { fine: 10, whole: 50 } } as const;

/** A ruler in true size from the rim of the hole to the marker; null where it is longer than its cell. */
export const trueSizeRuler = (
  metres: number,
  { layout, book, measure }: Pick<PageContext, 'layout' | 'book' | 'measure'>,
  cell: Cell,
): Mark[] | null => {
  const size = layout.type.small;
  const at = metres * 1000;
  const { fine, whole } = STROKES[book.units];
  const strokes = Math.ceil(at / fine - 1e-6) + 1;
  const long = strokes * fine;
  const words = phrase(book, 'station.ruler');
  const figure = withUnit(layingReading(metres, book.units), book);
  if (long + 2 + measure(words, 'text-italic', size) > cell.width) return null;
  const y = cell.y + 3.2;
  const base = y + 2.6 + pointsToMm(size) * 0.8;
  return [
    rule(cell.x, y, cell.x + long, y, stroke(0.25)),
    ...Array.from({ length: strokes + 1 }, (_, k): Mark => {
      const isWhole = Math.abs((k * fine) % whole) < 1e-6;
      const x = cell.x + k * fine;
      return rule(x, y, x, y + (isWhole ? 2 : 1.1), stroke(0.2));
    }),
    rule(cell.x, y - 2.4, cell.x, y, stroke(0.5)),
    fillPath(circleSteps(cell.x + at, y, 1), DARK),
    text([cell.x + at, base], figure, 'text-bold', size, { align: at < 6 ? 'left' : 'centre' }),
    text([cell.x + long + 2, y + pointsToMm(size) * 0.3], words, 'text-italic', size),
  ];
};
