import { pointsToMm } from '../../units.js';
import { rectSteps, rule, stroke, strokePath, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { PageContext } from '../kit/page-modules.js';
import { fitWording } from '../kit/paragraph.js';
import { cellGroup } from '../kit/read-aloud.js';
import type { Mark } from '../marks/marks.js';
import { phrase } from '../words/words.js';

/** A tee's row: what it is called, its aim and its pace, as its figures say them. */
export interface ResultRow {
  readonly name: string;
  readonly aim: string;
  readonly pace: string;
}

const RESULTS = [
  'station.made',
  'station.short',
  'station.long',
  'station.high',
  'station.low',
] as const;

/** Where columns begin, of the width: names, aims, paces, boxes. */
const COLUMNS = { name: 0, aim: 0.16, pace: 0.32, boxes: 0.46 } as const;
const GAP = 1.4;
const MOST_STEP = 8.5;

/** A row for each tee with room for its results: what dropped, and how the others missed. */
export const stationResults = (
  rows: readonly ResultRow[],
  { layout, book, measure }: PageContext,
  cell: Cell,
): Mark[] => {
  const { table, small } = layout.type;
  const step = Math.min(MOST_STEP, cell.height / (rows.length + 1));
  const size = Math.min(table, (step * 0.75 * 72) / 25.4);
  const at = (share: number): number => cell.x + share * cell.width;
  const right = cell.x + cell.width;
  const pitch = (right - at(COLUMNS.boxes) + GAP) / RESULTS.length;
  const box = { width: pitch - GAP, height: step - 1.4 };
  const fitted = (
    words: string,
    face: 'text' | 'text-bold',
    from: number,
    to: number,
  ): { readonly text: string; readonly size: number } =>
    fitWording([words], at(to) - at(from) - 1, { face, size, least: 6 }, measure) ?? {
      text: words,
      size: 6,
    };
  const head = cell.y + step - 1.6;
  const heads = [
    text([cell.x, head], phrase(book, 'station.from'), 'text-italic', small),
    text([at(COLUMNS.aim), head], phrase(book, 'station.aim'), 'text-italic', small),
    text([at(COLUMNS.pace), head], phrase(book, 'station.pace'), 'text-italic', small),
    ...RESULTS.map((key, k) =>
      text(
        [at(COLUMNS.boxes) + k * pitch + box.width / 2, head],
        phrase(book, key),
        'text-italic',
        small,
        { align: 'centre' },
      ),
    ),
  ].map((set, column) => cellGroup({ row: 0, column, heads: 'Column' }, set));
  const body = rows.flatMap((row, i): Mark[] => {
    const top = cell.y + step * (i + 1);
    const base = top + box.height / 2 + pointsToMm(size) * 0.36;
    const columns = [
      [row.name, 'text', COLUMNS.name, COLUMNS.aim],
      [row.aim, 'text-bold', COLUMNS.aim, COLUMNS.pace],
      [row.pace, 'text', COLUMNS.pace, COLUMNS.boxes],
    ] as const;
    return [
      ...columns.flatMap(([words, face, from, to], column): Mark[] => {
        if (words === '') return [];
        const set = fitted(words, face, from, to);
        return [
          cellGroup(
            { row: i + 1, column, ...(column === 0 ? { heads: 'Row' as const } : {}) },
            text([at(from), base], set.text, face, set.size),
          ),
        ];
      }),
      ...RESULTS.map((_, k) =>
        strokePath(
          rectSteps(at(COLUMNS.boxes) + k * pitch, top, box.width, box.height),
          stroke(0.18),
        ),
      ),
    ];
  });
  const alt = phrase(book, 'station.results');
  return [
    {
      kind: 'group',
      role: 'table',
      alt,
      marks: [
        ...heads,
        rule(cell.x, cell.y + step - 0.7, right, cell.y + step - 0.7, stroke(0.2)),
        ...body,
      ],
    },
  ];
};
