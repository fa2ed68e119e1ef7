import { describe, expect, test } from 'vitest';
import type { HoleFigures } from '../../src/course/hole-figures.js';
import type { Ring } from '../../src/geometry.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { BookContent, OutlinedGreen } from '../../src/page/book-content.js';
import { composeConversionsPage } from '../../src/page/front/card-conversions.js';
import { locationDefinitionFigure } from '../../src/page/front/location-definition-figure.js';
import { placeSpots } from '../../src/page/green/green-spots.js';
import { fitGround, onPaper } from '../../src/page/green/ground-frame.js';
import { shownHazards } from '../../src/page/green/shown-hazards.js';
import { lineHeightMarks } from '../../src/page/hole/line-heights.js';
import type { Cell } from '../../src/page/kit/grid.js';
import { boxesOverlap, lineMeetsBox } from '../../src/page/labels/box-meeting.js';
import { textMarksOf } from '../../src/page/marks/mark-texts.js';
import type { Mark, Mm, TextMark } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { pacesToMetres, pointsToMm } from '../../src/units.js';
import { randomBy } from '../course/untidy-course.js';

/** Figures and words that would be read wrong, or not at all, where they stand on or beside others. */

const measure = measureWith(openFonts());

/** The paper of a text's letters, descents left out. */
const boxOfText = ({ at, text, face, size, align }: TextMark): Cell => {
  const width = measure(text, face, size);
  const height = 0.68 * pointsToMm(size);
  const x = at[0] - (align === 'right' ? width : align === 'centre' ? width / 2 : 0);
  return { x, y: at[1] - height, width, height };
};

/** Open and closed lines of paths that are stroked, as points. */
const strokedLines = (marks: readonly Mark[]): Mm[][] =>
  marks.flatMap((mark) => {
    if (mark.kind === 'group' || mark.kind === 'clip') return strokedLines(mark.marks);
    if (mark.kind !== 'path' || mark.stroke === undefined) return [];
    const points = mark.steps.flatMap((step): Mm[] =>
      step[0] === 'M' || step[0] === 'L' ? [[step[1], step[2]]] : [],
    );
    const isClosed = mark.steps.some(([kind]) => kind === 'Z');
    return [isClosed ? [...points, points[0]] : points];
  });

describe('figures on a green', () => {
  const RADIUS = pacesToMetres(13);
  const outline = Array.from({ length: 72 }, (_, i) => {
    const angle = (i / 72) * 2 * Math.PI;
    return [RADIUS * Math.cos(angle), RADIUS + RADIUS * Math.sin(angle)];
  }) as unknown as Ring;
  const bounds = { x: 6, y: 12, width: 96, height: 110 };
  const frame = fitGround(bounds, { minX: -16, minY: -4, maxX: 16, maxY: 28 }, 480);
  const style = { letterSize: 9.5, figureSize: 6.5, signs: [] };

  test.each(Array.from({ length: 24 }, (_, i) => 15 * i))(
    'a low point and the outlet beside it, at %i degrees of the edge, do not read as one figure',
    (degrees) => {
      const angle = (degrees * Math.PI) / 180;
      const edge = onPaper(frame, RADIUS * Math.cos(angle), RADIUS + RADIUS * Math.sin(angle));
      for (const off of [0.3, 1, 1.8]) {
        const spots = [
          { at: [edge[0] - off, edge[1] - 0.4] as Mm, symbol: [], label: '0', bold: false },
          { at: edge, symbol: [], label: '77 %', bold: false },
        ];
        const { labels } = placeSpots(spots, { frame, outline, bounds }, style, measure);
        const wide = { ...labels[0], x: labels[0].x - 1, width: labels[0].width + 2 };
        expect(boxesOverlap(wide, labels[1])).toBe(false);
      }
    },
  );
});

describe('figures along the line of play', () => {
  test('stand on no line, on rough holes', () => {
    const layout = loadLayout('pocket');
    let told = 0;
    for (let seed = 156010; seed < 156060; seed += 1) {
      const random = randomBy(seed);
      const [a, b, c] = [24 * (random() - 0.5), 10 * random(), 4 * random()];
      const heights = Array.from({ length: 40 }, (_, i) => ({
        along: 10 * i,
        rise: (a * i) / 39 + b * Math.sin(i / 6) + c * Math.sin(i / 2.5 + a),
      }));
      const hole = {
        ...{ tees: [{ name: 'Back' }], heights, landing: { along: 150 + 100 * random() } },
        hazards: Array.from({ length: 4 }, () => ({
          ...{ along: 40 + 340 * random(), crosses: random() < 0.5, greenside: false },
        })),
      } as unknown as HoleFigures;
      const [group] = lineHeightMarks(
        hole,
        { cell: { x: 6, y: 10, width: 52, height: 14 }, high: 4 + 3.5 * random() },
        {
          ...{ layout, measure, side: 'left', label: '1' },
          book: { units: 'imperial' } as BookContent,
        },
      );
      const [level, ground] = strokedLines([group]);
      for (const figure of textMarksOf([group]).slice(1)) {
        told += 1;
        for (const line of [level, ground]) {
          expect(lineMeetsBox(line, boxOfText(figure)), `seed ${seed}: ${figure.text}`).toBe(false);
        }
      }
    }
    expect(told).toBeGreaterThan(120);
  });
});

test.each(['pocket', 'practice-large'])(
  'no word of how a hole location is measured lies over the edge of its green (%s)',
  (name) => {
    const layout = loadLayout(name);
    const cell = { x: 10, y: 10, width: 90, height: name === 'pocket' ? 28 : 70 };
    const book = { units: 'imperial' } as BookContent;
    const figure = locationDefinitionFigure(cell, layout.type.table, book);
    const [edge] = [...strokedLines([figure])].sort((a, b) => b.length - a.length);
    expect(edge.length).toBeGreaterThan(60);
    for (const word of textMarksOf([figure])) {
      expect(lineMeetsBox(edge, boxOfText(word)), word.text).toBe(false);
    }
  },
);

test('signs that are words have the size of the words beside them', () => {
  for (const name of ['pocket', 'practice-large']) {
    const layout = loadLayout(name);
    const book = {
      ...{ title: 'Links', setting: '', use: 'practice', units: 'imperial', stimp: 3, past: 0.3 },
      greens: [{ locations: [{ approach: [{ hazard: { past: 4 } }] }] }],
    } as unknown as BookContent;
    const page = composeConversionsPage({ layout, measure, book, side: 'left', label: '9' });
    const past = textMarksOf(page.marks).find(({ text }) => text === 'past');
    expect(past?.size).toBe(Math.max(6, layout.type.small));
  }
});

describe('hazards that the picture of a green shows', () => {
  const cell = { x: 10, y: 10, width: 80, height: 100 };
  // A millimetre of paper is a metre.
  const frame = { scale: 1000, origin: [0, 200] as Mm };
  const shown = (x: number, y: number, wide: number, high: number): number => {
    const ring = [
      [x, y],
      [x + wide, y],
      [x + wide, y + high],
      [x, y + high],
    ].map(([px, py]) => [px, 200 - py]) as unknown as Ring;
    const green = { hazards: [{ kind: 'bunker', ring }] } as unknown as OutlinedGreen;
    return shownHazards(frame, green, cell).length;
  };

  test.each([
    ['a bunker inside', 30, 30, 12, 9, 1],
    ['a pot bunker of a millimetre', 30, 30, 1, 1, 1],
    ['half a bunker at the edge', 84, 30, 12, 9, 1],
    ['a sliver at the right', 89, 30, 12, 9, 0],
    ['a sliver at the left', 2, 30, 9, 12, 0],
    ['a sliver at the foot', 30, 109, 12, 9, 0],
    ['a corner', 88.8, 108.8, 20, 20, 0],
    ['a thin ditch right across', -20, 60, 140, 1.2, 1],
    ['a bunker outside', 120, 60, 14, 12, 0],
  ])('%s', (_name, x, y, wide, high, count) => {
    expect(onPaper(frame, x, 200 - y)).toEqual([x, y]);
    expect(shown(x, y, wide, high)).toBe(count);
  });
});
