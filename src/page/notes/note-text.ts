import type { HoleNotes, Notes } from '../../event/notes-file.js';
import { InputFault } from '../../fault.js';
import type { Layout, Placement } from '../../layout/layout.js';
import { pointsToMm } from '../../units.js';
import { rule, stroke, text } from '../kit/draw.js';
import { type Cell, cellOf } from '../kit/grid.js';
import type { PageContext } from '../kit/page-modules.js';
import { wrapLines } from '../kit/paragraph.js';
import { paragraphGroup } from '../kit/read-aloud.js';
import type { Mark, MeasureText } from '../marks/marks.js';
import { TINT } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { noteSign } from './note-signs.js';

/** Millimetres between lines to write on. */
export const WRITING_PITCH = 7;

/** How many lines to write on a cell holds. */
export const linesIn = ({ height }: Cell): number =>
  Math.max(0, Math.floor(height / WRITING_PITCH));

/** Where those lines are, counted down from the head of a cell or up from its foot. */
export const writingLevels = (cell: Cell, from: 'head' | 'foot'): number[] =>
  Array.from({ length: linesIn(cell) }, (_, i) =>
    from === 'head' ? cell.y + (i + 1) * WRITING_PITCH : cell.y + cell.height - i * WRITING_PITCH,
  );

/** Points; the hand is wide, so that a little less than the tables' size reads as well. */
const LARGEST = 9;
const SMALLEST = 7;
/** Half width of a sign beside the text, and the room it takes, millimetres. */
const SIGN = 1.5;
const SIGN_ROOM = 4.6;

const lines = (cell: Cell, pitch: number, from = 1): Mark[] => {
  const count = Math.floor(cell.height / pitch + 1e-9);
  return Array.from({ length: Math.max(0, count - from + 1) }, (_, i) => {
    const y = cell.y + (i + from) * pitch;
    return rule(cell.x, y, cell.x + cell.width, y, stroke(0.12, TINT));
  });
};

/** The marks without a place on the green, each a line of its own: sign and words. */
const looseMarks = (notes: HoleNotes): HoleNotes['marks'] =>
  notes.marks.filter((mark) => mark.at === null);

/**
 * Blank lines, and in small type why they are blank. Source: Model Local Rule G-11 (Committee Procedures,
 * Section 8): notes are hand-written by the player or caddie, from experience, observation or feel.
 */
const blankLines = ({ layout, measure, book }: PageContext, cell: Cell): Mark[] => {
  const reason = phrase(book, 'notes.blank');
  const { small } = layout.type;
  const words = wrapLines(reason, cell.width, 'text-italic', small, measure);
  const leading = pointsToMm(small) * 1.2;
  const foot = words.length * leading + 1;
  // Where there is hardly room to write, the lines go before the reason; a page of notes gives it.
  const told = cell.height - foot >= 2 * WRITING_PITCH;
  const writing = { ...cell, height: cell.height - (told ? foot : 0) };
  const base = cell.y + cell.height - (words.length - 1) * leading - pointsToMm(small) * 0.25;
  return [
    ...lines(writing, WRITING_PITCH),
    ...(told
      ? [
          paragraphGroup(
            reason,
            words.map((line, i) => text([cell.x, base + i * leading], line, 'text-italic', small)),
          ),
        ]
      : []),
  ];
};

interface SetNotes {
  readonly size: number;
  readonly pitch: number;
  readonly text: readonly string[];
}

/** The largest size at which the notes fit their cell; null where they do not. */
const fitNotes = (
  notes: HoleNotes,
  found: readonly string[],
  cell: Cell,
  measure: MeasureText,
): SetNotes | null => {
  const loose = looseMarks(notes);
  for (let size = LARGEST; size >= SMALLEST - 1e-9; size -= 0.5) {
    const pitch = Math.max(pointsToMm(size) * 1.42, loose.length > 0 ? 2 * SIGN + 0.6 : 0);
    const set = [...(notes.text === null ? [] : [notes.text]), ...found].flatMap((words) =>
      wrapLines(words, cell.width, 'note', size, measure),
    );
    const fits =
      (set.length + loose.length) * pitch <= cell.height &&
      set.every((line) => measure(line, 'note', size) <= cell.width) &&
      loose.every(
        (mark) => mark.text === null || measure(mark.text, 'note', size) <= cell.width - SIGN_ROOM,
      );
    if (fits) return { size, pitch, text: set };
  }
  return null;
};

/** Where pages of notes have their lines; undefined where the layout has no such pages. */
export const linesPlacement = ({ pages }: Layout): Placement | undefined =>
  pages.notes?.find(({ module }) => module === 'lines');

/** With as much of what was found as there is room for, and a word on the rest. */
const fitFound = (
  notes: HoleNotes,
  found: readonly string[],
  cell: Cell,
  { layout, measure, book }: PageContext,
): (SetNotes & { readonly shown: number }) | null => {
  const whole = fitNotes(notes, found, cell, measure);
  if (whole !== null) return { ...whole, shown: found.length };
  const goesOn = linesPlacement(layout) !== undefined;
  for (let shown = found.length - 1; shown >= 0; shown--) {
    const more = phrase(book, goesOn ? 'notes.more-there' : 'notes.more', {
      count: found.length - shown,
    });
    const set = fitNotes(notes, [...found.slice(0, shown), more], cell, measure);
    if (set !== null) return { ...set, shown };
  }
  // Without a page for the rest it must not go unsaid.
  const bare = goesOn ? fitNotes(notes, [], cell, measure) : null;
  return bare === null ? null : { ...bare, shown: 0 };
};

/** Notes that say nothing of themselves. */
const silent = (holeId: string): HoleNotes => ({
  holeId,
  text: null,
  marks: [],
  putts: [],
  measured: [],
});

const notesOf = ({ book }: Pick<PageContext, 'book'>, holeId: string): HoleNotes =>
  book.notes?.holes.find((one) => one.holeId === holeId) ?? silent(holeId);

/** How many of the lines that were found `noteTextMarks` shows in a cell. */
export const foundShown = (
  context: PageContext,
  holeId: string,
  cell: Cell,
  found: readonly string[],
): number => fitFound(notesOf(context, holeId), found, cell, context)?.shown ?? 0;

/**
 * What was found, shared out to cells of one size, a line's words kept together.
 *
 * @throws InputFault where a cell does not hold the words of a single line.
 */
export const foundInCells = (
  context: PageContext,
  holeId: string,
  cell: Cell,
  found: readonly string[],
): string[][] => {
  const fits = (lines: readonly string[]): boolean =>
    fitNotes(silent(holeId), lines, cell, context.measure) !== null;
  if (found.length > 0 && fits(found)) return [[...found]];
  const pages: string[][] = [];
  for (const words of found) {
    const last = pages.at(-1) ?? [];
    if (pages.length > 0 && fits([...last, words])) last.push(words);
    else if (fits([words])) pages.push([words]);
    else throw tooLong({ holeId });
  }
  return pages;
};

const tooLong = ({ holeId }: Pick<HoleNotes, 'holeId'>): InputFault =>
  new InputFault(
    { file: 'notes.yaml', place: `hole ${holeId}` },
    'the note is longer than its room on the page',
    'shorten it, or give its module more room in the layout',
  );

/** The modules that set a hole's notes, and the kind of page that each stands on. */
const SET_BY = [
  { kind: 'hole', module: 'note-lines' },
  { kind: 'green', module: 'notes' },
] as const;

/**
 * Holds the notes against their cells in the layout before anything else is made of a book; `isShown` tells
 * whether it has such a page of a hole.
 *
 * @throws InputFault for the first hole whose note is longer than its room.
 */
export const requireRoomForNotes = (
  notes: Notes | undefined,
  layout: Layout,
  measure: MeasureText,
  isShown: (kind: 'hole' | 'green', holeId: string) => boolean,
): void => {
  if (layout.use === 'committee') return;
  for (const one of notes?.holes ?? []) {
    for (const { kind, module } of SET_BY) {
      const placement = layout.pages[kind]?.find((placed) => placed.module === module);
      if (placement === undefined || !isShown(kind, one.holeId)) continue;
      const cell = cellOf(layout, 'right', placement);
      if (fitNotes(one, [], cell, measure) === null) throw tooLong(one);
    }
  }
};

/** Whether a cell takes all notes of a hole, and all that they found. */
export const haveRoom = (
  { book, layout, measure }: PageContext,
  holeId: string,
  cell: Cell,
  found: readonly string[],
): boolean => {
  if (layout.use === 'committee') return true;
  const notes = book.notes?.holes.find((one) => one.holeId === holeId);
  return notes === undefined || fitNotes(notes, found, cell, measure) !== null;
};

/**
 * The notes of one hole in a cell: words in a hand on lines, marks without a place below them, the rest
 * left to write on. A hole without notes gets lines; a committee edition gets nothing else, whatever the
 * notes are. `found`: what the notes found on the green and its page has no room for; it gives way to the notes, and says
 * so where there is room for it; a layout with pages of notes shows the rest there.
 */
export const noteTextMarks = (
  context: PageContext,
  holeId: string,
  cell: Cell,
  found: readonly string[] = [],
): Mark[] => {
  if (context.layout.use === 'committee') return blankLines(context, cell);
  return wordMarks(context, notesOf(context, holeId), cell, found);
};

/** What was found alone, without the notes of the hole: they stand elsewhere. */
export const foundTextMarks = (
  context: PageContext,
  holeId: string,
  cell: Cell,
  found: readonly string[],
): Mark[] => wordMarks(context, silent(holeId), cell, found);

const wordMarks = (
  context: PageContext,
  notes: HoleNotes,
  cell: Cell,
  found: readonly string[],
): Mark[] => {
  const isEmpty = notes.text === null && looseMarks(notes).length === 0;
  if (isEmpty && found.length === 0) return lines(cell, WRITING_PITCH);
  const set = fitFound(notes, found, cell, context);
  if (set === null) throw tooLong(notes);
  const { size, pitch, text: words } = set;
  const said = words.map((line, i) =>
    text([cell.x, cell.y + (i + 1) * pitch - pointsToMm(size) * 0.28], line, 'note', size),
  );
  const marks: Mark[] = said.length === 0 ? [] : [paragraphGroup(words.join(' '), said)];
  looseMarks(notes).forEach((mark, i) => {
    const foot = cell.y + (words.length + i + 1) * pitch;
    const base = foot - pointsToMm(size) * 0.28;
    marks.push(...noteSign(mark.sign, [cell.x + SIGN + 0.3, foot - pitch / 2], SIGN, mark.clock));
    if (mark.text !== null) marks.push(text([cell.x + SIGN_ROOM, base], mark.text, 'note', size));
  });
  const { by } = context.book.notes ?? { by: null };
  const alt =
    by === null
      ? phrase(context.book, 'notes.title')
      : phrase(context.book, 'notes.by', { name: by });
  const used = (words.length + looseMarks(notes).length) * pitch;
  const rest = { ...cell, y: cell.y + used, height: cell.height - used };
  return [
    { kind: 'group', role: 'text', alt, shows: 'notes', marks },
    ...lines(rest, WRITING_PITCH),
  ];
};
