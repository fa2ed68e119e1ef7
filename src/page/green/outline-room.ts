import { type Box, boxOf } from '../../geometry.js';
import { pointsToMm } from '../../units.js';
import { rule, stroke } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { PageModule } from '../kit/page-modules.js';
import { type SetText, setParagraphs } from '../kit/paragraph.js';
import { withheldLines } from '../kit/worth-lines.js';
import { type Mark, TINT } from '../marks/marks.js';
import { WRITING_PITCH, writingLevels } from '../notes/note-text.js';
import { type GroundFrame, onPaper } from './ground-frame.js';
import { fallAtRight, figureLine, type OutlinePageContext } from './outline-words.js';
import { roomAbout } from './room-about.js';
import { outlineGrid, shownHazards } from './shown-hazards.js';

type Module = PageModule<OutlinePageContext>;

/** Between the last line and what stands below it, millimetres. */
const ABOVE_NEXT = 1.5;
/** Left free beside a hazard, and the least that is worth writing on. */
const BESIDE = 1.5;
const SHORTEST_LINE = 15;

/** What stands round the green in its cell: hazards, and the counts of paces, which may stand over it. */
const takenRound = (
  { layout, green }: OutlinePageContext,
  frame: GroundFrame,
  cell: Cell,
): Box[] => {
  const hazards = shownHazards(frame, green, cell);
  const { figureCells } = outlineGrid(frame, green.outline, hazards, layout.type.small);
  return [
    ...hazards.map(({ ring }) => boxOf(ring.map(([x, y]) => onPaper(frame, x, y)))),
    ...figureCells.map(({ x, y, width, height }) => ({
      ...{ minX: x, minY: y, maxX: x + width, maxY: y + height },
    })),
  ];
};

/** The parts of a line to write on that nothing else takes, from left to right. */
const freeParts = (y: number, { x, width }: Cell, taken: readonly Box[]): [number, number][] => {
  const top = y - 0.8 * WRITING_PITCH;
  const there = taken.filter((box) => box.minY < y + BESIDE && box.maxY > top);
  const parts: [number, number][] = [];
  let from = x;
  for (const box of [...there].sort((a, b) => a.minX - b.minX)) {
    parts.push([from, Math.min(box.minX - BESIDE, x + width)]);
    from = Math.max(from, box.maxX + BESIDE);
  }
  parts.push([from, x + width]);
  return parts.filter(([a, b]) => b - a >= SHORTEST_LINE);
};

const writingLines = (cell: Cell, taken: readonly Box[], from: 'head' | 'foot'): Mark[] =>
  writingLevels(cell, from).flatMap((y) =>
    freeParts(y, cell, taken).map(([a, b]) => rule(a, y, b, y, stroke(0.12, TINT))),
  );

const isFree = ({ x, y, width, height }: Cell, taken: readonly Box[]): boolean =>
  taken.every(
    (box) => box.maxX < x || box.minX > x + width || box.maxY < y || box.minY > y + height,
  );

/** What has no cell of its own in the layout: front, middle and back, and the sign of the fall. */
const homelessLine = (context: OutlinePageContext, cell: Cell): SetText => {
  const { layout } = context;
  const has = (...modules: readonly string[]): boolean =>
    layout.pages.green?.some((one) => modules.includes(one.module)) ?? false;
  const height = pointsToMm(layout.type.table) * 1.36;
  const line = { ...cell, base: cell.y + height * 0.75 };
  const marks = [
    ...(has('approach', 'locations')
      ? []
      : figureLine(context, { ...line, width: line.width * 0.7 })),
    ...(has('band-key', 'locations') ? [] : fallAtRight(line, context)),
  ];
  return { marks, height: marks.length === 0 ? 0 : height };
};

/** Why a survey of the green is not shown, and what would mend it. */
const reasons = ({ layout, green, measure, book }: OutlinePageContext, cell: Cell): SetText =>
  green.worth === null
    ? { marks: [], height: 0 }
    : setParagraphs(
        [withheldLines(green.worth, book).join(' ')],
        cell,
        { face: 'text-italic', lead: 1.2, gap: 0 },
        { full: layout.type.small, least: 6 },
        measure,
      );

/**
 * What stands over and under a green that the Rules keep smaller than its cell: what has no other cell, why a
 * survey of it is not shown, and lines to write on beside the hazards.
 */
export const outlineRoomModule: Module = (context, cell) => {
  const room = roomAbout(context, context.green, cell, ABOVE_NEXT);
  if (room === null) return [];
  const taken = takenRound(context, room.frame, cell);
  let { over, under } = room;
  const marks: Mark[] = [];
  for (const set of [homelessLine, reasons]) {
    const { height } = set(context, over);
    if (height === 0) continue;
    const atFoot = { ...under, y: under.y + under.height - height, height };
    const atHead = { ...over, height };
    if (height <= under.height && isFree(atFoot, taken)) {
      marks.push(...set(context, atFoot).marks);
      under = { ...under, height: Math.max(0, under.height - height - ABOVE_NEXT) };
    } else if (height <= over.height && isFree(atHead, taken)) {
      marks.push(...set(context, atHead).marks);
      over = { ...over, y: over.y + height, height: over.height - height };
    }
  }
  return [...writingLines(over, taken, 'head'), ...marks, ...writingLines(under, taken, 'foot')];
};
