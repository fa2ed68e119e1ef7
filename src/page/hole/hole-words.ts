import type { HazardFigures } from '../../course/hazard-figures.js';
import type { HoleFigures, LandmarkFigures } from '../../course/hole-figures.js';
import type { GapFigures } from '../../course/hole-gaps.js';
import { metresToYards, type UnitSystem } from '../../units.js';
import type { Face } from '../marks/marks.js';
import {
  phrase,
  phraseParts,
  type Slots,
  type Telling,
  type Worded,
  type WordKey,
} from '../words/words.js';

/** Words and figures of a label, line by line; figures are set larger than words. */
export interface Run {
  readonly text: string;
  readonly figure: boolean;
}

export type LabelLines = readonly (readonly Run[])[];

export const faceOf = (run: Run): Face => (run.figure ? 'text-bold' : 'text-italic');

const word = (text: string): Run => ({ text, figure: false });
const figure = (text: string): Run => ({ text, figure: true });

/** A line of the table, its figures apart from its words. */
const runsOf = <K extends WordKey>(tell: Worded, key: K, ...values: Slots<K>): Run[] =>
  phraseParts(tell, key, ...values).map(({ text, filled }) => (filled ? figure(text) : word(text)));

export const shownLength = (metres: number, units: UnitSystem): number =>
  units === 'metric' ? metres : metresToYards(metres);

const near = (metres: number, { units }: Telling): string =>
  `${Math.round(shownLength(metres, units))}`;
/** What must be carried is rounded up, what must not be reached is rounded down. */
const atLeast = (metres: number, { units }: Telling): string =>
  `${Math.ceil(shownLength(metres, units) - 1e-6)}`;
const atMost = (metres: number, { units }: Telling): string =>
  `${Math.floor(shownLength(metres, units) + 1e-6)}`;

export const unitWord = (tell: Telling): string =>
  phrase(tell, tell.units === 'metric' ? 'unit.m' : 'unit.yd');

/** At most this many tees have their figures in the labels; the table has all. */
const TEE_COLUMNS = 4;

/** Which tees the figures in the labels are from: all up to four, else four spread over them, ends included. */
export const teeColumns = (tees: number): number[] =>
  tees <= TEE_COLUMNS
    ? Array.from({ length: tees }, (_, i) => i)
    : Array.from({ length: TEE_COLUMNS }, (_, i) =>
        Math.round((i * (tees - 1)) / (TEE_COLUMNS - 1)),
      );

const columns = (values: readonly (string | null)[]): string =>
  values.map((value) => value ?? '–').join(' ');

/** A rise that changes what is played by less is not worth a line, in the units shown. */
const LEAST_RISE = 3;

/** What shots play as: the length shown and the rise; no line where no rise tells. */
const playsLine = (
  shots: readonly ({ readonly length: number; readonly rise: number | null } | null)[],
  tell: Telling,
): LabelLines => {
  const known = shots.map((one) =>
    one === null || one.rise === null
      ? null
      : { length: one.length, more: Math.round(shownLength(one.rise, tell.units)) },
  );
  if (!known.some((one) => one !== null && Math.abs(one.more) >= LEAST_RISE)) return [];
  const told = known.map((one) => (one === null ? null : `${one.length + one.more}`));
  return [runsOf(tell, 'label.plays', { lengths: columns(told) })];
};

/** What two lengths to the middle of the green play as, where the ground is known and the rise tells. */
const playsBetween = (
  lengths: readonly number[],
  rises: readonly (number | null)[],
  tell: Telling,
): LabelLines => {
  const more = rises.flatMap((rise) =>
    rise === null ? [] : [Math.round(shownLength(rise, tell.units))],
  );
  const tells = more.length === lengths.length && more.some((one) => Math.abs(one) >= LEAST_RISE);
  if (!tells) return [];
  const told = lengths.map((length, i) => Number(near(length, tell)) + more[i]);
  return [runsOf(tell, 'label.plays', { lengths: told.join('–') })];
};

export const hazardLines = (
  hazard: HazardFigures,
  tees: readonly number[],
  tell: Telling,
): LabelLines => {
  const carries = tees.map((i) => hazard.carries[i] ?? null);
  const lines: (readonly Run[])[] = [];
  if (carries.some((one) => one !== null)) {
    const far = carries.map((one) => (one === null ? null : atLeast(one.carry, tell)));
    const close = carries.map((one) => (one === null ? null : atMost(one.reach, tell)));
    const shots = carries.map((one, i) =>
      one === null ? null : { length: Number(far[i]), rise: one.rise },
    );
    lines.push(runsOf(tell, 'label.carry', { lengths: columns(far) }));
    lines.push(...playsLine(shots, tell));
    lines.push(runsOf(tell, 'label.reach', { lengths: columns(close) }));
  }
  if (hazard.toMiddle !== null && carries[0] === null) {
    const [from, to] = hazard.toMiddle;
    const lengths = `${near(from, tell)}–${near(to, tell)}`;
    const key = hazard.kind === 'water' ? 'label.water' : 'label.to-middle';
    lines.push(runsOf(tell, key, { lengths }));
    lines.push(...playsBetween(hazard.toMiddle, hazard.risesToMiddle, tell));
  }
  return lines;
};

export const landmarkLines = (landmark: LandmarkFigures, tell: Telling): LabelLines => {
  const { front, middle, back } = landmark;
  const figures = front === null || back === null ? [middle] : [front, middle, back];
  return [[word(landmark.name)], [figure(figures.map((metres) => near(metres, tell)).join(' '))]];
};

/** What the drive leaves, and what that plays as where the rise tells. */
const leavesLine = (
  { toMiddle, riseToMiddle }: NonNullable<HoleFigures['landing']>,
  tell: Telling,
): readonly Run[] => {
  const leaves = Number(near(toMiddle, tell));
  const more = riseToMiddle === null ? 0 : Math.round(shownLength(riseToMiddle, tell.units));
  return Math.abs(more) < LEAST_RISE
    ? runsOf(tell, 'label.leaves', { length: leaves })
    : runsOf(tell, 'label.leaves-plays', { length: leaves, plays: leaves + more });
};

export const landingLines = (
  figures: HoleFigures,
  tees: readonly number[],
  tell: Telling,
): LabelLines => {
  const { landing } = figures;
  if (landing === null) return [];
  const from = tees.map((i) => near(landing.fromTees[i], tell));
  return [
    ...(landing.width === null
      ? []
      : [runsOf(tell, 'label.fairway', { width: near(landing.width, tell) })]),
    runsOf(tell, landing.laidUp ? 'label.laid-up' : 'label.drive', { lengths: from.join(' ') }),
    ...playsLine(
      tees.map((i, k) => ({ length: Number(from[k]), rise: landing.rises[i] ?? null })),
      tell,
    ),
    leavesLine(landing, tell),
  ];
};

export const runOutLines = (
  figures: HoleFigures,
  tees: readonly number[],
  tell: Telling,
): LabelLines => {
  const { runOut } = figures;
  if (runOut === null) return [];
  const from = tees.map((i) => {
    const length = runOut.fromTees[i];
    return length === null || length === undefined ? null : atMost(length, tell);
  });
  return from.every((one) => one === null)
    ? []
    : [runsOf(tell, 'label.runs-out', { lengths: columns(from) })];
};

export const gapLines = (
  { toMiddle, risesToMiddle }: Pick<GapFigures, 'toMiddle' | 'risesToMiddle'>,
  tell: Telling,
): LabelLines => [
  runsOf(tell, 'label.lay-up', {
    lengths: `${near(toMiddle[0], tell)}–${near(toMiddle[1], tell)}`,
  }),
  ...playsBetween(toMiddle, risesToMiddle, tell),
];

export const teeLines = (name: string, length: number, tell: Telling): LabelLines => [
  [word(`${name} `), figure(near(length, tell))],
];
