import { boxOf } from '../../geometry.js';
import { greenFrame } from '../green/green-image.js';
import { onPaper } from '../green/ground-frame.js';
import { rule, stroke, text } from '../kit/draw.js';
import { type Cell, cellOf } from '../kit/grid.js';
import type { GreenPageContext, PageModule } from '../kit/page-modules.js';
import { fitOrShorten } from '../kit/paragraph.js';
import { type Mark, TINT } from '../marks/marks.js';
import { speedChangeHeight, speedChangeMarks, speedChangeRows } from '../putts/speed-change.js';
import { tableStyle } from '../putts/table-module.js';
import { WRITING_PITCH } from './note-text.js';

/** What stands over and under a green's edge, millimetres: labels, the figures of the paces. */
const OVER = 4;
const UNDER = 7;
/** Between a table or the last line and what stands below it. */
const ABOVE_NEXT = 0.5;
const ABOVE_LINES = 1.5;

/** What the notes found on a green; none in a committee edition. */
const foundOn = ({ layout, green, book }: GreenPageContext): readonly string[] =>
  layout.use === 'committee'
    ? []
    : (book.notes?.holes.find((one) => one.holeId === green.holeId)?.found ?? []);

const linesIn = ({ height }: Cell): number => Math.max(0, Math.floor(height / WRITING_PITCH));

/** What the notes found, in the hand on the first lines of a cell. */
const foundMarks = (context: GreenPageContext, at: Cell): Mark[] => {
  const { layout, measure } = context;
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
    : [{ kind: 'group', role: 'text', alt: 'Putts of the notes', shows: 'notes', marks }];
};

/** Lines to write on, counted up from the foot of a cell or down from its head. */
const writingLines = ({ x, y, width, height }: Cell, from: 'head' | 'foot'): Mark[] => {
  const count = linesIn({ x, y, width, height });
  return Array.from({ length: count }, (_, i) => {
    const at = from === 'head' ? y + (i + 1) * WRITING_PITCH : y + height - i * WRITING_PITCH;
    return rule(x, at, x + width, at, stroke(0.12, TINT));
  });
};

/** The room over and under a green in its cell. */
const roomsOf = ({ layout, green, side }: GreenPageContext, cell: Cell): readonly Cell[] => {
  const placement = layout.pages.green?.find((one) => one.module === 'green-image');
  if (placement === undefined) return [];
  const frame = greenFrame(green, cellOf(layout, side, placement), layout.green.scale);
  const box = boxOf(green.outline);
  const top = onPaper(frame, 0, box.maxY)[1] - OVER;
  const bottom = onPaper(frame, 0, box.minY)[1] + UNDER;
  const foot = cell.y + cell.height - ABOVE_NEXT;
  return [
    { ...cell, height: Math.max(0, top - cell.y) },
    { ...cell, y: bottom, height: Math.max(0, foot - bottom) },
  ];
};

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
  const [over, under] = roomsOf(context, cell);
  if (over === undefined) return null;
  const rows = layout.use === 'committee' ? 0 : speedChangeRows(green.locations);
  const height = speedChangeHeight(rows, tableStyle(layout, book.units));
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

/** What the notes found on a green and its own page has no line for. */
export const foundElsewhere = (context: GreenPageContext): readonly string[] => {
  const placement = context.layout.pages.green?.find((one) => one.module === 'free-room');
  if (placement === undefined) return foundOn(context);
  const room = sharedRoom(context, cellOf(context.layout, context.side, placement));
  return foundOn(context).slice(room === null ? 0 : linesIn(room.noted));
};

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
    ...(table === null
      ? []
      : speedChangeMarks(green.locations, table, tableStyle(layout, book.units))),
    ...(bare === null ? [] : writingLines(bare, 'foot')),
  ];
};
