import { describe, expect, it } from 'vitest';
import type { HoleNotes, NoteSign } from '../../src/event/notes-file.js';
import { boxOf, type Point } from '../../src/geometry.js';
import type { Layout } from '../../src/layout/layout.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { BookContent, GreenContent } from '../../src/page/book-content.js';
import { locationDefinitionFigure } from '../../src/page/front/location-definition-figure.js';
import { composeGreenImage, greenFrame } from '../../src/page/green/green-image.js';
import { greenImageStyle } from '../../src/page/green/green-spots.js';
import { onPaper } from '../../src/page/green/ground-frame.js';
import type { Cell } from '../../src/page/kit/grid.js';
import { cellOf } from '../../src/page/kit/grid.js';
import type { GreenPageContext, PageContext } from '../../src/page/kit/page-modules.js';
import type { Mark, PathStep, TextMark } from '../../src/page/marks/marks.js';
import { noteMarksModule } from '../../src/page/notes/note-marks.js';
import { noteSign } from '../../src/page/notes/note-signs.js';
import { noteTextMarks, requireRoomForNotes } from '../../src/page/notes/note-text.js';
import { composeNotesPage } from '../../src/page/notes/notes-page.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { roundGreen } from './grounds.js';

const measure = measureWith(openFonts());
const layout = loadLayout('pocket');
const committee = loadLayout('committee');
const cell: Cell = { x: 10, y: 20, width: 55, height: 23 };

const flat = (marks: readonly Mark[]): Mark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'group' || mark.kind === 'clip' ? [mark, ...flat(mark.marks)] : [mark],
  );
const textsOf = (marks: readonly Mark[]): TextMark[] =>
  flat(marks).filter((mark) => mark.kind === 'text');
const wordsOf = (marks: readonly Mark[], face: string): string =>
  textsOf(marks)
    .filter((mark) => mark.face === face)
    .map((mark) => mark.text)
    .join(' ');

const noted: HoleNotes = {
  putts: [],
  measured: [],
  holeId: '7',
  text: 'Take the middle and walk on; nobody makes two from the back left.',
  marks: [
    { sign: 'wind', at: null, clock: 10, text: 'off the sea' },
    { sign: 'cross', at: [2, 12], clock: null, text: 'not here' },
  ],
};
const bookWith = (holes: readonly HoleNotes[]): BookContent => ({
  title: 'Links',
  setting: '',
  use: 'practice',
  units: 'imperial',
  stimp: 3,
  past: 0.3,
  greens: [],
  notes: { by: 'the caddie', holes },
});
const contextFor = (which: typeof layout, holes: readonly HoleNotes[] = [noted]): PageContext => ({
  layout: which,
  measure,
  book: bookWith(holes),
  side: 'left',
  label: '1',
});
const green: GreenContent = {
  holeId: '7',
  name: 'Gull',
  par: 3,
  outline: roundGreen(12),
  reading: {
    area: 452,
    bands: [],
    contours: [],
    critical: [],
    divides: [],
    outlets: [],
    streams: [],
    arrows: [],
    sections: [],
    doubtful: [],
  } as unknown as GreenContent['reading'],
  worth: FIT_FOR_TABLES,
  drains: [],
  locations: [],
  stimp: 3,
  past: 0.3,
};

describe('the notes of a hole', () => {
  it('print in the hand, inside their cell, with what they show said', () => {
    const marks = noteTextMarks(contextFor(layout), '7', cell);
    expect(wordsOf(marks, 'note')).toBe(`${noted.text} off the sea`);
    const [group] = marks;
    expect(group).toMatchObject({ kind: 'group', shows: 'notes', alt: 'Notes by the caddie' });
    for (const { at, text, face, size } of textsOf(marks)) {
      expect(size).toBeGreaterThanOrEqual(7);
      expect(at[0] + measure(text, face, size)).toBeLessThanOrEqual(cell.x + cell.width + 1e-9);
      expect(at[1]).toBeLessThanOrEqual(cell.y + cell.height);
    }
  });

  it('have their loose marks on a line of their own below the words, the sign beside its own', () => {
    const marks = noteTextMarks(contextFor(layout), '7', cell);
    const [loose] = textsOf(marks).filter((mark) => mark.text === 'off the sea');
    const lines = textsOf(marks).filter((mark) => mark.face === 'note' && mark !== loose);
    const pitch = lines[1].at[1] - lines[0].at[1];
    expect(loose.at[1] - lines[lines.length - 1].at[1]).toBeCloseTo(pitch, 9);
    const [{ marks: told }] = marks.filter((mark) => mark.kind === 'group');
    const sign = boxOf(pointsOf(told));
    expect(sign.maxX).toBeLessThan(loose.at[0]);
    expect((sign.minY + sign.maxY) / 2).toBeGreaterThan(lines[lines.length - 1].at[1]);
    expect((sign.minY + sign.maxY) / 2).toBeLessThan(loose.at[1] + pitch / 2);
  });

  it('are lines to write on when there are none', () => {
    const marks = noteTextMarks(contextFor(layout), '8', cell);
    expect(textsOf(marks)).toEqual([]);
    expect(marks.length).toBe(3);
  });

  it('that are longer than their room are a fault, not lost', () => {
    const long = { ...noted, text: 'word '.repeat(48).trim() };
    expect(() => noteTextMarks(contextFor(layout, [long]), '7', { ...cell, height: 8 })).toThrow(
      'notes.yaml, hole 7: the note is longer than its room on the page; shorten it',
    );
  });

  it('that are longer than their room are told before a page is composed, where there is such a page', () => {
    const long = { ...noted, text: 'word '.repeat(400).trim() };
    const { notes } = contextFor(layout, [long]).book;
    const look = (of: Layout, shown: boolean) => () =>
      requireRoomForNotes(notes, of, measure, () => shown);
    expect(look(layout, true)).toThrow('notes.yaml, hole 7: the note is longer than its room');
    expect(look(layout, false)).not.toThrow();
    expect(look(committee, true)).not.toThrow();
    const { notes: short } = contextFor(layout).book;
    expect(() => requireRoomForNotes(short, layout, measure, () => true)).not.toThrow();
  });

  it('are not in a committee edition: blank lines, and the reason', () => {
    const context = contextFor(committee);
    const page = composeNotesPage(context, 'notes-1');
    const onHole = noteTextMarks(context, '7', { ...cell, height: 60 });
    for (const marks of [page.marks, onHole]) {
      expect(wordsOf(marks, 'note')).toBe('');
      expect(wordsOf(marks, 'text-italic')).toBe(
        'Left blank: under Model Local Rule G-11 notes are written in by hand, from experience, observation or feel.',
      );
      expect(flat(marks).filter((mark) => mark.kind === 'path').length).toBeGreaterThan(3);
    }
    const greenContext = { ...context, green } as GreenPageContext;
    expect(noteMarksModule(greenContext, cell)).toEqual([]);
  });

  it('stand on the green where they are, whatever the cell of their module', () => {
    const context = { ...contextFor(layout), green } as GreenPageContext;
    const marks = noteMarksModule(context, { x: 0, y: 0, width: 1, height: 1 });
    const placement = layout.pages.green!.find((one) => one.module === 'green-image')!;
    const frame = greenFrame(green, cellOf(layout, 'left', placement), layout.green.scale);
    const [x, y] = onPaper(frame, 2, 12);
    const points = pointsOf(marks);
    const box = boxOf(points);
    expect((box.minX + box.maxX) / 2).toBeCloseTo(x, 0);
    expect((box.minY + box.maxY) / 2).toBeCloseTo(y, 0);
    expect(wordsOf(marks, 'note')).toBe('not here');
    // Its words begin beside the sign and run on to the right, where there is room.
    const [{ at, align }] = textsOf(marks);
    expect(at[0]).toBeGreaterThan(x);
    expect(align ?? 'left').toBe('left');
    // At the right edge of the page there is none: they end beside the sign.
    const far = {
      ...noted,
      marks: [{ ...noted.marks[1], at: [11, 12] as const, text: 'too long to stand there' }],
    };
    const [edge] = textsOf(
      noteMarksModule({ ...contextFor(layout, [far]), green } as GreenPageContext, cell),
    );
    const end = edge.at[0] + measure(edge.text, edge.face, edge.size);
    expect(end).toBeLessThan(onPaper(frame, 11, 12)[0]);
  });

  it('have their words where they cover no hole location and none of its letter', () => {
    const { table } = layout.type;
    const words = { sign: 'cross' as const, clock: null, text: 'never from here' };
    const placement = layout.pages.green!.find((one) => one.module === 'green-image')!;
    const imageCell = cellOf(layout, 'left', placement);
    const frame = greenFrame(green, imageCell, layout.green.scale);
    // A ring of notes about a hole location, each near enough to be written over it.
    for (let k = 0; k < 16; k++) {
      const away = k % 2 === 0 ? 2.2 : 1.3;
      const at: Point = [1 + away * Math.cos(k * 0.39), 12 + away * Math.sin(k * 0.39)];
      const place = { name: 'A', on: 13, in: 9, side: 'left', at: [1, 12] as const };
      const located = { ...green, locations: [{ ...place, regions: null, ground: null }] };
      const context = {
        ...contextFor(layout, [{ ...noted, marks: [{ ...words, at }] }]),
        green: located,
      } as unknown as GreenPageContext;
      const [set] = textsOf(noteMarksModule(context, cell));
      const [left, foot] = set.at;
      const right = left + measure(set.text, 'note', table);
      const [x, y] = onPaper(frame, 1, 12);
      const image = composeGreenImage(
        located as never,
        imageCell,
        greenImageStyle(context),
        measure,
      );
      const letter = textsOf(image).find((mark) => mark.text === 'A')!;
      const spots: readonly (readonly [number, number])[] = [[x, y], letter.at];
      for (const [sx, sy] of spots) {
        const covers = sx > left && sx < right && sy > foot - 1.7 && sy < foot + 0.3;
        expect(covers, `note ${k}`).toBe(false);
      }
      // Nor does its sign lie on the letter.
      const sign = onPaper(frame, ...at);
      const letterMiddle = letter.at[1] - 1;
      expect(Math.hypot(sign[0] - letter.at[0], sign[1] - letterMiddle)).toBeGreaterThan(1.8);
    }
  });
});

const pointsOf = (marks: readonly Mark[]): Point[] =>
  flat(marks).flatMap((mark) =>
    mark.kind === 'path'
      ? mark.steps.flatMap((step: PathStep): Point[] =>
          step[0] === 'Z' ? [] : [[Number(step.at(-2)), Number(step.at(-1))]],
        )
      : [],
  );

describe('the signs', () => {
  const SIGNS: readonly NoteSign[] = [
    'ring',
    'cross',
    'tick',
    'star',
    'drop',
    'step',
    'arrow',
    'wind',
    'grain',
    'hop',
  ];

  it('differ from each other and keep to their size', () => {
    const drawn = SIGNS.map((sign) => JSON.stringify(noteSign(sign, [0, 0], 1.4)));
    expect(new Set(drawn).size).toBe(SIGNS.length);
    for (const sign of SIGNS) {
      for (const [x, y] of pointsOf(noteSign(sign, [0, 0], 1.4))) {
        expect(Math.hypot(x, y)).toBeLessThan(1.4 * 1.45);
      }
    }
  });

  it('point by the clock: 3 to the right, 6 down the page', () => {
    const tip = (clock: number): Point => {
      // The last stroke of an arrow is its head; its middle point is the tip.
      const points = pointsOf(noteSign('arrow', [0, 0], 1, clock));
      return points[points.length - 2];
    };
    expect(tip(12)[1]).toBeCloseTo(-1, 6);
    expect(tip(3)[0]).toBeCloseTo(1, 6);
    expect(tip(6)[1]).toBeCloseTo(1, 6);
    expect(tip(9)[0]).toBeCloseTo(-1, 6);
  });
});

describe('the figure of the definition', () => {
  const figure = locationDefinitionFigure(cell, 8, {});

  it('says in words what it draws, and keeps in its cell', () => {
    expect(figure).toMatchObject({
      kind: 'group',
      alt: expect.stringMatching(
        /^On: paces along the line of approach .* In: paces across that line/,
      ),
    });
    const box = boxOf(pointsOf([figure]));
    expect(box.minX).toBeGreaterThanOrEqual(cell.x - 0.5);
    expect(box.maxX).toBeLessThanOrEqual(cell.x + cell.width + 0.5);
    expect(box.minY).toBeGreaterThanOrEqual(cell.y - 0.5);
    expect(box.maxY).toBeLessThanOrEqual(cell.y + cell.height + 0.5);
  });

  it('names front, sides, on and in', () => {
    const words = textsOf([figure]).map((mark) => mark.text);
    for (const word of ['front', 'left side', 'right side', 'line of approach', 'centre', 'hole']) {
      expect(words).toContain(word);
    }
    expect(words).toContain('17 paces on');
    expect(words).toContain('6 paces');
  });
});
