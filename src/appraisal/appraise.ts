import { faultsAt } from '../fault.js';
import type { Box, Point, Ring } from '../geometry.js';
import { insideRing } from '../geometry.js';
import { type FitReport, fitSurface, groundOfSurvey } from '../surface/fit.js';
import type { SharedFinding } from '../surface/shared-search.js';
import type { Surface } from '../surface/surface.js';
import type { Survey } from '../survey/survey.js';
import { readGreen } from '../terrain/read-green.js';
import type { Reading } from '../terrain/reading.js';
import {
  AIM_PER_GRADE,
  type GroundQuality,
  groundQuality,
  NOTHING_KNOWN,
} from './ground-quality.js';
import { type JudgedGround, judgedGround } from './judged-ground.js';
import { type Spacing, spacingOf } from './spacing.js';
import { type AppraisedStep, appraisedSteps } from './steps-left.js';
import { cautionsOf } from './survey-cautions.js';
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
  /** Whether its places were paced. */
  readonly byHand: boolean;
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
  readonly steps: readonly AppraisedStep[];
  /** Drift and steps of the walk as the fit found them, with the size of step that it could have found. */
  readonly shared: SharedFinding | null;
  /** Waves of the ground too short to draw that were found, and what could have been; null where none were looked for. */
  readonly waves: FitReport['waves'];
  readonly wavePower: FitReport['wavePower'];
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

/** Shallower hollows are within what any survey leaves, metres. */
const LEAST_HOLLOW = 0.005;
/** Fewer points than this on the ground are not fitted. */
const LEAST_POINTS = 12;

const fitPart = (survey: Survey, { part, local, origin }: JudgedGround) =>
  faultsAt({ file: survey.source }, () =>
    fitSurface({
      ...groundOfSurvey(survey),
      ...part,
      outline: local,
      breaklines: survey.breaklines.map((line) =>
        line.map(([px, py, pz]) => [px - origin[0], py - origin[1], pz] as const),
      ),
      statedSigma: survey.statedSigma,
    }),
  );

/** The surface and what is read on it, where there are points enough; null for each that there is not. */
const fittedTo = (
  survey: Survey,
  ground: JudgedGround,
  onGreen: number,
  { known, drains }: AppraisalOptions,
): { readonly fitted: Omit<KnownGround, 'reading'> | null; readonly reading: Reading | null } => {
  if (known) return { fitted: known, reading: known.reading };
  if (onGreen < LEAST_POINTS) return { fitted: null, reading: null };
  const fitted = fitPart(survey, ground);
  const [x0, y0] = ground.origin;
  const placed = drains.map(([px, py]): Point => [px - x0, py - y0]);
  return { fitted, reading: readGreen(fitted.surface, { drains: placed }) };
};

const rangeOf = (heights: Float64Array): [low: number, high: number] => {
  let low = Infinity;
  let high = -Infinity;
  for (const h of heights) {
    if (h < low) low = h;
    if (h > high) high = h;
  }
  return [low, high];
};

/**
 * Judges a survey on one green.
 *
 * @throws InputFault when too few points lie on the ground that is judged.
 */
export const appraise = (survey: Survey, options: AppraisalOptions): Appraisal => {
  // What is known is known in the survey's own frame.
  const ground = judgedGround(survey, options.outline, (options.known ?? null) !== null);
  const { local, whole, origin } = ground;
  const spacing = spacingOf(whole.x, whole.y, local);
  const { fitted, reading } = fittedTo(survey, ground, spacing.onGreen, options);
  const noise = fitted?.report.sigma ?? null;
  const shared = fitted?.report.shared ?? null;
  const outliers = fitted?.report.outliers ?? [];
  const waves = fitted?.report.waves ?? [];
  const possibleWave = fitted?.report.possibleWave ?? null;
  const wavePower = fitted?.report.wavePower ?? null;
  const unseen = fitted?.report.unseen ?? 0;
  const swathStep = fitted?.report.pointError.swathStep ?? 0;
  const steps = appraisedSteps(survey, ground, fitted?.report ?? null);
  const quality = fitted === null ? NOTHING_KNOWN : groundQuality(fitted.surface);
  const outlying = outliers.filter((o) => insideRing(local, o.x, o.y)).length;
  const byHand = (survey.paced ?? null) !== null;
  const verdict = judge({
    spacing,
    quality,
    steps: steps.filter(({ takenOff }) => !takenOff),
    stepPower: shared?.power ?? Infinity,
    // Where an edge may run unseen, what the heights say of each line counts; else the worst of the lines.
    stepAim: quality.edgeAim ?? AIM_PER_GRADE * (fitted?.report.missedTilt ?? Infinity),
    adrift: (shared?.drift ?? shared?.possibleDrift ?? null) !== null,
    byHand,
    ownWord: survey.kind === 'grid' && survey.statedSigma === null,
    outlierShare: outlying / Math.max(1, spacing.onGreen),
    length: options.length,
    small: options.small,
  });
  const back = ([px, py]: Point): Point => [px + origin[0], py + origin[1]];
  return {
    points: survey.x.length,
    kind: survey.kind,
    byHand,
    cellSize: survey.cellSize,
    breaklines: survey.breaklines.length,
    extent: ground.extent,
    heights: rangeOf(survey.z),
    outline: ground.outline,
    ground: ground.kind,
    area: ground.area,
    spacing: { ...spacing, gapAt: back(spacing.gapAt), bare: spacing.bare.map(back) },
    noise,
    statedSigma: survey.statedSigma,
    outliers: outliers
      .map(({ x, y, z, residual }) => ({ x: x + origin[0], y: y + origin[1], z, residual }))
      .sort((a, b) => Math.abs(b.residual) - Math.abs(a.residual)),
    shared,
    waves,
    wavePower,
    steps: steps.map((step) => ({ ...step, from: back(step.from), to: back(step.to) })),
    hollows: (reading?.hollows ?? [])
      .filter(({ depth, drain }) => depth >= LEAST_HOLLOW || drain === 'shown')
      .map(({ at, depth, drain }) => ({ at: back(at), depth, drain })),
    quality: { ...quality, unsure: quality.unsure.map(back) },
    verdict,
    notes: [
      ...(survey.notes ?? []),
      ...cautionsOf(
        survey,
        ground,
        {
          ...{ quality, noise, shared, waves, possibleWave, wavePower, unseen, swathStep },
          off: outliers.map(({ index }) => index),
        },
        options,
      ),
    ],
    origin,
    reading,
  };
};
