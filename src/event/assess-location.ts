import type { Point, Ring } from '../geometry.js';
import { distance, signedArea, signedDistanceToRing } from '../geometry.js';
import { type Roll, rollToRest } from '../putt/roll.js';
import { type PuttGround, puttGround } from '../putt/workspace.js';
import { HX, HY, JET_SIZE, type Surface } from '../surface/surface.js';
import { fallAt } from '../terrain/fall.js';
import { METRES_PER_PACE } from '../units.js';
import { edgeRule, type Guidance, type Rule } from './guidance.js';

/** A place where a hole was cut before, and what it is called. */
export interface EarlierLocation {
  readonly at: Point;
  readonly name: string;
}

/** One thing that guidance asks, as measured. */
export interface RuleFinding {
  readonly rule: Rule;
  /** Metres, or a grade as a fraction; Infinity where a ball does not stop, or there is no earlier hole. */
  readonly value: number;
  readonly limit: number;
  readonly kept: boolean;
  /** How well it is kept, 0 at the limit (or beyond it) to 1. */
  readonly merit: number;
  /** By what share of the limit it is broken; 0 when kept. */
  readonly breach: number;
}

export interface Assessment {
  readonly at: Point;
  /** Of a green without a survey only the distances. */
  readonly findings: Readonly<Record<'edge' | 'turf', RuleFinding>> &
    Readonly<Partial<Record<Rule, RuleFinding>>>;
  readonly kept: boolean;
  /** Mean of the merits, 0 to 1; by it locations that keep the guidance are ranked. */
  readonly score: number;
  /** Sum of the breaches; by it those that do not are. */
  readonly breach: number;
  /** The earlier location that is nearest; null when there is none. */
  readonly nearest: EarlierLocation | null;
}

/** An assessment on surveyed ground. */
export interface GroundAssessment extends Assessment {
  readonly findings: Readonly<Record<Rule, RuleFinding>>;
}

/** One green at one speed, ready to assess many locations. */
export interface Site {
  readonly surface: Surface;
  readonly guidance: Guidance;
  readonly stimp: number;
  /** Least distance from the edge on this green. */
  readonly edge: number;
  readonly putts: PuttGround;
  /** Whether a way, point after point, crosses ground that nothing is known of; null: none does. */
  readonly crossesUnknown: ((way: readonly Point[]) => boolean) | null;
}

export const siteFor = (
  surface: Surface,
  stimp: number,
  guidance: Guidance,
  crossesUnknown: Site['crossesUnknown'] = null,
): Site => ({
  surface,
  crossesUnknown,
  guidance,
  stimp,
  edge: edgeRule(guidance, Math.abs(signedArea(surface.outline))),
  putts: puttGround(surface, { stimp, past: guidance.past }),
});

const clamp = (value: number): number => Math.min(1, Math.max(0, value));

/** Distances are walked: they count to the tenth of a pace. */
const WALKED = 0.05 * METRES_PER_PACE;

/** A distance that must reach its limit; more is better up to `ease`. */
const atLeast = (rule: Rule, value: number, limit: number, ease: number): RuleFinding => {
  const kept = value >= limit - WALKED;
  return {
    rule,
    value,
    limit,
    kept,
    merit: value === Infinity ? 1 : clamp((value - limit) / (ease - limit)),
    breach: kept ? 0 : (limit - value) / limit,
  };
};

/** A finding whose value must not exceed its limit; less is better down to `best`. */
const atMost = (rule: Rule, value: number, limit: number, best: number): RuleFinding => ({
  rule,
  value,
  limit,
  kept: value <= limit,
  merit: value === Infinity ? 0 : clamp((limit - value) / (limit - best)),
  // A ball that does not stop at all is worse than any figure, but must stay comparable.
  breach: value <= limit ? 0 : Math.min(3, (value - limit) / limit),
});

const RINGS = [0.5, 1] as const;
const SPOKES = 16;

/** Places on the ground round a hole: its middle, and two rings. */
const placesRound = (at: Point, radius: number): Point[] => [
  at,
  ...RINGS.flatMap((share) =>
    Array.from({ length: SPOKES }, (_, k): Point => {
      const turn = (2 * Math.PI * k) / SPOKES;
      return [at[0] + share * radius * Math.cos(turn), at[1] + share * radius * Math.sin(turn)];
    }),
  ),
];

/** The steepest grade round a place, and the greatest departure of the gradient there from its mean. */
const gradesRound = (
  surface: Surface,
  at: Point,
  radius: number,
): { readonly steepest: number; readonly unevenness: number } => {
  const jet = new Float64Array(JET_SIZE);
  const slopes = placesRound(at, radius).map(([x, y]): Point => {
    surface.at(x, y, jet);
    return [jet[HX], jet[HY]];
  });
  const mean: Point = [
    slopes.reduce((sum, s) => sum + s[0], 0) / slopes.length,
    slopes.reduce((sum, s) => sum + s[1], 0) / slopes.length,
  ];
  return {
    steepest: Math.max(...slopes.map((s) => Math.hypot(s[0], s[1]))),
    unevenness: Math.max(...slopes.map((s) => distance(s, mean))),
  };
};

/** Local tolerance of the roll past the hole, metres: it is told to the centimetre. */
const ROLL_TOLERANCE = 2e-5;

/** Directions in which a ball from above may pass the hole, from straight down the fall line, radians. */
const FROM_ABOVE = [0, Math.PI / 4, -Math.PI / 4];

/** Points of such a roll where its way is asked for, metres apart. */
const ROLL_SPACING = 0.25;

/** The rolls of a ball from above past the hole, straight down the fall line and 45 degrees to either side. */
const rollsPast = (site: Site, at: Point): Roll[] => {
  const { toward: fall, grade } = fallAt(site.surface, at);
  const speed = site.putts.arrivalSpeed;
  const spacing = site.crossesUnknown === null ? Infinity : ROLL_SPACING;
  return FROM_ABOVE.map((turn) => {
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    const along: Point = [fall[0] * c - fall[1] * s, fall[0] * s + fall[1] * c];
    // The speed is along the ground; the roll starts with its horizontal part.
    const level = speed / Math.hypot(1, grade * c);
    const launch: Point = [along[0] * level, along[1] * level];
    return rollToRest(site.putts, at, launch, null, { spacing, tolerance: ROLL_TOLERANCE });
  });
};

/** Whether what a place is judged by rests on ground that nothing is known of. */
export const restsOnUnknown = (site: Site, at: Point): boolean => {
  const { crossesUnknown, guidance } = site;
  if (crossesUnknown === null) return false;
  return (
    placesRound(at, guidance.around).some((one) => crossesUnknown([one])) ||
    rollsPast(site, at).some(({ path }) => crossesUnknown(path))
  );
};

/**
 * How far a ball from above runs past the hole, metres along the ground: it passes the hole at the pace
 * that would carry it `guidance.past` on a level green, and rolls on over the real ground, straight down
 * the fall line and 45 degrees to either side; the longest of the three. Infinity when one does not stop
 * on the green.
 */
const runsPast = (site: Site, at: Point): number => {
  let longest = 0;
  for (const { status, rolled } of rollsPast(site, at)) {
    if (status !== 'short') return Infinity;
    longest = Math.max(longest, rolled);
  }
  return longest;
};

const nearestOf = (at: Point, earlier: readonly EarlierLocation[]): EarlierLocation | null =>
  earlier.reduce<EarlierLocation | null>(
    (best, one) => (best === null || distance(one.at, at) < distance(best.at, at) ? one : best),
    null,
  );

/** The finding about the turf of earlier holes. */
const turfFinding = (
  guidance: Guidance,
  at: Point,
  earlier: readonly EarlierLocation[],
): RuleFinding => {
  const nearest = nearestOf(at, earlier);
  const away = nearest === null ? Infinity : distance(nearest.at, at);
  return atLeast('turf', away, guidance.apart, 2 * guidance.apart);
};

/**
 * Judges a hole location by the guidance. Measured figures come from the fitted surface and the rolling
 * ball at the speed of the day. `at` lies on the green, in its frame, metres.
 */
export const assessLocation = (
  site: Site,
  at: Point,
  earlier: readonly EarlierLocation[],
): GroundAssessment => {
  const { guidance, surface } = site;
  const { steepest, unevenness } = gradesRound(surface, at, guidance.around);
  const inward = -signedDistanceToRing(surface.outline, at[0], at[1]);
  const findings: Record<Rule, RuleFinding> = {
    edge: atLeast('edge', inward, site.edge, guidance.edgeEase),
    grade: atMost('grade', steepest, guidance.steepest, 0),
    evenness: atMost('evenness', unevenness, guidance.unevenness, 0),
    stopping: atMost('stopping', runsPast(site, at), guidance.stopsWithin, guidance.past),
    turf: turfFinding(guidance, at, earlier),
  };
  return judged(at, findings, nearestOf(at, earlier));
};

/** What the outline alone tells of a location: its distance from the edge and from earlier locations. */
export const assessByOutline = (
  outline: Ring,
  at: Point,
  guidance: Guidance,
  earlier: readonly EarlierLocation[],
): Assessment => {
  const inward = -signedDistanceToRing(outline, at[0], at[1]);
  const least = edgeRule(guidance, Math.abs(signedArea(outline)));
  const findings = {
    edge: atLeast('edge', inward, least, guidance.edgeEase),
    turf: turfFinding(guidance, at, earlier),
  };
  return judged(at, findings, nearestOf(at, earlier));
};

const judged = <F extends Assessment['findings']>(
  at: Point,
  findings: F,
  nearest: EarlierLocation | null,
): Assessment & { readonly findings: F } => {
  const all = Object.values(findings) as RuleFinding[];
  return {
    at,
    findings,
    kept: all.every((one) => one.kept),
    score: all.reduce((sum, one) => sum + one.merit, 0) / all.length,
    breach: all.reduce((sum, one) => sum + one.breach, 0),
    nearest,
  };
};

/** The same assessment beside other earlier locations. */
export const besideOthers = (
  assessment: Assessment,
  guidance: Guidance,
  earlier: readonly EarlierLocation[],
): Assessment =>
  judged(
    assessment.at,
    { ...assessment.findings, turf: turfFinding(guidance, assessment.at, earlier) },
    nearestOf(assessment.at, earlier),
  );
