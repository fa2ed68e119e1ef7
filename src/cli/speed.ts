import { stimpWords } from '../book/ground-words.js';
import { InputFault } from '../fault.js';
import {
  decelerationOf,
  gradeFromRolls,
  levelReading,
  resistanceCoefficient,
} from '../putt/green-speed.js';
import { isStimpReading } from '../stimp-readings.js';
import { METRES_PER_INCH, metresToFeet, type UnitSystem } from '../units.js';
import { lengthArgument } from './lengths.js';
import { printJson, printText } from './output.js';

interface SpeedArguments {
  readonly up: string;
  readonly down: string;
  readonly units: UnitSystem;
  readonly json: boolean;
}

const BARE = { imperial: 'ft', metric: 'm' } as const;

/**
 * Rolls that differ by no more may be averaged plainly: 18 in. Source: USGA Stimpmeter instruction
 * booklet. A slope where down is more than three times up is steep: USGA Course Rating manual, section 8.
 */
const PLAIN_AVERAGE = 18 * METRES_PER_INCH;
const STEEP = 3;
const MODERATE = 2;

const adviceOn = (up: number, down: number): string => {
  if (Math.abs(down - up) <= PLAIN_AVERAGE) {
    return 'the two rolls differ by no more than 18 in: their plain average would do as well';
  }
  const ratio = Math.max(up, down) / Math.min(up, down);
  if (ratio > STEEP) return 'steep: down is over three times up; a flatter spot is surer';
  if (ratio >= MODERATE) return 'moderately sloped: down is two to three times up';
  return 'too sloped for a plain average; the reading is corrected for the slope';
};

export const runSpeed = ({ up, down, units, json }: SpeedArguments): void => {
  const upRoll = lengthArgument('--up', up, BARE[units]);
  const downRoll = lengthArgument('--down', down, BARE[units]);
  if (upRoll > downRoll) {
    throw new InputFault(
      { file: 'command line', place: '--up' },
      'the roll up the slope is longer than the roll down it',
      `exchanged? write --up ${down} --down ${up}`,
    );
  }
  const stimp = levelReading(upRoll, downRoll);
  const told = stimpWords(stimp, units);
  if (!isStimpReading(stimp)) {
    throw new InputFault(
      { file: 'command line' },
      `rolls of ${up} and ${down} are a green speed of ${told}, which no green has`,
      'check their units; readings lie between 2 and 20 ft (0.6 and 6.1 m)',
    );
  }
  const grade = gradeFromRolls(upRoll, downRoll);
  const advice = adviceOn(upRoll, downRoll);
  if (json) {
    printJson({
      stimp_m: stimp,
      stimp_ft: metresToFeet(stimp),
      up_m: upRoll,
      down_m: downRoll,
      plain_average_m: (upRoll + downRoll) / 2,
      grade_percent: grade * 100,
      deceleration_mps2: decelerationOf(stimp),
      resistance: resistanceCoefficient(stimp),
      advice,
    });
    return;
  }
  printText(`green speed ${told} (level), on a slope of ${(grade * 100).toFixed(1)} %\n${advice}`);
};
