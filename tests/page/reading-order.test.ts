import { expect, it } from 'vitest';
import type { Placement } from '../../src/layout/layout.js';
import { inReadingOrder } from '../../src/page/kit/grid.js';
import { ownLayout, ownLayoutNames } from '../print/sample-pages.js';

const at = (module: string, columns: [number, number], rows: [number, number]): Placement => ({
  module,
  columns,
  rows,
});

const namesOf = (placements: readonly Placement[]): string[] =>
  placements.map(({ module }) => module);

it('modules are read from the top, those side by side from the left, however a layout lists them', () => {
  const listed = [
    at('foot', [1, 12], [36, 36]),
    at('right', [7, 12], [4, 20]),
    at('left', [1, 6], [5, 20]),
    at('heading', [1, 12], [1, 3]),
  ];
  expect(namesOf(inReadingOrder(listed))).toEqual(['heading', 'left', 'right', 'foot']);
});

it('what lies over another module stays over it', () => {
  const listed = [
    at('image', [1, 12], [5, 28]),
    at('over', [1, 12], [4, 10]),
    at('heading', [1, 12], [1, 3]),
  ];
  expect(namesOf(inReadingOrder(listed))).toEqual(['heading', 'image', 'over']);
});

it('the layouts that are shipped list their modules as they are read', () => {
  for (const name of ownLayoutNames()) {
    for (const placements of Object.values(ownLayout(name).pages)) {
      expect(namesOf(inReadingOrder(placements)), name).toEqual(namesOf(placements));
    }
  }
});
