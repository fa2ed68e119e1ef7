import { describe, expect, it } from 'vitest';
import type { Layout } from '../../src/layout/layout.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { parseLayout } from '../../src/layout/load-layout.js';
import { ownLayouts } from '../../src/layout/own-layouts.js';
import { composeConversionsPage } from '../../src/page/front/card-conversions.js';
import type { PageContext } from '../../src/page/kit/page-modules.js';
import { textMarksOf } from '../../src/page/marks/mark-texts.js';

/** A page that holds one module. */
const layoutWith = (module: string) =>
  parseLayout(
    `name: one
title: One
page: { width: 100, height: 150, margins: { top: 5, bottom: 5, inner: 5, outer: 5 } }
grid: { columns: 1, rows: 1 }
use: play
pages:
  conversions:
    - { module: ${module}, columns: [1, 1], rows: [1, 1] }
`,
    'one.yaml',
  );

/** The texts of each line, from left to right. */
const linesOf = (module: string, units: 'imperial' | 'metric'): string[][] => {
  const context = {
    layout: layoutWith(module),
    book: { units },
    side: 'right',
    label: '1',
    measure: (words: string) => words.length,
  } as unknown as PageContext;
  const texts = textMarksOf(composeConversionsPage(context).marks);
  const ys = [...new Set(texts.map((mark) => mark.at[1]))].sort((a, b) => a - b);
  return ys.map((y) =>
    texts
      .filter((mark) => mark.at[1] === y)
      .sort((a, b) => a.at[0] - b.at[0])
      .map((mark) => mark.text),
  );
};

describe('the page of conversions', () => {
  it('sets yards beside metres, ten to a line, in three blocks', () => {
    const lines = linesOf('lengths', 'imperial');
    expect(lines[0]).toEqual(['yd, paces', 'm', 'yd, paces', 'm', 'yd, paces', 'm']);
    expect(lines[1]).toEqual(['10', '9', '110', '101', '210', '192']);
    expect(lines[10]).toEqual(['100', '91', '200', '183', '300', '274']);
    expect(lines.length).toBe(11);
  });

  it('sets metres beside yards in a metric book', () => {
    const lines = linesOf('lengths', 'metric');
    expect(lines[0].slice(0, 2)).toEqual(['m', 'yd, paces']);
    expect(lines[10]).toEqual(['100', '109', '200', '219', '300', '328']);
  });

  it('tells how much farther a rise plays by the angle of descent', () => {
    // 15 ft are 5 yd: 5 / tan 40, 45 and 50 degrees.
    expect(linesOf('elevation', 'imperial')).toContainEqual(['15', '6.0', '5.0', '4.2']);
    expect(linesOf('elevation', 'metric')).toContainEqual(['10', '11.9', '10.0', '8.4']);
  });

  it('tells of paces past a hazard only where pages of greens have the table that tells them', () => {
    const said = (green: Layout['pages']): string => {
      const layout = layoutWith('hole-signs');
      const book = {
        units: 'imperial',
        greens: [{ locations: [{ approach: [{ hazard: { kind: 'bunker', beyond: 9 } }] }] }],
      };
      const context = {
        layout: { ...layout, pages: { ...layout.pages, ...green } },
        book,
        side: 'right',
        label: '1',
        measure: () => 1,
      } as unknown as PageContext;
      return textMarksOf(composeConversionsPage(context).marks)
        .map(({ text }) => text)
        .join(' ');
    };
    expect(said({ green: loadLayout('pocket').pages.green! })).toContain(
      'far edge of the last hazard',
    );
    expect(said({ green: loadLayout('committee').pages.green! })).not.toContain('last hazard');
  });

  it('has the signs of the pages of holes in every layout of ours with such pages', () => {
    for (const name of ownLayouts()) {
      const { pages } = loadLayout(name);
      if (pages.hole === undefined) continue;
      const modules = (pages.conversions ?? []).map(({ module }) => module);
      expect(modules, name).toContain('hole-signs');
    }
  });
});
