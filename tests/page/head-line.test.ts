import { describe, expect, it } from 'vitest';
import type { Layout } from '../../src/layout/layout.js';
import { pageArea } from '../../src/page/kit/grid.js';
import { headMark } from '../../src/page/kit/head-mark.js';
import type { TextMark } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { pointsToMm } from '../../src/units.js';
import { ownLayout, ownLayoutNames } from '../print/sample-pages.js';
import { MADE_UP } from './made-up-language.js';

const measure = measureWith(openFonts());

const withTop = (layout: Layout, top: number, small: number): Layout => ({
  ...layout,
  page: { ...layout.page, margins: { ...layout.page.margins, top } },
  type: { ...layout.type, small },
});

const headOf = (layout: Layout, changed: readonly string[] = []): TextMark | undefined => {
  const [mark] = headMark({ layout, side: 'left', measure, book: {} }, changed);
  return (mark?.kind === 'group' ? mark.marks[0] : mark) as TextMark | undefined;
};

describe('the line above a page', () => {
  it('says that a page is for practice above all that its modules draw, however low the margin', () => {
    const large = ownLayout('practice-large');
    for (const top of [0, 3, 4.5, 6, 9, 14]) {
      for (const small of [6, 9, 14]) {
        const layout = withTop(large, top, small);
        const { at, size } = headOf(layout)!;
        // Letters hang some 0.22 of their size below the baseline; type keeps 3 mm from the trim.
        expect(pageArea(layout, 'left').y).toBeGreaterThanOrEqual(at[1] + 0.2 * pointsToMm(size));
        expect(at[1] - 0.75 * pointsToMm(size)).toBeGreaterThan(3);
      }
    }
  });

  it('says that it is for practice to the check, too, in any language', () => {
    const layout = ownLayout('practice-large');
    const marks = headMark({ layout, side: 'left', measure, book: { words: MADE_UP } }, []);
    expect(marks).toMatchObject([{ shows: 'for-practice', marks: [{ kind: 'text' }] }]);
    expect(JSON.stringify(marks)).not.toContain('for practice only');
  });

  it('leaves the pages of all layouts where they are', () => {
    for (const name of ownLayoutNames()) {
      const layout = ownLayout(name);
      expect(pageArea(layout, 'right').y, name).toBe(layout.page.margins.top);
    }
  });

  it('tells what has changed where the margin has room for it, in the longest wording that fits', () => {
    const pocket = ownLayout('pocket');
    expect(headOf(pocket, ['x'.repeat(200), 'changed'])?.text).toBe('changed');
    expect(headOf(withTop(pocket, 4.5, 6), ['changed'])).toBeUndefined();
    expect(headOf(pocket)).toBeUndefined();
  });
});
