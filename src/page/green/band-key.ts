import { pointsToMm } from '../../units.js';
import type { GreenContent } from '../book-content.js';
import { rectSteps, stroke, strokePath, text } from '../kit/draw.js';
import type { PageContext } from '../kit/page-modules.js';
import { fitOrShorten } from '../kit/paragraph.js';
import type { Mark, Mm } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { bandMarks, bandName, bandStyle } from './slope-bands.js';

const SWATCH = 9;
const GAP = 1.5;
/** So far its head may stand out over the figures. */
const HANGING = 0.5;

type Bands = GreenContent['reading']['bands'];

/** Millimetres across that the key takes. */
export const bandKeyWidth = ({ layout, measure, book }: PageContext, bands: Bands): number =>
  Math.max(
    measure(phrase(book, 'green.grade'), 'text-italic', layout.type.small) - HANGING,
    ...bands.map(
      ({ from, to }) => SWATCH + GAP + measure(bandName(from, to, book), 'text', layout.type.table),
    ),
  );

/** Smallest type of its head, points. */
const LEAST = 6;

/** One swatch a band, as it is printed on the greens; the key's upper left, and the room across for its head. */
export const bandKeyMarks = (
  { layout, book, measure }: PageContext,
  bands: Bands,
  [x, y]: Mm,
  room: number,
): Mark[] => {
  const { table, small } = layout.type;
  const step = pointsToMm(table) * 1.36;
  const sizes = { face: 'text-italic', size: small, least: LEAST } as const;
  const head = fitOrShorten(phrase(book, 'green.grade'), room + HANGING, sizes, measure);
  const marks: Mark[] = [text([x, y + step * 0.7], head.text, 'text-italic', head.size)];
  bands.forEach((band, i) => {
    const top = y + step * (i + 1);
    const steps = rectSteps(x, top + 0.35, SWATCH, step - 0.7);
    marks.push(
      ...bandMarks(steps, bandStyle(i, bands.length)),
      strokePath(steps, stroke(0.12)),
      text(
        [x + SWATCH + GAP, top + step * 0.75],
        bandName(band.from, band.to, book),
        'text',
        table,
      ),
    );
  });
  return marks;
};

/** Millimetres down that the key takes. */
export const bandKeyHeight = ({ layout }: PageContext, bands: Bands): number =>
  pointsToMm(layout.type.table) * 1.36 * (bands.length + 1);
