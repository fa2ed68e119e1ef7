import { lengthWordsIn } from '../../appraisal/length-words.js';
import type { GreenWorth } from '../../appraisal/worth.js';
import { inRuns } from '../../course/hole-refs.js';
import { pointsToMm } from '../../units.js';
import type { BookContent, GreenContent } from '../book-content.js';
import { text } from '../kit/draw.js';
import { greenMark } from '../kit/green-mark.js';
import { type Cell, cellOf } from '../kit/grid.js';
import type { PageContext, PageModule } from '../kit/page-modules.js';
import { fitOrShorten, type SetText, setParagraph, setParagraphs } from '../kit/paragraph.js';
import { mendWords, noteWords, reasonWords } from '../kit/told-words.js';
import { withUnit } from '../kit/unit-words.js';
import type { Mark } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';

export interface SurveysContext extends PageContext {
  /** The greens of this page. */
  readonly greens: readonly GreenContent[];
  readonly part: number;
  /** Whether the book's imprint stands below the words. */
  readonly withImprint?: boolean;
}

/** Of a row of the table, millimetres. */
export const surveysRowHeight = (table: number): number => pointsToMm(table) * 1.5;

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
  const rows = (greens.length + 1) * surveysRowHeight(layout.type.table);
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

/** What the words leave of their cell; null where they have none, or not all of them find room. */
export const surveysFreeRoom = (context: SurveysContext): Cell | null => {
  const { layout, side } = context;
  const placement = layout.pages.surveys?.find(({ module }) => module === 'surveys-words');
  if (placement === undefined) return null;
  const cell = belowRows(context, cellOf(layout, side, placement));
  const { height } = setLines(context, cell);
  return height > cell.height
    ? null
    : { ...cell, y: cell.y + height, height: cell.height - height };
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
  const most = Math.max(1, Math.floor(height / surveysRowHeight(layout.type.table)) - 1);
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

export const surveysWordsModule: PageModule<SurveysContext> = (context, placed) => {
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
