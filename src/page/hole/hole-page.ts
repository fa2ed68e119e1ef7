import { pointsToMm } from '../../units.js';
import { rule, stroke, text } from '../kit/draw.js';
import { folioMark } from '../kit/folio.js';
import { cellOf } from '../kit/grid.js';
import { composePage, type PageModule } from '../kit/page-modules.js';
import { fitOrShorten, fitWording } from '../kit/paragraph.js';
import { headingGroup } from '../kit/read-aloud.js';
import type { LabelStyle } from '../labels/hole-labels.js';
import type { Mark, Page } from '../marks/marks.js';
import { foundShown, noteTextMarks } from '../notes/note-text.js';
import { phrase } from '../words/words.js';
import { foundOffGreen, heightsRoom } from './heights-room.js';
import type { HoleFrame } from './hole-frame.js';
import type { HolePageContext } from './hole-page-context.js';
import { teeColumns, unitWord } from './hole-words.js';
import { type ComposedHole, composeHole } from './labelled-hole.js';
import { hasHeights, lineHeightMarks } from './line-heights.js';
import { teeTableMarks } from './tee-table.js';

/** A hole's page with its drawing, which the foot speaks of; null where the layout has none. */
interface DrawnPageContext extends HolePageContext {
  readonly drawing: ComposedHole | null;
}

type Module = PageModule<DrawnPageContext>;

/** Between words of the foot, millimetres. */
const FOOT_GAP = 3;

const labelStyle = ({ layout, book }: HolePageContext): LabelStyle => ({
  units: book.units,
  words: book.words,
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
    ...(hole.par === null ? [] : [phrase(book, 'hole.par', { par: hole.par })]),
    ...(hole.strokeIndex === null ? [] : [phrase(book, 'hole.index', { index: hole.strokeIndex })]),
  ].join(' · ');
  const columns = teeColumns(hole.tees.length).map((i) => hole.tees[i].name);
  const legend = [
    ...(columns.length === 0 ? [] : [phrase(book, 'hole.from', { tees: columns.join(' ') })]),
    ...(hole.landmarks.length === 0 ? [] : [phrase(book, 'hole.landmarks')]),
    phrase(book, book.units === 'metric' ? 'unit.metres' : 'unit.yards'),
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

const imageModule: Module = ({ drawing }) => drawing?.marks ?? [];

/** The drawing of a hole in its place on the page; null when the layout's hole page has none. */
const drawingOf = (context: HolePageContext): ComposedHole | null => {
  const { layout, hole, side, measure } = context;
  const placement = (layout.pages.hole ?? []).find((one) => one.module === 'hole-image');
  if (placement === undefined) return null;
  return composeHole(hole, cellOf(layout, side, placement), labelStyle(context), measure);
};

/** Where a hole lies on its page; null when the layout's hole page has no drawing. */
export const holeFrameOnPage = (context: HolePageContext): HoleFrame | null =>
  drawingOf(context)?.frame ?? null;

/** Said in the foot where a hole's notes take the room that its heights along the line would have had. */
const HEIGHTS_LEFT_OUT = ['heights.left-out', 'heights.left-out-short'] as const;

const leavesHeightsOut = (context: HolePageContext): boolean =>
  (context.layout.pages.hole ?? []).some(({ module }) => module === 'note-lines') &&
  hasHeights(context.hole) &&
  heightsRoom(context) === null;

/** How many distances the drawing had no room for, in words; the run names them. */
const distancesLeft = ({ drawing, book }: DrawnPageContext): string[] => {
  const count = drawing?.labels.left.length ?? 0;
  return count === 0
    ? []
    : [
        count === 1
          ? phrase(book, 'hole.distance-left')
          : phrase(book, 'hole.distances-left', { count }),
      ];
};

/** Ways to say what had no room, the fullest first. */
const leftOutWordings = (context: DrawnPageContext): string[] => {
  const distances = distancesLeft(context);
  const heights = leavesHeightsOut(context)
    ? HEIGHTS_LEFT_OUT.map((key) => phrase(context.book, key))
    : [];
  const both = heights.map((one) => [...distances, one].join('; '));
  return [...both, ...distances];
};

/** The page's number, the name of the hole, and between them what had no room. */
const footModule: Module = (context, cell) => {
  const { layout, side, hole, book, measure, drawing } = context;
  const size = layout.type.small;
  const base = cell.y + cell.height;
  const right = cell.x + cell.width;
  const onLeft = side === 'left';
  const marks: Mark[] = [folioMark(context, cell)];
  if (drawing === null) return marks;
  const words = `${hole.name}, ${unitWord(book)}`;
  const wide = measure(words, 'text', size);
  const isNamed = wide < cell.width / 2;
  const align = onLeft ? ('right' as const) : ('left' as const);
  if (isNamed) marks.push(text([onLeft ? right : cell.x, base], words, 'text', size, { align }));
  const leftOut = leftOutWordings(context);
  if (leftOut.length > 0) {
    const taken = isNamed ? wide + FOOT_GAP : 0;
    const room = cell.width - taken - measure(context.label, 'text-bold', size) - FOOT_GAP;
    const style = { face: 'text-italic', size, least: 6 } as const;
    const told = fitWording(leftOut, room, style, measure);
    const x = onLeft ? right - taken : cell.x + taken;
    if (told !== null) marks.push(text([x, base], told.text, 'text-italic', told.size, { align }));
  }
  return marks;
};

/** What the notes found on the hole's green and neither its page nor the hole's has room for. */
export const foundOffHole = (context: HolePageContext): readonly string[] => {
  const found = foundOffGreen(context);
  const { layout, side, hole } = context;
  const placement = layout.pages.hole?.find((one) => one.module === 'note-lines');
  if (placement === undefined) return found;
  return found.slice(foundShown(context, hole.id, cellOf(layout, side, placement), found));
};

/** The heights along the line of play where they share the notes' cell, then notes. */
const notesModule: Module = (context, cell) => {
  const { hole } = context;
  const room = heightsRoom(context);
  const shared = room?.module === 'note-lines' ? room : null;
  const taken = shared === null ? 0 : shared.cell.height;
  const rest = { ...cell, y: cell.y + taken, height: cell.height - taken };
  return [
    ...(shared === null ? [] : lineHeightMarks(hole, shared, context)),
    ...noteTextMarks(context, hole.id, rest, foundOffGreen(context)),
  ];
};

/** The tees, then the heights along the line of play where the notes leave them no other room. */
const teesModule: Module = (context, cell) => {
  const room = heightsRoom(context);
  const below = room?.module === 'tees' ? room : null;
  return [
    ...teeTableMarks(context, below === null ? cell : { ...cell, height: below.cell.y - cell.y }),
    ...(below === null ? [] : lineHeightMarks(context.hole, below, context)),
  ];
};

const HOLE_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  'hole-image': imageModule,
  tees: teesModule,
  'note-lines': notesModule,
  foot: footModule,
};

/** The page of one hole: its map with distances, its tees, room for notes. */
export const composeHolePage = (context: HolePageContext): Page => {
  const drawing = drawingOf(context);
  const page = composePage(
    'hole',
    {
      id: `hole-${context.hole.id}`,
      title: phrase(context.book, 'hole.title', {
        number: context.hole.id,
        name: context.hole.name,
      }),
    },
    HOLE_MODULES,
    { ...context, drawing },
  );
  const leftOut = drawing?.labels.left ?? [];
  return leftOut.length === 0 ? page : { ...page, leftOut };
};
