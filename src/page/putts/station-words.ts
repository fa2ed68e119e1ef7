import { HOLE_RADIUS } from '../../putt/capture.js';
import type { Marker, MarkerPlace } from '../../putt/marker.js';
import { aimReading, layingReading, lengthReading, paceReading } from '../../putt/rounding.js';
import type { PracticeStation, StationTee } from '../../putt/station.js';
import type { NearPlace, PartOfGreen, StationSetting } from '../../putt/station-setting.js';
import type { RoundTee, WalkRound } from '../../putt/walk-round.js';
import { inchesToMetres, METRES_PER_PACE, metresToPaces } from '../../units.js';
import { offsetWords } from '../kit/aim-words.js';
import { paceWords } from '../kit/location-words.js';
import { withUnit } from '../kit/unit-words.js';
import { phrase, type Telling } from '../words/words.js';

/** What stations say, in one wording and one rounding for page, command and proof. */

const NO_PUTT = {
  'off-green': 'station.off-green',
  unsurveyed: 'station.unsurveyed',
  'leaves-green': 'station.leaves-green',
  'no-pace': 'putt.no-pace',
  solved: 'putt.no-pace',
} as const;

type AnyTee = Pick<StationTee | RoundTee, 'putt' | 'outcome'>;

const laid = (length: number, tell: Telling): string =>
  withUnit(layingReading(length, tell.units), tell);

const isNothing = (length: number, { units }: Telling): boolean =>
  aimReading(length, units).side === 'straight';

/** "4 in left", "straight", or why there is no putt. */
export const aimWords = ({ putt, outcome }: AnyTee, tell: Telling): string => {
  if (putt === null || outcome !== 'solved') return phrase(tell, NO_PUTT[outcome]);
  return offsetWords(putt.aimOffset, tell);
};

/** "4½ ft"; nothing without a putt. */
export const levelPace = ({ putt, outcome }: AnyTee, tell: Telling): string =>
  putt === null || outcome !== 'solved' ? '' : withUnit(paceReading(putt.pace, tell.units), tell);

/** "pace 4½ ft"; nothing without a putt. */
export const levelPaceWords = (tee: AnyTee, tell: Telling): string => {
  const pace = levelPace(tee, tell);
  return pace === '' ? '' : phrase(tell, 'putt.pace', { pace });
};

/** So far past or short a stroke would carry on the level, in words. */
export const carriesWords = (
  { outcome, pictured }: Pick<StationTee, 'outcome' | 'pictured'>,
  tell: Telling,
): string => {
  if (outcome === 'unsurveyed') return phrase(tell, 'station.way-unsurveyed');
  if (pictured === null) return phrase(tell, 'station.no-pace');
  if (isNothing(pictured, tell)) return phrase(tell, 'station.itself');
  const figure = withUnit(aimReading(pictured, tell.units).figure, tell);
  return phrase(tell, pictured > 0 ? 'station.farther' : 'station.nearer', { figure });
};

/** "one pace", "2 paces", "4 ft". */
export const stepWords = (distance: number, tell: Telling): string => {
  if (Math.abs(distance - METRES_PER_PACE) < 1e-6) return phrase(tell, 'station.one-pace');
  const paces = metresToPaces(distance);
  return Math.abs(paces - Math.round(paces)) < 1e-6
    ? phrase(tell, 'station.paces', { paces: Math.round(paces) })
    : withUnit(lengthReading(distance, tell.units), tell);
};

/** The point that both sides aim over. */
export const pointWords = (
  { above, tees }: Pick<PracticeStation, 'above' | 'tees'>,
  tell: Telling,
): string => {
  if (above === null) {
    return phrase(
      tell,
      tees.some(({ outcome }) => outcome === 'unsurveyed')
        ? 'station.one-unsurveyed'
        : 'station.one-no-pace',
    );
  }
  if (isNothing(above.distance, tell)) return phrase(tell, 'station.point-hole');
  return phrase(tell, 'station.point', {
    figure: withUnit(aimReading(above.distance, tell.units).figure, tell),
    nearly: above.difference > inchesToMetres(1) ? phrase(tell, 'station.nearly') : '',
  });
};

/** "3 in above the hole's centre and 1 in to the right". */
const whereWords = (
  { uphill, right }: Pick<MarkerPlace, 'uphill' | 'right'>,
  tell: Telling,
): string => {
  const figure = laid(uphill, tell);
  return isNothing(right, tell)
    ? phrase(tell, 'station.uphill', { figure })
    : phrase(tell, right > 0 ? 'station.uphill-right' : 'station.uphill-left', {
        figure,
        aside: laid(right, tell),
      });
};

const percent = (kept: number): number => Math.round(100 * kept);

const keptWords = ({ putts }: MarkerPlace, tell: Telling): string =>
  putts
    .map(({ quadrant, kept }) =>
      phrase(tell, 'station.share', {
        quadrant: phrase(tell, `quadrant.${quadrant}`),
        percent: percent(kept),
      }),
    )
    .join(', ');

/** Where the marker lies and what each putt keeps, or why there is none: one sentence each. */
export const markerWords = (
  { marker, tees }: Pick<PracticeStation, 'marker' | 'tees'>,
  tell: Telling,
): string[] => {
  if (marker === null) {
    const isBare = tees.some(({ outcome }) => outcome === 'unsurveyed');
    return [phrase(tell, isBare ? 'station.no-marker-unsurveyed' : 'station.no-marker')];
  }
  const { verdict, best } = marker;
  if (verdict === 'none') return [noneWords(marker, tell)];
  if (verdict === 'in the cup') {
    return [
      isNothing(best.uphill, tell)
        ? phrase(tell, 'station.in-cup-centre')
        : phrase(tell, 'station.in-cup', { figure: laid(best.uphill, tell) }),
    ];
  }
  return [
    phrase(tell, 'station.marker', {
      place: whereWords(best, tell),
      rim: laid(Math.hypot(best.uphill, best.right) - HOLE_RADIUS, tell),
    }),
    phrase(tell, 'station.marker-play'),
    phrase(tell, 'station.kept', { shares: keptWords(best, tell) }),
  ];
};

const noneWords = ({ best, asks }: Marker, tell: Telling): string => {
  const least = best.putts.reduce((a, b) => (b.kept < a.kept ? b : a));
  return phrase(tell, 'station.none', {
    pace: laid(asks.pace, tell),
    sides: laid(asks.sides, tell),
    best: laid(best.uphill, tell),
    quadrant: phrase(tell, `station.from-${least.quadrant}`),
    share:
      percent(least.kept) === 0
        ? phrase(tell, 'station.nothing')
        : phrase(tell, 'station.percent', { percent: percent(least.kept) }),
  });
};

const partWords = (part: PartOfGreen, tell: Telling): string =>
  phrase(tell, `part.${part.replace(' ', '-') as 'back'}`);

const nearWords = ({ distance, toward }: NearPlace, tell: Telling): string => {
  const part = partWords(toward, tell);
  if (tell.units === 'metric') {
    return phrase(tell, 'station.near-metres', { figure: distance.toFixed(1), part });
  }
  const figure = paceWords(metresToPaces(distance));
  const isOne = Math.round(2 * metresToPaces(distance)) <= 2;
  return phrase(tell, isOne ? 'station.near-pace' : 'station.near-paces', { figure, part });
};

/** Where the hole lies on its green, a name and a value each. */
export const settingRows = (
  { edge, stream, falls }: StationSetting,
  grade: number,
  tell: Telling,
): (readonly [string, string])[] => [
  [
    phrase(tell, 'station.falls-head'),
    phrase(tell, 'station.falls-toward', {
      percent: (100 * grade).toFixed(1),
      part: partWords(falls, tell),
    }),
  ],
  [phrase(tell, 'station.edge-head'), nearWords(edge, tell)],
  ...(stream === null
    ? []
    : [[phrase(tell, 'station.stream-head'), nearWords(stream, tell)] as const]),
];

/** Distances by which tees on a circle are checked, metres: between neighbours and opposite ones, and from the rim. */
export const checksOf = (
  distance: number,
  count: number,
): { readonly next: number; readonly across: number; readonly rim: number } => ({
  next: 2 * distance * Math.sin(Math.PI / count),
  across: 2 * distance,
  rim: distance - HOLE_RADIUS,
});

/** A putter of 34 in, by which a pace is laid from the rim. Common practice, no source. */
const PUTTER = inchesToMetres(34);
const PUTTER_ROOM = 0.02;

/** The same in words. */
export const checkWords = (distance: number, count: number, tell: Telling): string => {
  const { next, across, rim } = checksOf(distance, count);
  return phrase(tell, 'station.check', {
    rim: laid(rim, tell),
    putter:
      Math.abs(rim - PUTTER) < PUTTER_ROOM
        ? phrase(tell, 'station.putter', { length: laid(PUTTER, tell) })
        : '',
    next: laid(next, tell),
    across: laid(across, tell),
  });
};

/** "1:30 o'clock", "12 o'clock". */
export const clockWords = (hours: number, tell: Telling): string => {
  const minutes = Math.round((hours % 1) * 60);
  return phrase(tell, 'round.clock', {
    hours: minutes === 0 ? Math.floor(hours) : `${Math.floor(hours)}:${minutes}`,
  });
};

/** Over which point all the aims of a walk round the hole pass, as nearly as the ground lets them. */
export const overWords = ({ over }: Pick<WalkRound, 'over'>, tell: Telling): string => {
  if (over === null) return phrase(tell, 'round.few');
  return phrase(tell, 'round.over', {
    place: isNothing(Math.hypot(over.uphill, over.right), tell)
      ? phrase(tell, 'round.hole')
      : whereWords(over, tell),
    near: isNothing(over.spread, tell)
      ? phrase(tell, 'round.hair')
      : phrase(tell, 'round.within', { figure: laid(over.spread, tell) }),
  });
};
