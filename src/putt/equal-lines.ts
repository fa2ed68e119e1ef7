import type { Point } from '../geometry.js';

/** A field at the nodes of a square grid, row by row; NaN where it has no value. */
export interface NodeField {
  readonly originX: number;
  readonly originY: number;
  readonly step: number;
  readonly columns: number;
  readonly rows: number;
}

/** Edge 2n runs from node n to its right neighbour, 2n + 1 from node n to the one above. */
type Edge = number;

/** Pairs of edges that a level's line joins in one cell. */
const cellLinks = (
  f: NodeField,
  value: Float64Array,
  node: number,
  level: number,
  jump: number,
): readonly (readonly [Edge, Edge])[] => {
  const right = node + 1;
  const above = node + f.columns;
  const across = above + 1;
  const [a, b, c, d] = [value[node], value[right], value[across], value[above]];
  const low = Math.min(a, b, c, d);
  const high = Math.max(a, b, c, d);
  // NaN fails every comparison: no line where a corner has no value, nor across a jump of the field.
  if (!(low < level && level <= high && high - low <= jump)) return [];
  const crossed: Edge[] = [];
  if (a >= level !== b >= level) crossed.push(2 * node);
  if (b >= level !== c >= level) crossed.push(2 * right + 1);
  if (d >= level !== c >= level) crossed.push(2 * above);
  if (a >= level !== d >= level) crossed.push(2 * node + 1);
  if (crossed.length === 2) return [[crossed[0], crossed[1]]];
  const middleIn = (a + b + c + d) / 4 >= level;
  return a >= level === middleIn
    ? [
        [crossed[0], crossed[1]],
        [crossed[2], crossed[3]],
      ]
    : [
        [crossed[0], crossed[3]],
        [crossed[1], crossed[2]],
      ];
};

const pointOn = (f: NodeField, value: Float64Array, edge: Edge, level: number): Point => {
  const node = edge >> 1;
  const upward = (edge & 1) === 1;
  const other = upward ? node + f.columns : node + 1;
  const t = (level - value[node]) / (value[other] - value[node]);
  const x = f.originX + (node % f.columns) * f.step;
  const y = f.originY + Math.floor(node / f.columns) * f.step;
  return upward ? [x, y + t * f.step] : [x + t * f.step, y];
};

/**
 * Lines on which a field equals a level, by marching squares (Lorensen & Cline 1987 in two dimensions)
 * with straight edges; a closed line repeats its first point. Cells whose corners differ by more than
 * `jump` carry no line: there the field breaks off.
 */
export const equalLines = (
  field: NodeField,
  value: Float64Array,
  level: number,
  jump = Infinity,
): readonly (readonly Point[])[] => {
  const neighbours = new Map<Edge, Edge[]>();
  const join = (a: Edge, b: Edge): void => {
    const known = neighbours.get(a);
    if (known === undefined) neighbours.set(a, [b]);
    else known.push(b);
  };
  for (let r = 0; r + 1 < field.rows; r++) {
    for (let c = 0; c + 1 < field.columns; c++) {
      for (const [a, b] of cellLinks(field, value, r * field.columns + c, level, jump)) {
        join(a, b);
        join(b, a);
      }
    }
  }
  const seen = new Set<Edge>();
  const follow = (start: Edge): Point[] => {
    const line: Point[] = [];
    let edge: Edge | undefined = start;
    let last: Edge = start;
    while (edge !== undefined && !seen.has(edge)) {
      seen.add(edge);
      line.push(pointOn(field, value, edge, level));
      last = edge;
      edge = neighbours.get(edge)?.find((next) => !seen.has(next));
    }
    const closes = line.length > 2 && neighbours.get(last)?.includes(start) === true;
    if (closes) line.push(line[0]);
    return line;
  };
  const ends = [...neighbours].filter(([, to]) => to.length === 1).map(([edge]) => edge);
  const lines: Point[][] = [];
  for (const edge of [...ends, ...neighbours.keys()]) if (!seen.has(edge)) lines.push(follow(edge));
  return lines.filter((line) => line.length > 1);
};
