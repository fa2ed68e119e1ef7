import { describe, expect, it } from 'vitest';
import { trueGreen } from '../../course-data/vellamoor/truth.js';
import { insideRing, type Point } from '../../src/geometry.js';
import { circleRing } from '../../src/surface/analytic.js';
import { fitSurface } from '../../src/surface/fit.js';
import { H, HX, HY, JET_SIZE } from '../../src/surface/surface.js';
import { surveyOf } from './demo-ground.js';

/**
 * How often the stated 95 % intervals hold the truth, over 200 simulated surveys of 8 mm noise and 1 m
 * spacing. The greens are round cuts of the demo's true surfaces, small so that 200 fits are quick:
 * with few points the smoothing is known worse than on a whole green.
 */
const RADIUS = 6;
const CUTS: readonly { id: string; middle: Point }[] = [
  { id: '1', middle: [-2, 16] },
  { id: '5', middle: [2, 13] },
  { id: '9', middle: [0, 15] },
  { id: '14', middle: [1, 12] },
  { id: '16', middle: [0, 17] },
];
const SURVEYS = 40;

interface Tally {
  points: number;
  height: number;
  grade: number;
  facePoints: number;
  faceHeight: number;
  faceGrade: number;
}

const tallyOf = (id: string, middle: Point): Tally => {
  const green = trueGreen(id);
  const outline = circleRing(RADIUS, middle[0], middle[1], 48);
  const tally = { points: 0, height: 0, grade: 0, facePoints: 0, faceHeight: 0, faceGrade: 0 };
  const want = new Float64Array(JET_SIZE);
  const got = new Float64Array(JET_SIZE);
  const c = new Float64Array(3);
  for (let seed = 1; seed <= SURVEYS; seed++) {
    const { surface } = fitSurface(surveyOf(green.at, outline, 1000 * Number(id) + seed));
    for (let x = middle[0] - RADIUS; x <= middle[0] + RADIUS; x += 0.5) {
      for (let y = middle[1] - RADIUS; y <= middle[1] + RADIUS; y += 0.5) {
        if (!insideRing(outline, x, y)) continue;
        green.at(x, y, want);
        surface.at(x, y, got);
        surface.trust?.gradientCovariance(x, y, c);
        const grade = Math.hypot(got[HX], got[HY]);
        // The grade's variance is the gradient's along the fall line.
        const [ux, uy] = [got[HX] / grade, got[HY] / grade];
        const gradeSd = Math.sqrt(ux * ux * c[0] + 2 * ux * uy * c[1] + uy * uy * c[2]);
        const heightSd = surface.trust?.heightSd(x, y) ?? 0;
        const heightIn = Math.abs(got[H] - want[H]) <= 1.96 * heightSd ? 1 : 0;
        const gradeIn = Math.abs(grade - Math.hypot(want[HX], want[HY])) <= 1.96 * gradeSd ? 1 : 0;
        tally.points++;
        tally.height += heightIn;
        tally.grade += gradeIn;
        if (green.bendLength(x, y) < 4) {
          tally.facePoints++;
          tally.faceHeight += heightIn;
          tally.faceGrade += gradeIn;
        }
      }
    }
  }
  return tally;
};

describe('the stated uncertainty over 200 simulated surveys', () => {
  const tallies = CUTS.map(({ id, middle }) => tallyOf(id, middle));
  const share = (part: keyof Tally, of: keyof Tally): number =>
    tallies.reduce((sum, t) => sum + t[part], 0) / tallies.reduce((sum, t) => sum + t[of], 0);

  it('holds the true height in 92 to 98 % of the 95 % intervals', () => {
    const covered = share('height', 'points');
    expect(covered).toBeGreaterThanOrEqual(0.92);
    expect(covered).toBeLessThanOrEqual(0.98);
  });

  it('holds the true grade in 90 to 98 %', () => {
    const covered = share('grade', 'points');
    expect(covered).toBeGreaterThanOrEqual(0.9);
    expect(covered).toBeLessThanOrEqual(0.98);
  });

  it('holds both in 85 % or more on the face of a tier', () => {
    expect(share('faceHeight', 'facePoints')).toBeGreaterThanOrEqual(0.85);
    expect(share('faceGrade', 'facePoints')).toBeGreaterThanOrEqual(0.85);
  });
});
