import { type Box, boxOf, type Point } from '../geometry.js';
import type { Survey } from '../survey/survey.js';

/** Heights are taken from this many of the nearest points of the model. */
const NEIGHBOURS = 6;

/**
 * A height by a plane fitted to the nearest points, nearer ones weighing more (weights 1 / d^2): exact on
 * sloping ground, continuous enough for a change of elevation in whole metres. Null when the nearest
 * point is farther than two spacings.
 */
export const heightFrom = (survey: Survey): ((at: Point) => number | null) => {
  const { x, y } = survey;
  const box = boxOf(pairs(x, y));
  const area = (box.maxX - box.minX) * (box.maxY - box.minY);
  const spacing = survey.cellSize ?? Math.max(0.5, Math.sqrt(area / Math.max(1, x.length)));
  const bins = binned(x, y, box, 2 * spacing);
  return ([px, py]) => {
    const near: { d: number; i: number }[] = [];
    for (const i of bins(px, py)) near.push({ d: Math.hypot(x[i] - px, y[i] - py), i });
    near.sort((a, b) => a.d - b.d || a.i - b.i);
    if (near.length === 0 || near[0].d > 2 * spacing) return null;
    return planeThrough(near.slice(0, NEIGHBOURS), px, py, survey, spacing);
  };
};

function* pairs(x: Float64Array, y: Float64Array): Generator<Point> {
  for (let i = 0; i < x.length; i++) yield [x[i], y[i]];
}

/** Points sorted into square bins, so that millions cost a few bytes each; gives those in and round a place's bin. */
const binned = (
  x: Float64Array,
  y: Float64Array,
  box: Box,
  size: number,
): ((px: number, py: number) => number[]) => {
  const columns = Math.floor((box.maxX - box.minX) / size) + 1;
  const rows = Math.floor((box.maxY - box.minY) / size) + 1;
  const columnOf = (px: number): number => Math.floor((px - box.minX) / size);
  const rowOf = (py: number): number => Math.floor((py - box.minY) / size);
  const starts = new Int32Array(columns * rows + 1);
  for (let i = 0; i < x.length; i++) starts[rowOf(y[i]) * columns + columnOf(x[i]) + 1] += 1;
  for (let c = 0; c < columns * rows; c++) starts[c + 1] += starts[c];
  const filled = starts.slice();
  const order = new Int32Array(x.length);
  for (let i = 0; i < x.length; i++) order[filled[rowOf(y[i]) * columns + columnOf(x[i])]++] = i;
  return (px, py) => {
    const found: number[] = [];
    for (let row = rowOf(py) - 1; row <= rowOf(py) + 1; row++) {
      for (let column = columnOf(px) - 1; column <= columnOf(px) + 1; column++) {
        if (row < 0 || row >= rows || column < 0 || column >= columns) continue;
        const bin = row * columns + column;
        for (let k = starts[bin]; k < starts[bin + 1]; k++) found.push(order[k]);
      }
    }
    return found;
  };
};

/** The height at (px, py) of the weighted least-squares plane; the weighted mean when the points lie on a line. */
const planeThrough = (
  near: readonly { d: number; i: number }[],
  px: number,
  py: number,
  { x, y, z }: Survey,
  spacing: number,
): number => {
  let [w, sx, sy, sz, sxx, sxy, syy, sxz, syz] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (const { d, i } of near) {
    const weight = 1 / (d * d + 1e-4 * spacing * spacing);
    const u = (x[i] - px) / spacing;
    const v = (y[i] - py) / spacing;
    w += weight;
    sx += weight * u;
    sy += weight * v;
    sz += weight * z[i];
    sxx += weight * u * u;
    sxy += weight * u * v;
    syy += weight * v * v;
    sxz += weight * u * z[i];
    syz += weight * v * z[i];
  }
  const [mx, my, mz] = [sx / w, sy / w, sz / w];
  const [cxx, cxy, cyy] = [sxx / w - mx * mx, sxy / w - mx * my, syy / w - my * my];
  const [cxz, cyz] = [sxz / w - mx * mz, syz / w - my * mz];
  const det = cxx * cyy - cxy * cxy;
  if (!(det > 1e-4 * (cxx + cyy) ** 2)) return mz;
  const gx = (cyy * cxz - cxy * cyz) / det;
  const gy = (cxx * cyz - cxy * cxz) / det;
  return mz - gx * mx - gy * my;
};
