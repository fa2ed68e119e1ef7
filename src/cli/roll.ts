import { type RollsTold, rollsOnGreen } from '../book/rolls-on-green.js';
import { rollsLines } from '../book/rolls-words.js';
import type { Estimate } from '../putt/measured-rolls.js';
import { radiansToDegrees, type UnitSystem } from '../units.js';
import { printJson, printText, showProgress } from './output.js';
import { requireWorth, worthJson } from './worth-words.js';

interface RollArguments {
  readonly course: string;
  readonly file: string;
  readonly out: string;
  readonly units: UnitSystem | undefined;
  readonly outside: boolean;
  readonly json: boolean;
}

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
    ...(units === undefined ? {} : { units }),
    outside,
    onProgress: showProgress,
    check: (holeId, worth) => requireWorth(holeId, worth, 'roll'),
  });
  if (json) printJson(jsonOf(told));
  else {
    const { measured, thought, report } = told;
    const said = { holeId: measured.hole.id, thought, report, balls: measured.balls };
    printText(rollsLines(said, told.units).join('\n'));
  }
};
