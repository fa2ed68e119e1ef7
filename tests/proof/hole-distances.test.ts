import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { contentOf } from '../../src/book/course-book.js';
import { courseFigures } from '../../src/course/course-figures.js';
import { geodesicDistance } from '../../src/course/geodesy.js';
import type { HoleFigures } from '../../src/course/hole-figures.js';
import { loadCourse } from '../../src/course/load-course.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { answerTo, type ProofSite } from '../../src/proof/answers.js';
import { frameOfHole } from '../../src/proof/hole-on-page.js';
import { openProof } from '../../src/proof/proof-book.js';
import { metresToYards } from '../../src/units.js';
import { runCaptured } from '../cli/run-captured.js';
import { tidyCourse } from '../course/untidy-course.js';
import { writtenAs } from '../course/untidy-writers.js';
import { NO_TODAY } from '../event/no-today.js';

const root = mkdtempSync(join(tmpdir(), 'hole-distances-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const STATE = { day: null, stimp: null };

const siteOf = (folder: string): ProofSite => {
  const course = loadCourse(folder);
  const fonts = openFonts();
  const measure = measureWith(fonts);
  const layout = loadLayout('pocket');
  const holes = courseFigures(course, null);
  const proof = openProof({
    book: contentOf(course, layout, 'imperial', [], { holes }),
    layout,
    dayLayout: loadLayout('day'),
    measure,
    days: [],
    todayOf: () => NO_TODAY,
    surfaceOf: () => {
      throw new Error('there is no surface');
    },
    storedOf: () => {
      throw new Error('no fit is looked at');
    },
    approachOf: () => null,
  });
  const picture = { id: 'course', title: 'Made up', label: '', width: 420, height: 297, marks: [] };
  return { proof, fonts, picture, now: () => performance.now() };
};

describe('the proof of a course without any survey', () => {
  let site: ProofSite;
  let hole: HoleFigures;
  beforeAll(async () => {
    const map = join(root, 'extract.osm');
    writeFileSync(map, writtenAs('osm', tidyCourse({ seed: 41001, holes: 2 })));
    const folder = join(root, 'tarn');
    expect((await runCaptured(['new', folder, '--map', map])).code).toBe(0);
    site = siteOf(folder);
    hole = site.proof.source.book.holes![0];
  });

  const asked = (path: string) => answerTo(site, new URL(path, 'http://127.0.0.1'));

  test('shows every hole with the ground to click on, and no putt', () => {
    const { status, body } = asked('/');
    expect(status).toBe(200);
    expect(body).toMatch(/data-page="hole-1"[\s\S]*data-page="green-1"/);
    expect(body).toContain('class="hole-overlay overlay"');
    expect(body).not.toMatch(/data-green=|Keys: <kbd>b/);
    expect(body).toContain('hole=2');
    expect(asked('/?hole=2').status).toBe(200);
    expect(asked('/?hole=3').status).toBe(404);
  });

  test('draws and finds a place of the ground again, to a millimetre', () => {
    const frame = frameOfHole(site.proof, STATE, hole)!;
    for (const at of [...hole.line, ...hole.tees.map((tee) => tee.at)]) {
      expect(geodesicDistance(frame.onGround(frame.onPaper(at)), at)).toBeLessThan(0.001);
    }
  });

  test('tells from a place picked what the figures of the hole say of it', () => {
    const frame = frameOfHole(site.proof, STATE, hole)!;
    const from = (at: readonly (number | string)[]) => {
      const { status, body } = asked(`/distances?hole=1&at=${at.join(',')}`);
      expect(status).toBe(200);
      return JSON.parse(`${body}`);
    };
    const landing = hole.landing!;
    const { facts, said } = from(frame.onPaper(landing.at).map((v) => v.toFixed(3)));
    const told = Object.fromEntries(facts);
    expect(told.middle).toBe(`${Math.round(metresToYards(landing.toMiddle))}`);
    expect(Number(told.front)).toBeLessThan(Number(told.middle));
    expect(Number(told.back)).toBeGreaterThan(Number(told.middle));
    expect(said).toMatch(/^\d+ yards on along the line of play\.$/);
    expect(told['fairway here']).toMatch(
      new RegExp(`^${Math.round(metresToYards(landing.width!))} wide`),
    );
    // From the front of the tee a hazard is told by both edges.
    const tee = from(frame.onPaper(hole.tees[0].at));
    expect(tee.facts.some(([, value]: string[]) => /^reach \d+, carry \d+$/.test(value))).toBe(
      true,
    );
  });

  test('asks back what is no hole and no place', () => {
    expect(asked('/distances?hole=9&at=1,1').status).toBe(404);
    expect(() => asked('/distances?hole=1&at=here')).toThrow(/not understood/);
  });
});
