import type { HoleLocation } from '../course/course.js';
import { distance as apart } from '../geometry.js';
import { locationWords } from '../page/kit/location-words.js';
import {
  aimWords,
  carriesWords,
  checksOf,
  checkWords,
  clockWords,
  levelPaceWords,
  markerWords,
  overWords,
  settingRows,
  stepWords,
} from '../page/putts/station-words.js';
import type { Telling } from '../page/words/words.js';
import type { TableCell } from '../putt/putt.js';
import type { PracticeStation } from '../putt/station.js';
import type { StationSetting } from '../putt/station-setting.js';
import type { WalkRound } from '../putt/walk-round.js';
import { radiansToDegrees, type UnitSystem } from '../units.js';
import { stimpWords } from './ground-words.js';

/** A practice station, where it lies, and a walk round its hole where one is asked for. */
export interface StationFigures {
  readonly location: HoleLocation;
  readonly setting: StationSetting;
  readonly station: PracticeStation;
  readonly round: WalkRound | null;
}

const to = (value: number, digits: number): number => Number(value.toFixed(digits));
const place = ([x, y]: readonly [number, number]): number[] => [to(x, 4), to(y, 4)];

const puttJson = ({ outcome, putt }: Pick<TableCell, 'outcome' | 'putt'>): object => ({
  outcome,
  aim_offset_m: putt === null ? null : to(putt.aimOffset, 4),
  aim_angle_deg: putt === null ? null : to(radiansToDegrees(putt.aimAngle), 3),
  pace_m: putt === null ? null : to(putt.pace, 4),
  launch_speed_mps: putt === null ? null : to(putt.launchSpeed, 4),
});

const markerJson = ({ marker }: PracticeStation): object | null =>
  marker === null
    ? null
    : {
        verdict: marker.verdict,
        at_m: place(marker.best.at),
        uphill_m: to(marker.best.uphill, 4),
        right_m: to(marker.best.right, 4),
        least_kept: to(marker.best.least, 3),
        pace_asks_m: to(marker.asks.pace, 4),
        sides_ask_m: to(marker.asks.sides, 4),
        putts: marker.best.putts.map(({ quadrant, velocity, pace, aimKept, paceKept, kept }) => ({
          quadrant,
          velocity_mps: place(velocity),
          pace_m: to(pace, 4),
          aim_kept: to(aimKept, 3),
          pace_kept: to(paceKept, 3),
          kept: to(kept, 3),
        })),
      };

const roundJson = ({ tees, over, distance }: WalkRound): object => ({
  checks_m: checksJson(distance, tees.length),
  over:
    over === null
      ? null
      : {
          at_m: place(over.at),
          uphill_m: to(over.uphill, 4),
          right_m: to(over.right, 4),
          spread_m: to(over.spread, 4),
        },
  tees: tees.map((tee) => ({ clock: tee.clock, at_m: place(tee.tee), ...puttJson(tee) })),
});

const checksJson = (distance: number, count: number): object => {
  const { next, across, rim } = checksOf(distance, count);
  return { from_rim: to(rim, 4), neighbours: to(next, 4), opposite: to(across, 4) };
};

/** A station as plain data: metres in the frame of the green. */
export const stationFigures = ({ location, setting, station, round }: StationFigures): object => ({
  location: { on_paces: to(location.on, 2), in_paces: to(location.in, 2), side: location.side },
  hole_m: place(station.hole),
  step_m: to(station.distance, 4),
  stimp_m: station.settings.stimp,
  past_m: station.settings.past,
  fall: { grade: to(station.grade, 5), toward_m: place(station.fall), toward: setting.falls },
  edge: { distance_m: to(setting.edge.distance, 3), at_m: place(setting.edge.at) },
  stream:
    setting.stream === null
      ? null
      : { distance_m: to(setting.stream.distance, 3), at_m: place(setting.stream.at) },
  tees: station.tees.map((tee) => ({
    quadrant: tee.quadrant,
    at_m: place(tee.tee),
    ...puttJson(tee),
    pictured_m: tee.pictured === null ? null : to(tee.pictured, 4),
    picture: tee.picture,
  })),
  checks_m: checksJson(station.distance, 4),
  from_marker_m:
    station.marker === null
      ? null
      : Object.fromEntries(
          station.tees.map(({ quadrant, tee }) => [
            quadrant,
            to(apart(tee, station.marker?.best.at ?? tee), 4),
          ]),
        ),
  marker: markerJson(station),
  walk_round: round === null ? null : roundJson(round),
});

/** The same in words, a name and a value each; a further line of one thing has no name. */
const stationRows = (
  figures: StationFigures,
  tell: Telling,
): (readonly [name: string, words: string])[] => {
  const { location, setting, station, round } = figures;
  const { settings, grade, distance } = station;
  const together = (...words: readonly string[]): string =>
    words.filter((one) => one !== '').join(', ');
  return [
    [
      'hole',
      `${locationWords(location, tell)}; ${stepWords(distance, tell)} to each tee, speed ${stimpWords(settings.stimp, tell.units)}`,
    ],
    ...settingRows(setting, grade, tell),
    ...station.tees.map((tee): [string, string] => [
      tee.quadrant,
      together(
        aimWords(tee, tell),
        levelPaceWords(tee, tell),
        tee.picture === 'over the point above' || tee.pictured === null
          ? ''
          : carriesWords(tee, tell),
      ),
    ]),
    ...markerWords(station, tell).map((words, i): [string, string] => [
      i === 0 ? 'marker' : '',
      words,
    ]),
    ['check', checkWords(distance, 4, tell)],
    ...(round === null
      ? []
      : [
          ...round.tees.map((tee): [string, string] => [
            clockWords(tee.clock, tell),
            together(aimWords(tee, tell), levelPaceWords(tee, tell)),
          ]),
          ['round', overWords(round, tell)] as [string, string],
          ['check', checkWords(distance, round.tees.length, tell)] as [string, string],
        ]),
  ];
};

/** The same as lines of text. */
export const stationText = (figures: StationFigures, units: UnitSystem): string => {
  const rows = stationRows(figures, { units });
  const width = Math.max(...rows.map(([name]) => name.length)) + 2;
  return rows.map(([name, words]) => `${name.padEnd(width)}${words}`).join('\n');
};
