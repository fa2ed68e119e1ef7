import { tenTo } from '../power.js';
import { bendingMatrix } from './bending.js';
import { closerLines } from './closer-lines.js';
import { boundedKnotGrid } from './knot-grid.js';
import { lineInformation } from './line-information.js';
import { curvaturesAt, localStiffness } from './local-stiffness.js';
import { observe } from './observations.js';
import type { Scatter } from './scatter.js';
import { sharedInformation } from './shared-errors.js';
import { problemOf, solveAt, squareLeft } from './smoothing.js';
import type { Surface } from './surface.js';
import {
  CLEAR_DRIFT,
  cautious,
  type Drift,
  driftBeside,
  driftGainOf,
  driftOf,
  driftPriors,
  driftsAt,
  type FoundDrift,
  LEAST_SQUARE,
  type Moments,
  minusTwiceLog,
  momentsOf,
} from './walk-drift.js';
import {
  excess,
  firstAfter,
  powerOf,
  type SharedStep,
  type StraightLine,
  stepGain,
  stepLimits,
  straightSteps,
  suspectOf,
  type TriedStep,
  triedStep,
  walkSteps,
} from './walk-steps.js';
import type { FlatGround } from './wave-search.js';

/**
 * Looks for errors that neighbouring points share, by restricted likelihood (Patterson & Thompson,
 * Biometrika 58 (1971) 545-554) of a ground of even stiffness: a drift along the order of walking, as a
 * first-order Gauss-Markov process (so Odolinski, GPS Solutions 16 (2012), finds satellite positioning), a
 * step at a moment of the walk (a session's end), a straight step across the green (two swaths).
 */
export interface SharedFinding {
  /** Standard deviation of the drift, metres, and the points (or seconds, where times are known) it lasts. */
  readonly drift: FoundDrift | null;
  /** Steps found: by the point of the walk after which the level is another, or by the line it runs along. */
  readonly steps: readonly SharedStep[];
  /** A step of the walk that is not clear, and not excluded either. */
  readonly suspected: SharedStep | null;
  /** The same of a drift. */
  readonly possibleDrift: FoundDrift | null;
  /** A step as large as this would have been found with nineteen chances in twenty, metres. */
  readonly power: number;
}

/** Knots of the ground by which the search is made, metres: wide, since only what is common is wanted. */
const SEARCH_STEP = 1.2;
/** And where the ground is sharp: to wide ones the face of a tier is a step, or a drift, of the survey. */
const SHARP_SEARCH_STEP = 0.6;
const SMOOTHINGS = [-2, -1.3, -0.6, 0.1, 0.8].map((e) => tenTo(e));
/**
 * And must still gain on ground that may bend where a first fit found it to: a valley that is walked along looks
 * like a drift to ground of even stiffness, and not to that. A third of what is clear: the first fit, which knew of
 * no drift, took some of a true one for ground.
 */
const KEPT_ON_GROUND = 4;
/** Twice the logarithm of the likelihood that a drift must gain not to be excluded. Set on seed 133000. */
const SUSPECT_DRIFT = 3;
/** Ground with breaklines bends as only they tell: all must be so much clearer there. */
const BESIDE_BREAKS = 2;
/** A drift has more ways to fit than a step: what it must gain over one, in twice the log likelihood. */
const PRICE_OF_DRIFT = 6;
/** Neighbourhood of the local stiffness, where the ground is sharp, metres. */
const NEIGHBOURHOOD = 1;
/** What a step is expected to be before it is seen, metres: it hardly holds the estimate. */
export const STEP_PRIOR = 0.2;

export interface SearchOptions {
  /** Whether the order of the points (or their time) is that of a walk, and how many of the scatter's are walked. */
  readonly walk: boolean;
  readonly time: Float64Array | null;
  readonly points: number;
  /** Weights of the points from a first fit, that fit, and whether it found the ground to bend sharply. */
  readonly weights: Float64Array;
  readonly pilot: Surface['at'];
  readonly sharp: boolean;
  /** Standard deviation of a point where the points do not show it (see Scatter.knownSigma). */
  readonly sigma: number | null;
}

/** The ground of the search, stiff as `pilot` bends (null: evenly): its problem, and its likelihood at any smoothing. */
const searchGround = (
  scatter: Scatter,
  { weights }: SearchOptions,
  pilot: Surface['at'] | null,
) => {
  const { x, y, z, breaklines } = scatter;
  const step = pilot === null ? SEARCH_STEP : SHARP_SEARCH_STEP;
  const grid = boundedKnotGrid(scatter, step);
  const obs = observe(grid, x, y, z);
  const problem = problemOf(
    grid,
    obs,
    Float64Array.from(obs.source, (p) => weights[p]),
  );
  const stiffness =
    pilot === null && breaklines.length === 0
      ? null
      : localStiffness(
          grid,
          pilot === null ? null : curvaturesAt(grid, pilot),
          NEIGHBOURHOOD,
          breaklines,
        );
  const energy = bendingMatrix(grid, stiffness, 1);
  const free = problem.mass - 3;
  return (smoothing: number) => {
    const { factor, residuals } = solveAt(problem, energy, smoothing);
    const constant = factor.logDeterminant - (grid.size - 3) * Math.log(smoothing);
    return {
      free,
      constant,
      square: Math.max(LEAST_SQUARE, squareLeft(problem, residuals)),
      problem,
      factor,
      moments: (moments: Moments) => sharedInformation(problem, factor, { ...moments, width: 2 }),
      /** Steps along lines all over the points, and along those between the clearest of them. */
      across: (variance: number): { readonly wide: TriedStep[]; readonly close: TriedStep[] } => {
        const along = (lines: readonly StraightLine[]): TriedStep[] => {
          const told = lineInformation({ problem, factor }, scatter, lines);
          return lines.flatMap((line, k) =>
            triedStep(told.information[k], told.score[k], variance, { after: null, line }),
          );
        };
        const wide = along(straightSteps(x, y, obs.source));
        const left = {
          x: Float64Array.from(obs.source, (p) => x[p]),
          y: Float64Array.from(obs.source, (p) => y[p]),
          off: residuals.map((r, k) => r * problem.weights[k]),
        };
        const { minX, maxX, minY, maxY } = scatter.box;
        const closer = closerLines(wide, left, [(minX + maxX) / 2, (minY + maxY) / 2]);
        const close = along(closer.toSorted((a, b) => a.angle - b.angle || a.offset - b.offset));
        return { wide, close };
      },
    };
  };
};

/** What was found, and what was looked for. */
interface Search {
  readonly finding: SharedFinding;
  readonly straight: readonly TriedStep[];
  /** Steps of the walk that were tried, a moment each. */
  readonly walked: readonly TriedStep[];
  /** Drifts that were tried. */
  readonly drifts: readonly Drift[];
  /** Gain of twice the log likelihood by what was found. */
  readonly gain: number;
  /** The ground of the search, and whether it bends as a first fit does. */
  readonly ground: FlatGround & { readonly bent: boolean };
}

export const searchShared = (scatter: Scatter, options: SearchOptions): Search => {
  const { breaklines } = scatter;
  const strict = breaklines.length > 0 ? BESIDE_BREAKS : 1;
  const { walk, time, points, sigma, sharp, pilot } = options;
  const ground = searchGround(scatter, options, sharp ? pilot : null);
  const moments = walk ? momentsOf(time, points) : null;
  const { plain, one, told, drifts } = likeliest(ground, moments, points);
  const over = { problem: one.problem, factor: one.factor, bent: sharp };
  const driftGain = driftGainOf({ plain, drifts });
  const variance = sigma === null ? one.square / one.free : sigma * sigma;
  const walked =
    moments === null || told === null
      ? []
      : walkSteps(told, moments.count).flatMap(({ at, information, score }) => {
          const after = firstAfter(time, points, moments.times[at - 1], moments.times[at]);
          return triedStep(information, score, variance, { after, line: null });
        });
  const { wide, close } = one.across(variance);
  const straight = [...wide, ...close];
  const limits = stepLimits(wide.length, strict, sharp);
  const best = [...walked, ...straight].reduce<TriedStep | null>(
    (most, next) => (most === null || excess(next, limits) > excess(most, limits) ? next : most),
    null,
  );
  const found =
    best !== null &&
    excess(best, limits) >= 0 &&
    stepGain(best, variance, one.square, one.free) > driftGain - PRICE_OF_DRIFT;
  if (!found || best === null) {
    const clear = driftGain > strict ** 2 * CLEAR_DRIFT;
    // What the ground itself explains is searched anew on ground that bends as the first fit does.
    if (clear && !sharp && gainOnGround(scatter, options, moments) < KEPT_ON_GROUND) {
      return searchShared(scatter, { ...options, sharp: true });
    }
    const drift = clear ? driftOf(cautious(drifts)) : null;
    const suspected = strict > 1 ? null : suspectOf(walked);
    const possible = drift === null && strict === 1 && driftGain > SUSPECT_DRIFT;
    const kept = possible && (sharp || gainOnGround(scatter, options, moments) > SUSPECT_DRIFT);
    const possibleDrift = kept ? driftOf(cautious(drifts)) : null;
    const power = powerOf([...walked, ...wide], limits);
    const gain = clear ? driftGain : 0;
    return {
      finding: { drift, steps: [], suspected, possibleDrift, power },
      straight,
      walked,
      drifts,
      gain,
      ground: over,
    };
  }
  const { height, sd, after, line } = best;
  const beside =
    moments === null || told === null
      ? { gain: 0, drift: null }
      : driftBeside({ ...one, told }, moments, points, best, time);
  const isClear = beside.gain > CLEAR_DRIFT;
  const power = powerOf([...walked, ...wide], limits);
  return {
    finding: {
      drift: isClear ? beside.drift : null,
      steps: [{ height, sd, after, line }],
      suspected: null,
      possibleDrift: !isClear && beside.gain > SUSPECT_DRIFT ? beside.drift : null,
      power,
    },
    straight,
    walked,
    drifts,
    gain: stepGain(best, variance, one.square, one.free),
    ground: over,
  };
};

/** The ground at its likeliest smoothing without a drift, and the drifts tried at each. */
const likeliest = (
  ground: ReturnType<typeof searchGround>,
  moments: Moments | null,
  points: number,
) => {
  const drifts: Drift[] = [];
  const priors = moments === null ? [] : driftPriors(moments, points);
  const tried = SMOOTHINGS.map((smoothing) => {
    const one = ground(smoothing);
    const told = moments === null ? null : one.moments(moments);
    if (moments !== null && told !== null) {
      drifts.push(...driftsAt({ ...one, told }, priors));
    }
    return { plain: minusTwiceLog(one), one, told };
  });
  const best = tried.reduce((least, next) => (next.plain < least.plain ? next : least));
  return { ...best, drifts };
};

/** What a drift gains on ground that bends as the first fit does. */
const gainOnGround = (scatter: Scatter, options: SearchOptions, moments: Moments | null): number =>
  driftGainOf(likeliest(searchGround(scatter, options, options.pilot), moments, options.points));

/** Ground of even stiffness, without errors that points share, at its likeliest smoothing. */
export const likeliestEven = (scatter: Scatter, options: SearchOptions): FlatGround =>
  likeliest(searchGround(scatter, options, null), null, 0).one;
