import { METRES_PER_PACE, metresToPaces, type UnitSystem } from '../units.js';
import { HOLE_RADIUS } from './capture.js';
import type { Marker, MarkerPlace } from './marker.js';
import type { TableCell } from './putt.js';
import { aimReading, layingReading, lengthReading, paceReading } from './rounding.js';
import type { PracticeStation, StationTee } from './station.js';
import type { NearPlace, StationSetting } from './station-setting.js';
import type { RoundTee, WalkRound } from './walk-round.js';

/** What stations say, in one wording and one rounding for page, command and proof. */

const NO_PUTT: Readonly<Partial<Record<TableCell['outcome'], string>>> = {
  'off-green': 'off the green',
  unsurveyed: 'not surveyed',
  'leaves-green': 'leaves the green',
};

type AnyTee = Pick<StationTee | RoundTee, 'putt' | 'outcome'>;

/** "4 in left", "straight", or why there is no putt. */
export const aimWords = ({ putt, outcome }: AnyTee, units: UnitSystem): string => {
  if (putt === null || outcome !== 'solved') return NO_PUTT[outcome] ?? 'no pace';
  const { figure, side } = aimReading(putt.aimOffset, units);
  return side === 'straight' ? 'straight' : `${figure} ${side}`;
};

/** "pace 4½ ft"; nothing without a putt. */
export const levelPaceWords = ({ putt, outcome }: AnyTee, units: UnitSystem): string =>
  putt === null || outcome !== 'solved' ? '' : `pace ${paceReading(putt.pace, units)}`;

/** So far past or short a stroke would carry on the level, in words. */
export const carriesWords = (
  { outcome, pictured }: Pick<StationTee, 'outcome' | 'pictured'>,
  units: UnitSystem,
): string => {
  if (outcome === 'unsurveyed') return 'its way was not surveyed';
  if (pictured === null) return 'no pace holds this putt';
  const figure = aimReading(Math.abs(pictured), units).figure;
  if (figure === '0') return 'picture the hole itself';
  return pictured >= 0 ? `picture a hole ${figure} farther on` : `picture a hole ${figure} nearer`;
};

/** "one pace", "2 paces", "4 ft". */
export const stepWords = (distance: number, units: UnitSystem): string => {
  const paces = metresToPaces(distance);
  if (Math.abs(distance - METRES_PER_PACE) < 1e-6) return 'one pace';
  return Math.abs(paces - Math.round(paces)) < 1e-6
    ? `${Math.round(paces)} paces`
    : lengthReading(distance, units);
};

/** "2 in above the rim", "3 in above the centre and 1 in to the right". */
const whereWords = ({ uphill, right }: MarkerPlace, units: UnitSystem): string => {
  const aside = layingReading(right, units);
  const isAside = aimReading(right, units).side !== 'straight';
  return `${layingReading(uphill, units)} above the hole’s centre${isAside ? ` and ${aside} to the ${right > 0 ? 'right' : 'left'}` : ''}`;
};

const share = (kept: number): string => `${Math.round(100 * kept)} %`;

const keptWords = ({ putts }: MarkerPlace): string =>
  putts.map(({ quadrant, kept }) => `${quadrant} ${share(kept)}`).join(', ');

/** Where the marker lies or why there is none: one sentence each. */
export const markerWords = (
  { marker, tees }: Pick<PracticeStation, 'marker' | 'tees'>,
  units: UnitSystem,
): string[] => {
  if (marker === null) {
    return [
      tees.some(({ outcome }) => outcome === 'unsurveyed')
        ? 'No one marker: the way of a putt was not surveyed.'
        : 'No one marker: one of the four has no putt that the hole holds.',
    ];
  }
  const { verdict, best } = marker;
  if (verdict === 'serves') {
    const fromRim = layingReading(Math.hypot(best.uphill, best.right) - HOLE_RADIUS, units);
    return [
      `One marker serves all four: ${whereWords(best, units)}, ${fromRim} from the rim.`,
      `Each keeps of its room for error: ${keptWords(best)}.`,
    ];
  }
  if (verdict === 'in the cup') {
    const isCentre = aimReading(best.uphill, units).side === 'straight';
    return [
      `No marker outside the cup: on ground this level the hole itself serves all four, over ${isCentre ? 'its centre' : `a point ${layingReading(best.uphill, units)} above its centre`}.`,
    ];
  }
  return [noneWords(marker, units)];
};

const noneWords = ({ best, asks }: Marker, units: UnitSystem): string => {
  const least = best.putts.reduce((a, b) => (b.kept < a.kept ? b : a));
  return `No one marker serves all four: pace asks for one ${layingReading(asks.pace, units)} above the hole, the aim of the sides for ${layingReading(asks.sides, units)}; the best place, ${layingReading(best.uphill, units)} above, leaves the putt from ${least.quadrant === 'below' || least.quadrant === 'above' ? least.quadrant : `the ${least.quadrant}`} ${least.kept < 0.005 ? 'none' : share(least.kept)} of its room for error.`;
};

const nearWords = ({ distance, toward }: NearPlace, units: UnitSystem): string =>
  `${units === 'metric' ? `${distance.toFixed(1)} m` : `${halfPaces(distance)}`} toward the ${toward}`;

const halfPaces = (metres: number): string => {
  const halves = Math.round(2 * metresToPaces(metres));
  const figure = halves % 2 === 0 ? `${halves / 2}` : `${halves === 1 ? '' : (halves - 1) / 2}½`;
  return `${figure} ${halves === 1 || halves === 2 ? 'pace' : 'paces'}`;
};

/** Where the hole lies on its green, a name and a value each. */
export const settingRows = (
  { edge, stream, falls }: StationSetting,
  grade: number,
  units: UnitSystem,
): (readonly [string, string])[] => [
  ['falls', `${(100 * grade).toFixed(1)} % toward the ${falls}`],
  ['edge', nearWords(edge, units)],
  ...(stream === null ? [] : [['stream', nearWords(stream, units)] as const]),
];

/** Distances by which the tees are checked, metres: between neighbours and opposite ones, and from the rim. */
export const checksOf = (
  distance: number,
  count = 4,
): { next: number; across: number; rim: number } => ({
  next: 2 * distance * Math.sin(Math.PI / count),
  across: 2 * distance,
  rim: distance - HOLE_RADIUS,
});

/** A putter of 34 in, by which a pace is laid from the rim. Common practice, no source. */
const PUTTER = 0.8636;
const PUTTER_ROOM = 0.02;

/** The same in words. */
export const checkWords = (distance: number, count: number, units: UnitSystem): string => {
  const { next, across, rim } = checksOf(distance, count);
  const laid =
    Math.abs(rim - PUTTER) < PUTTER_ROOM
      ? `, about a putter (${units === 'metric' ? '86 cm' : '34 in'})`
      : '';
  return `Each tee ${layingReading(rim, units)} from the rim${laid}; neighbours ${layingReading(next, units)} apart, opposite tees ${layingReading(across, units)}.`;
};

/** How far each tee lies from the marker, metres, in the order of its putts; none without a marker that serves. */
export const fromMarker = ({
  marker,
  tees,
}: Pick<PracticeStation, 'marker' | 'tees'>): { quadrant: string; distance: number }[] =>
  marker?.verdict !== 'serves'
    ? []
    : tees.map(({ quadrant, tee }) => ({
        quadrant,
        distance: Math.hypot(tee[0] - marker.best.at[0], tee[1] - marker.best.at[1]),
      }));

/** "1:30", "12". */
export const clockWords = (hours: number): string => {
  const minutes = Math.round((hours % 1) * 60);
  return minutes === 0 ? `${Math.floor(hours)}` : `${Math.floor(hours)}:${minutes}`;
};

/** Over which point all the aims of a walk round the hole pass, as nearly as the ground lets them. */
export const overWords = ({ over }: WalkRound, units: UnitSystem): string => {
  if (over === null) return 'Too few putts for a point that all aim over.';
  const place = whereWords({ ...over, putts: [], least: 0 }, units);
  const isCentre =
    aimReading(Math.hypot(over.uphill, over.right), units).side === 'straight'
      ? 'the hole itself'
      : place;
  const near = layingReading(over.spread, units);
  return `All aim over one point, ${isCentre}, ${near === '0 in' || near === '0 cm' ? 'to a hair' : `within ${near}`}.`;
};
