import { reportOfRolls } from '../book/rolls-report.js';
import { type RollsSaid, rollsLines } from '../book/rolls-words.js';
import { aimOfWords, lengthOfWords, releaseOfWords } from '../event/noted-words.js';
import { LEAST_LINE, placeOffLine } from '../event/roll-line.js';
import { distance, insideRing, type Point } from '../geometry.js';
import type { GreenContent } from '../page/book-content.js';
import { STIMP_RELEASE_SPEED } from '../putt/green-speed.js';
import type { MeasuredRoll } from '../putt/roll-alone.js';
import { solvePutt } from '../putt/solve.js';
import type { StoredSurface } from '../surface/stored-surface.js';
import type { Surface } from '../surface/surface.js';
import type { UnitSystem } from '../units.js';

/** A ball that was sent from a place toward the hole, and where it lies: a place, or what was typed of it. */
export interface TappedRoll {
  readonly ball: Point;
  readonly hole: Point;
  /** Let go by a ramp that points at the hole, or putted at the computed aim. */
  readonly by: 'ramp' | 'putter';
  readonly rest: Point | string;
}

/** Balls, and the speed at which a ramp let them go as it was typed; empty for a stimpmeter's. */
export interface TappedRolls {
  readonly tapped: readonly TappedRoll[];
  readonly ramp: string;
}

export interface RollsAnswer {
  /** What `runnel roll` says, a line each. */
  readonly rows: readonly string[];
  readonly said: string;
  /** Where each ball came to rest. */
  readonly rests: readonly Point[];
  /** What tells nothing: the last of the balls, or the speed of the ramp; null where all is told. */
  readonly refused: 'ball' | 'release' | null;
}

/** "9ft 2in, 4 in left": along the line from ball to hole, and off it. */
const typedRest = (words: string, ball: Point, hole: Point): Point | null => {
  const [along, off = 'straight'] = words.split(',');
  const [far, side] = [lengthOfWords(along), aimOfWords(off)];
  if (far === null || far === 0 || side === null) return null;
  return placeOffLine(ball, hole, far, side);
};

/** A ball with the direction that it was sent off in; words where it tells nothing. `release`: a ramp's, m/s. */
const sentOff = (
  { ball, hole, by, rest }: TappedRoll,
  surface: Surface,
  { outline, stimp, past }: GreenContent,
  release: number,
): MeasuredRoll | string => {
  if (distance(ball, hole) < LEAST_LINE)
    return 'The ball lay at the hole: that tells no direction.';
  const lies = typeof rest === 'string' ? typedRest(rest, ball, hole) : rest;
  if (lies === null) return 'Write how far it rolled as in: 9ft 2in, or: 2.79 m, 4 in left.';
  if (![ball, hole, lies].every(([x, y]) => insideRing(outline, x, y))) {
    return 'The ball lies off the green: only balls that came to rest on it tell anything.';
  }
  const straight = Math.atan2(hole[1] - ball[1], hole[0] - ball[0]);
  if (by === 'ramp') {
    return { ball, direction: straight, release, rest: lies };
  }
  const putt = solvePutt(surface, ball, hole, { stimp, past });
  return putt.status === 'holed'
    ? { ball, direction: straight + putt.aimAngle, release: null, rest: lies }
    : 'No pace holds this putt, so that no aim is computed for it.';
};

/** What balls that came to rest tell of green speed, aim and survey, by the same fit as `runnel roll`. */
export const answerRolls = (
  { surface, stored }: { readonly surface: Surface; readonly stored: StoredSurface },
  green: GreenContent,
  { tapped, ramp }: TappedRolls,
  units: UnitSystem,
): RollsAnswer => {
  const nothing = (said: string, refused: RollsAnswer['refused'] = 'ball'): RollsAnswer => {
    return { rows: [], said, rests: [], refused };
  };
  if (green.worth.worth !== 'tables') {
    return nothing('The survey of this green does not carry putts: rolls tell nothing beside it.');
  }
  if (tapped.length === 0) return nothing('', null);
  const release = ramp === '' ? STIMP_RELEASE_SPEED : releaseOfWords(ramp);
  if (release === null) {
    return nothing(
      'Write the speed at which the ramp lets a ball go as in: 1.83 m/s, or: 6 ft/s.',
      'release',
    );
  }
  const rolls: MeasuredRoll[] = [];
  for (const one of tapped) {
    const sent = sentOff(one, surface, green, release);
    if (typeof sent === 'string') return nothing(sent);
    rolls.push(sent);
  }
  const said: RollsSaid = {
    holeId: green.holeId,
    thought: green.stimp,
    report: reportOfRolls({ surface, stored, bare: green.worth.bare }, rolls, green.stimp),
    balls: tapped.map(({ by }, k) => ({ name: `${by} ${k + 1}`, release: rolls[k].release })),
  };
  const rows = rollsLines(said, units);
  return { rows, said: rows[0], rests: rolls.map(({ rest }) => rest), refused: null };
};
