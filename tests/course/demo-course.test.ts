import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { chooseLocations } from '../../course-data/vellamoor/locations.js';
import { seeded } from '../../course-data/vellamoor/random.js';
import { NOISE, roverSurvey, trueHeight } from '../../course-data/vellamoor/rover.js';
import { trueGreens } from '../../course-data/vellamoor/truth.js';
import { readGreenGround } from '../../src/course/green-ground.js';
import { loadCourse } from '../../src/course/load-course.js';
import { distance, signedDistanceToRing } from '../../src/geometry.js';
import { H, HX, HXX, HXY, HY, HYY, JET_SIZE } from '../../src/surface/surface.js';
import { METRES_PER_FOOT, METRES_PER_PACE } from '../../src/units.js';

const demo = new URL('../../course-data/vellamoor', import.meta.url).pathname;

describe('the true surfaces', () => {
  test.each(trueGreens)('green $id: its derivatives are those of its height', (green) => {
    const jet = new Float64Array(JET_SIZE);
    const ahead = new Float64Array(JET_SIZE);
    const behind = new Float64Array(JET_SIZE);
    const e = 1e-4;
    for (const [x, y] of [
      [0, 5],
      [3, 12],
      [-4, 20],
    ]) {
      green.at(x, y, jet);
      green.at(x + e, y, ahead);
      green.at(x - e, y, behind);
      expect((ahead[H] - behind[H]) / (2 * e)).toBeCloseTo(jet[HX], 7);
      expect((ahead[HX] - behind[HX]) / (2 * e)).toBeCloseTo(jet[HXX], 7);
      green.at(x, y + e, ahead);
      green.at(x, y - e, behind);
      expect((ahead[H] - behind[H]) / (2 * e)).toBeCloseTo(jet[HY], 7);
      expect((ahead[HY] - behind[HY]) / (2 * e)).toBeCloseTo(jet[HYY], 7);
      expect((ahead[HX] - behind[HX]) / (2 * e)).toBeCloseTo(jet[HXY], 7);
    }
  });

  test('have areas of 350 to 750 square metres and grades under 12 %', () => {
    const jet = new Float64Array(JET_SIZE);
    for (const green of trueGreens) {
      expect(green.area).toBeGreaterThanOrEqual(350);
      expect(green.area).toBeLessThanOrEqual(750);
      for (const [x, y] of green.outline) {
        green.at(x, y, jet);
        expect(Math.hypot(jet[HX], jet[HY])).toBeLessThan(0.121);
      }
    }
  });
});

describe('the surveys', () => {
  test.each(trueGreens.filter((green) => green.id !== '13'))(
    'green $id: noise of 8 mm, an outlier in a few hundred, reach of 2 m',
    (green) => {
      const points = roverSurvey(green, seeded(7100 + trueGreens.indexOf(green)));
      const outliers = points.filter((point) => point.outlier).length;
      expect(points.length / outliers).toBeGreaterThan(150);
      expect(points.length / outliers).toBeLessThan(450);
      expect(points.filter((point) => point.code === 'COLLAR').length).toBeGreaterThan(50);
      expect(points.length).toBeGreaterThan(0.8 * green.area);
    },
  );

  test('in the frame that the course file gives, they lie on the true surface', async () => {
    const course = loadCourse(demo);
    let [sum, count] = [0, 0];
    for (const green of trueGreens) {
      const hole = course.holes.find((one) => one.id === green.id)!;
      const ground = await readGreenGround(course, hole);
      ground.outline.forEach((point, i) => {
        expect(distance(point, green.outline[i])).toBeLessThan(0.002);
      });
      for (let i = 0; i < ground.survey.x.length; i++) {
        const off = ground.survey.z[i] - trueHeight(green, ground.survey.x[i], ground.survey.y[i]);
        if (Math.abs(off) > 0.06) continue;
        sum += off * off;
        count += 1;
      }
    }
    expect(Math.sqrt(sum / count)).toBeGreaterThan(0.95 * NOISE);
    expect(Math.sqrt(sum / count)).toBeLessThan(1.05 * NOISE);
  });
});

test('the files are byte for byte those that the script writes', { tags: 'long' }, () => {
  const folder = mkdtempSync(join(tmpdir(), 'demo-'));
  try {
    execFileSync(process.execPath, ['--import', 'tsx', `${demo}/make.ts`, folder]);
    const names = ['course.yaml', 'map.geojson', 'ground.asc'];
    const surveys = readdirSync(join(demo, 'surveys')).map((name) => `surveys/${name}`);
    expect(surveys.length).toBe(19);
    for (const name of [...names, ...surveys]) {
      const same =
        readFileSync(join(folder, name), 'utf8') === readFileSync(join(demo, name), 'utf8');
      expect(same, name).toBe(true);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

/** USGA guidance on selecting hole locations: see `facts` in the docstring of locations.ts. */
test('hole locations stand on ground that a committee would choose', () => {
  const jet = new Float64Array(JET_SIZE);
  for (const green of trueGreens) {
    const chosen = chooseLocations(green);
    expect(chosen.length).toBeGreaterThanOrEqual(3);
    for (const { x, y } of chosen) {
      const paces = -signedDistanceToRing(green.outline, x, y) / METRES_PER_PACE;
      expect(paces).toBeGreaterThanOrEqual(green.area < 480 ? 3 : 4);
      for (let k = 0; k < 24; k++) {
        const a = (k * Math.PI) / 12;
        const r = 3 * METRES_PER_FOOT;
        green.at(x + r * Math.cos(a), y + r * Math.sin(a), jet);
        expect(Math.hypot(jet[HX], jet[HY])).toBeLessThan(0.025);
      }
    }
  }
});
