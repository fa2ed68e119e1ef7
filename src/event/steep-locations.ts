import { resistanceCoefficient } from '../putt/green-speed.js';
import { GUIDANCE } from './guidance.js';

/** A hole location on surveyed ground. */
export interface LocationGrade {
  readonly holeId: string;
  /** Where it is, in words: "18 on, 5 right". */
  readonly words: string;
  /** Of the ground there, a fraction; null where nothing is known of it. */
  readonly grade: number | null;
  /** Green speed, metres. */
  readonly stimp: number;
}

/** Steeper than guidance has a hole location. */
export const isSteep = ({ grade }: Pick<LocationGrade, 'grade'>): boolean =>
  grade !== null && grade > GUIDANCE.steepest;

const percent = (grade: number): string => `${Number((100 * grade).toFixed(1))} %`;

/** So many are told by name. */
const MOST_TOLD = 4;

/**
 * What a sheet of the day may have wrong: locations where no hole would be cut are mostly left and right exchanged, or
 * another hole's figures. The steepest come first; null where there is none.
 */
export const steepLocations = (locations: readonly LocationGrade[]): string | null => {
  const steep = locations.filter(isSteep).sort((a, b) => b.grade! - a.grade!);
  if (steep.length === 0) return null;
  const told = steep.slice(0, MOST_TOLD).map(({ holeId, words, grade, stimp }) => {
    const rolls = grade! > resistanceCoefficient(stimp) ? ', where no ball comes to rest' : '';
    return `${holeId} (${words}: ${percent(grade!)}${rolls})`;
  });
  const more = steep.length - told.length;
  const rest = more > 0 ? `; and ${more} more` : '';
  return `on ground over the ${percent(GUIDANCE.steepest)} of guidance on hole locations, look at the sheet again: ${told.join('; ')}${rest}`;
};
