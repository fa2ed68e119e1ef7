/**
 * The only unit conversions of the program. Inside, everything is SI: metres, seconds, radians,
 * grade as a fraction (0.02 is 2 %). Millimetres of paper and points of type appear in page/ and print/.
 *
 * Sources: international yard and pound agreement of 1959 (1 yd = 0.9144 m exactly); US survey foot
 * 1200/3937 m (Mendenhall Order, withdrawn for new work by NIST and NGS at the end of 2022);
 * 1 pt = 1/72 in (ISO 32000-1, 8.3.2.3). One pace is one yard: common practice, no source.
 */
export const METRES_PER_INCH = 0.0254;
export const METRES_PER_FOOT = 0.3048;
export const METRES_PER_YARD = 0.9144;
export const METRES_PER_PACE = METRES_PER_YARD;
export const METRES_PER_US_SURVEY_FOOT = 1200 / 3937;
export const MM_PER_INCH = 25.4;
export const POINTS_PER_INCH = 72;

export const inchesToMetres = (inches: number): number => inches * METRES_PER_INCH;
export const metresToInches = (metres: number): number => metres / METRES_PER_INCH;
export const feetToMetres = (feet: number): number => feet * METRES_PER_FOOT;
export const metresToFeet = (metres: number): number => metres / METRES_PER_FOOT;
export const yardsToMetres = (yards: number): number => yards * METRES_PER_YARD;
export const metresToYards = (metres: number): number => metres / METRES_PER_YARD;
export const pacesToMetres = (paces: number): number => paces * METRES_PER_PACE;
export const metresToPaces = (metres: number): number => metres / METRES_PER_PACE;
export const pointsToMm = (points: number): number => (points * MM_PER_INCH) / POINTS_PER_INCH;
export const mmToPoints = (mm: number): number => (mm * POINTS_PER_INCH) / MM_PER_INCH;
export const degreesToRadians = (degrees: number): number => (degrees * Math.PI) / 180;
export const radiansToDegrees = (radians: number): number => (radians * 180) / Math.PI;

/** Systems in which figures are shown to the user. */
export type UnitSystem = 'imperial' | 'metric';

/** The units of the first that asks for any, else imperial. */
export const firstUnits = (...asked: readonly (UnitSystem | undefined)[]): UnitSystem =>
  asked.find((one) => one !== undefined) ?? 'imperial';
