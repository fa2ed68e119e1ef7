import { boxOf } from '../../geometry.js';
import { type Outlet, otherOutlets } from '../../terrain/reading.js';
import type { GreenContent } from '../book-content.js';
import type { Mark, Mm } from '../marks/marks.js';
import { otherMouth } from './drainage-line.js';
import { type GroundFrame, onPaper } from './ground-frame.js';
import type { Spot } from './spot-labels.js';

/** Whether a green's picture tells shares at the mouths of its outlets. */
export const takesTurns = (reading: GreenContent['reading']): boolean =>
  reading.outlets.length > 1 && otherOutlets(reading).length > 0;

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
