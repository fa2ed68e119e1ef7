import type { Appraisal } from '../appraisal/appraise.js';
import { type LengthWords, lengthWordsIn } from '../appraisal/length-words.js';
import { BARE_STEP } from '../appraisal/spacing.js';
import type { Demand } from '../appraisal/verdict.js';
import type { Point } from '../geometry.js';
import type { Plane } from '../survey/crs/plane.js';
import type { UnitSystem } from '../units.js';

const percent = (share: number): string => `${Math.floor(share * 1000 + 1e-6) / 10} %`;

const place = ([x, y]: Point): string => `${x.toFixed(2)}, ${y.toFixed(2)}`;

/** Outliers that the text lists; all of them are in the JSON. */
const LISTED = 12;

const KINDS = {
  points: 'points',
  grid: 'a grid',
  tin: 'a triangulated surface',
  cloud: 'a point cloud',
} as const;

const GROUND_WORDS = {
  outline: 'green',
  hull: 'ground inside the outermost points',
  square: 'square of 30 m with the most points',
} as const;

const table = (heading: string, demands: readonly Demand[]): string[] => {
  const width = Math.max(...demands.map((demand) => demand.has.length));
  return [
    heading,
    ...demands.flatMap((demand) => [
      `  ${demand.met ? 'yes' : 'NO '}  ${demand.has.padStart(width)}  asked: ${demand.words}`,
      `       ${''.padStart(width)}  (${demand.why})`,
    ]),
  ];
};

/** What was found of steps, and what size could have been: a chance of nineteen in twenty at three of four places. */
const stepWords = ({ steps, shared }: Appraisal, show: LengthWords): string => {
  const found = steps.length + (shared?.steps.length ?? 0);
  const power = shared?.power ?? Infinity;
  const could = Number.isFinite(power)
    ? `one of ${show.small(power)} would have been found (19 chances in 20)`
    : 'how small a one would be found is not known';
  if (steps.length > 0) return `${could}; between strips:`;
  return `${found === 0 ? 'none found' : 'in the walk, see the notes'}; ${could}`;
};

/** The same of drift along the walk. */
const driftWords = ({ shared }: Appraisal, show: LengthWords): string =>
  shared?.drift ? `of ${show.small(shared.drift.sd)} along the walk, see the notes` : 'none found';

/** What was found of waves too short to draw, and what could have been. */
const rippleWords = ({ waves, wavePower }: Appraisal, show: LengthWords): string => {
  if (wavePower === null) return 'not looked for';
  const found = waves.length === 0 ? 'none found' : 'see the notes';
  const { height, length } = wavePower;
  return Number.isFinite(height)
    ? `${found}; ones in one direction, ${show.small(height)} high and ${show.length(length)} from crest to crest, would have been found (19 chances in 20)`
    : `${found}; how low ones would be found is not known`;
};

/** What is told of a survey. */
interface Told {
  readonly source: string;
  readonly appraisal: Appraisal;
  readonly plane: Plane | null;
  readonly units: UnitSystem;
  /** How the file was read, one line. */
  readonly how: string;
}

export const appraisalText = ({ source, appraisal, plane, units, how }: Told): string => {
  const show = lengthWordsIn(units);
  const { spacing, quality, extent, outliers } = appraisal;
  const row = (name: string, words: string): string => `  ${name.padEnd(11)} ${words}`;
  const listed = outliers
    .slice(0, LISTED)
    .map((o) => row('', `${place([o.x, o.y])}  ${show.signed(o.residual)}`));
  return [
    `${source}: ${appraisal.verdict.line}`,
    row('read as', how),
    row(
      'points',
      `${appraisal.points} read (${KINDS[appraisal.kind]}), ${spacing.onGreen} on the ${GROUND_WORDS[appraisal.ground]} of ${show.area(appraisal.area)}${
        appraisal.breaklines === 0
          ? ''
          : `; ${appraisal.breaklines} ${appraisal.breaklines === 1 ? 'breakline' : 'breaklines'}`
      }`,
    ),
    row(
      'extent',
      `${show.length(extent.maxX - extent.minX)} by ${show.length(extent.maxY - extent.minY)}, heights ${show.length(appraisal.heights[0])} to ${show.length(appraisal.heights[1])}`,
    ),
    row(
      'spacing',
      `${Number.isFinite(spacing.mean) ? `${show.length(spacing.mean)} on average` : 'none on the ground'}, ${show.length(spacing.nearest)} to the nearest neighbour`,
    ),
    row(
      'coverage',
      `${percent(spacing.coverage)} within ${show.length(spacing.reach)} of a point; the widest gap has a radius of ${show.length(spacing.gap)}, at ${place(spacing.gapAt)}`,
    ),
    row(
      'noise',
      `${appraisal.noise === null ? 'too few points to tell' : `${show.small(appraisal.noise)} (standard deviation of one height)`}${
        appraisal.statedSigma === null ? '' : `; stated: ${show.small(appraisal.statedSigma)}`
      }`,
    ),
    row(
      'slope',
      !Number.isFinite(quality.gradeSd)
        ? 'not known'
        : `known to ${(100 * quality.gradeSd).toFixed(2)} % (standard deviation) on 80 % of the ground; its direction to 45 degrees at 95 % on ${percent(quality.directionKnown)} of the ground over 0.9 %`,
    ),
    row(
      'aim',
      Number.isFinite(quality.aimKnownTo)
        ? `of ten-foot putts across the fall: known to ${show.small(quality.aimKnownTo)} at 95 %`
        : 'not known',
    ),
    row(
      'level',
      appraisal.reading === null
        ? 'not known'
        : `${percent(quality.level)} of the ground under 0.9 %: doubtful`,
    ),
    row(
      'outliers',
      outliers.length === 0
        ? 'none'
        : `${outliers.length}, kept but weighed down${outliers.length > LISTED ? `; the ${LISTED} largest:` : ':'}`,
    ),
    ...listed,
    row('steps', stepWords(appraisal, show)),
    ...appraisal.steps.map((step) =>
      row(
        '',
        `${place(step.from)} to ${place(step.to)}: the left side lies ${show.small(Math.abs(step.height))} ${step.height > 0 ? 'higher' : 'lower'} (standard deviation ${show.small(step.sd)})${step.takenOff ? '; it is taken off, see the notes' : ''}`,
      ),
    ),
    row('drift', driftWords(appraisal, show)),
    row('ripples', rippleWords(appraisal, show)),
    row('hollows', appraisal.hollows.length === 0 ? 'none closed' : 'closed:'),
    ...appraisal.hollows.map((hollow) =>
      row(
        '',
        `${place(hollow.at)}  ${show.small(hollow.depth)} deep: ${hollow.drain === 'declared' ? 'a drain that the course file names' : 'a drain, or an error'}`,
      ),
    ),
    row('places', `metres of ${plane?.name ?? "the survey's own frame"}`),
    ...appraisal.notes.map((note) => row('note', note)),
    ...table('for fall arrows', appraisal.verdict.arrows),
    ...table('for break tables', appraisal.verdict.tables),
  ].join('\n');
};

const to = (value: number, digits: number): number | null =>
  Number.isFinite(value) ? Number(value.toFixed(digits)) : null;

/** Lengths in metres, grades in per cent, shares 0 to 1. */
export const appraisalJson = (
  source: string,
  appraisal: Appraisal,
  plane: Plane | null,
): object => {
  const { spacing, quality, extent, verdict } = appraisal;
  const at = ([x, y]: Point): object => {
    const map = plane?.toMap(x, y);
    return {
      x_m: to(x, 3),
      y_m: to(y, 3),
      ...(map === undefined ? {} : { longitude: to(map[0], 8), latitude: to(map[1], 8) }),
    };
  };
  const demands = (list: readonly Demand[]): object[] =>
    list.map(({ words, has, met, why }) => ({ asked: words, found: has, met, why }));
  return {
    file: source,
    verdict: verdict.use,
    line: verdict.line,
    break_tables: demands(verdict.tables),
    fall_arrows: demands(verdict.arrows),
    frame: plane?.name ?? null,
    kind: appraisal.kind,
    points: appraisal.points,
    points_on_green: spacing.onGreen,
    ground: appraisal.ground,
    area_m2: to(appraisal.area, 1),
    extent_m: {
      min_x: to(extent.minX, 3),
      min_y: to(extent.minY, 3),
      max_x: to(extent.maxX, 3),
      max_y: to(extent.maxY, 3),
      min_height: to(appraisal.heights[0], 3),
      max_height: to(appraisal.heights[1], 3),
    },
    cell_size_m: appraisal.cellSize,
    breaklines: appraisal.breaklines,
    spacing_m: to(spacing.mean, 3),
    nearest_neighbour_m: to(spacing.nearest, 3),
    coverage: to(spacing.coverage, 4),
    coverage_reach_m: to(spacing.reach, 3),
    widest_gap: { ...at(spacing.gapAt), radius_m: to(spacing.gap, 3) },
    noise_m: appraisal.noise === null ? null : to(appraisal.noise, 5),
    stated_noise_m: appraisal.statedSigma,
    grade_sd_percent: to(100 * quality.gradeSd, 3),
    direction_known: to(quality.directionKnown, 4),
    aim_known_to_m: to(quality.aimKnownTo, 4),
    under_0_9_percent: appraisal.reading === null ? null : to(quality.level, 4),
    outliers: appraisal.outliers.map((o) => ({
      ...at([o.x, o.y]),
      z_m: to(o.z, 4),
      off_m: to(o.residual, 4),
    })),
    strip_steps: appraisal.steps.map((step) => ({
      from: at(step.from),
      to: at(step.to),
      left_side_higher_m: to(step.height, 4),
      sd_m: to(step.sd, 4),
      taken_off: step.takenOff,
    })),
    step_power_m: to(appraisal.shared?.power ?? Infinity, 4),
    walk_steps: (appraisal.shared?.steps ?? []).map(({ height, sd, after }) => ({
      height_m: to(height, 4),
      sd_m: to(sd, 4),
      after_point: after,
    })),
    drift_sd_m: appraisal.shared?.drift ? to(appraisal.shared.drift.sd, 4) : null,
    ripples: appraisal.waves.map(({ kx, ky, size }) => ({
      length_m: to((2 * Math.PI) / Math.hypot(kx, ky), 3),
      height_m: to(2 * size, 4),
    })),
    ripple_power_m: to(appraisal.wavePower?.height ?? Infinity, 4),
    ripple_power_length_m: to(appraisal.wavePower?.length ?? Infinity, 3),
    unsure_face_m2: to(quality.unsure.length * BARE_STEP ** 2, 2),
    closed_hollows: appraisal.hollows.map((hollow) => ({
      ...at(hollow.at),
      depth_m: to(hollow.depth, 4),
      drain: hollow.drain,
    })),
    notes: appraisal.notes,
  };
};
