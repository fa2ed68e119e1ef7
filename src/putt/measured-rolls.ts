import type { Point } from '../geometry.js';
import { distance } from '../geometry.js';
import { TWO_SIDED_95 } from '../surface/normal-distribution.js';
import type { Surface } from '../surface/surface.js';
import {
  besideComputed,
  type MeasuredRoll,
  NOTHING,
  type RollAlone,
  restOf,
  rootMeanSquare,
  solvedFor,
} from './roll-alone.js';
import { meanAndSd, standingApart, studentQuantile } from './student.js';

/** Stimp readings that are tried, metres. */
const SLOWEST = 0.4;
const FASTEST = 9;
/** And speeds of release, m/s. */
const SOFTEST = 0.2;
const HARDEST = 10;
/** A figure of several rolls with its interval of 95 %. */
export interface Estimate {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Standard deviation from roll to roll. */
  readonly spread: number;
}

/**
 * Mean and interval of values whose scatter is unknown (Student's t) and that share what the ground may be:
 * `shared` holds the mean change by each drawn ground.
 */
const estimateOf = (values: readonly number[], shared: readonly number[]): Estimate => {
  const { mean, sd } = meanAndSd(values);
  const own = (studentQuantile(0.05, values.length - 1) * sd) / Math.sqrt(values.length);
  const half = Math.hypot(own, TWO_SIDED_95 * rootMeanSquare(shared));
  return { value: mean, low: mean - half, high: mean + half, spread: sd };
};

const meanOfDraws = (
  rolls: readonly RollAlone[],
  of: (draw: RollAlone['draws'][number]) => number,
): number[] => {
  const count = Math.min(...rolls.map(({ draws }) => draws.length));
  return Array.from(
    { length: Number.isFinite(count) ? count : 0 },
    (_, k) => rolls.reduce((sum, { draws }) => sum + of(draws[k]), 0) / rolls.length,
  );
};

/** How a roll lies beside what was computed for it. */
export type RollVerdict =
  /** Within what the one who sends it off scatters. */
  | 'as-computed'
  /** Farther off, and within what the survey's doubt allows. */
  | 'survey'
  /** Farther off than both. */
  | 'unexplained'
  /** Apart from all the others: a slip in the writing, or of the ball. */
  | 'apart'
  /** No green speed, or no release, brings it there. */
  | 'impossible'
  /** Its way leads over ground without points: nothing is told of it. */
  | 'unsurveyed';

export interface RollReport {
  readonly alone: RollAlone;
  readonly verdict: RollVerdict;
}

export interface RollsReport {
  /** Green speed, metres of stimp reading; null where fewer than two rolls of a known release count. */
  readonly stimp: Estimate | null;
  /** What the balls of a known release, and those of a putter, have in common: radians, positive left. */
  readonly turnOfRamp: Estimate | null;
  readonly turnOfPutter: Estimate | null;
  readonly rolls: readonly RollReport[];
}

/**
 * Standard deviations of the direction that a ball is sent off in, radians: laid by a ramp, 0.5 degrees
 * (common practice, no source); by a putter, 1 degree: more than twice what Karlsen, Smith & Nilsson, J. Sports
 * Sci. 26 (2008), found of players at the top (0.39 degrees, figure from memory).
 */
const RAMP_TURN = (0.5 * Math.PI) / 180;
const PUTTER_TURN = Math.PI / 180;
/** Relative standard deviation of the length of a roll by its release and the turf (common practice, no source). */
const ROLL_LENGTH = 0.04;

export interface RollsQuestion {
  readonly surface: Surface;
  /** Grounds drawn from the survey's posterior. */
  readonly drawn: readonly Surface[];
  readonly rolls: readonly MeasuredRoll[];
  /** Green speed that is taken where the rolls tell none, metres. */
  readonly stimp: number;
  readonly crossesBare: (path: readonly Point[]) => boolean;
}

/** What the rolls of a known release say of the green speed, each by itself. */
const ownSpeeds = ({ surface, rolls, crossesBare }: RollsQuestion) =>
  rolls.map((roll) => {
    const { release } = roll;
    if (release === null) return { stimp: null, bare: false };
    const stimp = solvedFor(roll, [SLOWEST, FASTEST], (s) => restOf(surface, roll, s, release));
    const path = stimp === null ? [] : (restOf(surface, roll, stimp, release)?.path ?? []);
    return { stimp, bare: crossesBare(path) };
  });

/** Each roll beside the ground at its own green speed, or at its own release. */
const alone = (
  { surface, drawn, rolls }: RollsQuestion,
  own: readonly (number | null)[],
  stimp: number,
): RollAlone[] =>
  rolls.map((roll, k) => {
    const { ball, rest, release } = roll;
    if (release !== null) {
      const speed = own[k];
      if (speed === null) return { ...NOTHING, release };
      const told = besideComputed(surface, drawn, roll, [speed, release]);
      const common = restOf(surface, roll, stimp, release);
      const longer = common === null ? null : Math.log(distance(ball, rest) / common.far);
      return { ...told, longer, stimp: speed, release };
    }
    const found = solvedFor(roll, [SOFTEST, HARDEST], (v) => restOf(surface, roll, stimp, v));
    if (found === null) return NOTHING;
    return { ...besideComputed(surface, drawn, roll, [stimp, found]), stimp: null, release: found };
  });

/** Of the indices given, those whose value stands apart, by three of its usual deviations at least. */
const apartOf = (
  indices: readonly number[],
  value: (index: number) => number,
  usual: number,
): number[] => standingApart(indices.map(value), 3 * usual).map((k) => indices[k]);

const estimateTurn = (rolls: readonly RollAlone[]): Estimate | null =>
  rolls.length < 2
    ? null
    : estimateOf(
        rolls.map(({ turn }) => turn ?? 0),
        meanOfDraws(rolls, ({ turn }) => turn),
      );

const verdictOf = (
  one: RollAlone,
  common: { readonly turn: number; readonly launch: number; readonly knowsRelease: boolean },
): RollVerdict => {
  const side = Math.abs((one.turn ?? 0) - common.turn);
  const long = common.knowsRelease ? Math.abs(one.longer ?? Infinity) : 0;
  const within = (survey: number): boolean =>
    side <= TWO_SIDED_95 * Math.hypot(common.launch, survey * one.turnSd) &&
    long <= TWO_SIDED_95 * Math.hypot(ROLL_LENGTH, survey * one.lengthSd);
  if (within(0)) return 'as-computed';
  return within(1) ? 'survey' : 'unexplained';
};

/**
 * What measured rolls say of the green speed, of the aim and of the survey. Each roll of a known release gives
 * the green speed by which it comes to rest where it did on this ground, so that no slope is left in it; their
 * mean is the green's, their scatter its spread. The direction in which a ball lies beside the computed one is
 * left over: what all have in common is aim, what the drawn grounds show as well is the survey's doubt.
 */
export const measuredRolls = (question: RollsQuestion): RollsReport => {
  const { rolls, crossesBare } = question;
  const speeds = ownSpeeds(question);
  const known = rolls.flatMap((_, k) => (speeds[k].stimp === null || speeds[k].bare ? [] : [k]));
  const apart = new Set(apartOf(known, (k) => Math.log(speeds[k].stimp ?? 1), ROLL_LENGTH));
  const sound = known.filter((k) => !apart.has(k));
  const stimps = sound.map((k) => Math.log(speeds[k].stimp ?? 1));
  const middle =
    stimps.length === 0
      ? question.stimp
      : Math.exp(stimps.reduce((sum, value) => sum + value, 0) / stimps.length);
  const each = alone(
    question,
    speeds.map(({ stimp }) => stimp),
    middle,
  );
  const isBare = each.map((one, k) => speeds[k].bare || crossesBare(one.path));
  const isTold = (k: number): boolean => each[k].turn !== null && !isBare[k] && !apart.has(k);
  const groups = [true, false].map((isRamp) => {
    const told = rolls.flatMap((roll, k) =>
      (roll.release !== null) === isRamp && isTold(k) ? [k] : [],
    );
    const aside = apartOf(told, (k) => each[k].turn ?? 0, isRamp ? RAMP_TURN : PUTTER_TURN);
    for (const k of aside) apart.add(k);
    return told.filter((k) => !aside.includes(k));
  });
  const counted = sound.filter((k) => !apart.has(k));
  const logs = counted.map((k) => Math.log(speeds[k].stimp ?? 1));
  const shares = meanOfDraws(
    counted.map((k) => each[k]),
    ({ stimp }) => stimp,
  );
  const speed = logs.length < 2 ? null : estimateOf(logs, shares);
  const [ramp, putter] = groups.map((group) => estimateTurn(group.map((k) => each[k])));
  return {
    stimp:
      speed === null
        ? null
        : {
            value: Math.exp(speed.value),
            low: Math.exp(speed.low),
            high: Math.exp(speed.high),
            spread: Math.exp(speed.value) * speed.spread,
          },
    turnOfRamp: ramp,
    turnOfPutter: putter,
    rolls: rolls.map(({ release }, k) => {
      const knowsRelease = release !== null;
      const common = {
        turn: (knowsRelease ? ramp : putter)?.value ?? 0,
        launch: knowsRelease ? RAMP_TURN : PUTTER_TURN,
        knowsRelease,
      };
      const verdict = isBare[k]
        ? 'unsurveyed'
        : each[k].turn === null
          ? 'impossible'
          : apart.has(k)
            ? 'apart'
            : verdictOf(each[k], common);
      return { alone: each[k], verdict };
    }),
  };
};
