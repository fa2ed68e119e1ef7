import { seeded } from '../../course-data/vellamoor/random.js';
import { sidesAt } from '../../src/course/frame.js';
import { boxOf, insideRing, type Point } from '../../src/geometry.js';
import { HX, HY, H as HZ, JET_SIZE } from '../../src/surface/surface.js';
import { metresToPaces } from '../../src/units.js';
import type { RoughGreen } from './rough-greens.js';

/** What a caddie writes on a round. */
export interface SheetPlan {
  /** Paces between places. */
  readonly every: number;
  readonly how: 'falls' | 'heights';
}

/** One standard deviation each: of a pace's place, metres; of a level, a part of one; of a direction, radians; of a height, metres. */
const PLACE = 0.35;
const PACE = 0.03;
const GRADE = 0.003;
const TURN = (7 * Math.PI) / 180;
const SIGHT = (3 * Math.PI) / 180;
const HEIGHT = 0.006;

/**
 * A sheet of falls or heights at places paced over a green, written as people write: places to half a pace, grades to
 * 0.1 %, hours by halves, heights to a centimetre. Paces are longer or shorter than they should be all day, and the line of
 * approach is sighted askew.
 */
export const pacedSheet = (
  { outline, at }: Pick<RoughGreen, 'outline' | 'at'>,
  seed: number,
  { every, how }: SheetPlan,
): string => {
  const random = seeded(seed);
  const box = boxOf(outline);
  const jet = new Float64Array(JET_SIZE);
  const stretch = 1 + PACE * random.normal();
  const askew = SIGHT * random.normal();
  const rows = [how === 'falls' ? 'on,in,side,grade,clock' : 'on,in,side,height cm'];
  const front = box.minY;
  const step = every * 0.9144;
  for (let y = Math.max(0, front) + 1.4; y < box.maxY - 0.7; y += step) {
    const sides = sidesAt(outline, y);
    if (sides === null) continue;
    for (let x = sides[0] + 1 + random.uniform(); x < sides[1] - 0.5; x += step) {
      // Paced in from the side that is told, so that the length of the paces counts from there.
      const left = x - sides[0] < sides[1] - x;
      const edge = sides[left ? 0 : 1];
      const spot: Point = [
        edge + (x - edge) * stretch + PLACE * random.normal(),
        y * stretch + PLACE * random.normal(),
      ];
      if (!insideRing(outline, ...spot)) continue;
      at(spot[0], spot[1], jet);
      const paces = metresToPaces(left ? x - sides[0] : sides[1] - x);
      const place = [metresToPaces(y), paces].map((one) => (Math.round(2 * one) / 2).toFixed(1));
      const grade = Math.max(0, Math.hypot(jet[HX], jet[HY]) + GRADE * random.normal());
      const turn = Math.atan2(-jet[HX], -jet[HY]) + askew + TURN * random.normal();
      const clock = (Math.round((turn * 12) / Math.PI) / 2 + 24) % 12;
      const told =
        how === 'falls'
          ? [(100 * grade).toFixed(1), clock.toFixed(1)]
          : [(100 * (jet[HZ] - 100 + HEIGHT * random.normal())).toFixed(0)];
      rows.push([...place, left ? 'left' : 'right', ...told].join(','));
    }
  }
  return `${rows.join('\n')}\n`;
};
