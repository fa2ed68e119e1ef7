import { describe, expect, it } from 'vitest';
import { locationOfPoint, pointOfLocation, sidesAt } from '../../src/course/frame.js';
import { loadCourse } from '../../src/course/load-course.js';
import { locationOfSurveyed, outlineInFrame } from '../../src/event/day-locations.js';
import {
  boxOf,
  distance,
  insideRing,
  type Point,
  signedDistanceToRing,
} from '../../src/geometry.js';
import { fromGreenFrame } from '../../src/survey/survey.js';
import { METRES_PER_PACE, metresToPaces, pacesToMetres } from '../../src/units.js';
import { atDepth } from '../depth.js';

const course = loadCourse(new URL('../../course-data/vellamoor', import.meta.url).pathname);
const TENTH = 0.1 * METRES_PER_PACE;

describe.each(
  course.holes.filter((_, k) => k % atDepth(3, 1) === 0).map((hole) => [hole.id, hole] as const),
)('green %s', { tags: 'deep' }, (_id, hole) => {
  const outline = outlineInFrame(hole, course.file);
  const box = boxOf(outline);
  const points: Point[] = [];
  for (let y = 0.3; y < box.maxY; y += 0.9) {
    for (let x = box.minX; x < box.maxX; x += 0.9) {
      if (insideRing(outline, x, y)) points.push([x, y]);
    }
  }

  it('every point comes back from its paces', () => {
    expect(points.length).toBeGreaterThan(300);
    let worst = 0;
    for (const at of points) {
      const back = pointOfLocation(outline, locationOfPoint(outline, 'T', at, {}), {});
      worst = Math.max(worst, distance(at, back));
    }
    expect(worst).toBeLessThan(1e-9);
  });

  it('and within a tenth of a pace as `runnel holes --json` prints them', () => {
    let worst = 0;
    for (const at of points) {
      if (signedDistanceToRing(outline, at[0], at[1]) > -0.01) continue;
      const exact = locationOfPoint(outline, 'T', at, {});
      const told = { ...exact, on: Number(exact.on.toFixed(4)), in: Number(exact.in.toFixed(4)) };
      worst = Math.max(worst, distance(at, pointOfLocation(outline, told, {})));
    }
    expect(worst).toBeLessThan(TENTH);
  });

  it('every location of whole and tenth paces comes back from a surveyed point', () => {
    const { frame } = hole.green!;
    let worst = 0;
    let count = 0;
    for (let on = 2; on < metresToPaces(box.maxY); on += 1.3) {
      const sides = sidesAt(outline, pacesToMetres(on));
      if (sides === null) continue;
      const half = metresToPaces(sides[1] - sides[0]) / 2;
      for (const side of ['left', 'right'] as const) {
        for (let paces = 0.7; paces < half; paces += 1.1) {
          const location = { name: 'T', on, in: paces, side };
          const x =
            side === 'left' ? sides[0] + pacesToMetres(paces) : sides[1] - pacesToMetres(paces);
          if (!insideRing(outline, x, pacesToMetres(on))) continue;
          const at = pointOfLocation(outline, location, {});
          const [e, n] = fromGreenFrame(frame, at[0], at[1]);
          // A survey is written to the millimetre.
          const surveyed: Point = [Math.round(e * 1000) / 1000, Math.round(n * 1000) / 1000];
          const back = locationOfSurveyed(hole, surveyed, 'T', {});
          const paceError = Math.max(Math.abs(back.on - on), Math.abs(back.in - paces));
          expect(back.side).toBe(side);
          worst = Math.max(worst, paceError);
          count++;
        }
      }
    }
    expect(count).toBeGreaterThan(100);
    expect(worst).toBeLessThan(0.02);
  });

  it('a point off the green is told with how far off it lies', () => {
    const front: Point = [0, -3];
    const away = signedDistanceToRing(outline, ...front);
    expect(away).toBeGreaterThan(2);
    expect(() => locationOfPoint(outline, 'T', front, { place: '--at' })).toThrow(
      `--at: the point lies ${away.toFixed(1)} m off the green; check the point, its coordinate system and the hole`,
    );
    expect(() => locationOfPoint(outline, 'T', [9e9, 1], {})).toThrow('lies over 10 km off');
  });
});
