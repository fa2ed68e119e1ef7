import { lengthWordsIn } from '../../appraisal/length-words.js';
import type { GreenWorth } from '../../appraisal/worth.js';
import { pointsToMm } from '../../units.js';
import type { BookContent } from '../book-content.js';
import { rule, stroke, text } from '../kit/draw.js';
import { greenMark } from '../kit/green-mark.js';
import { composePage, type PageModule } from '../kit/page-modules.js';
import { cellGroup } from '../kit/read-aloud.js';
import { withUnit } from '../kit/unit-words.js';
import { worthShort } from '../kit/worth-lines.js';
import type { Mark, Page } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { imprintBelow } from './surveys-imprint.js';
import { type SurveysContext, surveysRowHeight, surveysWordsModule } from './surveys-words.js';

type Module = PageModule<SurveysContext>;

const headingModule: Module = ({ layout, book }, cell) => {
  const { title } = layout.type;
  const base = cell.y + pointsToMm(title) * 0.8;
  return [
    text([cell.x, base], phrase(book, 'surveys.title'), 'title-bold', title),
    rule(cell.x, base + 2, cell.x + cell.width, base + 2, stroke(0.3)),
  ];
};

/** Ground that has no points is not rounded away. */
const coveredPercent = (share: number): string => `${Math.floor(100 * share + 1e-9)} %`;

interface Column {
  readonly head: 'points' | 'apart' | 'noise' | 'covered' | 'doubtful';
  /** The right end of its figures, of the width of the cell. */
  readonly end: number;
  readonly value: (own: GreenWorth) => string;
}

const columnsOf = (tell: BookContent): Column[] => {
  const { units } = tell;
  const words = lengthWordsIn(units);
  const length = (metres: number): string => withUnit(words.length(metres), tell);
  const small = (metres: number): string => withUnit(words.small(metres), tell);
  return [
    { head: 'points', end: 0.17, value: ({ points }) => `${points}` },
    { head: 'apart', end: 0.3, value: ({ spacing }) => length(spacing) },
    { head: 'noise', end: 0.44, value: ({ noise }) => (noise === null ? '–' : small(noise)) },
    { head: 'covered', end: 0.57, value: ({ covered }) => coveredPercent(covered) },
    {
      head: 'doubtful',
      end: 0.68,
      value: ({ doubtfulCells }) =>
        doubtfulCells === null ? '–' : `${Math.round(100 * doubtfulCells)} %`,
    },
  ];
};
const WORTH_AT = 0.71;

/** One row a green: what was measured, and what it is worth. */
const tableModule: Module = ({ layout, book, greens }, cell) => {
  const { table, small } = layout.type;
  const step = surveysRowHeight(table);
  const columns = columnsOf(book);
  const at = (share: number): number => cell.x + share * cell.width;
  const head = cell.y + step * 0.7;
  const marks: Mark[] = [
    ...columns.map((column, c) =>
      cellGroup(
        { row: 0, column: c + 1, heads: 'Column' },
        text([at(column.end), head], phrase(book, `surveys.${column.head}`), 'text-italic', small, {
          align: 'right',
        }),
      ),
    ),
    cellGroup(
      { row: 0, column: columns.length + 1, heads: 'Column' },
      text([at(WORTH_AT), head], phrase(book, 'surveys.worth'), 'text-italic', small),
    ),
    rule(cell.x, head + step * 0.25, cell.x + cell.width, head + step * 0.25, stroke(0.15)),
    ...greens.flatMap(({ holeId, worth }, i): Mark[] => {
      const base = head + step * (i + 1);
      const shown = greenMark(holeId, book);
      return [
        cellGroup(
          { row: i + 1, column: 0, heads: 'Row' },
          text([cell.x, base], shown, 'text-bold', table),
          holeId,
        ),
        ...columns.map((column, c) =>
          cellGroup(
            { row: i + 1, column: c + 1 },
            text([at(column.end), base], column.value(worth), 'text', table, { align: 'right' }),
          ),
        ),
        cellGroup(
          { row: i + 1, column: columns.length + 1 },
          text(
            [at(WORTH_AT), base],
            `${worthShort(worth, book)}${worth.overruled === null ? '' : ' *'}`,
            worth.worth === 'tables' ? 'text' : 'text-bold',
            table,
          ),
        ),
      ];
    }),
  ];
  return [{ kind: 'group', role: 'table', alt: phrase(book, 'surveys.title'), marks }];
};

/** The words, and below them the imprint of a book that has no page for it. */
const wordsModule: Module = (context, cell) => [
  ...surveysWordsModule(context, cell),
  ...(context.withImprint === true ? (imprintBelow(context)?.marks ?? []) : []),
];

const footModule: Module = ({ layout, side, label }, cell) => {
  const left = side === 'left';
  const at = [left ? cell.x : cell.x + cell.width, cell.y + cell.height] as const;
  const align = left ? 'left' : 'right';
  return [text(at, label, 'text-bold', layout.type.small, { align })];
};

const SURVEYS_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  'surveys-table': tableModule,
  'surveys-words': wordsModule,
  foot: footModule,
};

/** The page of surveys: of each green when and how it was surveyed, its points and what they are worth. */
export const composeSurveysPage = (context: SurveysContext): Page =>
  composePage(
    'surveys',
    {
      id: `surveys${context.part === 0 ? '' : `-${context.part + 1}`}`,
      title: phrase(context.book, 'surveys.title'),
    },
    SURVEYS_MODULES,
    context,
  );
