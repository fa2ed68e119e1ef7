import { expect, it } from 'vitest';
import { isTooLargeFlat, requireFlatWithin } from '../../src/layout/flat-sheet.js';
import { ownLayout } from '../print/sample-pages.js';

/**
 * The Clarification of Rule 4.3a on green-reading materials (The R&A and USGA, since 2019): a paper no larger than 4 1/4 x 7 in,
 * but for a sheet of hole locations that shows nine holes or more.
 */
it('a folded sheet of fewer than nine greens is refused in play, and taken for practice', () => {
  const foldUp = ownLayout('fold-up');
  const said = (greens: number, layout = foldUp): string => {
    try {
      requireFlatWithin(layout, greens);
    } catch (fault) {
      return (fault as Error).message;
    }
    return 'taken';
  };
  expect(said(8)).toMatch(
    /^layout fold-up: a folded sheet of 8 greens does not fit Rule 4\.3a: .*; take .* --use practice$/,
  );
  expect(said(1)).toContain('of 1 green does');
  expect(said(9)).toBe('taken');
  expect(said(8, { ...foldUp, use: 'practice' })).toBe('taken');
  // Pages that are cut are each measured by themselves.
  expect(said(1, ownLayout('pocket'))).toBe('taken');
  const small = { ...foldUp, page: { ...foldUp.page, width: 20, height: 60 } };
  expect(isTooLargeFlat(small, 3)).toBe(false);
});
