import type { Estimate, RollReport, RollsReport, RollVerdict } from '../putt/measured-rolls.js';
import { metresToFeet, radiansToDegrees, type UnitSystem } from '../units.js';
import { stimpWords } from './ground-words.js';

/** Measured rolls and what they tell, ready to be worded. */
export interface RollsSaid {
  readonly holeId: string;
  /** Green speed that was thought to hold, metres. */
  readonly thought: number;
  readonly report: RollsReport;
  /** In the order of the report's rolls; the release in m/s, null for a putter's. */
  readonly balls: readonly { readonly name: string; readonly release: number | null }[];
}

const VERDICT_WORDS: Readonly<Record<RollVerdict, string>> = {
  'as-computed': 'as computed',
  survey: 'within what the survey does not know',
  unexplained: 'neither speed, aim nor survey explains it',
  apart: 'apart from the others: not counted; a slip?',
  impossible: 'no green speed brings it there: not counted; from and toward exchanged?',
  unsurveyed: 'over ground without points: not counted',
};

const isOff = ({ low, high }: Estimate, value: number): boolean => value < low || value > high;

const turnWords = (turn: number): string => {
  const degrees = radiansToDegrees(turn);
  const size = Math.abs(degrees).toFixed(1);
  return size === '0.0' ? 'on the line' : `${size} deg ${degrees > 0 ? 'left' : 'right'}`;
};

const speedLines = ({ report, thought, holeId, balls }: RollsSaid, units: UnitSystem): string[] => {
  const { stimp } = report;
  if (stimp === null) {
    return [
      balls.some(({ release }) => release !== null)
        ? 'green speed: one roll alone tells no interval; let go three or more, up and down'
        : 'green speed: not told by putts, whose release nobody knows; add rolls of a ramp',
    ];
  }
  const told = `green speed ${stimpWords(stimp.value, units)}, slope taken out; ${stimpWords(stimp.low, units)} to ${stimpWords(stimp.high, units)} (95 %), from roll to roll ± ${stimpWords(stimp.spread, units)}`;
  const own = stimpWords(thought, units);
  const key = `greenSpeed: ${units === 'metric' ? `${stimp.value.toFixed(2)} m` : metresToFeet(stimp.value).toFixed(1)}`;
  return isOff(stimp, thought)
    ? [
        told,
        `speed: ${own} was thought to hold and lies outside: speed explains what was long or short`,
        `to take it over, write for hole ${holeId} in course.yaml: ${key}`,
      ]
    : [told, `speed: ${own} was thought to hold and lies inside`];
};

const aimLine = (who: string, turn: Estimate | null): string[] => {
  if (turn === null) return [];
  const interval = `${turnWords(turn.low)} to ${turnWords(turn.high)}`;
  return isOff(turn, 0)
    ? [
        `aim: ${who} lie ${turnWords(turn.value)} of the computed way (${interval}, 95 %): aim explains it`,
      ]
    : [`aim: ${who} have no miss in common (${interval}, 95 %)`];
};

/** What is left when speed and aim are taken out. */
const surveyLine = (rolls: readonly RollReport[]): string => {
  const counted = rolls.filter(({ verdict }) =>
    ['as-computed', 'survey', 'unexplained'].includes(verdict),
  );
  const within = counted.filter(({ verdict }) => verdict === 'survey').length;
  const beyond = counted.filter(({ verdict }) => verdict === 'unexplained').length;
  if (counted.length === 0) return 'survey: no ball tells anything of it';
  const head = `survey: of ${counted.length} balls ${counted.length - within - beyond} lie as computed, ${within} farther off but within the survey's interval`;
  if (beyond === 0) return head;
  // More than a chance of one in twenty each allows: three are rare among twenty.
  const many = beyond > Math.max(1, 0.15 * counted.length);
  return `${head}, ${beyond} beyond it${many ? ': the ground here is not as surveyed, or the balls were not sent off as written' : ''}`;
};

const rowOf = (told: RollsSaid, k: number, units: UnitSystem): string => {
  const { alone, verdict } = told.report.rolls[k];
  const figures = [
    ...(alone.stimp === null ? [] : [stimpWords(alone.stimp, units)]),
    ...(alone.turn === null ? [] : [turnWords(alone.turn)]),
  ];
  return `${told.balls[k].name.padEnd(10)} ${figures.join(', ').padEnd(30)} ${VERDICT_WORDS[verdict]}`;
};

/** What the balls tell in words, a line each; the last ones are of each ball. */
export const rollsLines = (told: RollsSaid, units: UnitSystem): string[] => [
  ...speedLines(told, units),
  ...aimLine('the balls of the ramp', told.report.turnOfRamp),
  ...aimLine('the balls of the putter', told.report.turnOfPutter),
  surveyLine(told.report.rolls),
  ...told.report.rolls.map((_, k) => rowOf(told, k, units)),
];
