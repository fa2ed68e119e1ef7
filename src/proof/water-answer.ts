import { leavingLetter, pourLines, waterWords } from '../book/pour-figures.js';
import { isBare } from '../book/surveyed-only.js';
import { surveyedPour } from '../book/surveyed-pour.js';
import { boxOf, insideRing, type Point } from '../geometry.js';
import type { GreenContent } from '../page/book-content.js';
import type { Surface } from '../surface/surface.js';
import { READ_DEFAULTS } from '../terrain/read-green.js';
import type { Met } from '../terrain/water/met-on-way.js';
import { type LonePour, pourAt, pouredTogether, shownStrands } from '../terrain/water/pour.js';
import { drainInSteps, type WaterGround } from '../terrain/water/water-ground.js';
import type { UnitSystem } from '../units.js';

/** One stream, ready to be drawn: x, y, seconds, width as a share of the widest, share of the grounds that keep it. */
interface StreamAnswer {
  readonly way: readonly (readonly [number, number, number, number, number])[];
  /** Its ways in the grounds that the survey allows, where these do not keep it. */
  readonly strands: readonly (readonly Point[])[];
  readonly letter: string | null;
  /** What it meets, at the point of its way where it meets it. */
  readonly met: readonly { readonly point: number; readonly at: Point; readonly name: string }[];
}

export interface WaterAnswer {
  /** What `runnel green --pour` says of them, a line each. */
  readonly rows: readonly string[];
  readonly said: string;
  readonly streams: readonly StreamAnswer[];
}

/** A green's water: drained once, with what was poured at the last places. */
interface KnownWater {
  readonly ground: WaterGround;
  readonly poured: Map<string, LonePour>;
}

/** Places whose pours are kept. */
const POURS_KEPT = 64;

const knownPour = ({ ground, poured }: KnownWater, at: Point): LonePour => {
  const key = at.join(',');
  const found = poured.get(key) ?? pourAt(ground, at);
  poured.delete(key);
  poured.set(key, found);
  if (poured.size > POURS_KEPT) poured.delete([...poured.keys()][0]);
  return found;
};

/** Places across and up a green that are poured at before any is asked for, so that the code is compiled. */
const WARM = [0.2, 0.35, 0.5, 0.65, 0.8];

/** Whether that was done, once for all greens. */
let warmed = false;

/** A green on its way to being poured on without waiting. */
interface Preparing {
  /** Null until it is drained. */
  water: KnownWater | null;
  readonly steps: Generator<void, void, void>;
}

/** Drains a green and then, with the first of them, pours here and there. */
function* preparing(
  into: { water: KnownWater | null },
  surface: Surface,
  { reading, drains, outline }: GreenContent,
): Generator<void, void, void> {
  const ground = yield* drainInSteps(surface, reading, { ...READ_DEFAULTS, drains });
  into.water = { ground, poured: new Map<string, LonePour>() };
  if (warmed) return;
  warmed = true;
  const box = boxOf(outline);
  for (const u of WARM) {
    for (const v of WARM) {
      const x = box.minX + u * (box.maxX - box.minX);
      const y = box.minY + v * (box.maxY - box.minY);
      if (!insideRing(outline, x, y)) continue;
      yield;
      pouredTogether(ground, [pourAt(ground, [x, y])]);
    }
  }
}

/** What is known of greens' water. */
const known = new WeakMap<Surface, Preparing>();

const preparingOf = (surface: Surface, green: GreenContent): Preparing => {
  const found = known.get(surface);
  if (found !== undefined) return found;
  const into: { water: KnownWater | null } = { water: null };
  const made: Preparing = Object.assign(into, { steps: preparing(into, surface, green) });
  known.set(surface, made);
  return made;
};

/** The green drained, all steps that are left at once. */
const drainedGreen = (surface: Surface, green: GreenContent): KnownWater => {
  const at = preparingOf(surface, green);
  while (at.water === null) at.steps.next();
  return at.water;
};

/** Takes a green one short step nearer to being poured on without waiting; `ready` when none is left. */
export const drainStep = (surface: Surface, green: GreenContent): { readonly ready: boolean } => {
  if (green.worth.worth === 'outline') return { ready: true };
  return { ready: preparingOf(surface, green).steps.next().done === true };
};

const MET_NAMES: Readonly<Record<Met['kind'], string>> = {
  'high point': 'high point',
  'high point above': 'high point',
  valley: 'valley',
  hollow: 'hollow',
  'drainage line': 'drainage line',
  'main drainage line': 'main drainage line',
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
  if (places.length === 0) return nothing('');
  for (const at of places) {
    if (!insideRing(green.outline, at[0], at[1])) return nothing('The place lies off the green.');
    if (isBare(bare, at)) return nothing('The place lies on ground without points.');
  }
  const drained = drainedGreen(surface, green);
  const lone = places.map((at) => knownPour(drained, at));
  const water = surveyedPour(pouredTogether(drained.ground, lone), bare);
  const figures = { water, area: green.reading.area };
  return {
    rows: waterWords(figures, units).split('\n'),
    said: pourLines(figures, {}).at(-1) ?? '',
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
      met: stream.met.map(({ kind, at, point }) => ({
        point,
        at: [Number(at[0].toFixed(3)), Number(at[1].toFixed(3))],
        name: MET_NAMES[kind],
      })),
    })),
  };
};
