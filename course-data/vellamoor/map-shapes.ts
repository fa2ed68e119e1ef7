import type { Point, Ring } from '../../src/geometry.js';
import { distance } from '../../src/geometry.js';
import type { Random } from './random.js';

/** How far a rounded corner may lie inside the corner of the line of play, metres. */
const CUT = 7;

/** The line of play with its corners rounded, each by a parabola. */
export const rounded = (line: readonly Point[]): Point[] => {
  const points: Point[] = [line[0]];
  for (let i = 1; i < line.length - 1; i++) {
    const [a, b, c] = [line[i - 1], line[i], line[i + 1]];
    const turn = Math.atan2(c[1] - b[1], c[0] - b[0]) - Math.atan2(b[1] - a[1], b[0] - a[0]);
    const sharp = Math.abs(Math.sin(turn / 2));
    const reach = Math.min(90, 0.5 * distance(a, b), 0.5 * distance(b, c), (2 * CUT) / sharp);
    const from = along([b, a], reach).at;
    const to = along([b, c], reach).at;
    for (let k = 0; k <= 20; k++) {
      const t = k / 20;
      const [p, q, r] = [(1 - t) * (1 - t), 2 * t * (1 - t), t * t];
      points.push([p * from[0] + q * b[0] + r * to[0], p * from[1] + q * b[1] + r * to[1]]);
    }
  }
  points.push(line[line.length - 1]);
  return points;
};

/** The place `d` metres along a line and the unit direction there; past its ends it goes straight on. */
export const along = (line: readonly Point[], d: number): { at: Point; toward: Point } => {
  let left = d;
  for (let i = 1; i < line.length; i++) {
    const side = distance(line[i - 1], line[i]);
    if (side === 0) continue;
    const toward: Point = [
      (line[i][0] - line[i - 1][0]) / side,
      (line[i][1] - line[i - 1][1]) / side,
    ];
    if (left <= side || i === line.length - 1) {
      return {
        at: [line[i - 1][0] + left * toward[0], line[i - 1][1] + left * toward[1]],
        toward,
      };
    }
    left -= side;
  }
  throw new Error('a line needs two points');
};

/** `d` metres along the line and `off` metres to its right. */
export const beside = (line: readonly Point[], d: number, off: number): Point => {
  const { at, toward } = along(line, d);
  return [at[0] + off * toward[1], at[1] - off * toward[0]];
};

export const blob = (
  at: Point,
  radius: number,
  stretch: number,
  turn: number,
  random: Random,
): Ring => {
  const [p2, p3] = [random.between(0, 6.28), random.between(0, 6.28)];
  const count = Math.max(20, Math.round(radius * 5));
  return Array.from({ length: count }, (_, i) => {
    const t = (2 * Math.PI * i) / count;
    const r = radius * (1 + 0.13 * Math.cos(2 * t + p2) + 0.1 * Math.cos(3 * t + p3));
    const [u, v] = [r * stretch * Math.cos(t), (r / stretch) * Math.sin(t)];
    return [
      at[0] + u * Math.cos(turn) - v * Math.sin(turn),
      at[1] + u * Math.sin(turn) + v * Math.cos(turn),
    ];
  });
};

/** Half the width of a band at a distance along its line, to one side of it. */
export type Half = (d: number, side: 1 | -1) => number;

/** A band round the line from d0 to d1 with round ends; its two sides need not be alike. */
export const band = (line: readonly Point[], d0: number, d1: number, half: Half): Ring => {
  const stations: number[] = [];
  const count = Math.round((d1 - d0) / 6);
  for (let i = 0; i <= count; i++) stations.push(d0 + ((d1 - d0) * i) / count);
  const cap = (d: number, forward: 1 | -1): Point[] => {
    const mean = (half(d, 1) + half(d, -1)) / 2;
    const middle = (half(d, 1) - half(d, -1)) / 2;
    return Array.from({ length: 11 }, (_, k) => {
      const a = ((k + 1) * Math.PI) / 12;
      return beside(
        line,
        d + forward * 0.75 * mean * Math.sin(a),
        middle + forward * Math.cos(a) * mean,
      );
    });
  };
  return [
    ...stations.map((d) => beside(line, d, half(d, 1))),
    ...cap(d1, 1),
    ...stations.reverse().map((d) => beside(line, d, -half(d, -1))),
    ...cap(d0, -1),
  ];
};

export const rectangle = (at: Point, toward: Point, wide: number, deep: number): Ring =>
  [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([sx, sy]): Point => {
    const [across, up] = [(sx * wide) / 2, (sy * deep) / 2];
    return [
      at[0] + across * toward[1] + up * toward[0],
      at[1] - across * toward[0] + up * toward[1],
    ];
  });
