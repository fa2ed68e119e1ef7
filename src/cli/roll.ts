import { type RollsTold, rollsOnGreen } from '../book/rolls-on-green.js';
import type { Estimate, RollReport, RollVerdict } from '../putt/measured-rolls.js';
import { metresToFeet, radiansToDegrees, type UnitSystem } from '../units.js';
import { stimpWords } from './lengths.js';
import { printJson, printText, showProgress } from './output.js';
import { requireWorth, worthJson } from './worth-words.js';

interface RollArguments {
  readonly course: string;
  readonly file: string;
  readonly out: string;
  readonly units: UnitSystem;
  readonly outside: boolean;
  readonly json: boolean;
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

const speedLines = ({ report, thought, measured }: RollsTold, units: UnitSystem): string[] => {
  const { stimp } = report;
  if (stimp === null) {
    return [
      measured.balls.some(({ release }) => release !== null)
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
        `to take it over, write for hole ${measured.hole.id} in course.yaml: ${key}`,
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

const rowOf = (told: RollsTold, k: number, units: UnitSystem): string => {
  const { alone, verdict } = told.report.rolls[k];
  const figures = [
    ...(alone.stimp === null ? [] : [stimpWords(alone.stimp, units)]),
    ...(alone.turn === null ? [] : [turnWords(alone.turn)]),
  ];
  return `${told.measured.balls[k].name.padEnd(10)} ${figures.join(', ').padEnd(30)} ${VERDICT_WORDS[verdict]}`;
};

const textOf = (told: RollsTold, units: UnitSystem): string =>
  [
    ...speedLines(told, units),
    ...aimLine('the balls of the ramp', told.report.turnOfRamp),
    ...aimLine('the balls of the putter', told.report.turnOfPutter),
    surveyLine(told.report.rolls),
    ...told.report.rolls.map((_, k) => rowOf(told, k, units)),
  ].join('\n');

const estimateJson = (estimate: Estimate | null, unit: string, factor = 1): object | null =>
  estimate === null
    ? null
    : {
        [`value_${unit}`]: estimate.value * factor,
        [`low_${unit}`]: estimate.low * factor,
        [`high_${unit}`]: estimate.high * factor,
        [`spread_${unit}`]: estimate.spread * factor,
      };

const jsonOf = ({ measured, worth, thought, report }: RollsTold): object => ({
  hole: measured.hole.id,
  date: measured.date,
  thought_stimp_m: thought,
  green_speed: estimateJson(report.stimp, 'm'),
  turn_of_ramp: estimateJson(report.turnOfRamp, 'deg', radiansToDegrees(1)),
  turn_of_putter: estimateJson(report.turnOfPutter, 'deg', radiansToDegrees(1)),
  balls: report.rolls.map(({ alone, verdict }, k) => ({
    name: measured.balls[k].name,
    verdict,
    stimp_m: alone.stimp,
    release_mps: alone.release,
    turn_deg: alone.turn === null ? null : radiansToDegrees(alone.turn),
    turn_sd_by_survey_deg: radiansToDegrees(alone.turnSd),
    length_sd_by_survey: alone.lengthSd,
  })),
  not_modelled: ['grain', 'firmness', 'wind'],
  worth: worthJson(worth),
});

/** `runnel roll`: what balls that came to rest tell of green speed, aim and survey. */
export const runRoll = async ({
  course,
  file,
  out,
  units,
  outside,
  json,
}: RollArguments): Promise<void> => {
  const told = await rollsOnGreen(course, file, out, {
    units,
    outside,
    onProgress: showProgress,
    check: (holeId, worth) => requireWorth(holeId, worth, 'roll'),
  });
  if (json) printJson(jsonOf(told));
  else printText(textOf(told, units));
};
