import { describe, expect, test } from 'vitest';
import { courseFigures } from '../../src/course/course-figures.js';
import { readGround } from '../../src/course/ground.js';
import type { HoleFigures } from '../../src/course/hole-figures.js';
import { loadCourse } from '../../src/course/load-course.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { BookContent } from '../../src/page/book-content.js';
import { composeHolePage } from '../../src/page/hole/hole-page.js';
import { landmarkLines } from '../../src/page/hole/hole-words.js';
import { type ComposedHole, composeHole } from '../../src/page/hole/labelled-hole.js';
import type { Cell } from '../../src/page/kit/grid.js';
import { cellOf } from '../../src/page/kit/grid.js';
import { boxesOverlap, lineMeetsBox } from '../../src/page/labels/box-meeting.js';
import type { LabelStyle } from '../../src/page/labels/hole-labels.js';
import type { Mark, MeasureText, Mm } from '../../src/page/marks/marks.js';
import { shortenedWords } from '../../src/page/shortened-words.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import type { UnitSystem } from '../../src/units.js';
import { pointsToMm } from '../../src/units.js';
import { atDepth } from '../depth.js';
import { randomHole } from './hole-random.js';

const measure = measureWith(openFonts());
/** Widths as in the fonts used, near enough, at a fraction of the cost. */
const roughly: MeasureText = (text, _face, size) => text.length * pointsToMm(size) * 0.52;

const style = (units: UnitSystem): LabelStyle => ({ units, figureSize: 7.5, wordSize: 6 });

const pocketCell = ((): Cell => {
  const layout = loadLayout('pocket');
  const placement = layout.pages.hole!.find((one) => one.module === 'hole-image')!;
  return cellOf(layout, 'left', placement);
})();
const smallCell: Cell = { x: 6, y: 12, width: 84, height: 96 };

const edges = (figures: HoleFigures, { frame }: ComposedHole): Mm[][] =>
  figures.features
    .filter(({ kind }) => kind === 'bunker' || kind === 'water')
    .flatMap(({ shape }) => (shape.kind === 'area' ? [shape.rings[0]] : []))
    .map((ring) => [...ring, ring[0]].map((at) => frame.onPaper(at)));

/** The part of a line that the window shows. */
const shown = (line: readonly Mm[], { window }: ComposedHole['frame']): Mm[][] => {
  const inside = ([x, y]: Mm): boolean =>
    x >= window.x - 0.01 &&
    x <= window.x + window.width + 0.01 &&
    y >= window.y &&
    y <= window.y + window.height;
  const pieces: Mm[][] = [];
  for (let i = 1; i < line.length; i++) {
    if (inside(line[i - 1]) && inside(line[i])) pieces.push([line[i - 1], line[i]]);
  }
  return pieces;
};

const faultsOf = (figures: HoleFigures, composed: ComposedHole, cell: Cell): string[] => {
  const { boxes } = composed.labels;
  const faults: string[] = [];
  boxes.forEach((box, i) => {
    if (
      box.x < cell.x - 1e-9 ||
      box.y < cell.y - 1e-9 ||
      box.x + box.width > cell.x + cell.width + 1e-9 ||
      box.y + box.height > cell.y + cell.height + 1e-9
    ) {
      faults.push(`label ${i} leaves the cell`);
    }
    for (let j = i + 1; j < boxes.length; j++) {
      if (boxesOverlap(box, boxes[j])) faults.push(`labels ${i} and ${j} overlap`);
    }
  });
  // The figure of an arc beside a row of figures reads as one more of them.
  const beside = boxes.slice(0, composed.labels.leaders.length);
  boxes.slice(beside.length).forEach((box, i) => {
    const wide = { ...box, x: box.x - 1.4, width: box.width + 2.8 };
    if (beside.some((other) => boxesOverlap(wide, other)))
      faults.push(`arc figure ${i} joins a row`);
  });
  composed.labels.leaders.forEach((leader, i) => {
    boxes.forEach((box, j) => {
      if (i !== j && lineMeetsBox(leader, box)) faults.push(`leader ${i} runs through label ${j}`);
    });
  });
  for (const edge of edges(figures, composed)) {
    for (const piece of shown(edge, composed.frame)) {
      boxes.forEach((box, i) => {
        if (lineMeetsBox(piece, box)) faults.push(`label ${i} lies over the edge of a hazard`);
      });
    }
  }
  return [...new Set(faults)];
};

const textsOf = (marks: readonly Mark[]): Extract<Mark, { kind: 'text' }>[] =>
  marks.flatMap((mark) =>
    mark.kind === 'text'
      ? [mark]
      : mark.kind === 'group' || mark.kind === 'clip'
        ? textsOf(mark.marks)
        : [],
  );

describe('no two labels overlap, none leaves its cell or lies over a hazard', async () => {
  const course = loadCourse(new URL('../../course-data/vellamoor', import.meta.url).pathname);
  const holes = courseFigures(course, await readGround(course));

  test.each(holes)(
    'hole $id of the demo course, in yards and metres, two page sizes',
    (figures) => {
      for (const units of ['imperial', 'metric'] as const) {
        for (const cell of [pocketCell, smallCell]) {
          const composed = composeHole(figures, cell, style(units), measure);
          expect(faultsOf(figures, composed, cell)).toEqual([]);
          // Nothing that a caddie would look for is left out on the pocket page.
          if (cell === pocketCell) expect(composed.labels.left).toEqual([]);
        }
      }
    },
  );

  test('the texts set lie inside the boxes that were kept apart', () => {
    for (const figures of holes) {
      const composed = composeHole(figures, pocketCell, style('imperial'), measure);
      for (const mark of textsOf(composed.marks)) {
        const width = measure(mark.text, mark.face, mark.size);
        const left = mark.align === 'centre' ? mark.at[0] - width / 2 : mark.at[0];
        const inBox = composed.labels.boxes.some(
          (box) =>
            left >= box.x - 0.01 &&
            left + width <= box.x + box.width + 0.01 &&
            mark.at[1] >= box.y &&
            mark.at[1] <= box.y + box.height,
        );
        expect(inBox, mark.text).toBe(true);
      }
    }
  });

  test('random holes', { tags: 'deep' }, () => {
    const faults: string[] = [];
    let [placed, left] = [0, 0];
    for (let seed = 1; seed <= atDepth(30, 300); seed++) {
      const figures = randomHole(seed);
      const cell = seed % 3 === 0 ? smallCell : pocketCell;
      const units = seed % 2 === 0 ? 'metric' : 'imperial';
      const composed = composeHole(figures, cell, style(units), roughly);
      placed += composed.labels.boxes.length;
      left += composed.labels.left.length;
      faults.push(...faultsOf(figures, composed, cell).map((one) => `seed ${seed}: ${one}`));
    }
    expect(faults).toEqual([]);
    // Even on these most labels find a place.
    expect(left / (placed + left)).toBeLessThan(0.2);
  });
});

describe('labels that find no room', () => {
  const book: BookContent = {
    title: 'Crowded',
    setting: '',
    use: 'play',
    units: 'imperial',
    stimp: 3.05,
    past: 0.3,
    greens: [],
  };
  const pageOf = (seed: number) =>
    composeHolePage({
      ...{ layout: loadLayout('pocket'), measure: roughly, book, side: 'left' },
      ...{ label: '12', hole: randomHole(seed) },
    });

  // Seeds that leave four labels, one and none.
  test.each([
    [135001, 'no room for 4 more distances'],
    [135002, 'no room for one more distance'],
    [135004, null],
  ])('seed %i: the foot of the page counts them and the run names them', (seed, words) => {
    const page = pageOf(seed);
    const foot = textsOf(page.marks)
      .map(({ text }) => text)
      .filter((one) => one.startsWith('no room'));
    expect(foot).toEqual(words === null ? [] : [words]);
    const told = shortenedWords([page]).filter((one) => one.startsWith('no room'));
    const missing = page.leftOut ?? [];
    expect(told).toHaveLength(missing.length);
    const shown = textsOf(page.marks).map(({ text }) => text);
    missing.forEach((one, i) => {
      expect(told[i]).toContain(`no room on page 12, ${page.title}: "${one}"`);
      expect(one).toMatch(/\d/);
    });
    // Each landmark is drawn or told.
    const { landmarks } = randomHole(seed);
    const drawn = landmarks.map((one) => shown.includes(landmarkLines(one, book)[1][0].text));
    const untold = landmarks.filter((_, i) => !drawn[i]);
    expect(missing.length).toBeGreaterThanOrEqual(untold.length);
  });
});
