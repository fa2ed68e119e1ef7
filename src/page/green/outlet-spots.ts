import { boxOf } from '../../geometry.js';
import { isKept, type Outlet, otherOutlets } from '../../terrain/reading.js';
import type { GreenContent } from '../book-content.js';
import type { Mark, Mm } from '../marks/marks.js';
import { otherMouth } from './drainage-line.js';
import { type GroundFrame, onPaper } from './ground-frame.js';
import type { Spot } from './spot-labels.js';

/** Whether a green's picture tells shares at the mouths of its outlets. */
const takesTurns = (reading: GreenContent['reading']): boolean =>
  reading.outlets.length > 1 && otherOutlets(reading).length > 0;

/**
 * Whether the main line of a green is drawn as one of many alike. So it may be where no line is known yet, as on the
 * blank greens by whose pages a book is looked at before anything is fitted.
 */
export const mayBeAlike = ({ streams }: GreenContent['reading']): boolean => {
  const main = streams.filter((stream) => stream.main);
  return main.length === 0 || main.some((stream) => !isKept(stream));
};

/** Whether shares may stand at its mouths: of a green whose outlets are not known yet, too. */
export const mayTakeTurns = (reading: GreenContent['reading']): boolean =>
  reading.outlets.length === 0 || takesTurns(reading);

/** Outlets that take turns, each with its share of the grounds that the survey allows. */
export const outletSpots = (frame: GroundFrame, { reading, outline }: GreenContent): Spot[] => {
  if (!takesTurns(reading)) return [];
  const others = otherOutlets(reading);
  const own = reading.outlets.filter((outlet) => !others.includes(outlet));
  const box = boxOf(outline);
  const [mx, my] = onPaper(frame, (box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2);
  const spot = (outlet: Outlet, symbol: (at: Mm) => Mark[]): Spot => {
    const at = onPaper(frame, outlet.at[0], outlet.at[1]);
    const label = `${Math.round(100 * outlet.share)} %`;
    return { at, symbol: symbol(at), label, bold: false };
  };
  return [
    ...own.map((outlet) => spot(outlet, () => [])),
    ...others.map((outlet) =>
      spot(outlet, ([x, y]) => {
        const long = Math.hypot(x - mx, y - my) || 1;
        return [otherMouth([x, y], [(x - mx) / long, (y - my) / long])];
      }),
    ),
  ];
};
