import type { Point } from '../geometry.js';
import { distance } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { HX, HY, JET_SIZE } from '../surface/surface.js';
import { rollToRest } from './roll.js';
import { puttGround } from './workspace.js';

/**
 * A ball that was sent off and came to rest; frame of the green, metres and seconds.
 */
export interface MeasuredRoll {
  readonly ball: Point;
  /** Direction in plan that it was sent off in, radians from +x. */
  readonly direction: number;
  /** Speed along the ground that it was sent off at, m/s; null where nobody knows, as with a putter. */
  readonly release: number | null;
  readonly rest: Point;
}

/** Relative accuracy of what is solved for. */
const CLOSE = 1e-5;
/** Relative difference by which a slope is taken. */
const NEAR = 0.02;

/** How far a roll came, straight from the ball, and in which direction it lies; null off the green. */
interface Rest {
  readonly far: number;
  readonly bearing: number;
  readonly path: readonly Point[];
}

const jet = new Float64Array(JET_SIZE);

export const restOf = (
  surface: Surface,
  { ball, direction }: MeasuredRoll,
  stimp: number,
  release: number,
): Rest | null => {
  surface.at(ball[0], ball[1], jet);
  const [ux, uy] = [Math.cos(direction), Math.sin(direction)];
  const climb = jet[HX] * ux + jet[HY] * uy;
  const flat = release / Math.sqrt(1 + climb * climb);
  const w = puttGround(surface, { stimp, past: 0.3 });
  const { status, end, path } = rollToRest(w, ball, [flat * ux, flat * uy], null, {
    tolerance: 1e-6,
  });
  if (status !== 'short') return null;
  return {
    far: distance(ball, end),
    bearing: Math.atan2(end[1] - ball[1], end[0] - ball[0]),
    path,
  };
};

/** From -pi to pi. */
const turned = (angle: number): number => Math.atan2(Math.sin(angle), Math.cos(angle));

/** Values tried between the limits, evenly in their logarithm. */
const TRIED = 28;

const bearingOf = ({ ball, rest }: MeasuredRoll): number =>
  Math.atan2(rest[1] - ball[1], rest[0] - ball[0]);

/**
 * The argument, within its limits, at which a ball comes to rest as far away as it did; null where it never
 * does. A ball that turns back uphill can do so at several: the one whose direction fits best is taken.
 */
export const solvedFor = (
  roll: MeasuredRoll,
  [least, most]: readonly [number, number],
  rest: (value: number) => Rest | null,
): number | null => {
  const far = distance(roll.ball, roll.rest);
  const off = (log: number): number => {
    const found = rest(Math.exp(log));
    return found === null ? Number.NaN : Math.log(found.far / far);
  };
  const step = Math.log(most / least) / (TRIED - 1);
  const logs = Array.from({ length: TRIED }, (_, k) => Math.log(least) + k * step);
  const offs = logs.map(off);
  let best: { value: number; miss: number } | null = null;
  for (let k = 1; k < TRIED; k++) {
    if (!(offs[k - 1] * offs[k] <= 0)) continue;
    const value = Math.exp(rootBetween(off, [logs[k - 1], offs[k - 1]], [logs[k], offs[k]]));
    const found = rest(value);
    if (found === null) continue;
    const miss = Math.abs(turned(bearingOf(roll) - found.bearing));
    if (best === null || miss < best.miss) best = { value, miss };
  }
  return best?.value ?? null;
};

type Value = readonly [at: number, off: number];

/** By chords that never keep an end twice (the Illinois rule, Dowell & Jarratt, BIT 11 (1971) 168-174). */
const rootBetween = (off: (at: number) => number, from: Value, to: Value): number => {
  let [a, fa] = from;
  let [b, fb] = to;
  for (let round = 0; round < 30 && Math.abs(b - a) > CLOSE; round++) {
    const c = fb === fa ? (a + b) / 2 : b - (fb * (b - a)) / (fb - fa);
    const fc = off(c);
    if (Math.abs(fc) < CLOSE) return c;
    if (fc * fb < 0) [a, fa] = [b, fb];
    else fa /= 2;
    [b, fb] = [c, fc];
  }
  return b;
};

/** What one roll tells by itself. */
export interface RollAlone {
  /** Green speed by which it comes to rest where it did, metres; null for an unknown release, or none such. */
  readonly stimp: number | null;
  /** The release that does it at the green speed asked, m/s. */
  readonly release: number | null;
  /** By how much it came to rest to the left of the way computed, radians at the ball; null where there is none. */
  readonly turn: number | null;
  /** The same of its length, as the logarithm of measured over computed. */
  readonly longer: number | null;
  /** Standard deviations of computed length (relative) and direction by the survey. */
  readonly lengthSd: number;
  readonly turnSd: number;
  readonly path: readonly Point[];
  /** Of each drawn ground: what it changes of the logarithm of `stimp`, and of `turn`. */
  readonly draws: readonly { readonly stimp: number; readonly turn: number }[];
}

export const NOTHING: RollAlone = {
  stimp: null,
  release: null,
  turn: null,
  longer: null,
  lengthSd: 0,
  turnSd: 0,
  path: [],
  draws: [],
};

export const rootMeanSquare = (values: readonly number[]): number =>
  values.length === 0
    ? 0
    : Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);

/** The roll at a green speed and a release, beside where it lies. */
export const besideComputed = (
  surface: Surface,
  drawn: readonly Surface[],
  roll: MeasuredRoll,
  [stimp, release]: readonly [number, number],
): Omit<RollAlone, 'stimp' | 'release'> => {
  const { ball, rest } = roll;
  const computed = restOf(surface, roll, stimp, release);
  if (computed === null) return NOTHING;
  const slower = restOf(surface, roll, stimp / (1 + NEAR), release);
  const bySpeed = slower === null ? 1 : Math.log(computed.far / slower.far) / Math.log1p(NEAR);
  // A ground on which it would run off the green tells no figure; its place is kept, since draws are matched.
  const changes = drawn.map((ground) => {
    const other = restOf(ground, roll, stimp, release);
    if (other === null) return { longer: 0, turn: 0 };
    const longer = Math.log(other.far / computed.far);
    return { longer, turn: turned(other.bearing - computed.bearing) };
  });
  return {
    turn: turned(bearingOf(roll) - computed.bearing),
    longer: Math.log(distance(ball, rest) / computed.far),
    lengthSd: rootMeanSquare(changes.map(({ longer }) => longer)),
    turnSd: rootMeanSquare(changes.map(({ turn }) => turn)),
    path: computed.path,
    // More ground to roll over is a slower green, and a way farther left takes off what lies left of it.
    draws: changes.map(({ longer, turn }) => ({ stimp: -longer / bySpeed, turn: -turn })),
  };
};
