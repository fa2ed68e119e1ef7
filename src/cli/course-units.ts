import { firstUnits, type UnitSystem } from '../units.js';

interface Shown {
  readonly units: UnitSystem;
}

/** Arguments that leave the units to the course. */
export type UnitsOpen<Args extends Shown> = Omit<Args, 'units'> & {
  readonly units: UnitSystem | undefined;
};

/** The same with units: those that are asked for, or the course's, or imperial. */
export const withUnits = <Args extends Shown>(
  args: UnitsOpen<Args>,
  course: { readonly units?: UnitSystem | undefined } | null,
): Args => ({ ...args, units: firstUnits(args.units, course?.units) }) as unknown as Args;
