import { GUIDANCE, type Guidance } from '../event/guidance.js';
import { InputFault } from '../fault.js';
import { pacesToMetres, type UnitSystem } from '../units.js';
import { lengthArgument, stimpArgument } from './lengths.js';

export interface GuidanceArguments {
  readonly edge: number | undefined;
  readonly steepest: number | undefined;
  readonly uneven: number | undefined;
  readonly within: string | undefined;
  readonly past: string | undefined;
  readonly apart: number | undefined;
}

const LENGTH = { imperial: 'in', metric: 'cm' } as const;

/** The green speed of the command line, metres of stimp reading; `otherwise` when it names none. */
export const speedArgument = (value: string | undefined, otherwise: number): number =>
  value === undefined ? otherwise : stimpArgument('--speed', value);

const within = (
  option: string,
  value: number | undefined,
  most: number,
  otherwise: number,
): number => {
  if (value === undefined) return otherwise;
  if (value > 0 && value <= most) return value;
  throw new InputFault(
    { file: 'command line', place: option },
    `${value} is out of range`,
    `write a number over 0, at most ${most}`,
  );
};

/** The guidance with what the command line changes of it. */
export const guidanceOf = (args: GuidanceArguments, units: UnitSystem): Guidance => {
  const paces = (option: string, value: number | undefined, otherwise: number): number =>
    value === undefined ? otherwise : pacesToMetres(within(option, value, 30, 0));
  const percent = (option: string, value: number | undefined, otherwise: number): number =>
    value === undefined ? otherwise : within(option, value, 20, 0) / 100;
  const length = (option: string, value: string | undefined, otherwise: number): number =>
    value === undefined ? otherwise : lengthArgument(option, value, LENGTH[units]);
  const edge = paces('--edge', args.edge, GUIDANCE.edge);
  const past = length('--past', args.past, GUIDANCE.past);
  const stopsWithin = length('--within', args.within, GUIDANCE.stopsWithin);
  if (stopsWithin <= past) {
    throw new InputFault(
      { file: 'command line', place: '--within' },
      `no ball stops within ${stopsWithin.toFixed(2)} m at a pace of ${past.toFixed(2)} m past`,
      'downhill it always runs further than on the level: ask for more, or for less pace by --past',
    );
  }
  return {
    ...GUIDANCE,
    edge,
    edgeOnSmall: args.edge === undefined ? GUIDANCE.edgeOnSmall : edge,
    edgeEase: edge + (GUIDANCE.edgeEase - GUIDANCE.edge),
    steepest: percent('--steepest', args.steepest, GUIDANCE.steepest),
    unevenness: percent('--uneven', args.uneven, GUIDANCE.unevenness),
    past,
    stopsWithin,
    apart: paces('--apart', args.apart, GUIDANCE.apart),
  };
};
