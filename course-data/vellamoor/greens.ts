/**
 * The greens of Vellamoor as their makers would have drawn them: an outline and a sum of shapes. All
 * lengths in metres, in a frame whose origin is the middle of the green, u to the right and v up the
 * line of approach; angles in degrees counter-clockwise from u. Invented.
 */
export type Shape =
  /** Rises by `gu` and `gv` (grade) along u and v. */
  | { readonly kind: 'plane'; readonly gu: number; readonly gv: number }
  /** Two levels joined by a face of the given width (twice the length of a tanh), uphill toward `toward`. */
  | {
      readonly kind: 'tier';
      readonly rise: number;
      readonly at: readonly [number, number];
      readonly toward: number;
      readonly face: number;
      /** Curvature of the face's line, 1/m. */
      readonly curve: number;
    }
  /** A mound (or a hollow, when `height` is negative): a Gaussian of standard deviations `su`, `sv`. */
  | {
      readonly kind: 'mound';
      readonly height: number;
      readonly at: readonly [number, number];
      readonly su: number;
      readonly sv: number;
      readonly turn: number;
    }
  /** A trough (or a ridge, when `depth` is negative) along a line, Gaussian across it. */
  | {
      readonly kind: 'swale';
      readonly depth: number;
      readonly at: readonly [number, number];
      readonly along: number;
      readonly width: number;
      readonly curve: number;
    };

/** An ellipse, bent into a bean, tapered into a leaf, turned, with a slight swell of third order. */
export interface OutlineShape {
  readonly halfWidth: number;
  readonly halfDepth: number;
  /** 1/m: how far the sides are pushed over by the square of the depth. */
  readonly bend: number;
  readonly taper: number;
  readonly turn: number;
  readonly swell: number;
}

export interface GreenDesign {
  readonly id: string;
  readonly name: string;
  /** What kind of green it is, in a few words. */
  readonly character: string;
  readonly outline: OutlineShape;
  readonly shapes: readonly Shape[];
  /** Drains, in the same frame. */
  readonly drains: readonly (readonly [number, number])[];
}

const plane = (gu: number, gv: number): Shape => ({ kind: 'plane', gu, gv });
const tier = (
  rise: number,
  at: readonly [number, number],
  toward: number,
  face: number,
  curve = 0,
): Shape => ({ kind: 'tier', rise, at, toward, face, curve });
const mound = (
  height: number,
  at: readonly [number, number],
  su: number,
  sv: number,
  turn = 0,
): Shape => ({ kind: 'mound', height, at, su, sv, turn });
const swale = (
  depth: number,
  at: readonly [number, number],
  along: number,
  width: number,
  curve = 0,
): Shape => ({ kind: 'swale', depth, at, along, width, curve });
const outline = (
  halfWidth: number,
  halfDepth: number,
  bend: number,
  taper: number,
  turn: number,
  swell: number,
): OutlineShape => ({ halfWidth, halfDepth, bend, taper, turn, swell });

const green = (
  id: string,
  name: string,
  character: string,
  shape: OutlineShape,
  shapes: readonly Shape[],
  drains: GreenDesign['drains'] = [],
): GreenDesign => ({ id, name, character, outline: shape, shapes, drains });

export const greenDesigns: readonly GreenDesign[] = [
  green('1', 'Ferry Bell', 'back to front', outline(12, 14.5, 0.012, 0.12, -8, 0.03), [
    plane(0.004, 0.016),
    mound(0.2, [-6, 9], 6.5, 7.5, 20),
    swale(0.12, [3, -3], 70, 5, 0.02),
  ]),
  green('2', "Kestrel's Elbow", 'two tiers', outline(12.5, 15.5, -0.014, -0.1, 12, 0.02), [
    plane(0.005, 0.012),
    tier(0.4, [0, 2.5], 78, 4, 0.02),
  ]),
  green(
    '3',
    'Salt Cup',
    'punchbowl with a drain',
    outline(12.5, 12, 0, 0.06, 25, 0.03),
    [plane(0.003, 0.005), mound(-0.4, [-1.5, -1], 9, 8, 30)],
    [[-2.17, -1.92]],
  ),
  green('4', 'Long Ebb', 'false front', outline(11.5, 16.5, 0.01, 0.1, 0, 0.025), [
    plane(-0.006, 0.012),
    tier(0.5, [0, -12.5], 86, 5, -0.03),
    mound(0.16, [5, 6], 6, 7, -15),
  ]),
  green('5', "Tinker's Bend", 'crowned', outline(13, 12.5, -0.01, 0.08, 35, 0.03), [
    plane(0.004, 0.006),
    mound(0.42, [0.5, 0.5], 10, 9, 35),
  ]),
  green('6', 'Thrift Bank', 'swale through the middle', outline(12, 16, 0.013, -0.12, -14, 0.03), [
    plane(-0.005, 0.014),
    swale(0.3, [0, 0], 118, 4.6, 0.012),
  ]),
  green('7', "Gull's Table", 'saddle', outline(15.5, 10.5, 0.012, 0.08, 6, 0.02), [
    plane(0.002, 0.003),
    mound(0.3, [-9.5, 0.5], 6.5, 7.5, 0),
    mound(0.26, [9, -0.5], 6, 7, 0),
    swale(-0.14, [0, 0], 2, 6, 0),
  ]),
  green('8', 'Whinmarrow', 'long and narrow', outline(7.6, 22.5, 0.006, 0.1, -4, 0.02), [
    plane(0.008, 0.014),
    swale(-0.16, [0, 6], 20, 5, 0),
    mound(0.09, [-3, 15], 6, 7, 0),
  ]),
  green('9', 'Far Lantern', 'two tiers, short face', outline(13, 15, -0.012, 0.14, -18, 0.03), [
    plane(-0.004, 0.013),
    tier(0.2, [0, 1], 98, 2, 0.03),
    mound(0.12, [5, -8], 6, 6, 0),
  ]),
  green('10', 'Homeward Oar', 'nearly plane', outline(12.5, 14, 0.01, 0.06, 20, 0.03), [
    plane(-0.012, 0.014),
    mound(0.05, [3, 3], 9, 9, 0),
  ]),
  green('11', 'Ropemaker', 'three steps', outline(12, 18.5, 0.009, -0.08, 10, 0.025), [
    plane(0.003, 0.01),
    tier(0.24, [0, -5], 82, 4.5, 0.02),
    tier(0.26, [0, 7.5], 100, 4.5, -0.02),
  ]),
  green('12', 'Thimble', 'small and crowned', outline(10.2, 11.2, 0.012, 0.1, -30, 0.03), [
    plane(0.003, 0.008),
    mound(0.34, [-0.5, 1], 8.5, 8, 0),
  ]),
  green('13', 'Kelpward', 'back bowl behind a ridge', outline(13, 15.5, -0.01, 0.1, -10, 0.03), [
    plane(0.016, 0.009),
    swale(-0.22, [0, 1], 8, 5, -0.015),
    mound(0.2, [-8, 10], 6, 6, 0),
  ]),
  green('14', 'Crooked Oar', 'side tier, short face', outline(14, 12.5, 0.014, 0.1, 14, 0.02), [
    plane(0.006, 0.015),
    tier(0.2, [1, 0], 172, 2, 0.02),
  ]),
  green('15', 'Stormglass', 'falls away to the back', outline(11.5, 14.5, 0.012, 0.1, 24, 0.03), [
    plane(0.007, -0.013),
    swale(-0.12, [0, -5], 12, 5, 0.01),
    mound(0.12, [6, 2], 6, 7, 0),
  ]),
  green('16', "Cobbler's Seat", 'deep swale across', outline(11.5, 18, 0.006, -0.06, -5, 0.02), [
    plane(0.015, 0.008),
    swale(0.36, [0, 0], 4, 4, 0.004),
  ]),
  green(
    '17',
    'Marramdeep',
    'horseshoe open to the front',
    outline(13.5, 14.5, 0.01, -0.12, 0, 0.03),
    [
      plane(0.002, 0.014),
      mound(0.3, [-10, 3], 5.5, 8, 0),
      mound(0.28, [10.5, 2], 5.5, 8, 0),
      mound(0.16, [0, 12], 8, 5.5, 0),
    ],
  ),
  green(
    '18',
    'Harbour Lamp',
    'two tiers and a false edge',
    outline(14, 16, -0.012, 0.1, 16, 0.03),
    [plane(0.002, 0.013), tier(0.38, [0, 4], 70, 4, -0.02), tier(-0.36, [10.5, -2], 8, 5, 0.02)],
  ),
  green('practice', 'Practice green', 'many slopes', outline(16.6, 14, 0.01, 0.06, 10, 0.04), [
    plane(0.008, 0.012),
    mound(0.24, [-9, 4], 6.5, 6, 20),
    mound(0.18, [8, -4], 6, 6, 0),
    swale(0.16, [1, 0], 100, 5, 0.01),
  ]),
];
