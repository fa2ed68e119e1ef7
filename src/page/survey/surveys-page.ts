import { lengthWordsIn } from '../../appraisal/length-words.js';
import { type GreenWorth, WORTH_WORDS } from '../../appraisal/worth.js';
import { pointsToMm } from '../../units.js';
import type { BookContent, GreenContent } from '../book-content.js';
import { rule, stroke, text } from '../kit/draw.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { fitWording, setParagraph } from '../kit/paragraph.js';
import { cellGroup } from '../kit/read-aloud.js';
import { worthShort } from '../kit/worth-lines.js';
import type { Mark, Page } from '../marks/marks.js';

type Module = PageModule<SurveysContext>;

export interface SurveysContext extends PageContext {
  /** The greens of this page. */
  readonly greens: readonly GreenContent[];
  readonly part: number;
}

const headingModule: Module = ({ layout }, cell) => {
  const { title } = layout.type;
  const base = cell.y + pointsToMm(title) * 0.8;
  return [
    text([cell.x, base], 'What the surveys are worth', 'title-bold', title),
    rule(cell.x, base + 2, cell.x + cell.width, base + 2, stroke(0.3)),
  ];
};

const percent = (share: number): string => `${Math.floor(100 * share + 1e-9)} %`;

interface Column {
  readonly head: string;
  /** The right end of its figures, of the width of the cell. */
  readonly end: number;
  readonly value: (own: GreenWorth) => string;
}

const columnsOf = ({ units }: BookContent): Column[] => {
  const { length, small } = lengthWordsIn(units);
  return [
    { head: 'points', end: 0.17, value: ({ points }) => `${points}` },
    { head: 'apart', end: 0.3, value: ({ spacing }) => length(spacing) },
    { head: 'noise', end: 0.44, value: ({ noise }) => (noise === null ? '–' : small(noise)) },
    { head: 'covered', end: 0.57, value: ({ covered }) => percent(covered) },
    {
      head: '~ aims',
      end: 0.68,
      value: ({ doubtfulCells }) => (doubtfulCells === null ? '–' : percent(doubtfulCells)),
    },
  ];
};
const WORTH_AT = 0.71;

const KINDS: Readonly<Record<GreenWorth['kind'], string>> = {
  points: 'points',
  grid: 'a grid',
  tin: 'a triangulated surface',
  cloud: 'a point cloud',
};

const rowHeight = (table: number): number => pointsToMm(table) * 1.5;

/** How many greens a page takes, of the height of the table's cell. */
export const greensPerSurveysPage = (height: number, table: number): number =>
  Math.max(1, Math.floor(height / rowHeight(table)) - 1);

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
        text([at(column.end), head], column.head, 'text-italic', small, { align: 'right' }),
      ),
    ),
    cellGroup(
      { row: 0, column: columns.length + 1, heads: 'Column' },
      text([at(WORTH_AT), head], 'worth', 'text-italic', small),
    ),
    rule(cell.x, head + step * 0.25, cell.x + cell.width, head + step * 0.25, stroke(0.15)),
    ...greens.flatMap(({ holeId, worth }, i): Mark[] => {
      const base = head + step * (i + 1);
      const shown = /^\d+$/.test(holeId) ? holeId : holeId.slice(0, 1).toUpperCase();
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
  return [{ kind: 'group', role: 'table', alt: 'What the surveys are worth', marks }];
};

/** Greens of which the same is said stand together: "1, 2, 5: points; rover, May 2026". */
const together = (
  greens: readonly GreenContent[],
  wordsOf: (own: GreenWorth) => string,
): string[] => {
  const groups = new Map<string, string[]>();
  for (const { holeId, worth } of greens) {
    const words = wordsOf(worth);
    if (words !== '') groups.set(words, [...(groups.get(words) ?? []), holeId]);
  }
  return [...groups].map(([words, ids]) =>
    ids.length === greens.length && greens.length > 1
      ? `All: ${words}`
      : `${ids.join(', ')}: ${words}`,
  );
};

const surveyedWords = ({ kind, surveyed, statedSigma }: GreenWorth, book: BookContent): string =>
  [
    KINDS[kind],
    ...(surveyed === null ? ['when and how not told'] : [surveyed]),
    ...(statedSigma === null
      ? []
      : [`error stated ${lengthWordsIn(book.units).small(statedSigma)}`]),
  ].join('; ');

const lackWords = (own: GreenWorth): string => {
  const judged = own.judged === 'tables' ? '' : `${own.reasons.join('; ')}`;
  const mend = own.mend.length === 0 ? '' : `; would mend it: ${own.mend.join('; ')}`;
  const overruled =
    own.overruled === null
      ? ''
      : `* the course file: ${own.overruled}; the survey is ${WORTH_WORDS[own.judged]}. `;
  return `${overruled}${judged}${mend}`;
};

/** When and how the greens were surveyed, and what those that are not fit for tables lack. */
const wordsModule: Module = ({ layout, measure, book, greens }, cell) => {
  const size = layout.type.small;
  const alone = (book.outlines ?? []).filter(({ worth }) => worth === null);
  const lines = [
    ...(alone.length === 0
      ? []
      : [`${alone.map(({ holeId }) => holeId).join(', ')}: no survey; the outline from the map`]),
    ...together(greens, (own) => surveyedWords(own, book)),
    ...together(greens, lackWords),
    ...together(greens, ({ notes }) => notes.join('; ')),
    'Apart: from a point to its nearest neighbour. Noise: of one height, as its neighbours show it. Covered: ground near enough to a point. ~ aims: not known to half a hole.',
  ];
  const step = size * 1.2;
  const marks: Mark[] = [];
  let y = cell.y;
  for (const line of lines) {
    const set = setParagraph(line, { ...cell, y }, { face: 'text', size, leading: step }, measure);
    if (y + set.height > cell.y + cell.height) {
      const more = fitWording(
        ['runnel book tells more at the end of its run'],
        cell.width,
        { face: 'text-italic', size, least: 6 },
        measure,
      );
      if (more !== null && y + pointsToMm(step) <= cell.y + cell.height + 0.5) {
        marks.push(text([cell.x, y + pointsToMm(size) * 0.8], more.text, 'text-italic', more.size));
      }
      break;
    }
    marks.push(...set.marks);
    y += set.height + 0.6;
  }
  return marks;
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
      title: 'What the surveys are worth',
    },
    SURVEYS_MODULES,
    context,
  );
