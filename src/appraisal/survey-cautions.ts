import { INPUT_LIMITS } from '../input-limits.js';
import type { SharedFinding } from '../surface/shared-search.js';
import type { Wave } from '../surface/wave-doubt.js';
import type { WavePower } from '../surface/wave-power.js';
import type { Survey } from '../survey/survey.js';
import type { GroundQuality } from './ground-quality.js';
import type { JudgedGround } from './judged-ground.js';
import type { LengthWords } from './length-words.js';

/**
 * Greens of half their ground over 5 % are not played: a ball does not stop on 7.8 % at a stimp reading of
 * ten feet (a0 / (5/7 g), textbook mechanics). Heights in feet taken for metres look so from 1.5 % on.
 */
const STEEP = 0.05;
const sharedCautions = (
  shared: SharedFinding | null,
  small: (metres: number) => string,
): string[] => {
  if (shared === null) return [];
  const { drift, steps, suspected, possibleDrift } = shared;
  return [
    ...(drift === null
      ? []
      : [
          `the heights drift by ${small(drift.sd)} along the walk; that is taken off, and its doubt counted`,
        ]),
    ...steps.map(
      ({ height, after }) =>
        `one part lies ${small(Math.abs(height))} ${height > 0 ? 'higher' : 'lower'}${after === null ? ' across a straight line' : ` from the green's point ${after + 1} on, in the order of the file`}; that is taken off, and its doubt counted`,
    ),
    ...(suspected === null
      ? []
      : [
          `a step of about ${small(Math.abs(suspected.height))} in the walk could not be excluded; its doubt is counted`,
        ]),
    ...(possibleDrift === null
      ? []
      : [
          `a drift of about ${small(possibleDrift.sd)} along the walk could not be excluded; its doubt is counted`,
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

/** Errors that neighbours share are told from here on, metres: less hardly turns a putt, and any survey may have it. */
const LEAST_SHARED = 0.01;

/** What is counted in the doubt though nothing was found of it. */
const unfoundCautions = (
  { unseen, swathStep }: Pick<Found, 'unseen' | 'swathStep'>,
  small: (metres: number) => string,
): string[] => [
  ...(unseen < LEAST_SHARED
    ? []
    : [
        `${small(unseen)} of the error that the survey states does not show in its points: neighbours have it in common, and it is counted in the doubt`,
      ]),
  ...(swathStep < LEAST_SHARED
    ? []
    : [
        `the edge between two swaths may cross the green unseen: a step of about ${small(swathStep)} is counted in the doubt where the heights may hide one`,
      ]),
];

/** Places of a sheet by hand that the others belie: most often a slip of the pen. */
const lineCautions = ({ paced }: Survey, off: readonly number[]): string[] => {
  const lines = paced?.lines;
  if (lines === undefined || off.length === 0) return [];
  const told = off.map((index) => lines[index]).sort((a, b) => a - b);
  return [
    told.length === 1
      ? `line ${told[0]} does not agree with the lines about it, and is left out: look at its figures, and measure there again`
      : `lines ${told.join(', ')} do not agree with the lines about them, and are left out: look at their figures, and measure there again`,
  ];
};

const groundCautions = (
  survey: Survey,
  { kind: ground, whole, part }: JudgedGround,
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

const faceCaution = (squares: number): string[] =>
  squares === 0
    ? []
    : [
        'the face of a tier is steeper than its points can tell: putts that cross it have no figures',
      ];

/** Waves lower than the last figure that heights are written to are not worth a word: metres. */
const LEAST_TOLD = 0.0005;

/** What the survey was found to be, as far as it is told in cautions. */
interface Found {
  readonly quality: Pick<GroundQuality, 'medianGrade' | 'unsure'>;
  readonly noise: number | null;
  readonly shared: SharedFinding | null;
  readonly waves: readonly Wave[];
  readonly possibleWave: Wave | null;
  readonly wavePower: WavePower | null;
  /** See `FitReport.unseen` and `PointError.swathStep`. */
  readonly unseen: number;
  readonly swathStep: number;
  /** Points that do not fit, by their place in the survey. */
  readonly off: readonly number[];
}

const crestToCrest = ({ kx, ky }: Pick<Wave, 'kx' | 'ky'>): number =>
  (2 * Math.PI) / Math.hypot(kx, ky);

/** Waves that would not be seen, the longest alone: the others meet the points as it does. */
const hiddenCaution = (power: WavePower | null, length: (metres: number) => string): string[] => {
  // What is as long as a green is the level of all points, and no wave.
  const hidden = (power?.hidden ?? [])
    .map(crestToCrest)
    .filter((one) => one < INPUT_LIMITS.greenLength);
  return hidden.length === 0
    ? []
    : [
        `the points stand as evenly as a wave of ${length(Math.max(...hidden))} from crest to crest would: such a wave would not be seen, however high`,
      ];
};

const waveCautions = (
  { waves, possibleWave: possible, wavePower }: Found,
  { small, length }: Pick<LengthWords, 'small' | 'length'>,
): string[] => [
  ...waves
    .filter(({ size }) => 2 * size >= LEAST_TOLD)
    .map(
      (wave) =>
        `the points keep a wave of ${length(crestToCrest(wave))} from crest to crest, ${small(2 * wave.size)} high, too short to draw: taken off the heights, its doubt counted`,
    ),
  ...(possible === null
    ? []
    : [
        `a wave of ${length(crestToCrest(possible))} from crest to crest, about ${small(2 * possible.size)} high, could not be excluded; its doubt is counted`,
      ]),
  ...hiddenCaution(wavePower, length),
];

/** What the reader of the report should know of how it was judged; `small` words a height in metres. */
export const cautionsOf = (
  survey: Survey,
  ground: JudgedGround,
  found: Found,
  words: Pick<LengthWords, 'small' | 'length'>,
): string[] => [
  ...groundCautions(survey, ground, found.quality.medianGrade),
  ...lineCautions(survey, found.off),
  ...faceCaution(found.quality.unsure.length),
  ...sharedCautions(found.shared, words.small),
  ...waveCautions(found, words),
  ...unfoundCautions(found, words.small),
  ...scatterCaution(survey.statedSigma, found.noise, words.small),
];
