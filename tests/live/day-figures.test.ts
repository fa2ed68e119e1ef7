import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { openCache } from '../../src/book/cache.js';
import { greensOfDay, loadDays } from '../../src/book/course-days.js';
import { prepareGreens } from '../../src/book/prepare-green.js';
import { loadCourse } from '../../src/course/load-course.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { aimReading, paceReading } from '../../src/putt/rounding.js';
import { solvePutt } from '../../src/putt/solve.js';
import { surfaceOfStored } from '../../src/surface/stored-surface.js';
import { feetToMetres } from '../../src/units.js';
import { UNTOLD } from '../event/no-today.js';

/**
 * All that the sheets of four days say on all eighteen greens of the demo, against each putt solved by
 * itself, as `runnel putt` does. Live for its length alone: eighteen greens are fitted.
 */
const DAYS = [
  [1, 9.5],
  [2, 10.5],
  [3, 11.5],
  [4, 13],
] as const;
const OUTCOME = {
  holed: 'solved',
  'leaves-green': 'leaves-green',
  'never-stops': 'no-pace',
  short: 'no-pace',
} as const;

describe('the figures of four days', () => {
  const folder = mkdtempSync(join(tmpdir(), 'runnel-days-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('are those of each putt solved by itself', async () => {
    const course = loadCourse('course-data/vellamoor');
    const layout = loadLayout('day');
    const days = loadDays(course, { note: UNTOLD });
    const { past } = layout.tables;
    let compared = 0;
    for (const [day, speed] of DAYS) {
      const stimp = feetToMetres(speed);
      const wanted = greensOfDay(
        course,
        days.filter((one) => one.day === day),
        stimp,
      );
      expect(wanted).toHaveLength(18);
      for (const { content, fit } of await prepareGreens(
        course,
        wanted,
        layout,
        openCache(folder),
      )) {
        const surface = surfaceOfStored(fit.surface);
        const hole = content.locations[0].at;
        for (const cell of content.locations[0].table!.cells) {
          if (cell.outcome === 'off-green') continue;
          const where = `day ${day}, hole ${content.holeId}, ${cell.quadrant}, ${cell.length} m`;
          const putt = solvePutt(surface, cell.ball, hole, { stimp, past });
          expect(OUTCOME[putt.status], where).toBe(cell.outcome);
          if (cell.putt === null) continue;
          expect(aimReading(cell.putt.aimOffset, 'imperial'), where).toEqual(
            aimReading(putt.aimOffset, 'imperial'),
          );
          expect(paceReading(cell.putt.pace, 'imperial'), where).toBe(
            paceReading(putt.pace, 'imperial'),
          );
          compared++;
        }
      }
    }
    expect(compared).toBeGreaterThan(1000);
  });
});
