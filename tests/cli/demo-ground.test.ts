import { beforeAll, describe, expect, it } from 'vitest';
import { trueGreen } from '../../course-data/vellamoor/truth.js';
import { signedDistanceToRing } from '../../src/geometry.js';
import type { GreenContent } from '../../src/page/book-content.js';
import { surfaceOfStored } from '../../src/surface/stored-surface.js';
import { H, HX, HY, JET_SIZE, type Surface } from '../../src/surface/surface.js';
import { atDepth } from '../depth.js';
import { prepareDemo } from '../fitted-demo.js';

/**
 * What the pages show against the surface that the demo's surveys were drawn from: the whole way from
 * a file of noisy points to the marks, on greens of five characters.
 */
const HOLES = atDepth(['1', '2', '7'], ['1', '2', '3', '4', '13']);

describe('what the demo book shows of the ground', { tags: 'deep' }, () => {
  const prepared = new Map<string, { content: GreenContent; surface: Surface }>();
  beforeAll(async () => {
    for (const { hole, content, fit } of await prepareDemo(HOLES)) {
      prepared.set(hole.id, { content, surface: surfaceOfStored(fit.surface) });
    }
  });

  it.each(HOLES)('green %s: fall arrows point where the true ground falls', (id) => {
    const { content } = prepared.get(id)!;
    const truth = trueGreen(id);
    const jet = new Float64Array(JET_SIZE);
    const errors = content.reading.arrows.flatMap(({ at, toward }) => {
      truth.at(at[0], at[1], jet);
      const grade = Math.hypot(jet[HX], jet[HY]);
      if (grade < 0.015) return [];
      const cosine = -(jet[HX] * toward[0] + jet[HY] * toward[1]) / grade;
      return [(Math.acos(Math.min(1, cosine)) * 180) / Math.PI];
    });
    expect(errors.length).toBeGreaterThan(20);
    const within = errors.filter((degrees) => degrees <= 6).length;
    expect(within / errors.length).toBeGreaterThanOrEqual(0.95);
    expect(Math.max(...errors)).toBeLessThan(20);
  });

  it.each(HOLES)(
    'green %s: is fit for break tables, and nothing is found that its surveyor did not make',
    (id) => {
      const { worth } = prepared.get(id)!.content;
      expect(worth.worth).toBe('tables');
      expect(worth.notes).toEqual([]);
    },
  );

  it.each(HOLES)('green %s: no drainage line rises, and the main one has an outlet', (id) => {
    const { content, surface } = prepared.get(id)!;
    const jet = new Float64Array(JET_SIZE);
    const main = content.reading.streams.filter((stream) => stream.main);
    expect(main).toHaveLength(1);
    for (const { points, mouth } of content.reading.streams) {
      let last = Infinity;
      for (const [x, y] of points) {
        surface.at(x, y, jet);
        expect(jet[H]).toBeLessThan(last + 1e-3);
        last = Math.min(last, jet[H]);
      }
      const [mx, my] = points[points.length - 1];
      if (mouth === 'edge') {
        expect(Math.abs(signedDistanceToRing(content.outline, mx, my))).toBeLessThan(0.1);
      }
    }
    expect(main[0].mouth).toBe(content.drains.length > 0 ? 'drain' : 'edge');
  });
});
