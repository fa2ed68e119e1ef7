import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { signedDistanceToRing } from '../../src/geometry.js';
import type { Surface } from '../../src/surface/surface.js';
import { H, JET_SIZE } from '../../src/surface/surface.js';
import { readGreen } from '../../src/terrain/read-green.js';
import type { Hollow, Reading } from '../../src/terrain/reading.js';
import { atDepth } from '../depth.js';
import { randomGreen } from './random-green.js';

/** How far a line may rise, metres: the bound that the drainage lines must hold. */
const RISE = 0.001;

const heightOf = (surface: Surface): ((x: number, y: number) => number) => {
  const jet = new Float64Array(JET_SIZE);
  return (x, y) => {
    surface.at(x, y, jet);
    return jet[H];
  };
};

/**
 * The greatest rise of the surface itself along a line, walked in 5 cm steps; under the water of a filled hollow the water's level stands for the ground.
 */
const greatestRise = (
  surface: Surface,
  points: readonly (readonly [number, number, number])[],
  hollows: readonly Hollow[],
): number => {
  const heightAt = heightOf(surface);
  let lowest = Infinity;
  let rise = 0;
  for (let k = 0; k + 1 < points.length; k++) {
    const [ax, ay] = points[k];
    const [bx, by] = points[k + 1];
    const parts = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / 0.05));
    for (let m = 0; m <= parts; m++) {
      const t = m / parts;
      const x = ax + t * (bx - ax);
      const y = ay + t * (by - ay);
      const ground = heightAt(x, y);
      const water = points[k][2] + t * (points[k + 1][2] - points[k][2]);
      const height = hollows.some((hollow) => Math.abs(hollow.level - water) < 1e-3)
        ? Math.max(ground, water)
        : ground;
      if (height < lowest) lowest = height;
      if (height - lowest > rise) rise = height - lowest;
    }
  }
  return rise;
};

/** Where two segments cross properly, or null. */
const crossing = (a: Point, b: Point, c: Point, d: Point): Point | null => {
  const side = (p: Point, q: Point, r: Point): number =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  const c1 = side(a, b, c);
  const d1 = side(a, b, d);
  if (c1 * d1 >= 0 || side(c, d, a) * side(c, d, b) >= 0) return null;
  const t = c1 / (c1 - d1);
  return [c[0] + t * (d[0] - c[0]), c[1] + t * (d[1] - c[1])];
};

type Line = readonly (readonly [number, number, ...number[]])[];

/** Whether two lines cross. Within 2 mm of a line's own mouth it is joining, not crossing. */
const linesCross = (p: Line, q: Line): boolean => {
  const [pm, qm] = [p[p.length - 1], q[q.length - 1]];
  for (let i = 0; i + 1 < p.length; i++) {
    for (let j = 0; j + 1 < q.length; j++) {
      const at = crossing(
        [p[i][0], p[i][1]],
        [p[i + 1][0], p[i + 1][1]],
        [q[j][0], q[j][1]],
        [q[j + 1][0], q[j + 1][1]],
      );
      if (at === null) continue;
      const fromMouth = Math.min(
        Math.hypot(at[0] - pm[0], at[1] - pm[1]),
        Math.hypot(at[0] - qm[0], at[1] - qm[1]),
      );
      if (fromMouth > 0.002) return true;
    }
  }
  return false;
};

/** The sharpest turn of a line between points a quarter of a metre apart, degrees. */
const sharpestTurn = (line: Line): number => {
  const points = [line[0]];
  for (const p of line) {
    const last = points[points.length - 1];
    if (Math.hypot(p[0] - last[0], p[1] - last[1]) >= 0.25) points.push(p);
  }
  let most = 0;
  for (let k = 1; k + 1 < points.length; k++) {
    const [a, b, c] = [points[k - 1], points[k], points[k + 1]];
    const [ux, uy] = [b[0] - a[0], b[1] - a[1]];
    const [vx, vy] = [c[0] - b[0], c[1] - b[1]];
    most = Math.max(most, Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)));
  }
  return (most * 180) / Math.PI;
};

/** No line shows a corner: it turns by less than this within half a metre (a millimetre on paper at 1:480), degrees. */
const CORNER = 75;

const faultsOf = (surface: Surface, reading: Reading): string[] => {
  const faults: string[] = [];
  if (reading.streams.filter((stream) => stream.main).length !== 1)
    faults.push('not one main line');
  reading.streams.forEach((stream, k) => {
    const rise = greatestRise(surface, stream.points, reading.hollows);
    if (rise > RISE) faults.push(`stream ${k} rises by ${(rise * 1000).toFixed(2)} mm`);
    for (let v = 1; v < stream.points.length; v++) {
      if (stream.points[v][2] > stream.points[v - 1][2]) faults.push(`stream ${k} states a rise`);
      if (stream.area[v] < stream.area[v - 1]) faults.push(`stream ${k} loses area`);
    }
    const [x, y] = stream.points[stream.points.length - 1];
    const fromEdge = Math.abs(signedDistanceToRing(surface.outline, x, y));
    if (stream.mouth === 'edge' && fromEdge > 1e-6)
      faults.push(`stream ${k} ends ${fromEdge} m inside`);
    if (stream.mouth === 'drain') {
      const drain = reading.hollows.some(
        (hollow) => hollow.drain !== null && Math.hypot(hollow.at[0] - x, hollow.at[1] - y) < 1e-6,
      );
      if (!drain) faults.push(`stream ${k} ends where there is no drain`);
    }
    if (stream.mouth === 'stream') {
      const onOther = reading.streams.some(
        (other) => other !== stream && distanceToLine(other.points, x, y) < 1e-6,
      );
      if (!onOther) faults.push(`stream ${k} ends beside the stream it should join`);
    }
    for (let m = k + 1; m < reading.streams.length; m++) {
      if (linesCross(stream.points, reading.streams[m].points))
        faults.push(`streams ${k}, ${m} cross`);
    }
    const turn = sharpestTurn(stream.points);
    if (turn > CORNER) faults.push(`stream ${k} turns by ${turn.toFixed(0)} degrees`);
    if (linesCross(stream.points, stream.points)) faults.push(`stream ${k} crosses itself`);
    reading.divides.forEach((divide, m) => {
      if (linesCross(stream.points, divide)) faults.push(`stream ${k} crosses divide ${m}`);
    });
    for (const arrow of reading.arrows) {
      if (linesCross(stream.points, arrow.path)) faults.push(`an arrow crosses stream ${k}`);
    }
  });
  reading.divides.forEach((divide, k) => {
    const turn = sharpestTurn(divide);
    if (turn > CORNER) faults.push(`divide ${k} turns by ${turn.toFixed(0)} degrees`);
    for (const arrow of reading.arrows) {
      if (linesCross(divide, arrow.path)) faults.push(`an arrow crosses divide ${k}`);
    }
    for (let m = k + 1; m < reading.divides.length; m++) {
      if (linesCross(divide, reading.divides[m])) faults.push(`divides ${k}, ${m} cross`);
    }
  });
  return faults;
};

const distanceToLine = (
  line: readonly (readonly [number, number, ...number[]])[],
  x: number,
  y: number,
): number => {
  let best = Infinity;
  for (let k = 0; k + 1 < line.length; k++) {
    const [ax, ay] = line[k];
    const dx = line[k + 1][0] - ax;
    const dy = line[k + 1][1] - ay;
    const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
    best = Math.min(best, Math.hypot(ax + t * dx - x, ay + t * dy - y));
  }
  return best;
};

const GREENS = atDepth(30, 300);

describe('random smooth greens', () => {
  const sets = Array.from({ length: 10 }, (_, k) => k);
  it.each(sets)(
    'set %i: no line rises, ends in the green or crosses another',
    { tags: 'deep' },
    (set) => {
      const faults: string[] = [];
      for (let seed = set; seed < GREENS; seed += sets.length) {
        const surface = randomGreen(seed);
        // Every other green without the rule that a deep hollow has a drain, so that hollows fill and spill.
        const shownDrainDepth = Math.floor(seed / sets.length) % 2 === 0 ? Infinity : 0.05;
        const reading = readGreen(surface, { gridStep: 0.4, shownDrainDepth });
        for (const fault of faultsOf(surface, reading)) faults.push(`green ${seed}: ${fault}`);
      }
      expect(faults).toEqual([]);
    },
  );
});
