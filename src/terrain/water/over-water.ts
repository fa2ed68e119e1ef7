import type { Point } from '../../geometry.js';
import { distance } from '../../geometry.js';
import { HXX, HXY, HYY } from '../../surface/surface.js';
import type { GroundPoint } from '../fall-line.js';

/** A straight way over a pool may stand this far out of its water, metres. */
const WADE = 5e-4;

/** How far past a pass the line starts down again, metres. */
const OFF_PASS = 0.06;

/** The start of the way down beyond a pass, along its axis of descent and to the side that `onward` points to. */
export const offPass = (pass: Point, jet: Float64Array, onward: Point): Point => {
  const angle = 0.5 * Math.atan2(2 * jet[HXY], jet[HXX] - jet[HYY]) + Math.PI / 2;
  const ux = Math.cos(angle);
  const uy = Math.sin(angle);
  const side = ux * onward[0] + uy * onward[1] >= 0 ? OFF_PASS : -OFF_PASS;
  return [pass[0] + side * ux, pass[1] + side * uy];
};

/** Where the straight line from dry to wet ground meets the water, by bisection to 0.1 mm. */
export const shoreBetween = (
  dry: GroundPoint,
  wet: GroundPoint,
  level: number,
  heightAt: (x: number, y: number) => number,
): Point => {
  let low = 0;
  let high = 1;
  const at = (t: number): Point => [dry[0] + t * (wet[0] - dry[0]), dry[1] + t * (wet[1] - dry[1])];
  for (let round = 0; round < 12; round++) {
    const middle = (low + high) / 2;
    const [x, y] = at(middle);
    if (heightAt(x, y) >= level) low = middle;
    else high = middle;
  }
  return at(low);
};

export const underWater = (
  a: Point,
  b: Point,
  level: number,
  heightAt: (x: number, y: number) => number,
): boolean => {
  const parts = Math.ceil(distance(a, b) / 0.15);
  for (let k = 1; k < parts; k++) {
    const t = k / parts;
    if (heightAt(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])) > level + WADE) return false;
  }
  return true;
};

/** Leaves out the points of a way that a straight line may pass by. */
export const straighten = (
  from: Point,
  way: readonly Point[],
  free: (a: Point, b: Point) => boolean,
): Point[] => {
  const out: Point[] = [];
  let at = from;
  for (let k = 0; k < way.length; ) {
    let far = way.length - 1;
    while (far > k && !free(at, way[far])) far--;
    at = way[far];
    out.push(at);
    k = far + 1;
  }
  return out;
};
