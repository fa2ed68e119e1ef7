import { boxOf } from '../../geometry.js';
import { pointsToMm } from '../../units.js';
import type { LocationContent } from '../book-content.js';
import { composeGreenImage, greenFrame, showing } from '../green/green-image.js';
import { greenImageStyle, holeMark, spotCells } from '../green/green-spots.js';
import { drawnGround, type GroundFrame, onPaper, polygonSteps } from '../green/ground-frame.js';
import { pacesGrid } from '../green/paces-grid.js';
import { circleSteps, fillPath, lineSteps, stroke, strokePath, text } from '../kit/draw.js';
import type { GreenPageContext, PageModule } from '../kit/page-modules.js';
import type { Mark } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { letterMarks } from './letter-marks.js';
import { type AskedPutt, askedPutts, edgeLetters } from './quiz-answers.js';

type Module = PageModule<GreenPageContext>;

const BALL = 1.7;

const ballMarks = (frame: GroundFrame, putts: readonly AskedPutt[], size: number): Mark[] =>
  putts.flatMap(({ cell }, k): Mark[] => {
    const [x, y] = onPaper(frame, cell.ball[0], cell.ball[1]);
    return [
      fillPath(circleSteps(x, y, BALL), DARK, { stroke: stroke(0.4, PAPER) }),
      text([x, y + pointsToMm(size) * 0.36], `${k + 1}`, 'text-bold', size, {
        align: 'centre',
        paint: PAPER,
      }),
    ];
  });

const holeMarks = (
  frame: GroundFrame,
  locations: readonly LocationContent[],
  size: number,
): Mark[] =>
  locations.flatMap(({ at, name }) => {
    const hole = onPaper(frame, at[0], at[1]);
    return [
      ...holeMark(hole),
      text([hole[0] + 1.9, hole[1] - 1], name, 'text-bold', size, { halo: 0.5 }),
    ];
  });

/** The green without its signs: outline, paces, hole locations, and the balls to putt. */
export const quizImage: Module = ({ green, layout, book }, cell) => {
  const frame = greenFrame(green, cell, layout.green.scale);
  const edge = polygonSteps(frame, [green.outline]);
  const putts = askedPutts(green);
  const { small, table } = layout.type;
  return [
    {
      kind: 'group',
      role: 'green-image',
      alt: phrase(book, 'quiz.alt', { number: green.holeId, name: green.name }),
      ground: drawnGround(green.holeId, edge, boxOf(green.outline)),
      marks: [
        {
          kind: 'clip',
          steps: edge,
          marks: [showing('paces-grid', pacesGrid(frame, green.outline, small).lines)],
        },
        strokePath(edge, stroke(0.5)),
        ...letterMarks(frame, edgeLetters(green.outline), table, { cell, taken: [] }),
        showing('hole-locations', holeMarks(frame, green.locations, table + 2)),
        showing('putts', ballMarks(frame, putts, small)),
      ],
    },
  ];
};

/** The way that the ball takes, and a ring where it is aimed. */
const wayMarks = (frame: GroundFrame, putts: readonly AskedPutt[]): Mark[] =>
  putts.flatMap(({ cell: { putt } }): Mark[] => {
    if (putt === null) return [];
    const way = lineSteps(putt.path.map(([x, y]) => onPaper(frame, x, y)));
    return [strokePath(way, stroke(1.3, PAPER)), strokePath(way, stroke(0.6))];
  });

/** The same green with its signs, the letters, and the putts as they are solved. */
export const answersImage: Module = (context, cell) => {
  const { green, layout, measure } = context;
  const style = { ...greenImageStyle(context), signs: [] };
  const frame = greenFrame(green, cell, layout.green.scale);
  const putts = askedPutts(green);
  const letters = letterMarks(frame, edgeLetters(green.outline), layout.type.table, {
    cell,
    taken: spotCells(frame, green, style, measure, cell),
  });
  return composeGreenImage(green, cell, style, measure).flatMap((mark): Mark[] => {
    // The figures of the paces would stand among the letters.
    if (mark.kind !== 'group' || mark.role !== 'green-image') return [];
    const [spots] = mark.marks.slice(-1);
    const ways = showing('putts', wayMarks(frame, putts));
    const balls = showing('putts', ballMarks(frame, putts, layout.type.small));
    // The ways lie under the letters of the holes that they lead to.
    return [{ ...mark, marks: [...mark.marks.slice(0, -1), ways, spots, balls, ...letters] }];
  });
};
