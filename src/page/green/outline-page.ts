import { crossingsAlongY } from '../../course/green-size.js';
import type { OutlineGreen } from '../../course/outline-green.js';
import { boxOf, type Point } from '../../geometry.js';
import { METRES_PER_PACE, metresToPaces, pointsToMm } from '../../units.js';
import {
  circleSteps,
  fillPath,
  hatch,
  rectSteps,
  rule,
  stroke,
  strokePath,
  text,
} from '../kit/draw.js';
import { asRoomAllows, locationWords, moreWords } from '../kit/location-words.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { fitWording } from '../kit/paragraph.js';
import { useWords } from '../kit/speed-words.js';
import type { Mark, MeasureText, Mm, Page, PathStep } from '../marks/marks.js';
import { DARK, PAPER, TINT } from '../marks/marks.js';
import { noteTextMarks } from '../notes/note-text.js';
import { greenFrame, holeMark } from './green-image.js';
import { headingModule, scaleBarModule } from './green-page.js';
import { areaSteps, type GroundFrame, onPaper, polygonSteps } from './ground-frame.js';
import { pacesGrid } from './paces-grid.js';

export interface OutlinePageContext extends PageContext {
  readonly green: OutlineGreen;
}

type Module = PageModule<OutlinePageContext>;

/** An arrow is left to be drawn at every so many paces. */
const FALL_STEP = 5;
const EDGE = 0.5;

/** Places for a pencil: a small ring at every fifth pace, from which the fall is drawn. */
const pencilMarks = (frame: GroundFrame, green: OutlineGreen): Mark[] => {
  const box = boxOf(green.outline);
  const step = FALL_STEP * METRES_PER_PACE;
  const dots: PathStep[] = [];
  for (let y = step / 2; y < box.maxY; y += step) {
    for (let x = Math.ceil(box.minX / step) * step; x < box.maxX; x += step) {
      dots.push(...circleSteps(...onPaper(frame, x, y), 0.35));
    }
  }
  return dots.length === 0 ? [] : [strokePath(dots, stroke(0.12, TINT))];
};

const hazardMarks = (frame: GroundFrame, green: OutlineGreen): Mark[] =>
  green.hazards.flatMap(({ kind, ring }) => {
    const steps = areaSteps(frame, [ring]);
    return kind === 'water'
      ? [hatch(steps, 0, 0.9, stroke(0.12)), strokePath(steps, stroke(0.2))]
      : [
          fillPath(steps, PAPER),
          hatch(steps, 45, 1.4, stroke(0.1, DARK, { dash: [0.2, 0.8] })),
          strokePath(steps, stroke(0.2)),
        ];
  });

/** Bare paper behind figures, so that the hatching of a hazard leaves them clear. */
const behindFigures = (figures: readonly Mark[], measure: MeasureText): Mark[] =>
  figures.flatMap((mark) => {
    if (mark.kind !== 'text') return [];
    const { at, text: words, face, size, align } = mark;
    const width = measure(words, face, size);
    const high = pointsToMm(size);
    const left = at[0] - (align === 'right' ? width : align === 'centre' ? width / 2 : 0);
    return [fillPath(rectSteps(left - 0.4, at[1] - 0.78 * high, width + 0.8, 0.86 * high), PAPER)];
  });

/** Holes that the course file places, each with its name beside it. */
const locationMarks = (frame: GroundFrame, green: OutlineGreen, size: number): Mark[] =>
  green.locations.flatMap(({ name, at }) => {
    const [x, y] = onPaper(frame, ...at);
    return [
      ...holeMark([x, y]),
      text([x + 1.9, y + pointsToMm(size) * 0.34], name, 'text-bold', size),
    ];
  });

const imageModule: Module = ({ layout, green, measure }, cell) => {
  const box = boxOf(green.outline);
  const frame = greenFrame(green, cell, layout.green.scale);
  const edge = polygonSteps(frame, [green.outline]);
  const grid = pacesGrid(frame, green.outline, layout.type.small);
  const clip: PathStep[] = [
    ['M', cell.x, cell.y],
    ['L', cell.x + cell.width, cell.y],
    ['L', cell.x + cell.width, cell.y + cell.height],
    ['L', cell.x, cell.y + cell.height],
    ['Z'],
  ];
  return [
    { kind: 'clip', steps: clip, marks: hazardMarks(frame, green) },
    ...behindFigures(grid.figures, measure),
    fillPath(edge, PAPER),
    ...grid.figures,
    {
      kind: 'group',
      role: 'green-image',
      alt: `Green ${green.holeId}, ${green.name}: its outline, from the map`,
      ground: {
        id: green.holeId,
        outline: edge,
        width: box.maxX - box.minX,
        height: box.maxY - box.minY,
      },
      marks: [
        {
          kind: 'clip',
          steps: edge,
          marks: [
            {
              kind: 'group',
              role: 'figure',
              shows: 'paces-grid',
              marks: [
                ...grid.lines,
                ...(layout.use === 'committee' ? [] : pencilMarks(frame, green)),
              ],
            },
          ],
        },
        strokePath(edge, stroke(EDGE)),
        {
          kind: 'group',
          role: 'figure',
          shows: 'hole-locations',
          marks: locationMarks(frame, green, layout.type.table),
        },
      ],
    },
  ];
};

/** Where the middle and the back lie from the front edge, in paces, and the sides at the middle. */
const figuresOf = (green: OutlineGreen): string[] => {
  const crossings = crossingsAlongY(green.outline, 0);
  const box = boxOf(green.outline);
  const back = crossings.length > 1 ? crossings[crossings.length - 1] : box.maxY;
  const paces = (metres: number): number => Math.round(metresToPaces(metres));
  return [
    `front 0, middle ${paces(back / 2)}, back ${paces(back)} paces`,
    green.northUp
      ? `west ${paces(-box.minX)}, east ${paces(box.maxX)} of the middle`
      : `left ${paces(-box.minX)}, right ${paces(box.maxX)} of the line in`,
  ];
};

const figuresModule: Module = ({ layout, green, measure }, cell) => {
  const { table, small } = layout.type;
  const step = pointsToMm(table) * 1.36;
  // A layout with a cell for the locations tells them there.
  const elsewhere = layout.pages.green?.some((one) => one.module === 'locations') ?? false;
  const room = Math.max(0, Math.floor(cell.height / step) - 3);
  const { shown, more } = asRoomAllows(elsewhere ? [] : green.locations, room);
  const placed = [
    ...shown.map((one) => `${one.name}: ${locationWords(one)}`),
    ...(more > 0 ? [moreWords(more)] : []),
  ];
  const words = green.northUp ? 'from the south edge; north is up' : 'from the front edge';
  return [
    text([cell.x, cell.y + step * 0.7], words, 'text-italic', small),
    ...[...figuresOf(green), ...placed].map((words, i): Mark => {
      const fitted = fitWording(
        [words],
        cell.width,
        { face: 'text', size: table, least: 6 },
        measure,
      );
      return text([cell.x, cell.y + step * (i + 1.75)], words, 'text', fitted?.size ?? 6);
    }),
  ];
};

/** An arrow with a question: the sign to draw at the rings once the fall is known. */
const fallKeyModule: Module = ({ layout, measure }, cell) => {
  if (layout.use === 'committee') return [];
  const { table, small } = layout.type;
  const step = pointsToMm(table) * 1.36;
  const y = cell.y + step * 1.5;
  const told = 'to be drawn by hand';
  const x = cell.x + cell.width - Math.max(22, measure(told, 'text-italic', small));
  const tip: Mm = [x + 7, y];
  const wing = (side: 1 | -1): Point => [tip[0] - 1.8, tip[1] + side * 0.8];
  return [
    text([x, cell.y + step * 0.7], told, 'text-italic', small),
    strokePath(circleSteps(x, y, 0.35), stroke(0.2)),
    rule(x + 0.5, y, tip[0], tip[1], stroke(0.25)),
    rule(...wing(1), ...tip, stroke(0.25)),
    rule(...wing(-1), ...tip, stroke(0.25)),
    text([x + 9.5, y + pointsToMm(table) * 0.34], 'fall?', 'text', table),
  ];
};

/** The hole locations that the course file gives, then room for those of some days. */
const locationsModule: Module = ({ layout, green }, cell) => {
  const { table, small } = layout.type;
  const step = pointsToMm(table) * 1.7;
  const rows = Math.max(0, Math.min(4, Math.floor((cell.height - step) / step)));
  const { shown, more } = asRoomAllows(green.locations, rows);
  return [
    text([cell.x, cell.y + step * 0.6], 'hole locations, paces on and in', 'text-italic', small),
    ...Array.from({ length: rows }, (_, i): Mark => {
      const y = cell.y + step * (i + 1.6);
      const known = shown[i];
      if (known === undefined && more > 0) {
        return text([cell.x, y], moreWords(more), 'text-italic', small);
      }
      return known === undefined
        ? rule(cell.x, y, cell.x + cell.width * 0.8, y, stroke(0.12))
        : text([cell.x, y], `${known.name}: ${locationWords(known)}`, 'text', table);
    }),
  ];
};

const footModule: Module = ({ layout, side, label, measure }, cell) => {
  const size = layout.type.small;
  const base = cell.y + cell.height;
  const right = cell.x + cell.width;
  const left = side === 'left';
  const words = fitWording(
    [
      `outline from the map; its fall is not surveyed · ${useWords(layout.use)}`,
      useWords(layout.use),
    ],
    cell.width - 8,
    { face: 'text', size, least: 6 },
    measure,
  );
  return [
    text([left ? cell.x : right, base], label, 'text-bold', size, {
      align: left ? 'left' : 'right',
    }),
    ...(words === null
      ? []
      : [
          text([left ? right : cell.x, base], words.text, 'text', words.size, {
            align: left ? 'right' : 'left',
          }),
        ]),
  ];
};

/** The same places of the layout as a surveyed green's page has. */
const OUTLINE_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  approach: figuresModule,
  'green-image': imageModule,
  locations: locationsModule,
  'band-key': fallKeyModule,
  'scale-bar': scaleBarModule,
  notes: (context, cell) => noteTextMarks(context, context.green.holeId, cell),
  'note-marks': () => [],
  'free-room': () => [],
  foot: footModule,
};

/** The page of a green that has no survey: what its outline tells, and room for what a pencil finds. */
export const composeOutlinePage = (context: OutlinePageContext): Page =>
  composePage(
    'green',
    {
      id: `green-${context.green.holeId}`,
      title: `${context.green.holeId} ${context.green.name}: green`,
    },
    OUTLINE_MODULES,
    context,
  );
