import { expect, it } from 'vitest';
import { withLinks } from '../../src/page/book-links.js';
import { text } from '../../src/page/kit/draw.js';
import type { LinkMark, Page } from '../../src/page/marks/marks.js';
import { samplePage } from '../print/sample-pages.js';

const page = (
  id: string,
  hole?: string,
  words: readonly (readonly [string, number, number])[] = [],
): Page => ({
  ...samplePage(0),
  id,
  ...(hole === undefined ? {} : { hole }),
  marks: words.map(([word, x, y]) => text([x, y], word, 'text', 8)),
});

const pages = [
  page('cover'),
  page('card', undefined, [
    ['1', 12, 30],
    ['4', 60, 30],
    ['2', 12, 38],
    ['practice', 12, 46],
    ['19', 12, 54],
  ]),
  page('notes-3'),
  page('hole-1', '1'),
  page('green-1', '1'),
  page('tables-1', '1'),
  page('tables-1-2', '1'),
  page('break-map-1-A', '1'),
  page('green-2', '2'),
  page('green-practice', 'practice'),
  page('station-practice-B', 'practice'),
];

const linksOf = (id: string): readonly LinkMark[] =>
  withLinks(pages).find((one) => one.id === id)!.links ?? [];

it('the card leads to the first page of each hole in the book, by its row', () => {
  const links = linksOf('card');
  expect(links.map((link) => link.toPage)).toEqual(['hole-1', 'green-2', 'green-practice']);
  // The row's baseline lies inside the link.
  expect(links[1].box.y).toBeLessThan(38);
  expect(links[1].box.y + links[1].box.height).toBeGreaterThan(38);
});

it('the head of a page leads round the pages of its hole, the foot to the card', () => {
  const headOf = (id: string) => linksOf(id)[0].toPage;
  const heads = ['hole-1', 'green-1', 'tables-1', 'tables-1-2', 'break-map-1-A'].map(headOf);
  expect(heads).toEqual(['green-1', 'tables-1', 'tables-1-2', 'break-map-1-A', 'hole-1']);
  expect(headOf('station-practice-B')).toBe('green-practice');
  // A hole of one page has nowhere to go round.
  expect(linksOf('green-2').map((link) => link.toPage)).toEqual(['card']);
});

it('the cover leads on, and every link to a page of the book', () => {
  expect(linksOf('cover').map((link) => link.toPage)).toEqual(['card']);
  const ids = new Set(pages.map((one) => one.id));
  for (const one of pages)
    for (const link of linksOf(one.id)) expect(ids.has(link.toPage)).toBe(true);
});
