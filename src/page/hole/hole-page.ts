import type { HoleFigures, TeeFigures } from '../../course/hole-figures.js';
import { InputFault } from '../../fault.js';
import { pointsToMm } from '../../units.js';
import { rule, stroke, text } from '../kit/draw.js';
import { folioMark } from '../kit/folio.js';
import type { Cell } from '../kit/grid.js';
import { cellOf } from '../kit/grid.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { fitOrShorten, fitWording } from '../kit/paragraph.js';
import { cellGroup, headingGroup } from '../kit/read-aloud.js';
import type { LabelStyle } from '../labels/hole-labels.js';
import type { Mark, Page } from '../marks/marks.js';
import { foundElsewhere } from '../notes/free-room.js';
import { foundShown, noteTextMarks } from '../notes/note-text.js';
import type { HoleFrame } from './hole-frame.js';
import { shownLength, teeColumns, unitWord } from './hole-words.js';
import { composeHole } from './labelled-hole.js';
import { hasHeights, lineHeightMarks, lineHeightsHeight } from './line-heights.js';

export interface HolePageContext extends PageContext {
  readonly hole: HoleFigures;
}

type Module = PageModule<HolePageContext>;

const labelStyle = ({ layout, book }: HolePageContext): LabelStyle => ({
  units: book.units,
  figureSize: layout.type.table,
  wordSize: Math.max(6, layout.type.small),
});

/** Number at the outer edge of the spread; name, par and stroke index beside it. */
const headingModule: Module = ({ layout, measure, hole, side, book }, cell) => {
  const { title, text: body, small } = layout.type;
  const numberSize = title * 2.4;
  const isNumber = /^[A-Z]?\d+$/.test(hole.id);
  const words = isNumber ? hole.id : hole.id.charAt(0).toUpperCase();
  const numberWidth = measure(words, 'title-bold', numberSize);
  const right = cell.x + cell.width;
  const base = cell.y + pointsToMm(numberSize) * 0.68;
  const onLeft = side === 'left';
  const align = onLeft ? ('left' as const) : ('right' as const);
  const nameX = onLeft ? cell.x + numberWidth + 2.4 : right - numberWidth - 2.4;
  const room = cell.width - numberWidth - 2.4;
  const name = fitOrShorten(hole.name, room, { face: 'title', size: title, least: 6.5 }, measure);
  const facts = [
    ...(hole.par === null ? [] : [`par ${hole.par}`]),
    ...(hole.strokeIndex === null ? [] : [`index ${hole.strokeIndex}`]),
  ].join(' · ');
  const columns = teeColumns(hole.tees.length).map((i) => hole.tees[i].name);
  const legend = [
    ...(columns.length === 0 ? [] : [`from ${columns.join(' ')}`]),
    ...(hole.landmarks.length === 0 ? [] : ['landmarks: front middle back']),
    book.units === 'metric' ? 'metres' : 'yards',
  ];
  const key = fitWording(
    [legend.join(' · '), legend.slice(-2).join(' · '), legend.slice(-1).join('')],
    room - measure(facts, 'text', body) - 4,
    { face: 'text-italic', size: small, least: 6 },
    measure,
  );
  return [
    headingGroup(`${hole.id} ${hole.name}`, [
      text([onLeft ? cell.x : right, base], words, 'title-bold', numberSize, { align }),
      text([nameX, cell.y + pointsToMm(title) * 0.72], name.text, 'title', name.size, { align }),
    ]),
    text([nameX, base], facts, 'text', body, { align }),
    ...(key === null
      ? []
      : [
          text([onLeft ? right : cell.x, base], key.text, 'text-italic', key.size, {
            align: onLeft ? ('right' as const) : ('left' as const),
          }),
        ]),
    rule(cell.x, base + 2, right, base + 2, stroke(0.3)),
  ];
};

const imageModule: Module = (context, cell) =>
  composeHole(context.hole, cell, labelStyle(context), context.measure).marks;

/** Where a hole lies on its page; null when the layout's hole page has no drawing. */
export const holeFrameOnPage = (context: HolePageContext): HoleFrame | null => {
  const { layout, hole, side, measure } = context;
  const placement = (layout.pages.hole ?? []).find((one) => one.module === 'hole-image');
  if (placement === undefined) return null;
  return composeHole(hole, cellOf(layout, side, placement), labelStyle(context), measure).frame;
};

const signed = (metres: number, context: HolePageContext): string => {
  const shown = Math.round(shownLength(metres, context.book.units));
  return shown > 0 ? `+${shown}` : shown < 0 ? `−${-shown}` : '0';
};

/** What a tee's row says: its name, length, change of elevation to the green, and length that it plays as. */
const teeRow = (tee: TeeFigures, withRise: boolean, context: HolePageContext): string[] => {
  const length = Math.round(shownLength(tee.length, context.book.units));
  if (!withRise) return [tee.name, `${length}`];
  if (tee.rise === null) return [tee.name, `${length}`, '–', '–'];
  // Of the figures shown, so that the line adds up.
  const plays = length + Math.round(shownLength(tee.rise, context.book.units));
  return [tee.name, `${length}`, signed(tee.rise, context), `${plays}`];
};

/** Rows of the tees at a pitch that takes them all, if type of their size can stand so close. */
const teeRows = ({ layout, hole }: HolePageContext, height: number) => {
  const type = pointsToMm(layout.type.table);
  const step = Math.max(1.04 * type, Math.min(1.3 * type, height / (hole.tees.length + 1)));
  const room = Math.max(1, Math.floor(height / step + 1e-9) - 1);
  const listed = hole.tees.length <= room ? room : Math.max(1, room - 1);
  return { step, tees: hole.tees.slice(0, listed), more: hole.tees.length - listed };
};

/** Each tee's figures; of more than have room, how many stand on the card alone. */
const teesModule: Module = (context, wide) => {
  // A little room to whatever stands beside the table.
  const cell: Cell = { ...wide, width: wide.width - 2 };
  const { layout, hole, book, measure } = context;
  const { table, small } = layout.type;
  const { step, tees, more } = teeRows(context, cell.height);
  const withRise = hole.tees.some((tee) => tee.rise !== null);
  const heads = ['tee', unitWord(book), ...(withRise ? [`rise, ${unitWord(book)}`, 'plays'] : [])];
  const x = (i: number): number =>
    i === 0 ? cell.x : cell.x + cell.width * (0.36 + (i / (heads.length - 1)) * 0.64);
  const align = (i: number) => (i === 0 ? ('left' as const) : ('right' as const));
  const base = (r: number): number => cell.y + step * (r + 1.85);
  const rows = tees.map((tee) => teeRow(tee, withRise, context));
  const longest = Math.max(0, ...rows.map(([, length]) => measure(length, 'text-bold', table)));
  const nameRoom = x(1) - longest - 1.2 - cell.x;
  return [
    {
      kind: 'group',
      role: 'table',
      alt: `Tees of hole ${hole.id}`,
      marks: [
        ...heads.map((head, i) =>
          cellGroup(
            { row: 0, column: i, heads: 'Column' },
            text([x(i), cell.y + step * 0.75], head, 'text-italic', small, { align: align(i) }),
          ),
        ),
        rule(cell.x, cell.y + step, cell.x + cell.width, cell.y + step, stroke(0.15)),
        ...rows.flatMap(([name, ...figures], r) => {
          const own = fitOrShorten(
            name,
            nameRoom,
            { face: 'text', size: table, least: 6 },
            measure,
          );
          return [
            cellGroup(
              { row: r + 1, column: 0, heads: 'Row' },
              text([cell.x, base(r)], own.text, 'text', own.size),
              name,
            ),
            ...figures.map((figure, k) =>
              cellGroup(
                { row: r + 1, column: k + 1 },
                text([x(k + 1), base(r)], figure, k === 0 ? 'text-bold' : 'text', table, {
                  align: 'right',
                }),
              ),
            ),
          ];
        }),
        ...(more > 0
          ? [
              cellGroup(
                { row: rows.length + 1, column: 0, columns: heads.length },
                text(
                  [cell.x, base(tees.length)],
                  `${more} more: see the card`,
                  'text-italic',
                  small,
                ),
              ),
            ]
          : []),
      ],
    },
  ];
};

/** A bar of 50 (yards or metres) at the drawing's scale, and the page's number. */
const footModule: Module = (context, cell) => {
  const { layout, side, hole, book, measure } = context;
  const size = layout.type.small;
  const base = cell.y + cell.height;
  const right = cell.x + cell.width;
  const onLeft = side === 'left';
  const image = (layout.pages.hole ?? []).find((one) => one.module === 'hole-image');
  const marks: Mark[] = [folioMark(context, cell)];
  if (image === undefined) return marks;
  const words = `${hole.name}, ${unitWord(book)}`;
  if (measure(words, 'text', size) < cell.width / 2) {
    marks.push(
      text([onLeft ? right : cell.x, base], words, 'text', size, {
        align: onLeft ? 'right' : 'left',
      }),
    );
  }
  return marks;
};

/** What the notes found on the hole's green, as far as the green's own page has no line for it. */
const foundOffGreen = (context: HolePageContext): readonly string[] => {
  const green = context.book.greens.find(({ holeId }) => holeId === context.hole.id);
  return green === undefined ? [] : foundElsewhere({ ...context, green });
};

/** What the notes found on the hole's green and neither its page nor the hole's has room for. */
export const foundOffHole = (context: HolePageContext): readonly string[] => {
  const found = foundOffGreen(context);
  const { layout, side, hole } = context;
  const placement = layout.pages.hole?.find((one) => one.module === 'note-lines');
  if (placement === undefined) return found;
  return found.slice(foundShown(context, hole.id, cellOf(layout, side, placement), found));
};

/** The notes in a cell, or null where they are longer than it. */
const notesIn = (context: HolePageContext, cell: Cell): Mark[] | null => {
  try {
    return noteTextMarks(context, context.hole.id, cell);
  } catch (error) {
    if (error instanceof InputFault) return null;
    throw error;
  }
};

/** The heights along the line of play, then notes; notes that need all of the cell keep it. */
const notesModule: Module = (context, cell) => {
  const { hole, layout } = context;
  const high = lineHeightsHeight(layout.type.small);
  const rest = { ...cell, y: cell.y + high, height: cell.height - high };
  const found = foundOffGreen(context);
  const isShared = hasHeights(hole) && rest.height > 0 && found.length === 0;
  const notes = isShared ? notesIn(context, rest) : null;
  return notes === null
    ? noteTextMarks(context, hole.id, cell, found)
    : [...lineHeightMarks(hole, cell, context), ...notes];
};

const HOLE_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  'hole-image': imageModule,
  tees: teesModule,
  'note-lines': notesModule,
  foot: footModule,
};

/** The page of one hole: its map with distances, its tees, room for notes. */
export const composeHolePage = (context: HolePageContext): Page =>
  composePage(
    'hole',
    {
      id: `hole-${context.hole.id}`,
      title: `${context.hole.id} ${context.hole.name}: tee to green`,
    },
    HOLE_MODULES,
    context,
  );
