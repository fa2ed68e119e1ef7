import { faultsAt, InputFault } from '../fault.js';
import type { Box, Point, Ring } from '../geometry.js';
import {
  boxOf,
  boxOfCoordinates,
  convexHull,
  growBox,
  insideRing,
  signedArea,
} from '../geometry.js';
import { type FitReport, fitSurface, groundOfSurvey } from '../surface/fit.js';
import type { SharedFinding } from '../surface/shared-search.js';
import type { Surface } from '../surface/surface.js';
import type { Survey } from '../survey/survey.js';
import { readGreen } from '../terrain/read-green.js';
import type { Reading } from '../terrain/reading.js';
import { type GroundQuality, groundQuality, NOTHING_KNOWN } from './ground-quality.js';
import { type Spacing, spacingOf } from './spacing.js';
import { type StripStep, stripSteps } from './strip-steps.js';
import { judge, type Verdict } from './verdict.js';

/** A point that does not fit the ground round it; metres of the survey's plane. */
export interface OutlyingPoint {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Above the surface that the others make. */
  readonly residual: number;
}

export interface ClosedHollow {
  readonly at: Point;
  readonly depth: number;
  readonly drain: 'declared' | 'shown' | null;
}

/** What a survey is worth; metres of the survey's plane, square metres, grades as fractions. */
export interface Appraisal {
  readonly points: number;
  readonly kind: Survey['kind'];
  readonly cellSize: number | null;
  readonly breaklines: number;
  readonly extent: Box;
  readonly heights: readonly [number, number];
  /** The ground that is judged: the outline given, the hull of the points, or a square among them. */
  readonly outline: Ring;
  readonly ground: 'outline' | 'hull' | 'square';
  readonly area: number;
  readonly spacing: Spacing;
  /** Standard deviation of one height about the fitted surface; null when there are too few points to fit. */
  readonly noise: number | null;
  readonly statedSigma: number | null;
  readonly outliers: readonly OutlyingPoint[];
  readonly steps: readonly StripStep[];
  /** Drift and steps of the walk as the fit found them, with the size of step that it could have found. */
  readonly shared: SharedFinding | null;
  readonly hollows: readonly ClosedHollow[];
  readonly quality: GroundQuality;
  readonly verdict: Verdict;
  readonly notes: readonly string[];
  /** For a picture: the reading in metres from `origin`; null when there are too few points to fit. */
  readonly origin: Point;
  readonly reading: Reading | null;
}

export interface AppraisalOptions {
  readonly outline: Ring | null;
  readonly drains: readonly Point[];
  readonly length: (metres: number) => string;
  readonly small: (metres: number) => string;
  /** The surface of this survey on this outline and what was read on it, where both are known already. */
  readonly known?: KnownGround | null;
}

export interface KnownGround {
  readonly surface: Surface;
  readonly report: FitReport;
  /** Null where no hollows are asked for. */
  readonly reading: Reading | null;
}

/** A survey no wider than this is taken for one of a single green. */
const GREEN_EXTENT = 80;
/** Side of the square that is judged in a wider survey. */
const SQUARE = 30;
/** Points that the surface is fitted to; more are taken evenly from all. */
const FIT_LIMIT = 40_000;
/** Shallower hollows are within what any survey leaves, metres. */
const LEAST_HOLLOW = 0.005;
/** Fewer points than this on the ground are not fitted. */
const LEAST_POINTS = 12;
/**
 * Greens of half their ground over 5 % are not played: a ball does not stop on 7.8 % at a stimp reading of
 * ten feet (a0 / (5/7 g), textbook mechanics). Heights in feet taken for metres look so from 1.5 % on.
 */
const STEEP = 0.05;
/** Ground past the outline whose points still count, as in a book. */
const MARGIN = 6;

/** The square of 30 m that holds the most points, the first of equals. */
const densestSquare = (x: Float64Array, y: Float64Array, box: Box): Box => {
  const columns = Math.ceil((box.maxX - box.minX) / SQUARE) + 1;
  const counts = new Map<number, number>();
  let best = 0;
  let most = 0;
  for (let i = 0; i < x.length; i++) {
    const key =
      Math.floor((y[i] - box.minY) / SQUARE) * columns + Math.floor((x[i] - box.minX) / SQUARE);
    const count = (counts.get(key) ?? 0) + 1;
    counts.set(key, count);
    if (count > most) {
      best = key;
      most = count;
    }
  }
  const minX = box.minX + (best % columns) * SQUARE;
  const minY = box.minY + Math.floor(best / columns) * SQUARE;
  return { minX, minY, maxX: minX + SQUARE, maxY: minY + SQUARE };
};

/** The hull of the points, of no more than some thousands of them, evenly taken. */
const hullOf = (x: Float64Array, y: Float64Array): Ring => {
  const stride = Math.max(1, Math.ceil(x.length / FIT_LIMIT));
  const points: Point[] = [];
  for (let i = 0; i < x.length; i += stride) points.push([x[i], y[i]]);
  return convexHull(points);
};

const ringOf = ({ minX, minY, maxX, maxY }: Box): Ring => [
  [minX, minY],
  [maxX, minY],
  [maxX, maxY],
  [minX, maxY],
];

interface Part {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly time: Float64Array | null;
  readonly session: Int32Array | null;
}

/** The points in a box, from an origin; no more than `limit`, evenly taken. */
const partOf = (survey: Survey, box: Box, origin: Point, limit: number): Part => {
  const chosen: number[] = [];
  for (let i = 0; i < survey.x.length; i++) {
    const [px, py] = [survey.x[i], survey.y[i]];
    if (px >= box.minX && px <= box.maxX && py >= box.minY && py <= box.maxY) chosen.push(i);
  }
  const stride = Math.max(1, Math.ceil(chosen.length / limit));
  const kept = chosen.filter((_, k) => k % stride === 0);
  return {
    x: Float64Array.from(kept, (i) => survey.x[i] - origin[0]),
    y: Float64Array.from(kept, (i) => survey.y[i] - origin[1]),
    z: Float64Array.from(kept, (i) => survey.z[i]),
    time: survey.time ? Float64Array.from(kept, (i) => survey.time?.[i] ?? NaN) : null,
    session: survey.session ? Int32Array.from(kept, (i) => survey.session?.[i] ?? -1) : null,
  };
};

/**
 * Judges a survey on one green.
 *
 * @throws InputFault when too few points lie on the ground that is judged.
 */
export const appraise = (survey: Survey, options: AppraisalOptions): Appraisal => {
  const { x, y, z } = survey;
  const extent = boxOfCoordinates(x, y);
  const small = Math.max(extent.maxX - extent.minX, extent.maxY - extent.minY) <= GREEN_EXTENT;
  const ground = options.outline !== null ? 'outline' : small ? 'hull' : 'square';
  const outline = options.outline ?? (small ? hullOf(x, y) : ringOf(densestSquare(x, y, extent)));
  if (outline.length < 3 || Math.abs(signedArea(outline)) < 1) {
    throw new InputFault(
      { file: survey.source },
      `${x.length} points that cover no ground`,
      'a survey of a green has points all over it',
    );
  }
  const around = boxOf(outline);
  const known = options.known ?? null;
  // What is known is known in the survey's own frame.
  const origin: Point =
    known !== null
      ? [0, 0]
      : [Math.round((around.minX + around.maxX) / 2), Math.round((around.minY + around.maxY) / 2)];
  const local = outline.map(([px, py]): Point => [px - origin[0], py - origin[1]]);
  const near = growBox(around, MARGIN);
  const whole = partOf(survey, near, origin, Infinity);
  const part = partOf(survey, near, origin, FIT_LIMIT);
  const spacing = spacingOf(whole.x, whole.y, local);
  const drains = options.drains.map(([px, py]): Point => [px - origin[0], py - origin[1]]);
  const steps = stripSteps(part.x, part.y, part.z, local);
  const fitted =
    known ?? (spacing.onGreen < LEAST_POINTS ? null : fitPart(survey, part, local, origin));
  const reading =
    known !== null ? known.reading : fitted === null ? null : readGreen(fitted.surface, { drains });
  const noise = fitted?.report.sigma ?? null;
  const inflation =
    survey.kind === 'grid'
      ? 1
      : Math.max(1, (survey.statedSigma ?? 0) / Math.max(noise ?? 0, 1e-6));
  const quality = fitted === null ? NOTHING_KNOWN : groundQuality(fitted.surface, inflation);
  const outliers = fitted?.report.outliers ?? [];
  const onGreen = outliers.filter((o) => insideRing(local, o.x, o.y)).length;
  const shared = fitted?.report.shared ?? null;
  const verdict = judge({
    spacing,
    quality,
    steps: unexplained(steps, shared),
    stepPower: shared?.power ?? Infinity,
    ownWord: survey.kind === 'grid' && survey.statedSigma === null,
    outlierShare: onGreen / Math.max(1, spacing.onGreen),
    length: options.length,
    small: options.small,
  });
  const back = ([px, py]: Point): Point => [px + origin[0], py + origin[1]];
  let low = Infinity;
  let high = -Infinity;
  for (const h of z) {
    if (h < low) low = h;
    if (h > high) high = h;
  }
  return {
    points: x.length,
    kind: survey.kind,
    cellSize: survey.cellSize,
    breaklines: survey.breaklines.length,
    extent,
    heights: [low, high],
    outline,
    ground,
    area: Math.abs(signedArea(outline)),
    spacing: { ...spacing, gapAt: back(spacing.gapAt), bare: spacing.bare.map(back) },
    noise,
    statedSigma: survey.statedSigma,
    outliers: outliers
      .map(({ x: px, y: py, z: pz, residual }) => ({
        x: px + origin[0],
        y: py + origin[1],
        z: pz,
        residual,
      }))
      .sort((a, b) => Math.abs(b.residual) - Math.abs(a.residual)),
    shared,
    steps: steps.map((step) => ({ ...step, from: back(step.from), to: back(step.to) })),
    hollows: (reading?.hollows ?? [])
      .filter(({ depth, drain }) => depth >= LEAST_HOLLOW || drain === 'shown')
      .map(({ at, depth, drain }) => ({ at: back(at), depth, drain })),
    quality,
    verdict,
    notes: [
      ...(survey.notes ?? []),
      ...cautions(survey, ground, whole, part, quality.medianGrade),
      ...sharedCautions(shared, options.small),
      ...scatterCaution(survey.statedSigma, noise, options.small),
    ],
    origin,
    reading,
  };
};

/** Steps that the fit has not taken into account. */
const unexplained = (steps: readonly StripStep[], shared: SharedFinding | null): StripStep[] => {
  const heights = (shared?.steps ?? []).map(({ height }) => Math.abs(height));
  return steps.filter(({ height, sd }) =>
    heights.every((own) => Math.abs(Math.abs(height) - own) > 3 * sd + 0.25 * own),
  );
};

const fitPart = (survey: Survey, part: Part, outline: Ring, origin: Point) =>
  faultsAt({ file: survey.source }, () =>
    fitSurface({
      ...groundOfSurvey(survey),
      ...part,
      outline,
      breaklines: survey.breaklines.map((line) =>
        line.map(([px, py, pz]) => [px - origin[0], py - origin[1], pz] as const),
      ),
      statedSigma: survey.statedSigma,
    }),
  );

const sharedCautions = (
  shared: SharedFinding | null,
  small: (metres: number) => string,
): string[] => {
  if (shared === null) return [];
  const { drift, steps, suspected } = shared;
  return [
    ...(drift === null
      ? []
      : [
          `the heights drift by ${small(drift.sd)} along the walk; that is taken off, and its doubt counted`,
        ]),
    ...steps.map(
      ({ height, after }) =>
        `one part lies ${small(Math.abs(height))} ${height > 0 ? 'higher' : 'lower'}${after === null ? ' across a straight line' : ` from point ${after + 1} near the green on`}; that is taken off, and its doubt counted`,
    ),
    ...(suspected === null
      ? []
      : [
          `a step of about ${small(Math.abs(suspected.height))} in the walk could not be excluded; its doubt is counted`,
        ]),
  ];
};

/** Points that scatter this much more than their survey states were taken for what they show. */
const MORE_THAN_STATED = 1.25;

const scatterCaution = (
  stated: number | null,
  noise: number | null,
  small: (metres: number) => string,
): string[] =>
  stated === null || noise === null || noise <= MORE_THAN_STATED * stated
    ? []
    : [
        `the points scatter by ${small(noise)}, more than the ${small(stated)} that the survey states: the larger counts`,
      ];

/** What the reader of the report should know of how it was judged. */
const cautions = (
  survey: Survey,
  ground: Appraisal['ground'],
  whole: Part,
  part: Part,
  medianGrade: number,
): string[] => {
  const notes: string[] = [];
  if (medianGrade > STEEP) {
    notes.push(
      `half the ground is steeper than ${(100 * medianGrade).toFixed(1)} %, more than a green can be: check the vertical unit`,
    );
  }
  if (ground === 'hull') {
    notes.push('no outline given: the ground inside the outermost points is judged');
  } else if (ground === 'square') {
    notes.push('no outline given: the square of 30 m with the most points is judged');
  }
  if (survey.kind === 'grid' && survey.statedSigma === null) {
    notes.push(
      'a grid is smoothed already, and its roughness shows less than the error of the points beneath it: state that error to have it counted',
    );
  }
  if (part.x.length < whole.x.length) {
    notes.push(
      `${part.x.length} of the ${whole.x.length} points round the green, evenly taken, were fitted`,
    );
  }
  return notes;
};
