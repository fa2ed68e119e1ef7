import { leavingLetter, pourLines, waterWords } from '../book/pour-figures.js';
import { isBare } from '../book/surveyed-only.js';
import { surveyedPour } from '../book/surveyed-pour.js';
import { insideRing, type Point } from '../geometry.js';
import type { GreenContent } from '../page/book-content.js';
import type { Surface } from '../surface/surface.js';
import { READ_DEFAULTS } from '../terrain/read-green.js';
import { pour, shownStrands, type WaterGround, waterGround } from '../terrain/water/pour.js';
import type { UnitSystem } from '../units.js';

/** One stream, ready to be drawn: x, y, seconds, width as a share of the widest, share of the grounds that keep it. */
interface StreamAnswer {
  readonly way: readonly (readonly [number, number, number, number, number])[];
  /** Its ways in the grounds that the survey allows, where these do not keep it. */
  readonly strands: readonly (readonly Point[])[];
  readonly letter: string | null;
}

export interface WaterAnswer {
  /** What `runnel green --pour` says of them, a line each. */
  readonly rows: readonly string[];
  readonly said: string;
  readonly streams: readonly StreamAnswer[];
}

/** A green's water is drained once, when it is first poured on. */
const known = new WeakMap<Surface, WaterGround>();

/** Drains a green before any water is poured on it. */
const drainedGreen = (surface: Surface, { reading, drains }: GreenContent): WaterGround => {
  const found = known.get(surface) ?? waterGround(surface, reading, { ...READ_DEFAULTS, drains });
  known.set(surface, found);
  return found;
};

/** Pours water as `runnel green --pour` does, on the same surface. */
export const answerWater = (
  surface: Surface,
  green: GreenContent,
  places: readonly Point[],
  units: UnitSystem,
): WaterAnswer => {
  const nothing = (said: string): WaterAnswer => ({ rows: [], said, streams: [] });
  const { bare, worth } = green.worth;
  if (worth === 'outline') return nothing('The survey of this green does not tell how water runs.');
  const ground = drainedGreen(surface, green);
  if (places.length === 0) return nothing('');
  for (const at of places) {
    if (!insideRing(green.outline, at[0], at[1])) return nothing('The place lies off the green.');
    if (isBare(bare, at)) return nothing('The place lies on ground without points.');
  }
  const water = surveyedPour(pour(ground, places), bare);
  const figures = { water, area: green.reading.area };
  return {
    rows: waterWords(figures, units).split('\n'),
    said: pourLines(figures).at(-1) ?? '',
    streams: water.streams.map((stream) => ({
      way: stream.points.map(([x, y], k) => [
        Number(x.toFixed(3)),
        Number(y.toFixed(3)),
        Number(stream.seconds[k].toFixed(2)),
        Number(Math.sqrt(Math.min(1, stream.area[k] / figures.area)).toFixed(3)),
        Number(stream.kept[k].toFixed(2)),
      ]),
      strands: shownStrands(stream),
      letter: stream.leaving === null ? null : leavingLetter(water, stream.leaving),
    })),
  };
};
