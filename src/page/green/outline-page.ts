import { boxOf, signedDistanceToRing } from '../../geometry.js';
import { METRES_PER_PACE, pointsToMm } from '../../units.js';
import type { OutlinedGreen } from '../book-content.js';
import { circleSteps, fillPath, hatch, rectSteps, stroke, strokePath, text } from '../kit/draw.js';
import { folioMark } from '../kit/folio.js';
import { composePage, type PageModule } from '../kit/page-modules.js';
import { fitWording } from '../kit/paragraph.js';
import { useWords } from '../kit/speed-words.js';
import type { Mark, MeasureText, Page, PathStep } from '../marks/marks.js';
import { DARK, PAPER, TINT } from '../marks/marks.js';
import { noteMarksModule } from '../notes/note-marks.js';
import { noteTextMarks } from '../notes/note-text.js';
import { phrase } from '../words/words.js';
import { greenFrame } from './green-image.js';
import { outlinedInWords } from './green-in-words.js';
import { headingModule, scaleBarModule } from './green-page.js';
import { holeMark } from './green-spots.js';
import { areaSteps, type GroundFrame, onPaper, paperLength, polygonSteps } from './ground-frame.js';
import { outlineRoomModule } from './outline-room.js';
import {
  fallKeyModule,
  figuresModule,
  locationsModule,
  type OutlinePageContext,
  RING,
  sourceWordings,
} from './outline-words.js';
import { outlineGrid, shownHazards } from './shown-hazards.js';

type Module = PageModule<OutlinePageContext>;

/** An arrow is left to be drawn at every so many paces: the first that leaves it so much room, millimetres. */
const FALL_STEPS = [2.5, 5];
const FALL_ROOM = 8;
/** Half the width of the sign of a hole, and a little, millimetres. */
const HOLE_MARK = 1.4;
/** From the middle of that sign to the hole's name, millimetres. */
const BESIDE_HOLE = 1.9;
const EDGE = 0.5;

/** Places for a pencil: small rings from which the fall is drawn; `names` is how wide the holes' names are, millimetres. */
const pencilMarks = (frame: GroundFrame, green: OutlinedGreen, names: number): Mark[] => {
  const box = boxOf(green.outline);
  const millimetre = frame.scale / 1000;
  const isClear = (x: number, y: number): boolean =>
    signedDistanceToRing(green.outline, x, y) < -(RING + EDGE / 2) * millimetre &&
    green.locations.every(({ at }) => {
      // From the sign of the hole to the end of its name.
      const past = x - at[0] - (BESIDE_HOLE + names) * millimetre;
      const off = x < at[0] ? at[0] - x : Math.max(0, past);
      return Math.hypot(off, at[1] - y) > (RING + HOLE_MARK) * millimetre;
    });
  const steps = FALL_STEPS.map((paces) => paces * METRES_PER_PACE);
  const step = steps.find((one) => paperLength(frame, one) >= FALL_ROOM) ?? steps[1];
  const dots: PathStep[] = [];
  for (let y = step / 2; y < box.maxY; y += step) {
    for (let x = Math.ceil(box.minX / step) * step; x < box.maxX; x += step) {
      if (isClear(x, y)) dots.push(...circleSteps(...onPaper(frame, x, y), RING));
    }
  }
  return dots.length === 0 ? [] : [strokePath(dots, stroke(0.12, TINT))];
};

/** A hazard on paper, as it stands round a green. */
export const hazardSign = (kind: 'bunker' | 'water', steps: readonly PathStep[]): Mark[] =>
  kind === 'water'
    ? [hatch(steps, 0, 0.9, stroke(0.12)), strokePath(steps, stroke(0.2))]
    : [
        fillPath(steps, PAPER),
        hatch(steps, 45, 1.4, stroke(0.1, DARK, { dash: [0.2, 0.8] })),
        strokePath(steps, stroke(0.2)),
      ];

const hazardMarks = (frame: GroundFrame, hazards: OutlinedGreen['hazards']): Mark[] =>
  hazards.flatMap(({ kind, ring }) => hazardSign(kind, areaSteps(frame, [ring])));

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
const locationMarks = (frame: GroundFrame, green: OutlinedGreen, size: number): Mark[] =>
  green.locations.flatMap(({ name, at }) => {
    const [x, y] = onPaper(frame, ...at);
    return [
      ...holeMark([x, y]),
      text([x + BESIDE_HOLE, y + pointsToMm(size) * 0.34], name, 'text-bold', size),
    ];
  });

const imageModule: Module = ({ layout, green, measure, book }, cell) => {
  const box = boxOf(green.outline);
  const frame = greenFrame(green, cell, layout.green.scale);
  const edge = polygonSteps(frame, [green.outline]);
  const hazards = shownHazards(frame, green, cell);
  const grid = outlineGrid(frame, green.outline, hazards, layout.type.small);
  const names = Math.max(
    0,
    ...green.locations.map(({ name }) => measure(name, 'text-bold', layout.type.table)),
  );
  const clip: PathStep[] = [
    ['M', cell.x, cell.y],
    ['L', cell.x + cell.width, cell.y],
    ['L', cell.x + cell.width, cell.y + cell.height],
    ['L', cell.x, cell.y + cell.height],
    ['Z'],
  ];
  return [
    { kind: 'clip', steps: clip, marks: hazardMarks(frame, hazards) },
    ...behindFigures(grid.figures, measure),
    fillPath(edge, PAPER),
    { kind: 'group', role: 'decoration', marks: grid.figures },
    {
      kind: 'group',
      role: 'green-image',
      alt: outlinedInWords(green, hazards, book),
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
              marks: [...grid.lines, ...pencilMarks(frame, green, names)],
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

const footModule: Module = (context, cell) => {
  const { layout, green, side, measure, book } = context;
  const size = layout.type.small;
  const base = cell.y + cell.height;
  const right = cell.x + cell.width;
  const left = side === 'left';
  const use = useWords(layout.use, book);
  const source = sourceWordings(green, book);
  const words = fitWording(
    [...source.map((one) => `${one} · ${use}`), use],
    cell.width - 8,
    { face: 'text', size, least: 6 },
    measure,
  );
  return [
    folioMark(context, cell),
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
  // An outline has no sections.
  'section-key': () => [],
  notes: (context, cell) => noteTextMarks(context, context.green.holeId, cell),
  'note-marks': noteMarksModule,
  'free-room': outlineRoomModule,
  foot: footModule,
};

/**
 * The page of a green of which no more than the outline is shown, for want of a survey or of a better one: what
 * the outline tells, and room for what a pencil finds.
 */
export const composeOutlinePage = (context: OutlinePageContext): Page =>
  composePage(
    'green',
    {
      id: `green-${context.green.holeId}`,
      title: phrase(context.book, 'green.title', {
        number: context.green.holeId,
        name: context.green.name,
      }),
    },
    OUTLINE_MODULES,
    context,
  );
