import { roomAbout } from '../green/room-about.js';
import { rule, stroke, text } from '../kit/draw.js';
import { type Cell, cellOf } from '../kit/grid.js';
import type { GreenPageContext, PageModule } from '../kit/page-modules.js';
import { fitOrShorten } from '../kit/paragraph.js';
import { type Mark, TINT } from '../marks/marks.js';
import { speedChangeHeight, speedChangeMarks, speedChangeRows } from '../putts/speed-change.js';
import { tableStyle } from '../putts/table-style.js';
import { phrase } from '../words/words.js';
import { linesIn, WRITING_PITCH, writingLevels } from './note-text.js';

/** Between a table or the last line and what stands below it, millimetres. */
const ABOVE_NEXT = 0.5;
const ABOVE_LINES = 1.5;

/** What the notes found on a green; none in a committee edition. */
const foundOn = ({ layout, green, book }: GreenPageContext): readonly string[] =>
  layout.use === 'committee'
    ? []
    : (book.notes?.holes.find((one) => one.holeId === green.holeId)?.found ?? []);

/** What the notes found, in the hand on the first lines of a cell. */
const foundMarks = (context: GreenPageContext, at: Cell): Mark[] => {
  const { layout, measure, book } = context;
  const marks = foundOn(context)
    .slice(0, linesIn(at))
    .map((words, i) => {
      const { text: said, size } = fitOrShorten(
        words,
        at.width,
        { face: 'note', size: layout.type.text, least: 6 },
        measure,
      );
      return text([at.x, at.y + (i + 1) * WRITING_PITCH - 1.2], said, 'note', size);
    });
  return marks.length === 0
    ? []
    : [{ kind: 'group', role: 'text', alt: phrase(book, 'notes.putts'), shows: 'notes', marks }];
};

/** Lines to write on. */
const writingLines = (cell: Cell, from: 'head' | 'foot'): Mark[] =>
  writingLevels(cell, from).map((y) => rule(cell.x, y, cell.x + cell.width, y, stroke(0.12, TINT)));

/** The room about a green, shared out: to what a step of green speed changes, to the notes, to lines. */
interface SharedRoom {
  /** Null: there is no room for it, or nothing to tell. */
  readonly table: Cell | null;
  /** Ruled, and with what the notes found on the first lines. */
  readonly noted: Cell;
  readonly from: 'head' | 'foot';
  /** Ruled only; null where the table has it. */
  readonly bare: Cell | null;
}

const sharedRoom = (context: GreenPageContext, cell: Cell): SharedRoom | null => {
  const { layout, green, book } = context;
  const room = roomAbout(context, green, cell, ABOVE_NEXT);
  if (room === null) return null;
  const { over, under } = room;
  const rows = layout.use === 'committee' ? 0 : speedChangeRows(green.locations);
  const height = speedChangeHeight(rows, tableStyle(layout, book));
  const lines = { ...under, height: Math.max(0, under.height - ABOVE_LINES) };
  if (rows > 0 && height <= under.height) {
    const table = { ...cell, y: under.y + under.height - height, height };
    return { table, noted: over, from: 'head', bare: null };
  }
  if (rows > 0 && height <= over.height) {
    // Lines are counted up from the foot: the first of them is the topmost.
    const high = linesIn(lines) * WRITING_PITCH;
    const noted = { ...lines, y: lines.y + lines.height - high, height: high };
    return { table: { ...cell, y: over.y + 1, height }, noted, from: 'foot', bare: null };
  }
  return { table: null, noted: over, from: 'head', bare: lines };
};

/** Shared out as on the green's own page; null where that leaves none. */
const roomOnGreen = (context: GreenPageContext): SharedRoom | null => {
  const placement = context.layout.pages.green?.find((one) => one.module === 'free-room');
  return placement === undefined
    ? null
    : sharedRoom(context, cellOf(context.layout, context.side, placement));
};

/** What the notes found on a green and its own page has no line for. */
export const foundElsewhere = (context: GreenPageContext): readonly string[] => {
  // A green that is shown by its outline has other things there.
  const room = context.green.worth.worth === 'outline' ? null : roomOnGreen(context);
  return foundOn(context).slice(room === null ? 0 : linesIn(room.noted));
};

/** Whether what a step of green speed changes is to be told, and the green's own page has no room for it. */
export const isSpeedChangeElsewhere = (context: GreenPageContext): boolean =>
  context.layout.use !== 'committee' &&
  speedChangeRows(context.green.locations) > 0 &&
  (roomOnGreen(context)?.table ?? null) === null;

/**
 * What stands over and under a green that the Rules keep smaller than its cell: what a step of green speed changes,
 * where there is room for it, and lines to write on.
 */
export const freeRoomModule: PageModule<GreenPageContext> = (context, cell) => {
  const { layout, green, book } = context;
  const room = sharedRoom(context, cell);
  if (room === null) return [];
  const { table, noted, from, bare } = room;
  return [
    ...writingLines(noted, from),
    ...foundMarks(context, noted),
    ...(table === null ? [] : speedChangeMarks(green.locations, table, tableStyle(layout, book))),
    ...(bare === null ? [] : writingLines(bare, 'foot')),
  ];
};
