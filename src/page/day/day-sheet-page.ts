import { boxOf, type Ring } from '../../geometry.js';
import { isKept } from '../../terrain/reading.js';
import { pointsToMm } from '../../units.js';
import type { BookContent } from '../book-content.js';
import { leaveMark } from '../green/lane-marks.js';
import { rule, stroke, text } from '../kit/draw.js';
import { folioMark } from '../kit/folio.js';
import type { Cell } from '../kit/grid.js';
import { shownReadings, tellsOfGround } from '../kit/outlined-greens.js';
import { composePage, type DayPageContext, type PageModule } from '../kit/page-modules.js';
import { fitWording } from '../kit/paragraph.js';
import { speedWords, useWords } from '../kit/speed-words.js';
import { type Mark, type Page, TINT } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { commonScale, dayGreenMarks, type SheetGreen, surveyedOf } from './day-green.js';
import { daySpeedChangeModule } from './day-speed-change.js';
import { bestMiss, distanceWords, fourEdges, restInOne } from './place-words.js';
import { windMarks, windWords } from './wind-sign.js';

type Module = PageModule<DayPageContext>;

/** Least room for the hole's number and its paces beside the image, millimetres. */
const WORDS_WIDTH = 12;
const GAP = 1.2;
const NEXT_CLEAR = 1.4;
/** Room for the line of an edge beside the widest green, millimetres. */
const EDGE_ROOM = 0.5;
/** The square before the words of the best miss, and its room, millimetres. */
const SQUARE_ROOM = 2.1;

/** Date and wind as told, or ruled to be written by hand. */
const writtenLine = (
  { layout, book, today: { date, wind } }: DayPageContext,
  left: number,
  right: number,
  base: number,
): Mark[] => {
  const size = layout.type.text;
  const middle = (left + right) / 2;
  const part = (x: number, end: number, name: string, words: string | null): Mark[] =>
    words === null
      ? [
          text([x, base], name, 'text-italic', size - 1),
          rule(x + 8, base + 0.4, end, base + 0.4, stroke(0.15)),
        ]
      : [text([x, base], words, 'text-bold', size)];
  return [
    ...part(left, middle - 3, phrase(book, 'day.date'), date),
    ...part(middle, right, phrase(book, 'day.wind'), wind === null ? null : windWords(wind, book)),
  ];
};

/** "Day 2" large, the course beside it, the speed below. */
const dayHeadingModule: Module = (context, cell) => {
  const { layout, measure, book, day } = context;
  const { title, text: body } = layout.type;
  const size = title * 1.5;
  const words = phrase(book, 'day.head', { day });
  const width = measure(words, 'title-bold', size);
  const base = cell.y + pointsToMm(title) * 0.72 + pointsToMm(body) * 1.35;
  const right = cell.x + cell.width;
  const room = cell.width - width - 4;
  const name = fitWording([book.title], room, { face: 'title', size: title, least: 8 }, measure);
  const speed = fitWording(
    // Where no green shows more than its outline there is no putt that a speed is for.
    !tellsOfGround(book) ? [] : [speedWords(book.stimp, book.past, book)],
    room,
    { face: 'text-bold', size: body, least: 6 },
    measure,
  );
  return [
    text([cell.x, base], words, 'title-bold', size),
    ...(name === null
      ? []
      : [
          text([right, base - pointsToMm(body) * 1.35], name.text, 'title', name.size, {
            align: 'right',
          }),
        ]),
    ...(speed === null
      ? []
      : [text([right, base], speed.text, 'text-bold', speed.size, { align: 'right' })]),
    rule(cell.x, base + 1.8, right, base + 1.8, stroke(0.3)),
    ...writtenLine(context, cell.x, right, base + 5.4),
  ];
};

export interface DaySheetGrid {
  readonly columns: number;
  readonly rows: number;
}

/** Columns and rows that leave the greens the most room: places of about the shape of a green. */
const sheetGrid = (count: number, cell: Cell): DaySheetGrid => {
  let best: DaySheetGrid = { columns: 1, rows: count };
  let most = 0;
  for (let columns = 1; columns <= count; columns++) {
    const rows = Math.ceil(count / columns);
    const side = Math.min(cell.width / columns - WORDS_WIDTH - GAP, cell.height / rows - GAP);
    if (side > most + 1e-9) {
      most = side;
      best = { columns, rows };
    }
  }
  return best;
};

/** The best miss: its words behind the square that marks it on the green. */
const missLine = (marks: readonly Mark[], size: number): Mark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'text'
      ? [
          leaveMark([mark.at[0] + 0.6, mark.at[1] - pointsToMm(size) * 0.3]),
          { ...mark, at: [mark.at[0] + SQUARE_ROOM, mark.at[1]] },
        ]
      : [mark],
  );

/** Where a green's words stand, and whether what is left of depth and width takes one line of them or two. */
interface WordsCell extends Cell {
  readonly inOne: boolean;
}

const greenWords = (
  { layout, measure, book, today }: DayPageContext,
  green: SheetGreen,
  cell: WordsCell,
): Mark[] => {
  const { heading, table, small } = layout.type;
  const large = table + 1;
  const edges = fourEdges(green, book);
  const [on, near, back, far] = edges;
  const rest = cell.inOne ? [restInOne(edges, book)] : [back, far];
  const found = today.distances.get(green.holeId);
  const told = found === undefined ? null : distanceWords(found, book);
  let base = cell.y + pointsToMm(heading) * 0.98;
  const others = told?.others ?? [];
  const surveyed = surveyedOf(green);
  const miss = surveyed === null || layout.use === 'committee' ? null : bestMiss(surveyed, book);
  const asked = pointsToMm(
    (told === null ? 2 : 3) * large * 1.22 +
      (rest.length + others.length + (miss === null ? 0 : 1)) * small * 1.14,
  );
  // Lines close up rather than run into the next green's number and wind.
  const closer = Math.min(1, (cell.y + cell.height - NEXT_CLEAR - base) / asked);
  const line = (words: string, size: number, beside: string | null = null): Mark[] => {
    base += pointsToMm(size) * (size === large ? 1.22 : 1.14) * closer;
    const next = cell.x + measure(words, 'text-bold', size) + 1;
    return [
      text([cell.x, base], words, size === large ? 'text-bold' : 'text', size),
      ...(beside === null ? [] : [text([next, base], beside, 'text', small)]),
    ];
  };
  return [
    text([cell.x, base], green.holeId, 'title-bold', heading * 1.35),
    ...windMarks(today, green.holeId, [cell.x + WORDS_WIDTH - 3.6, base - 1.7]),
    ...[on, near].flatMap((words) => line(words, large)),
    ...rest.flatMap((words) => line(words, small)),
    ...(told === null ? [] : line(told.hole, large, told.rise)),
    ...others.flatMap((words) => line(words, small)),
    ...(miss === null ? [] : missLine(line(miss, small), small)),
  ];
};

const widthOf = (outline: Ring): number => {
  const { minX, maxX } = boxOf(outline);
  return maxX - minX;
};

/** All greens at one scale, in the order of the book, each with its hole location in paces. */
const greensModule: Module = (context, cell) => {
  const { layout, book, sheet, measure } = context;
  const { columns, rows } = sheetGrid(sheet.length, cell);
  const width = cell.width / columns;
  const height = cell.height / rows;
  const image = { width: width - WORDS_WIDTH - GAP, height: height - GAP };
  const scale = commonScale(sheet, image, layout.green.scale);
  const detail = layout.use === 'committee' ? 'sections' : 'full';
  // Where the picture is as high as its cell, greens leave more room beside them than words need at least.
  const widest = Math.max(...sheet.map(({ outline }) => widthOf(outline))) * (1000 / scale);
  const room = Math.max(WORDS_WIDTH, width - GAP - widest - EDGE_ROOM);
  const inOne = sheet.every(
    (green) =>
      measure(restInOne(fourEdges(green, book), book), 'text', layout.type.small) < room - 0.5,
  );
  return sheet.flatMap((green, i) => {
    const x = cell.x + (i % columns) * width;
    const y = cell.y + Math.floor(i / columns) * height;
    return [
      ...greenWords(context, green, { x, y, width: room, height, inOne }),
      ...dayGreenMarks(green, { ...image, x: x + room, y, width: width - GAP - room }, scale, {
        detail,
        words: book.words,
      }),
    ];
  });
};

/** The foot of a page of the day: the first of the wordings that fits, and the page's number. */
export const dayFoot = (
  context: DayPageContext,
  cell: Cell,
  wordings: readonly string[],
): Mark[] => {
  const { layout, measure } = context;
  const size = layout.type.small;
  const base = cell.y + cell.height;
  const use = useWords(layout.use, context.book);
  const said = fitWording(
    [...wordings.map((words) => `${words} · ${use}`), use],
    cell.width - 6,
    { face: 'text', size, least: 6 },
    measure,
  );
  return [
    ...(said === null ? [] : [text([cell.x, base], said.text, 'text', said.size)]),
    // On the right of every page of a day.
    folioMark({ ...context, side: 'right' }, cell),
  ];
};

const isAnyAlike = (book: Pick<BookContent, 'greens'>): boolean =>
  shownReadings(book).some(({ streams }) => streams.some((one) => one.main && !isKept(one)));

/** A line to write on. */
const noteLineModule: Module = (_, cell) => {
  const y = cell.y + cell.height - 0.6;
  return [rule(cell.x, y, cell.x + cell.width, y, stroke(0.12, TINT))];
};

/** How the sheet is to be read, and what it may be used for. */
const footModule: Module = (context, cell) => {
  const { layout, book, sheet, measure } = context;
  const size = layout.type.small;
  const unit = phrase(book, book.units === 'metric' ? 'unit.metres' : 'unit.yards');
  const signs = [
    ...(tellsOfGround(book)
      ? [
          phrase(book, 'day.sign-drainage'),
          ...(isAnyAlike(book) ? [phrase(book, 'day.sign-alike')] : []),
          phrase(book, 'day.sign-fall'),
        ]
      : []),
    // A bare outline beside toned greens would else be taken for level ground.
    ...(sheet.some((green) => (surveyedOf(green)?.worth.worth ?? 'outline') === 'outline')
      ? [phrase(book, 'day.sign-outline')]
      : []),
    ...(book.greens.some(({ locations }) => locations[0].regions !== null)
      ? [phrase(book, 'day.sign-lanes'), phrase(book, 'day.sign-miss')]
      : []),
  ];
  // Where words are long the last signs are left out: the how-to-read page has them all.
  const told = fitWording(
    signs.map((_, i) => signs.slice(0, signs.length - i).join(' · ')),
    cell.width,
    { face: 'text-italic', size, least: Math.min(size, 6) },
    measure,
  );
  const base = cell.y + cell.height - pointsToMm(size) * 1.35;
  return [
    ...(layout.use === 'committee' || told === null
      ? []
      : [text([cell.x, base], told.text, 'text-italic', told.size)]),
    ...dayFoot(context, cell, [
      phrase(book, 'day.foot', { unit }),
      phrase(book, 'day.foot-short', { unit }),
      phrase(book, 'day.foot-shortest'),
    ]),
  ];
};

const DAY_SHEET_MODULES: Readonly<Record<string, Module>> = {
  heading: dayHeadingModule,
  greens: greensModule,
  'speed-change': daySpeedChangeModule,
  'note-line': noteLineModule,
  foot: footModule,
};

export const composeDaySheet = (context: DayPageContext): Page =>
  composePage(
    'day-sheet',
    { id: 'day-sheet', title: phrase(context.book, 'day.sheet-title', { day: context.day }) },
    DAY_SHEET_MODULES,
    context,
  );
