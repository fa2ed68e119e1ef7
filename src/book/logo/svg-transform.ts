import { IDENTITY, type Matrix, multiply } from '../../check/matrix.js';
import { degreesToRadians } from '../../units.js';

const turned = (degrees: number): Matrix => {
  const [sin, cos] = [Math.sin(degreesToRadians(degrees)), Math.cos(degreesToRadians(degrees))];
  return [cos, sin, -sin, cos, 0, 0];
};

const oneOf = (name: string, v: readonly number[]): Matrix | null => {
  switch (`${name} ${v.length}`) {
    case 'matrix 6':
      return v as unknown as Matrix;
    case 'translate 1':
    case 'translate 2':
      return [1, 0, 0, 1, v[0], v[1] ?? 0];
    case 'scale 1':
    case 'scale 2':
      return [v[0], 0, 0, v[1] ?? v[0], 0, 0];
    case 'rotate 1':
      return turned(v[0]);
    case 'rotate 3':
      return [
        [1, 0, 0, 1, -v[1], -v[2]] as const,
        turned(v[0]),
        [1, 0, 0, 1, v[1], v[2]] as const,
      ].reduce(multiply);
    case 'skewX 1':
      return [1, 0, Math.tan(degreesToRadians(v[0])), 1, 0, 0];
    case 'skewY 1':
      return [1, Math.tan(degreesToRadians(v[0])), 0, 1, 0, 0];
    default:
      return null;
  }
};

/** One transform of a list, with what parts it from the one before. */
const NEXT = /\s*(?:,\s*)?(\w+)\s*\(([^()]*)\)/y;

/** The value of a transform attribute (SVG 1.1, 7.6); null for what is none. */
export const transformOf = (text: string): Matrix | null => {
  let all: Matrix = IDENTITY;
  const end = text.trimEnd().length;
  // Each is looked for where the last one ended: a search from every place would take the cube of a long text.
  for (let at = 0; at < end; at = NEXT.lastIndex) {
    NEXT.lastIndex = at;
    const [, name, list] = NEXT.exec(text) ?? [];
    if (name === undefined || list === undefined) return null;
    const values = list
      .split(/[\s,]+/)
      .filter((one) => one !== '')
      .map(Number);
    const found = values.every(Number.isFinite) ? oneOf(name, values) : null;
    if (found === null) return null;
    all = multiply(found, all);
  }
  return all;
};
