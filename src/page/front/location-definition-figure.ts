import { centroidOf, frameOfGreen, pointOfLocation, sidesAt } from '../../course/frame.js';
import type { Point, Ring } from '../../geometry.js';
import { boxOf } from '../../geometry.js';
import { toGreenFrame } from '../../survey/survey.js';
import { pointsToMm } from '../../units.js';
import { circleSteps, fillPath, ringSteps, rule, stroke, strokePath, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { Mark, Mm } from '../marks/marks.js';
import { DARK, PAPER, TINT } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';

/** An invented green, metres east and north of nowhere, and where it is approached from. */
const GREEN: Ring = Array.from({ length: 72 }, (_, i): Point => {
  const t = (2 * Math.PI * i) / 72;
  const reach = 11 + 2.2 * Math.cos(t - 0.6) + 1.5 * Math.cos(2 * t + 0.7) - 0.9 * Math.sin(3 * t);
  return [reach * Math.cos(t), 1.15 * reach * Math.sin(t)];
});
const APPROACH_FROM: Point = [-14, -62];
/** How much of the line of approach is drawn before the green, metres. */
const TAIL = 6;
const HOLE = { name: '', on: 17, in: 6, side: 'right' } as const;

const arrowHead = (at: Mm, toward: Mm, size = 1.5): Mark => {
  const long = Math.hypot(toward[0], toward[1]);
  const [ux, uy] = [toward[0] / long, toward[1] / long];
  return fillPath(
    ringSteps([
      at,
      [at[0] - size * ux - 0.4 * size * uy, at[1] - size * uy + 0.4 * size * ux],
      [at[0] - size * ux + 0.4 * size * uy, at[1] - size * uy - 0.4 * size * ux],
    ]),
    DARK,
  );
};

/** A measured distance: a line with a head at each end. */
const dimension = (a: Mm, b: Mm): Mark[] => [
  rule(a[0], a[1], b[0], b[1], stroke(0.3)),
  arrowHead(a, [a[0] - b[0], a[1] - b[1]]),
  arrowHead(b, [b[0] - a[0], b[1] - a[1]]),
];

/** The sides on the level of the hole, how far in it is from the nearer one, and the hole. */
const levelMarks = (
  at: Mm,
  level: readonly [left: Mm, right: Mm],
  size: number,
  tell: Worded,
): Mark[] => {
  // Short of the edge, which runs inward above it and outward below.
  const inward = level[1][0] - 0.8;
  // Under the level the green is wider than on it: there no word lies over the edge.
  const under = at[1] + 0.9 + pointsToMm(size) * 0.72;
  return [
    ...level.map(([x, y]) => rule(x, y - 2, x, y + 2, stroke(0.35))),
    ...dimension([at[0] + 1.1, at[1]], [level[1][0] - 0.1, at[1]]),
    text([inward, under], phrase(tell, 'definition.in', { paces: HOLE.in }), 'text-bold', size, {
      align: 'right',
      halo: 0.4,
    }),
    text([level[0][0] - 0.8, at[1] - 1.3], phrase(tell, 'definition.left'), 'text-italic', size, {
      align: 'right',
      halo: 0.4,
    }),
    text([level[1][0] + 0.8, at[1] - 1.3], phrase(tell, 'definition.right'), 'text-italic', size, {
      halo: 0.4,
    }),
    fillPath(circleSteps(at[0], at[1], 1), PAPER, { stroke: stroke(0.5) }),
    strokePath(circleSteps(at[0], at[1], 0.25), stroke(0.3)),
    text([at[0], under + pointsToMm(size)], phrase(tell, 'definition.hole'), 'text-italic', size, {
      align: 'centre',
      halo: 0.4,
    }),
  ];
};

/**
 * How a hole location is measured: the definition of `src/course/frame.ts`, drawn by its own functions
 * on an invented green. `size` in points. Fills the height of the cell, centred.
 */
export const locationDefinitionFigure = (cell: Cell, size: number, tell: Worded): Mark => {
  const frame = frameOfGreen(GREEN, APPROACH_FROM);
  const outline = GREEN.map(([x, y]) => toGreenFrame(frame, x, y));
  const centre = centroidOf(outline);
  const hole = pointOfLocation(outline, HOLE, {});
  const [left, right] = sidesAt(outline, hole[1]) ?? [0, 0];
  const box = boxOf(outline);
  // Room at the right for the measured depth, at the foot for the line of approach.
  const ground = { minX: box.minX - 3, maxX: box.maxX + 7, minY: -TAIL, maxY: box.maxY + 1.5 };
  const mm = Math.min(
    cell.width / (ground.maxX - ground.minX),
    cell.height / (ground.maxY - ground.minY),
  );
  const x0 = cell.x + (cell.width - mm * (ground.maxX - ground.minX)) / 2 - mm * ground.minX;
  const y0 = cell.y + cell.height + mm * ground.minY;
  const put = ([x, y]: Point): Mm => [x0 + mm * x, y0 - mm * y];
  const thin = stroke(0.15, DARK, { dash: [1, 0.7], cap: 'butt' });
  const drop = pointsToMm(size) * 0.35;

  const front = put([0, 0]);
  const start = put([0, -TAIL]);
  const top = put([0, box.maxY + 1.5]);
  const at = put(hole);
  const level = [put([left, hole[1]]), put([right, hole[1]])] as const;
  const scaleX = put([box.maxX + 2.2, 0])[0];
  const middle = put(centre);
  return {
    kind: 'group',
    role: 'figure',
    alt: phrase(tell, 'definition.words'),
    marks: [
      fillPath(ringSteps(outline.map(put)), { ...TINT, tone: 0.18 }, { stroke: stroke(0.45) }),
      // The line of approach, up to the front edge and on through the centre.
      rule(start[0], start[1], front[0], front[1] + 0.4, stroke(0.5)),
      arrowHead([front[0], front[1] + 0.2], [0, -1], 2.2),
      rule(front[0], front[1], top[0], top[1], thin),
      fillPath(circleSteps(middle[0], middle[1], 0.55), DARK),
      text(
        [middle[0] - 1.2, middle[1] + drop],
        phrase(tell, 'definition.centre'),
        'text-italic',
        size,
        {
          align: 'right',
          halo: 0.4,
        },
      ),
      text(
        [start[0] + 1.2, start[1] - 0.6],
        phrase(tell, 'definition.approach'),
        'text-italic',
        size,
      ),
      // The level of the front edge and that of the hole.
      rule(front[0], front[1], scaleX + 1.5, front[1], thin),
      rule(level[0][0], at[1], scaleX + 1.5, at[1], thin),
      fillPath(circleSteps(front[0], front[1], 0.6), PAPER, { stroke: stroke(0.4) }),
      text([front[0] - 1.6, front[1] + 3.2], phrase(tell, 'definition.front'), 'text-bold', size, {
        align: 'right',
      }),
      ...dimension([scaleX, front[1] - 0.2], [scaleX, at[1] + 0.2]),
      text(
        [scaleX + 1, (front[1] + at[1]) / 2 + drop],
        phrase(tell, 'definition.on', { paces: HOLE.on }),
        'text-bold',
        size,
      ),
      ...levelMarks(at, level, size, tell),
    ],
  };
};
