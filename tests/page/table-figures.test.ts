import { describe, expect, it } from 'vitest';
import type { Ring } from '../../src/geometry.js';
import type { GreenContent } from '../../src/page/book-content.js';
import { commonScale, dayGreenMarks } from '../../src/page/day/day-green.js';
import { fitGround, onPaper } from '../../src/page/green/ground-frame.js';
import type { Mark, PathMark, TextMark } from '../../src/page/marks/marks.js';
import { isDoubtfulAim, lagWords } from '../../src/page/putts/table-figures.js';
import {
  columnWords,
  paceKeyWords,
  quadrantHeadings,
  speedHeads,
} from '../../src/page/putts/table-heads.js';
import { tableHeight, tableRows } from '../../src/page/putts/table-module.js';
import { tableColumns } from '../../src/page/putts/table-style.js';
import type { BreakTable, Quadrant, TableCell } from '../../src/putt/putt.js';
import { paceChangeReading } from '../../src/putt/rounding.js';
import { feetToMetres } from '../../src/units.js';

const CELL = { x: 0, y: 0, width: 170, height: 60 };
const STYLE = { units: 'metric', pace: 'level', tableSize: 8, smallSize: 6 } as const;
const LENGTHS = [1, 3];

const QUADRANTS: readonly Quadrant[] = ['below', 'above', 'left', 'right'];

/** Aims in whole centimetres by quadrant and length, no two alike: 11, 12, then -21, -22 and so on. */
const tableOf = (stimp: number, add = 0, aimSd: number | null = null): BreakTable =>
  ({
    hole: [0, 0],
    settings: { stimp, past: 0.3 },
    fall: [0, -1],
    grade: 0.02,
    lengths: LENGTHS,
    cells: QUADRANTS.flatMap((quadrant, q) =>
      LENGTHS.map(
        (length, row) =>
          ({
            quadrant,
            length,
            outcome: 'solved',
            aimSd,
            putt: {
              aimOffset: ((q % 2 === 0 ? 1 : -1) * (10 * (q + 1) + row + 1 + add)) / 100,
              pace: q + 1 + row / 10,
              entryClock: row === 0 ? 0.2 : 5.6,
            },
          }) as unknown as TableCell,
      ),
    ),
  }) as unknown as BreakTable;

const textsOf = (marks: readonly Mark[]): TextMark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'text' ? [mark] : 'marks' in mark ? textsOf(mark.marks) : [],
  );

/** The words of each row and quadrant, from left to right. */
const grid = (marks: readonly Mark[]): string[][] => {
  const columns = tableColumns(CELL);
  const rows = [...new Set(textsOf(marks).map((mark) => mark.at[1]))].sort((a, b) => a - b);
  return rows.map((y) => [
    ...columns.groups.map(({ x, width }) =>
      textsOf(marks)
        .filter((mark) => mark.at[1] === y && mark.at[0] > x && mark.at[0] <= x + width + 0.6)
        .sort((a, b) => a.at[0] - b.at[0])
        .map((mark) => mark.text)
        .join(' '),
    ),
  ]);
};

describe('a table on the page', () => {
  it('tells pace as more and less than the own length where the layout asks for it', () => {
    const style = { ...STYLE, pace: 'change' } as const;
    const own = tableOf(3);
    const table = {
      ...own,
      cells: own.cells.map((cell) => ({
        ...cell,
        putt: { ...cell.putt!, length: cell.length },
      })),
    };
    const [first, second] = grid(tableRows([table], tableColumns(CELL), CELL, style, 2));
    // Paces of 1, 2, 3, 4 m for putts of 1 m; 1.1, 2.1, 3.1, 4.1 m for putts of 3 m.
    expect(first.map((words) => words.split(' ')[2])).toEqual(['0', '+1.0', '+2.0', '+3.0']);
    expect(second.map((words) => words.split(' ')[2])).toEqual([
      '\u22122.0',
      '\u22120.9',
      '+0.1',
      '+1.0',
    ]);
    expect(paceKeyWords(style)).toBe('length in metres · pace ±: more or less than the length');
    expect(paceChangeReading(feetToMetres(12.2), feetToMetres(10), 'imperial')).toBe('+2');
    expect(paceChangeReading(feetToMetres(7.4), feetToMetres(10), 'imperial')).toBe('\u22122½');
    expect(paceChangeReading(feetToMetres(26.4), feetToMetres(30), 'imperial')).toBe('\u22124');
  });

  it('says lag where the aim is 20 feet or more, with the pace, and explains it where it does', () => {
    // 580 cm more: 601 and 602 cm to the right of the hole lie past 6 m; 591 and 592 cm to its left do not.
    const wide = tableOf(3, 580);
    const [first] = grid(tableRows([wide], tableColumns(CELL), CELL, STYLE, 2));
    expect(first[0]).toContain('590 L');
    expect(first[1]).toMatch(/^lag .*2\.0/);
    expect(lagWords([wide], STYLE)).toEqual(['lag: aim of 6 m or more']);
    expect(lagWords([tableOf(3)], STYLE)).toEqual([]);
  });

  it('has each putt in its quadrant and row: aim, side and pace', () => {
    const [first, second] = grid(tableRows([tableOf(3)], tableColumns(CELL), CELL, STYLE, 2));
    ['11 L', '21 R', '31 L', '41 R'].forEach((aim, q) => {
      expect(first[q]).toContain(aim);
      expect(first[q]).toContain(`${q + 1}.0`);
    });
    ['12 L', '22 R', '32 L', '42 R'].forEach((aim, q) => {
      expect(second[q]).toContain(aim);
      expect(second[q]).toContain(`${q + 1}.1`);
    });
  });

  it('tells the clock by whole hours, twelve for none', () => {
    const narrow = grid(tableRows([tableOf(3)], tableColumns(CELL), CELL, STYLE, 2));
    expect(columnWords(tableColumns(CELL).groups[0].width, STYLE, [tableOf(3)]).join()).toMatch(
      /clock/,
    );
    expect(narrow[0][0]).toMatch(/\b12\b/);
    expect(narrow[1][0]).toMatch(/\b6\b/);
  });

  it('sets the aim at a second green speed under its own heading', () => {
    const tables = [tableOf(3), tableOf(3.5, 5)] as const;
    const wide = { ...CELL, width: 260 };
    const columns = tableColumns(wide);
    const rows = textsOf(tableRows(tables, columns, wide, STYLE, 2));
    const heads = textsOf(
      quadrantHeadings(columns, 0, STYLE, speedHeads(tables, { units: 'metric' })),
    );
    const under = (head: string): string[] => {
      const x = heads.filter((mark) => mark.text === head).map((mark) => mark.at[0]);
      expect(x.length).toBe(4);
      return x.flatMap((at) =>
        rows.filter((mark) => Math.abs(mark.at[0] - at) < 1e-9).map((mark) => mark.text),
      );
    };
    expect(under('3')).toEqual(['11', '12', '21', '22', '31', '32', '41', '42']);
    expect(under('3.5')).toEqual(['16', '17', '26', '27', '36', '37', '46', '47']);
    expect(heads.filter((mark) => mark.face === 'text-bold').map((mark) => mark.text)).toEqual(
      QUADRANTS,
    );
  });

  it('doubts an aim that is not known to half a hole at 95 %', () => {
    const cell = (aimSd: number | null): TableCell => tableOf(3, 0, aimSd).cells[0];
    expect(isDoubtfulAim(cell(null))).toBe(false);
    expect(isDoubtfulAim(cell(0.0275))).toBe(false);
    expect(isDoubtfulAim(cell(0.0276))).toBe(true);
    const doubted = grid(tableRows([tableOf(3, 0, 0.03)], tableColumns(CELL), CELL, STYLE, 2));
    expect(doubted[0][0]).toContain('~11 L');
    // The spread at 95 %: 1.96 times 3 cm.
    for (const words of doubted[0]) expect(words).toMatch(/ 6$/);
  });

  it('is as high as its head, two rows of headings and its rows', () => {
    const pitch = ((8 * 25.4) / 72) * 1.22;
    expect(tableHeight(tableOf(3), STYLE)).toBeCloseTo(5 + 4 * pitch, 9);
  });
});

describe('a green of the day', () => {
  const outline: Ring = [
    [-8, 0],
    [8, 0],
    [8, 20],
    [-8, 20],
  ];
  const green = (at: readonly [number, number], side: 'left' | 'right'): GreenContent =>
    ({
      holeId: '1',
      name: 'One',
      outline,
      drains: [],
      reading: { bands: [], outlets: [], streams: [], sections: [], doubtful: [] },
      locations: [
        {
          name: 'A',
          at,
          on: 1,
          in: 1,
          side,
          table: null,
          regions: null,
          ground: { toward: [0, -1], grade: 0.02 },
        },
      ],
    }) as unknown as GreenContent;
  const cell = { x: 0, y: 0, width: 60, height: 60 };
  const SCALE = 480;
  const frame = fitGround(cell, { minX: -8, minY: 0, maxX: 8, maxY: 20 }, SCALE);
  const paths = (marks: readonly Mark[]): PathMark[] =>
    marks.flatMap((mark) =>
      mark.kind === 'path' ? [mark] : 'marks' in mark ? paths(mark.marks) : [],
    );

  it.each([
    ['left', -8],
    ['right', 8],
  ] as const)('is measured from the %s where its paces are counted from there', (side, edge) => {
    const marks = paths(dayGreenMarks(green([2, 5], side), cell, SCALE, { detail: 'sections' }));
    const rules = marks
      .filter(({ steps }) => steps.length === 2)
      .map(({ steps }) => steps.map((step) => [step[1], step[2]]));
    const hole = onPaper(frame, 2, 5);
    expect(rules).toContainEqual([hole, onPaper(frame, edge, 5)]);
    expect(rules).toContainEqual([hole, onPaper(frame, 2, 0)]);
  });

  it('is drawn at the scale at which the largest fits', () => {
    const long = {
      ...green([0, 5], 'left'),
      outline: outline.map(([x, y]) => [x, 2 * y]),
    } as GreenContent;
    const size = { width: 60, height: 60 };
    expect(commonScale([green([0, 5], 'left')], size, 480)).toBe(480);
    expect(commonScale([green([0, 5], 'left'), long], size, 480)).toBe(680);
  });
});
