import type { HazardFigures } from '../../course/hazard-figures.js';
import type { GapFigures, HoleFigures, LandmarkFigures } from '../../course/hole-figures.js';
import { metresToYards, type UnitSystem } from '../../units.js';
import type { Face } from '../marks/marks.js';
import { phrase, type Telling } from '../words/words.js';

/** Words and figures of a label, line by line; figures are set larger than words. */
export interface Run {
  readonly text: string;
  readonly figure: boolean;
}

export type LabelLines = readonly (readonly Run[])[];

export const faceOf = (run: Run): Face => (run.figure ? 'text-bold' : 'text-italic');

const word = (text: string): Run => ({ text, figure: false });
const figure = (text: string): Run => ({ text, figure: true });

export const shownLength = (metres: number, units: UnitSystem): number =>
  units === 'metric' ? metres : metresToYards(metres);

const near = (metres: number, units: UnitSystem): string =>
  `${Math.round(shownLength(metres, units))}`;
/** What must be carried is rounded up, what must not be reached is rounded down. */
const atLeast = (metres: number, units: UnitSystem): string =>
  `${Math.ceil(shownLength(metres, units) - 1e-6)}`;
const atMost = (metres: number, units: UnitSystem): string =>
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
  units: UnitSystem,
): LabelLines => {
  const known = shots.map((one) =>
    one === null || one.rise === null
      ? null
      : { length: one.length, more: Math.round(shownLength(one.rise, units)) },
  );
  if (!known.some((one) => one !== null && Math.abs(one.more) >= LEAST_RISE)) return [];
  const told = known.map((one) => (one === null ? null : `${one.length + one.more}`));
  return [[word('plays '), figure(columns(told))]];
};

/** What two lengths to the middle of the green play as, where the ground is known and the rise tells. */
const playsBetween = (
  lengths: readonly number[],
  rises: readonly (number | null)[],
  units: UnitSystem,
): LabelLines => {
  const more = rises.flatMap((rise) =>
    rise === null ? [] : [Math.round(shownLength(rise, units))],
  );
  const tells = more.length === lengths.length && more.some((one) => Math.abs(one) >= LEAST_RISE);
  if (!tells) return [];
  const told = lengths.map((length, i) => Number(near(length, units)) + more[i]);
  return [[word('plays '), figure(told.join('–'))]];
};

export const hazardLines = (
  hazard: HazardFigures,
  tees: readonly number[],
  units: UnitSystem,
): LabelLines => {
  const carries = tees.map((i) => hazard.carries[i] ?? null);
  const lines: (readonly Run[])[] = [];
  if (carries.some((one) => one !== null)) {
    const far = carries.map((one) => (one === null ? null : atLeast(one.carry, units)));
    const close = carries.map((one) => (one === null ? null : atMost(one.reach, units)));
    const shots = carries.map((one, i) =>
      one === null ? null : { length: Number(far[i]), rise: one.rise },
    );
    lines.push([word('carry '), figure(columns(far))]);
    lines.push(...playsLine(shots, units), [word('reach '), figure(columns(close))]);
  }
  if (hazard.toMiddle !== null && carries[0] === null) {
    const [from, to] = hazard.toMiddle;
    lines.push([
      figure(`${near(from, units)}–${near(to, units)}`),
      word(hazard.kind === 'water' ? ' water' : ' to middle'),
    ]);
    lines.push(...playsBetween(hazard.toMiddle, hazard.risesToMiddle, units));
  }
  return lines;
};

export const landmarkLines = (landmark: LandmarkFigures, units: UnitSystem): LabelLines => {
  const { front, middle, back } = landmark;
  const figures = front === null || back === null ? [middle] : [front, middle, back];
  return [[word(landmark.name)], [figure(figures.map((metres) => near(metres, units)).join(' '))]];
};

/** What the drive leaves, and what that plays as where the rise tells. */
const leavesLine = (
  { toMiddle, riseToMiddle }: NonNullable<HoleFigures['landing']>,
  units: UnitSystem,
): readonly Run[] => {
  const leaves = Number(near(toMiddle, units));
  const more = riseToMiddle === null ? 0 : Math.round(shownLength(riseToMiddle, units));
  return [
    word('leaves '),
    figure(`${leaves}`),
    ...(Math.abs(more) < LEAST_RISE ? [] : [word(' plays '), figure(`${leaves + more}`)]),
  ];
};

export const landingLines = (
  figures: HoleFigures,
  tees: readonly number[],
  units: UnitSystem,
): LabelLines => {
  const { landing } = figures;
  if (landing === null) return [];
  const from = tees.map((i) => near(landing.fromTees[i], units));
  return [
    ...(landing.width === null
      ? []
      : [[word('fairway '), figure(near(landing.width, units)), word(' wide')]]),
    [word('drive '), figure(from.join(' '))],
    ...playsLine(
      tees.map((i, k) => ({ length: Number(from[k]), rise: landing.rises[i] ?? null })),
      units,
    ),
    leavesLine(landing, units),
  ];
};

export const runOutLines = (
  figures: HoleFigures,
  tees: readonly number[],
  units: UnitSystem,
): LabelLines => {
  const { runOut } = figures;
  if (runOut === null) return [];
  const from = tees.map((i) => {
    const length = runOut.fromTees[i];
    return length === null || length === undefined ? null : atMost(length, units);
  });
  return from.every((one) => one === null) ? [] : [[word('runs out '), figure(columns(from))]];
};

export const gapLines = (
  { toMiddle, risesToMiddle }: Pick<GapFigures, 'toMiddle' | 'risesToMiddle'>,
  units: UnitSystem,
): LabelLines => [
  [word('lay up '), figure(`${near(toMiddle[0], units)}–${near(toMiddle[1], units)}`)],
  ...playsBetween(toMiddle, risesToMiddle, units),
];

export const teeLines = (name: string, length: number, units: UnitSystem): LabelLines => [
  [word(`${name} `), figure(near(length, units))],
];
