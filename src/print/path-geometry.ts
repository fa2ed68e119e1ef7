import type { Box } from '../geometry.js';
import type { PathStep } from '../page/marks/marks.js';
import { degreesToRadians } from '../units.js';

/** The points where a cubic's coordinate turns, as parameters in (0, 1). */
const turns = (a: number, b: number, c: number, d: number): number[] => {
  const p = -a + 3 * b - 3 * c + d;
  const q = 2 * (a - 2 * b + c);
  const r = b - a;
  if (Math.abs(p) < 1e-12) return Math.abs(q) < 1e-12 ? [] : [-r / q];
  const square = q * q - 4 * p * r;
  if (square < 0) return [];
  const root = Math.sqrt(square);
  return [(-q + root) / (2 * p), (-q - root) / (2 * p)];
};

const cubicAt = (a: number, b: number, c: number, d: number, t: number): number => {
  const s = 1 - t;
  return s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d;
};

/** The exact extent of a path, curves included. */
export const pathBox = (steps: readonly PathStep[]): Box => {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  let x = 0;
  let y = 0;
  const take = (px: number, py: number): void => {
    minX = Math.min(minX, px);
    minY = Math.min(minY, py);
    maxX = Math.max(maxX, px);
    maxY = Math.max(maxY, py);
  };
  for (const step of steps) {
    if (step[0] === 'Z') continue;
    if (step[0] === 'C') {
      const [, x1, y1, x2, y2, x3, y3] = step;
      for (const t of turns(x, x1, x2, x3)) {
        if (t > 0 && t < 1) take(cubicAt(x, x1, x2, x3, t), cubicAt(y, y1, y2, y3, t));
      }
      for (const t of turns(y, y1, y2, y3)) {
        if (t > 0 && t < 1) take(cubicAt(x, x1, x2, x3, t), cubicAt(y, y1, y2, y3, t));
      }
      x = x3;
      y = y3;
    } else {
      x = step[1];
      y = step[2];
    }
    take(x, y);
  }
  return { minX, minY, maxX, maxY };
};

/** Ends of the strokes that hatch a box, anchored to the page so that neighbouring hatches line up. */
export const hatchLines = (
  box: Box,
  angle: number,
  pitch: number,
): readonly (readonly [x1: number, y1: number, x2: number, y2: number])[] => {
  const turn = degreesToRadians(-angle); // y is down
  const along = [Math.cos(turn), Math.sin(turn)] as const;
  const across = [-along[1], along[0]] as const;
  const corners = [
    [box.minX, box.minY],
    [box.maxX, box.minY],
    [box.minX, box.maxY],
    [box.maxX, box.maxY],
  ];
  const u = corners.map(([x, y]) => x * along[0] + y * along[1]);
  const v = corners.map(([x, y]) => x * across[0] + y * across[1]);
  const [uMin, uMax] = [Math.min(...u), Math.max(...u)];
  const first = Math.ceil(Math.min(...v) / pitch);
  const last = Math.floor(Math.max(...v) / pitch);
  const lines: [number, number, number, number][] = [];
  for (let i = first; i <= last; i++) {
    const at = i * pitch;
    lines.push([
      uMin * along[0] + at * across[0],
      uMin * along[1] + at * across[1],
      uMax * along[0] + at * across[0],
      uMax * along[1] + at * across[1],
    ]);
  }
  return lines;
};
