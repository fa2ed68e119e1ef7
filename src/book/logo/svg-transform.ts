import { degreesToRadians } from '../../units.js';

/** The affine map x' = a x + c y + e, y' = b x + d y + f. */
export type Affine = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

export const SAME: Affine = [1, 0, 0, 1, 0, 0];

/** First `inner`, then `outer`. */
export const after = (outer: Affine, inner: Affine): Affine => {
  const [a, b, c, d, e, f] = outer;
  const [g, h, i, j, k, l] = inner;
  return [
    a * g + c * h,
    b * g + d * h,
    a * i + c * j,
    b * i + d * j,
    a * k + c * l + e,
    b * k + d * l + f,
  ];
};

export const applied = ([a, b, c, d, e, f]: Affine, x: number, y: number): [number, number] => [
  a * x + c * y + e,
  b * x + d * y + f,
];

/** By how much a line grows, which is one figure where the map keeps angles. */
export const growth = ([a, b, c, d]: Affine): number => Math.sqrt(Math.abs(a * d - b * c));

const turned = (degrees: number): Affine => {
  const [sin, cos] = [Math.sin(degreesToRadians(degrees)), Math.cos(degreesToRadians(degrees))];
  return [cos, sin, -sin, cos, 0, 0];
};

const oneOf = (name: string, v: readonly number[]): Affine | null => {
  switch (`${name} ${v.length}`) {
    case 'matrix 6':
      return v as unknown as Affine;
    case 'translate 1':
    case 'translate 2':
      return [1, 0, 0, 1, v[0], v[1] ?? 0];
    case 'scale 1':
    case 'scale 2':
      return [v[0], 0, 0, v[1] ?? v[0], 0, 0];
    case 'rotate 1':
      return turned(v[0]);
    case 'rotate 3':
      return after([1, 0, 0, 1, v[1], v[2]], after(turned(v[0]), [1, 0, 0, 1, -v[1], -v[2]]));
    case 'skewX 1':
      return [1, 0, Math.tan(degreesToRadians(v[0])), 1, 0, 0];
    case 'skewY 1':
      return [1, Math.tan(degreesToRadians(v[0])), 0, 1, 0, 0];
    default:
      return null;
  }
};

/** The value of a transform attribute (SVG 1.1, 7.6); null for what is none. */
export const transformOf = (text: string): Affine | null => {
  let all: Affine = SAME;
  const rest = text.replaceAll(/\s*,?\s*(\w+)\s*\(([^()]*)\)/g, (_, name: string, list: string) => {
    const values = list
      .split(/[\s,]+/)
      .filter((one) => one !== '')
      .map(Number);
    const found = values.every(Number.isFinite) ? oneOf(name, values) : null;
    if (found === null) return '?';
    all = after(all, found);
    return '';
  });
  return rest.trim() === '' ? all : null;
};
