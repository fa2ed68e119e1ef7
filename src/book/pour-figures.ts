import { phrase, type Worded } from '../page/words/words.js';
import { lengthOfLine } from '../terrain/fall-line.js';
import {
  type Catchment,
  isSameLeaving,
  type Leaving,
  placeLetter,
} from '../terrain/water/leaving-places.js';
import type { Met } from '../terrain/water/met-on-way.js';
import { type PouredStream, type PouredWater, WAY_KEPT } from '../terrain/water/pour.js';
import { metresToPaces, type UnitSystem } from '../units.js';
import { inShares } from './green-figures.js';
import { groundLength, placeOnGreen, smallLength } from './ground-words.js';

/** Water poured on a green of some area, m2; letters name the places where it leaves. */
export interface PourFigures {
  readonly water: PouredWater;
  readonly area: number;
}

const to = (value: number, digits: number): number => Number(value.toFixed(digits));
const place = ([x, y]: readonly [number, number, ...number[]]): number[] => [to(x, 3), to(y, 3)];

/** The letter of the place where a stream leaves. */
export const leavingLetter = (water: PouredWater, leaving: Leaving): string | null => {
  const k = water.catchments.findIndex((one) => isSameLeaving(one, leaving));
  return k < 0 ? null : placeLetter(k);
};

/** How far along a way its point k lies, metres. */
const alongTo = ({ points }: PouredStream, k: number): number =>
  lengthOfLine(points.slice(0, k + 1));

/** From where on most of the grounds that the survey allows do not keep the way; null where they keep it to its end. */
const frayedFrom = (stream: PouredStream): number | null => {
  const k = stream.kept.findIndex((share) => share < WAY_KEPT);
  return k < 0 ? null : alongTo(stream, k);
};

const metFigures = (stream: PouredStream, { kind, at, point, off, side }: Met): object => ({
  kind,
  at_m: place(at),
  after_m: to(alongTo(stream, point), 2),
  off_m: to(off, 2),
  side,
});

const pourFigures = (water: PouredWater, stream: PouredStream): object => {
  const { points, leaving, joins, seconds } = stream;
  const frayed = frayedFrom(stream);
  return {
    from_m: place(stream.from),
    length_m: to(lengthOfLine(points), 2),
    fall_m: to(points[0][2] - points[points.length - 1][2], 4),
    time_s: to(seconds[seconds.length - 1], 1),
    leaves:
      leaving === null
        ? null
        : { kind: leaving.kind, at_m: place(leaving.at), letter: leavingLetter(water, leaving) },
    met: stream.met.map((met) => metFigures(stream, met)),
    joins:
      joins === null
        ? null
        : { pour: joins.pour + 1, after_m: to(alongTo(stream, joins.point), 2) },
    kept_for_m: frayed === null ? null : to(frayed, 2),
    may_leave: stream.mayLeave.map(({ kind, at, share }) => ({
      kind,
      at_m: place(at),
      share: to(share, 3),
    })),
    way_m: points.map(([x, y, height], k) => [
      ...place([x, y]),
      to(height, 4),
      to(stream.area[k], 2),
      to(stream.kept[k], 3),
    ]),
  };
};

/** Poured water as figures: metres in the frame of the green; of a way x, y, height, area come in and share kept. */
export const waterFigures = ({ water, area }: PourFigures): object => ({
  draws: water.draws,
  pours: water.streams.map((stream) => pourFigures(water, stream)),
  catchments: water.catchments.map((one, k) => ({
    letter: placeLetter(k),
    kind: one.kind,
    at_m: place(one.at),
    area_m2: to(one.area, 1),
    share_of_green: to(one.area / area, 3),
  })),
});

/** "over the edge at 12 on, 5 right". */
const leavingWords = ({ kind, at }: Leaving, units: UnitSystem): string => {
  const where = placeOnGreen(at, units);
  if (kind === 'edge') return `over the edge at ${where}`;
  return kind === 'drain'
    ? `by the drain at ${where}`
    : `not: it stands in the low point at ${where}`;
};

const metWords = ({ kind, at, off, side }: Met, units: UnitSystem): string => {
  if (kind === 'high point above') {
    return `falls from the high point at ${placeOnGreen(at, units)}, ${groundLength(off, units)} above`;
  }
  if (kind === 'high point') {
    return `passes the high point at ${placeOnGreen(at, units)}, ${groundLength(off, units)} to its ${side}`;
  }
  if (kind === 'hollow') return `fills the hollow at ${placeOnGreen(at, units)} and runs over`;
  return kind === 'valley' ? 'comes into a valley' : `comes into the ${kind}`;
};

/** "may leave" where the grounds that the survey allows do not agree. */
const doubtRows = (stream: PouredStream, units: UnitSystem): [string, string][] => {
  const frayed = frayedFrom(stream);
  const ways = stream.mayLeave;
  return [
    ...(frayed === null
      ? []
      : [
          [
            '',
            `known for ${groundLength(frayed, units)}; farther on the survey does not know the way`,
          ] as [string, string],
        ]),
    ...(ways.length < 2 && (ways[0]?.share ?? 1) > 0.9
      ? []
      : ways.map((one): [string, string] => [
          '',
          `leaves ${leavingWords(one, units)} ${inShares(one.share)}`,
        ])),
  ];
};

const rowsOfPour = (
  { water }: PourFigures,
  stream: PouredStream,
  number: number,
  units: UnitSystem,
): [string, string][] => {
  const { points, leaving, joins } = stream;
  const fall = points[0][2] - points[points.length - 1][2];
  const letter = leaving === null ? null : leavingLetter(water, leaving);
  return [
    [
      `pour ${number}`,
      `${placeOnGreen(stream.from, units)}: runs ${groundLength(lengthOfLine(points), units)}, falls ${smallLength(fall, units)}`,
    ],
    ...stream.met.map((met): [string, string] => {
      const after =
        met.point === 0 ? '' : `after ${groundLength(alongTo(stream, met.point), units)} `;
      return ['', `${after}${metWords(met, units)}`];
    }),
    ...(joins === null
      ? []
      : [
          [
            '',
            `after ${groundLength(alongTo(stream, joins.point), units)} joins pour ${joins.pour + 1}`,
          ] as [string, string],
        ]),
    [
      '',
      leaving === null
        ? 'from there on the ground has no points: where it leaves is not known'
        : `leaves ${leavingWords(leaving, units)}${letter === null ? '' : ` (${letter})`}`,
    ],
    ...doubtRows(stream, units),
  ];
};

const catchmentRow = (one: Catchment, k: number, area: number): [string, string] => [
  `catchment ${placeLetter(k)}`,
  `${((100 * one.area) / area).toFixed(0)} % of the green`,
];

/** The same in words, a line a thing. */
export const waterWords = (figures: PourFigures, units: UnitSystem): string => {
  const rows = [
    ...figures.water.streams.flatMap((stream, k) => rowsOfPour(figures, stream, k + 1, units)),
    ...figures.water.catchments.map((one, k) => catchmentRow(one, k, figures.area)),
  ];
  const width = Math.max(...rows.map(([name]) => name.length)) + 2;
  return rows.map(([name, words]) => `${name.padEnd(width)}${words}`).join('\n');
};

const inPaces = (metres: number): string => `${Math.round(metresToPaces(metres))}`;

const LEAVING_KEYS = { edge: 'edge', drain: 'drain', 'low point': 'low' } as const;

/** One line a stream for its page, in the book's words: "1: 14 paces over the edge at A". */
export const pourLines = ({ water }: Pick<PourFigures, 'water'>, tell: Worded): string[] =>
  water.streams.map((stream, k) => {
    const { leaving } = stream;
    const paces = inPaces(lengthOfLine(stream.points));
    const long = phrase(tell, 'water.long', { number: k + 1, paces });
    if (leaving === null) return phrase(tell, 'water.then-bare', { long });
    const letter = leavingLetter(water, leaving);
    const by = LEAVING_KEYS[leaving.kind];
    const line =
      letter === null
        ? phrase(tell, `water.${by}`, { long })
        : phrase(tell, `water.${by}-at`, { long, letter });
    const sure = stream.mayLeave.find((one) => isSameLeaving(one, leaving))?.share ?? 0;
    return sure > 0.9
      ? line
      : phrase(tell, 'water.sure', { line, percent: Math.round(100 * sure) });
  });
