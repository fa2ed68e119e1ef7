import type { HoleFigures } from '../../course/hole-figures.js';
import { MINIMUM_TABLE_TYPE } from '../../layout/load-layout.js';
import { pointsToMm } from '../../units.js';
import { unitWord } from '../hole/hole-words.js';
import { fillPath, rectSteps, rule, stroke, text } from '../kit/draw.js';
import { folioMark } from '../kit/folio.js';
import type { Cell } from '../kit/grid.js';
import { cellOf } from '../kit/grid.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { fitOrShorten, fitWording, wrapLines } from '../kit/paragraph.js';
import { cellGroup } from '../kit/read-aloud.js';
import type { Face, Mark, MeasureText, Page } from '../marks/marks.js';
import { phrase, type Telling } from '../words/words.js';
import { type Card, type CardRow, cardOf } from './card-rows.js';

export interface CardPageContext extends PageContext {
  readonly holes: readonly HoleFigures[];
  /** The tees that this page lists, as places in the card's tees. */
  readonly tees: readonly number[];
  /** The rows of the card that stand on it: the first, and the one past the last. */
  readonly rows: readonly [from: number, to: number];
  readonly part: number;
}

type Module = PageModule<CardPageContext>;

const NUMBER_WIDTH = 7;
const PAR_WIDTH = 8;
const INDEX_WIDTH = 10;
const TEE_WIDTH = 11.5;
const LEAST_NAME = 22;
/** Points. */
const LEAST_TYPE = 6;

/** How many tees stand on one page of the card. */
const teesThatFit = (width: number): number =>
  Math.max(
    1,
    Math.floor((width - NUMBER_WIDTH - PAR_WIDTH - INDEX_WIDTH - LEAST_NAME) / TEE_WIDTH),
  );

const shown = (value: number | null): string => (value === null ? '–' : `${value}`);

interface Column {
  readonly head: string;
  /** The right edge, or the left edge of the name. */
  readonly x: number;
  readonly width: number;
  readonly align: 'left' | 'right';
  readonly value: (row: CardRow) => string;
  readonly bold: boolean;
}

/** Of the columns below. */
const NAME_COLUMN = 1;

const columnsOf = (card: Card, tees: readonly number[], cell: Cell, tell: Telling): Column[] => {
  const right = cell.x + cell.width;
  const teesWidth = Math.min(18, Math.max(TEE_WIDTH, (cell.width * 0.5) / tees.length));
  const lengths = tees.map(
    (tee, i): Column => ({
      head: card.tees[tee],
      x: right - (tees.length - 1 - i) * teesWidth,
      width: teesWidth - 1.5,
      align: 'right',
      value: (row) => shown(row.lengths[tee]),
      bold: i === 0,
    }),
  );
  const index = right - tees.length * teesWidth;
  const par = index - INDEX_WIDTH;
  const nameX = cell.x + NUMBER_WIDTH;
  return [
    {
      head: '',
      x: cell.x + NUMBER_WIDTH - 2,
      width: NUMBER_WIDTH - 2,
      align: 'right',
      value: (row) => row.number,
      bold: true,
    },
    {
      head: phrase(tell, 'card.hole'),
      x: nameX,
      width: par - PAR_WIDTH - nameX,
      align: 'left',
      value: (row) => row.name,
      bold: false,
    },
    {
      head: phrase(tell, 'card.par'),
      x: par,
      width: PAR_WIDTH,
      align: 'right',
      value: (row) => shown(row.par),
      bold: false,
    },
    {
      head: phrase(tell, 'card.index'),
      x: index,
      width: INDEX_WIDTH,
      align: 'right',
      value: (row) => (row.kind === 'sum' ? '' : shown(row.index)),
      bold: false,
    },
    ...lengths,
  ];
};

/** A name in its row: on one line, else on two of the least type where the row is high enough, else its beginning. */
const nameMarks = (
  words: string,
  row: Cell,
  { face, size, base }: { readonly face: Face; readonly size: number; readonly base: number },
  measure: MeasureText,
): Mark[] => {
  const sizes = { face, size, least: LEAST_TYPE };
  const line = pointsToMm(LEAST_TYPE);
  const lines = wrapLines(words, row.width, face, LEAST_TYPE, measure);
  const isHigh = row.height >= 2 * line * 1.06;
  const isWide = lines.every((one) => measure(one, face, LEAST_TYPE) <= row.width);
  if (fitWording([words], row.width, sizes, measure) === null && lines.length === 2) {
    if (isHigh && isWide) {
      const middle = row.y + row.height / 2;
      return lines.map((one, i) =>
        text([row.x, middle + (i === 0 ? -0.2 : 0.84) * line], one, face, LEAST_TYPE),
      );
    }
  }
  const value = fitOrShorten(words, row.width, sizes, measure);
  return [text([row.x, base], value.text, face, value.size)];
};

const tableModule: Module = ({ layout, measure, holes, book, tees, rows }, cell) => {
  const whole = cardOf(holes, book);
  const card = { ...whole, rows: whole.rows.slice(rows[0], rows[1]) };
  const columns = columnsOf(card, tees, cell, book);
  const { table, small } = layout.type;
  const step = Math.min(pointsToMm(table) * 2.05, cell.height / (card.rows.length + 1.2));
  const size = Math.min(table, (step / 1.12 / pointsToMm(1)) * 0.98);
  const right = cell.x + cell.width;
  const fitted = (words: string, width: number, face: Face, most: number) =>
    fitOrShorten(words, width, { face, size: most, least: LEAST_TYPE }, measure);
  const marks: Mark[] = columns.flatMap(({ head: whole, width, x, align }, c) => {
    if (whole === '') return [];
    const head = fitted(whole, width, 'text-italic', small);
    const set = text([x, cell.y + step * 0.7], head.text, 'text-italic', head.size, { align });
    return cellGroup({ row: 0, column: c, heads: 'Column' }, set, whole);
  });
  marks.push(rule(cell.x, cell.y + step, right, cell.y + step, stroke(0.3)));
  card.rows.forEach((row, r) => {
    const top = cell.y + step * (r + 1);
    const base = top + step * 0.5 + pointsToMm(size) * 0.34;
    const isSum = row.kind === 'sum';
    if (isSum) {
      marks.push(
        fillPath(rectSteps(cell.x, top, cell.width, step), { ink: 'tint', tone: 0.22 }),
        rule(cell.x, top, right, top, stroke(0.15)),
        rule(cell.x, top + step, right, top + step, stroke(0.15)),
      );
    }
    columns.forEach((column, c) => {
      const words = column.value(row);
      if (words === '') return;
      const face: Face = isSum || column.bold ? 'text-bold' : 'text';
      if (c === NAME_COLUMN) {
        const place = { x: column.x, y: top, width: column.width, height: step };
        const set = nameMarks(words, place, { face, size, base }, measure);
        marks.push(cellGroup({ row: r + 1, column: c, heads: 'Row' }, set, words));
        return;
      }
      const value = fitted(words, column.width, face, size);
      const set = text([column.x, base], value.text, face, value.size, { align: column.align });
      // A hole without a name is known by its number.
      const heads = c === 0 && row.name === '' ? { heads: 'Row' as const } : {};
      marks.push(cellGroup({ row: r + 1, column: c, ...heads }, set));
    });
  });
  return [
    { kind: 'group', role: 'table', alt: phrase(book, 'card.alt', { title: book.title }), marks },
  ];
};

const headingModule: Module = ({ layout, book, measure, part }, cell) => {
  const { title, small } = layout.type;
  const base = cell.y + pointsToMm(title) * 0.9;
  const unit = phrase(book, book.units === 'metric' ? 'unit.metres' : 'unit.yards');
  const name = fitWording(
    [book.title],
    cell.width - 34,
    { face: 'title-bold', size: title, least: 9 },
    measure,
  );
  return [
    text(
      [cell.x, base],
      name?.text ?? phrase(book, 'card.title'),
      'title-bold',
      name?.size ?? title,
    ),
    text(
      [cell.x + cell.width, base],
      part === 0
        ? phrase(book, 'card.head', { unit })
        : phrase(book, 'card.head-part', { part: part + 1, unit }),
      'text-italic',
      Math.max(small, 7),
      { align: 'right' },
    ),
    rule(cell.x, base + 2, cell.x + cell.width, base + 2, stroke(0.3)),
  ];
};

const footModule: PageModule<PageContext> = (context, cell) => {
  const { layout, side, book } = context;
  const base = cell.y + cell.height;
  const size = layout.type.small;
  const left = side === 'left';
  return [
    folioMark(context, cell),
    text(
      [left ? cell.x + cell.width : cell.x, base],
      phrase(book, 'card.foot', { unit: unitWord(book) }),
      'text',
      size,
      { align: left ? 'right' : 'left' },
    ),
  ];
};

const CARD_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  'card-table': tableModule,
  foot: footModule,
};

/** What stands on one page of the card. */
export type CardPart = Pick<CardPageContext, 'tees' | 'rows'>;

/** The lines of a card are no lower than its least type asks for, millimetres. */
const LEAST_STEP = (pointsToMm(MINIMUM_TABLE_TYPE) * 1.12) / 0.98;

/** Whole loops and nines on as few pages as hold them, evenly; a page is cut after a sum only. */
const rowParts = (rows: readonly CardRow[], fit: number): (readonly [number, number])[] => {
  const cuts = rows.flatMap((row, i) =>
    row.kind === 'sum' && rows[i + 1]?.kind === 'hole' ? [i + 1] : [],
  );
  const parts: (readonly [number, number])[] = [];
  let from = 0;
  while (from < rows.length) {
    const left = rows.length - from;
    const even = from + left / Math.ceil(left / fit);
    const within = cuts.filter((cut) => cut > from && cut - from <= fit);
    const to =
      left <= fit || within.length === 0
        ? Math.min(rows.length, from + fit)
        : within.reduce((best, cut) => (Math.abs(cut - even) < Math.abs(best - even) ? cut : best));
    parts.push([from, to]);
    from = to;
  }
  return parts;
};

/** How many pages the card takes: one, unless the course has more tees than fit side by side, or more holes than fit below each other. */
export const cardParts = (context: PageContext, holes: readonly HoleFigures[]): CardPart[] => {
  const placement = (context.layout.pages.card ?? []).find((one) => one.module === 'card-table');
  const { tees, rows } = cardOf(holes, context.book);
  if (placement === undefined)
    return tees.length === 0 ? [{ tees: [], rows: [0, rows.length] }] : [];
  const cell = cellOf(context.layout, context.side, placement);
  const down = rowParts(rows, Math.max(1, Math.floor(cell.height / LEAST_STEP - 1.2)));
  if (tees.length === 0) return down.map((part) => ({ tees: [], rows: part }));
  const fit = teesThatFit(cell.width);
  // Evenly: no page is left with one tee alone.
  const pages = Math.ceil(tees.length / fit);
  const firstOf = (page: number): number => Math.ceil((page * tees.length) / pages);
  const across = Array.from({ length: pages }, (_, i) =>
    tees.slice(firstOf(i), firstOf(i + 1)).map((__, k) => firstOf(i) + k),
  );
  return down.flatMap((part) => across.map((some) => ({ tees: some, rows: part })));
};

/** One page of the card; `tees` and `rows` from `cardParts`. */
export const composeCardPage = (context: CardPageContext): Page =>
  composePage(
    'card',
    {
      id: `card${context.part === 0 ? '' : `-${context.part + 1}`}`,
      title: phrase(context.book, 'card.title'),
    },
    CARD_MODULES,
    context,
  );
