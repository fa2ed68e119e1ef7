import { greenSize } from '../../course/green-size.js';
import { metresToPaces, pointsToMm } from '../../units.js';
import type { GreenContent } from '../book-content.js';
import { rule, stroke, text } from '../kit/draw.js';
import { folioMark } from '../kit/folio.js';
import { greenMark } from '../kit/green-mark.js';
import type { Cell } from '../kit/grid.js';
import {
  composePage,
  type GreenPageContext,
  type PageContext,
  type PageModule,
} from '../kit/page-modules.js';
import { fitOrShorten, fitWording } from '../kit/paragraph.js';
import { headingGroup } from '../kit/read-aloud.js';
import { speedWords, useWords } from '../kit/speed-words.js';
import { worthFoot } from '../kit/worth-lines.js';
import type { Mark, Page } from '../marks/marks.js';
import { freeRoomModule } from '../notes/free-room.js';
import { noteMarksModule } from '../notes/note-marks.js';
import { noteTextMarks } from '../notes/note-text.js';
import { phrase } from '../words/words.js';
import { bandKeyMarks, bandKeyWidth } from './band-key.js';
import { composeGreenImage, frameOnPage } from './green-image.js';
import { greenImageStyle } from './green-spots.js';
import { approachModule } from './hole-approach.js';
import { locationList } from './location-list.js';
import { scaleBarMarks } from './scale-bar.js';
import { sectionKeyMarks } from './section-key.js';

type Module = PageModule<GreenPageContext>;

/** What the head and the scale bar of a green's page tell of it. */
type NamedGreen = PageContext & {
  readonly green: Pick<GreenContent, 'holeId' | 'name' | 'par' | 'outline'>;
};

/** Hole number at the outer edge of the spread, name and size beside it. */
export const headingModule: PageModule<NamedGreen> = (
  { layout, measure, green, side, book },
  cell,
) => {
  const { title, text: body } = layout.type;
  const number = green.holeId;
  const numberSize = title * 2.4;
  const numberText = greenMark(number, book);
  const numberWidth = measure(numberText, 'title-bold', numberSize);
  const outerLeft = side === 'left';
  const right = cell.x + cell.width;
  const base = cell.y + pointsToMm(numberSize) * 0.68;
  const nameX = outerLeft ? cell.x + numberWidth + 2.4 : right - numberWidth - 2.4;
  const align = outerLeft ? ('left' as const) : ('right' as const);
  const room = cell.width - numberWidth - 2.4;
  const name = fitOrShorten(green.name, room, { face: 'title', size: title, least: 6.5 }, measure);
  const own = greenSize(green.outline);
  const depth = Math.round(metresToPaces(own.depth));
  const width = Math.round(metresToPaces(own.width));
  const size =
    green.par === null
      ? phrase(book, 'green.size', { depth, width })
      : phrase(book, 'green.par-size', { par: green.par, depth, width });
  const told = fitOrShorten(size, room, { face: 'text', size: body, least: 6 }, measure);
  return [
    headingGroup(`${number} ${green.name}`, [
      text([outerLeft ? cell.x : right, base], numberText, 'title-bold', numberSize, { align }),
      text([nameX, cell.y + pointsToMm(title) * 0.72], name.text, 'title', name.size, { align }),
    ]),
    text([nameX, base], told.text, 'text', told.size, { align }),
    rule(cell.x, base + 2, right, base + 2, stroke(0.3)),
  ];
};

const imageModule: Module = (context, cell) =>
  composeGreenImage(context.green, cell, greenImageStyle(context), context.measure);

const locationsModule: Module = (context, cell) =>
  locationList(context.green.locations, context, cell);

const bandKeyModule: Module = (context, cell) => {
  const { bands } = context.green.reading;
  const width = Math.min(cell.width, bandKeyWidth(context, bands));
  return bandKeyMarks(context, bands, [cell.x + cell.width - width, cell.y], width);
};

export const scaleBarModule: PageModule<NamedGreen> = (context, cell) => {
  const frame = frameOnPage(context.green, context.layout, context.side);
  return frame === null ? [] : scaleBarMarks(context, frame.scale, cell);
};

/** The line at the foot of a page about a green: speed and pace that the figures assume, the page. */
export const footModule: PageModule<GreenPageContext> = (context, cell) =>
  footMarks(context, cell, []);

/** The same, with what the survey is worth, in the first wording that fits. */
export const worthFootModule: Module = (context, cell) =>
  footMarks(context, cell, worthFoot(context.green.worth, context.book));

const footMarks = (context: GreenPageContext, cell: Cell, more: readonly string[]): Mark[] => {
  const { layout, measure, book, green, side } = context;
  const size = layout.type.small;
  const base = cell.y + cell.height;
  const right = cell.x + cell.width;
  const use = useWords(layout.use, context.book);
  // A green without putts has no speed to tell.
  const speed = green.worth.worth === 'tables' ? [speedWords(green.stimp, green.past, book)] : [];
  const joined = (...parts: readonly string[]): string => parts.join(' · ');
  const words = fitWording(
    layout.use === 'committee'
      ? [use]
      : [
          ...more.map((words) => joined(...speed, words, use)),
          ...(layout.use === 'practice'
            ? more.map((words) => joined(words, use))
            : more.map((words) => joined(...speed, words))),
          joined(...speed, use),
          layout.use === 'practice' ? use : (speed[0] ?? use),
        ],
    cell.width - 8,
    { face: 'text', size, least: 6 },
    measure,
  );
  const marks: Mark[] = [folioMark(context, cell)];
  if (words !== null) {
    marks.push(
      text([side === 'left' ? right : cell.x, base], words.text, 'text', words.size, {
        align: side === 'left' ? 'right' : 'left',
      }),
    );
  }
  return marks;
};

const GREEN_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  approach: approachModule,
  'green-image': imageModule,
  locations: locationsModule,
  'band-key': bandKeyModule,
  'section-key': (context, cell) => sectionKeyMarks(context, context.green, cell),
  'scale-bar': scaleBarModule,
  notes: (context, cell) => noteTextMarks(context, context.green.holeId, cell),
  'note-marks': noteMarksModule,
  'free-room': freeRoomModule,
  foot: worthFootModule,
};

export const composeGreenPage = (context: GreenPageContext): Page =>
  composePage(
    'green',
    {
      id: `green-${context.green.holeId}`,
      title: phrase(context.book, 'green.title', {
        number: context.green.holeId,
        name: context.green.name,
      }),
    },
    GREEN_MODULES,
    context,
  );
