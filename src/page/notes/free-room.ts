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

/** What the notes found, in the hand on the first lines. */
const foundMarks = ({ layout, green, book, measure }: GreenPageContext, at: Cell): Mark[] => {
  if (layout.use === 'committee') return [];
  const found = book.notes?.holes.find((one) => one.holeId === green.holeId)?.found ?? [];
  const count = Math.max(0, Math.floor(at.height / WRITING_PITCH));
  const marks = found.slice(0, count).map((words, i) => {
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
  const count = Math.max(0, Math.floor(height / WRITING_PITCH));
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

/**
 * What stands over and under a green that the Rules keep smaller than its cell: what a step of green speed changes,
 * where there is room for it, and lines to write on.
 */
export const freeRoomModule: PageModule<GreenPageContext> = (context, cell) => {
  const { layout, green, book } = context;
  const [over, under] = roomsOf(context, cell);
  if (over === undefined) return [];
  const style = tableStyle(layout, book.units);
  const rows = layout.use === 'committee' ? 0 : speedChangeRows(green.locations);
  const height = speedChangeHeight(rows, style);
  if (rows > 0 && height <= under.height) {
    const y = under.y + under.height - height;
    const table = speedChangeMarks(green.locations, { ...cell, y }, style);
    return [...writingLines(over, 'head'), ...foundMarks(context, over), ...table];
  }
  if (rows > 0 && height <= over.height) {
    const table = speedChangeMarks(green.locations, { ...cell, y: over.y + 1 }, style);
    const lines = { ...under, height: under.height - ABOVE_LINES };
    return [...table, ...writingLines(lines, 'foot')];
  }
  return [
    ...writingLines(over, 'head'),
    ...foundMarks(context, over),
    ...writingLines({ ...under, height: under.height - ABOVE_LINES }, 'foot'),
  ];
};
