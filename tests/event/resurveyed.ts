import type { TrueGreen } from '../../course-data/vellamoor/truth.js';
import type { SurveyPoints } from '../../src/event/confirm-movement.js';
import { boxOf, growBox, type Point, signedDistanceToRing } from '../../src/geometry.js';
import { fitSurface } from '../../src/surface/fit.js';
import type { Surface } from '../../src/surface/surface.js';
import { H, JET_SIZE } from '../../src/surface/surface.js';
import { normals } from './grounds.js';

/** Metres between the points of a survey, and the standard deviation of their heights. */
const SPACING = 1.15;
export const NOISE = 0.006;

export interface Resurveyed {
  readonly surface: Surface;
  readonly points: SurveyPoints;
}

/** A fitted survey of a demo green, with noise of its own, after its ground was changed. */
export const resurveyed = (
  green: TrueGreen,
  seed: number,
  changed: (x: number, y: number) => number = () => 0,
): Resurveyed => {
  const normal = normals(seed);
  const box = growBox(boxOf(green.outline), 2);
  const jet = new Float64Array(JET_SIZE);
  const points: [number, number, number][] = [];
  for (let y = box.minY; y <= box.maxY; y += SPACING) {
    for (let x = box.minX; x <= box.maxX; x += SPACING) {
      const [px, py] = [x + 0.2 * normal(), y + 0.2 * normal()];
      if (signedDistanceToRing(green.outline, px, py) > 1.9) continue;
      green.at(px, py, jet);
      points.push([px, py, jet[H] + changed(px, py) + NOISE * normal()]);
    }
  }
  const column = (k: 0 | 1 | 2): Float64Array => Float64Array.from(points, (p) => p[k]);
  const survey = { x: column(0), y: column(1), z: column(2) };
  const { surface } = fitSurface({ ...survey, outline: green.outline });
  return { surface, points: survey };
};

/** A smooth rise of ground in the middle of a green. */
export const bump = (
  green: TrueGreen,
  rise: number,
  radius: number,
): { readonly middle: Point; readonly height: (x: number, y: number) => number } => {
  const box = boxOf(green.outline);
  const middle: Point = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  return {
    middle,
    height: (x, y) => {
      const r2 = ((x - middle[0]) ** 2 + (y - middle[1]) ** 2) / (radius * radius);
      return r2 < 1 ? rise * (1 - r2) ** 2 : 0;
    },
  };
};
