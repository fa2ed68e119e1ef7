import { lengthWordsIn } from '../../appraisal/length-words.js';
import type { GreenWorth } from '../../appraisal/worth.js';
import { inRuns } from '../../course/hole-refs.js';
import { pointsToMm } from '../../units.js';
import type { BookContent, GreenContent } from '../book-content.js';
import { rule, stroke, text } from '../kit/draw.js';
import { greenMark } from '../kit/green-mark.js';
import { type Cell, cellOf } from '../kit/grid.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { fitOrShorten, type SetText, setParagraph, setParagraphs } from '../kit/paragraph.js';
import { cellGroup } from '../kit/read-aloud.js';
import { mendWords, noteWords, reasonWords } from '../kit/told-words.js';
import { withUnit } from '../kit/unit-words.js';
import { worthShort } from '../kit/worth-lines.js';
import type { Mark, Page } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';

type Module = PageModule<SurveysContext>;

export interface SurveysContext extends PageContext {
  /** The greens of this page. */
  readonly greens: readonly GreenContent[];
  readonly part: number;
}

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

const rowHeight = (table: number): number => pointsToMm(table) * 1.5;

/** One row a green: what was measured, and what it is worth. */
const tableModule: Module = ({ layout, book, greens }, cell) => {
  const { table, small } = layout.type;
  const step = rowHeight(table);
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

/** Greens of which the same is said stand together: "1–12, 14: points; rover, May 2026". */
const together = (
  greens: readonly GreenContent[],
  tell: Worded,
  wordsOf: (own: GreenWorth) => string,
): string[] => {
  const groups = new Map<string, string[]>();
  for (const { holeId, worth } of greens) {
    const words = wordsOf(worth);
    if (words !== '') groups.set(words, [...(groups.get(words) ?? []), greenMark(holeId, tell)]);
  }
  return [...groups].map(([words, ids]) =>
    ids.length === greens.length && greens.length > 1
      ? phrase(tell, 'surveys.all', { words })
      : `${inRuns(ids)}: ${words}`,
  );
};

const surveyedWords = (
  { kind, byHand, surveyed, statedSigma }: GreenWorth,
  book: BookContent,
): string => {
  // A sheet's error is the program's word, and stands with its notes.
  if (byHand === true) {
    return [phrase(book, 'surveys.by-hand'), ...(surveyed === null ? [] : [surveyed])].join('; ');
  }
  return [
    phrase(book, `surveys.kind-${kind}`),
    ...(surveyed === null ? [phrase(book, 'surveys.not-told')] : [surveyed]),
    ...(statedSigma === null
      ? []
      : [
          phrase(book, 'surveys.error', {
            error: withUnit(lengthWordsIn(book.units).small(statedSigma), book),
          }),
        ]),
  ].join('; ');
};

const lackWords = (own: GreenWorth, tell: Worded): string => {
  const judged = own.judged === 'tables' ? '' : reasonWords(own, tell).join('; ');
  const mend =
    own.mend.length === 0
      ? ''
      : `; ${phrase(tell, 'surveys.mend', { list: mendWords(own, tell).join('; ') })}`;
  const overruled =
    own.overruled === null
      ? ''
      : `${phrase(tell, 'surveys.overruled', {
          why: own.overruled,
          worth: phrase(tell, `worth.${own.judged}`),
        })} `;
  return `${overruled}${judged}${mend}`;
};

/** Between the table and the words, millimetres. */
const BELOW_TABLE = 3;

/** The words' cell, from below the rows that the table above it has: few greens leave the words more room. */
const belowRows = ({ layout, side, greens }: SurveysContext, cell: Cell): Cell => {
  const placement = layout.pages.surveys?.find(({ module }) => module === 'surveys-table');
  if (placement === undefined) return cell;
  const table = cellOf(layout, side, placement);
  const rows = (greens.length + 1) * rowHeight(layout.type.table);
  const y = table.y + rows + BELOW_TABLE;
  const isAbove = table.y + table.height <= cell.y + 1e-6;
  const isAsWide = table.x <= cell.x && table.x + table.width >= cell.x + cell.width - 1e-6;
  return isAbove && isAsWide && y < cell.y
    ? { ...cell, y, height: cell.y + cell.height - y }
    : cell;
};

/** When and how the greens were surveyed, and what those that are not fit for tables lack. */
const linesOf = ({ book, greens }: Pick<SurveysContext, 'book' | 'greens'>): string[] => {
  const alone = (book.outlines ?? []).filter(({ worth }) => worth === null);
  const holes = inRuns(alone.map(({ holeId }) => greenMark(holeId, book)));
  return [
    ...(alone.length === 0 ? [] : [phrase(book, 'surveys.none', { holes })]),
    ...together(greens, book, (own) => surveyedWords(own, book)),
    ...together(greens, book, (own) => lackWords(own, book)),
    ...together(greens, book, (own) => noteWords(own, book).join('; ')),
    phrase(book, 'surveys.key'),
  ];
};

const LINE_STYLE = { face: 'text', lead: 1.2, gap: 0.6 } as const;

const setLines = (context: SurveysContext, cell: Cell): SetText => {
  const { small, table } = context.layout.type;
  const sizes = { full: table, least: Math.min(small, table) };
  return setParagraphs(linesOf(context), cell, LINE_STYLE, sizes, context.measure);
};

/** Of so few greens on a page all words need not find room: a book is no report. */
const FEW = 4;

/** The greens of each page of surveys: no more than its table has rows for, and, but of few, than its words have room for. */
export const surveysParts = (
  context: PageContext,
  greens: readonly GreenContent[],
): (readonly GreenContent[])[] => {
  const { layout, side } = context;
  const cellFor = (module: string): Cell | null => {
    const placement = layout.pages.surveys?.find((one) => one.module === module);
    return placement === undefined ? null : cellOf(layout, side, placement);
  };
  const height = cellFor('surveys-table')?.height ?? 0;
  const most = Math.max(1, Math.floor(height / rowHeight(layout.type.table)) - 1);
  const words = cellFor('surveys-words');
  const fits = (shown: readonly GreenContent[]): boolean => {
    if (words === null) return true;
    const part = { ...context, greens: shown, part: 0 };
    const cell = belowRows(part, words);
    return setLines(part, cell).height <= cell.height;
  };
  const parts: (readonly GreenContent[])[] = [];
  for (let from = 0; from < greens.length; from += parts[parts.length - 1].length) {
    let shown = greens.slice(from, from + most);
    while (shown.length > FEW && !fits(shown)) shown = shown.slice(0, -1);
    parts.push(shown);
  }
  return parts;
};

const wordsModule: Module = (context, placed) => {
  const { layout, measure, book } = context;
  const { small } = layout.type;
  const cell = belowRows(context, placed);
  const style = LINE_STYLE;
  const whole = setLines(context, cell);
  if (whole.height <= cell.height) return whole.marks;
  // Not all of it finds room: as much as leaves a line that says so.
  const step = small * style.lead;
  const room = cell.height - pointsToMm(step);
  const marks: Mark[] = [];
  let used = 0;
  for (const line of linesOf(context)) {
    const place = { ...cell, y: cell.y + used };
    const set = setParagraph(line, place, { face: 'text', size: small, leading: step }, measure);
    if (used + set.height > room) break;
    marks.push(...set.marks);
    used += set.height + style.gap;
  }
  const more = fitOrShorten(
    phrase(book, 'surveys.more'),
    cell.width,
    { face: 'text-italic', size: small, least: 6 },
    measure,
  );
  const base = cell.y + used + pointsToMm(small) * 0.8;
  return [...marks, text([cell.x, base], more.text, 'text-italic', more.size)];
};

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
