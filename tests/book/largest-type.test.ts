import { beforeAll, describe, expect, it } from 'vitest';
import type { Layout } from '../../src/layout/layout.js';
import type { UnitSystem } from '../../src/units.js';
import { atDepth } from '../depth.js';
import { ownLayout, ownLayoutNames } from '../print/sample-pages.js';
import { foundInBook, refusedEarly, type WidestCourse, widestCourse } from './widest-book.js';

/**
 * Every layout, as it is and in type that grows until it is refused, and on a small page, with the longest names: either
 * something is wrong that is told before a putt is solved, or our own check finds nothing in the whole book.
 */

const GROWTH = [1, 1.1, 1.2, 1.3, 1.4, 1.6, 2];

const inType = (layout: Layout, factor: number): Layout => {
  const { small, text, table, heading, title } = layout.type;
  const type = { small, text, table, heading, title };
  for (const size of ['small', 'text', 'table', 'heading', 'title'] as const) type[size] *= factor;
  return { ...layout, type };
};

/** At one green speed, so that it is other pages that have no room first. */
const atOneSpeed = (layout: Layout): Layout => ({
  ...layout,
  tables: { ...layout.tables, speeds: [], speedSteps: [] },
});

const small = (layout: Layout): Layout => ({
  ...layout,
  page: { ...layout.page, width: 80, height: 120 },
});

let sold: WidestCourse;
let unsold: WidestCourse;
beforeAll(async () => {
  [sold, unsold] = [await widestCourse(), await widestCourse(false)];
});

/** What is found in a book that was not refused; null for one that was. */
const found = async (layout: Layout, units: UnitSystem): Promise<string[] | null> => {
  const ground = layout.name === 'fold-up' ? unsold : sold;
  return (await refusedEarly(ground, layout, units)) === null
    ? foundInBook(ground, layout, units)
    : null;
};

describe('a layout', () => {
  it('has room in its own type, at its own green speeds', { tags: 'deep' }, async () => {
    const names = atDepth(['day'], ['fold-up', 'pocket'], ownLayoutNames());
    for (const name of names) {
      for (const units of ['imperial', 'metric'] as const) {
        expect(await found(ownLayout(name), units), `${name}, ${units}`).toEqual([]);
      }
    }
  });

  it('is refused in time, or has room: in larger type', { tags: 'deep' }, async () => {
    const names = atDepth(['day'], ['day', 'quiz', 'pocket'], ownLayoutNames());
    for (const [i, name] of names.entries()) {
      const units = (['imperial', 'metric'] as const).filter(
        (_, u) => atDepth(false, false, true) || u === i % 2,
      );
      for (const unit of units) {
        const large = GROWTH.map((factor) => inType(atOneSpeed(ownLayout(name)), factor));
        const told = [];
        for (const layout of large) {
          told.push(await found(layout, unit));
          if (told.at(-1) === null) break;
        }
        expect(
          told.flatMap((one) => one ?? []),
          `${name}, ${unit}`,
        ).toEqual([]);
        // It grew until it was refused.
        expect(told.at(-1), `${name}, ${unit}`).toBeNull();
        expect(told.length, `${name}, ${unit}`).toBeGreaterThan(1);
      }
    }
  });

  it('is refused in time, or has room: on a page of 80 x 120 mm', { tags: 'deep' }, async () => {
    for (const name of atDepth(['pocket'], ['pocket', 'fold-up', 'committee'], ownLayoutNames())) {
      for (const units of ['imperial', 'metric'] as const) {
        const told = await found(small(atOneSpeed(ownLayout(name))), units);
        expect(told ?? [], `${name}, ${units}`).toEqual([]);
      }
    }
  });
});
