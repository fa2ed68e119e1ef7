export type Depth = 'front' | 'middle' | 'back';

export type Zone = `${Depth} ${'left' | 'right'}`;

export const ZONES: readonly Zone[] = [
  'front left',
  'front right',
  'middle left',
  'middle right',
  'back left',
  'back right',
];

/** Front, middle and back are thirds of the green's depth along the line of approach. */
export const depthOf = (y: number, deepest: number): Depth =>
  y < deepest / 3 ? 'front' : y < (2 * deepest) / 3 ? 'middle' : 'back';
