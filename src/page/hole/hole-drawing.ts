import type { LonLat, MapFeature } from '../../course/course-map.js';
import { geodesicTarget } from '../../course/geodesy.js';
import type { HoleFigures } from '../../course/hole-figures.js';
import type { Box } from '../../geometry.js';
import { radiansToDegrees, type UnitSystem, yardsToMetres } from '../../units.js';
import {
  circleSteps,
  fillPath,
  hatch,
  lineSteps,
  rectSteps,
  ringSteps,
  rule,
  stroke,
  strokePath,
} from '../kit/draw.js';
import type { Mark, Mm } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import type { HoleFrame } from './hole-frame.js';
import { landmarkMarks, sandMarks, treeMarks, woodMarks } from './hole-symbols.js';

const FAIRWAY_TONE = 0.26;
const GREEN_EDGE = 0.42;

const windowBox = ({ window }: HoleFrame): Box => ({
  minX: window.x,
  minY: window.y,
  maxX: window.x + window.width,
  maxY: window.y + window.height,
});

const ringsOn = (frame: HoleFrame, feature: MapFeature): Mm[][] =>
  feature.shape.kind === 'area'
    ? feature.shape.rings.map((ring) => ring.map((at) => frame.onPaper(at)))
    : [];

const pointsOn = (frame: HoleFrame, line: readonly LonLat[]): Mm[] =>
  line.map((at) => frame.onPaper(at));

const featureMarks = (frame: HoleFrame, feature: MapFeature, box: Box): Mark[] => {
  const rings = ringsOn(frame, feature);
  const steps = rings.flatMap((ring) => ringSteps(ring));
  switch (feature.kind) {
    case 'rough':
      return rings.map((ring) =>
        strokePath(ringSteps(ring), stroke(0.14, DARK, { dash: [0.9, 0.7] })),
      );
    case 'fairway':
      return [
        fillPath(steps, { ink: 'tint', tone: FAIRWAY_TONE }, { rule: 'evenodd' }),
        strokePath(steps, stroke(0.14)),
      ];
    case 'water':
      if (feature.shape.kind === 'line') {
        return [strokePath(lineSteps(pointsOn(frame, feature.shape.points)), stroke(0.5))];
      }
      return [
        fillPath(steps, PAPER, { rule: 'evenodd' }),
        hatch(steps, 0, 0.55, stroke(0.12)),
        strokePath(steps, stroke(0.26)),
      ];
    case 'bunker':
      return rings.slice(0, 1).flatMap((ring) => sandMarks(ring, box));
    case 'wood':
      return rings.slice(0, 1).flatMap((ring) => woodMarks(ring, box));
    case 'tree':
      return feature.shape.kind === 'point' && feature.name === null
        ? treeMarks(frame.onPaper(feature.shape.at), 0.95)
        : [];
    case 'path':
      return feature.shape.kind === 'line'
        ? [
            strokePath(
              lineSteps(pointsOn(frame, feature.shape.points)),
              stroke(0.12, DARK, { dash: [0.25, 0.75] }),
            ),
          ]
        : [];
    case 'tee':
      return feature.shape.kind === 'area'
        ? [fillPath(steps, { ink: 'tint', tone: 0.7 }, { stroke: stroke(0.2) })]
        : feature.shape.kind === 'point'
          ? [teeBlock(frame.onPaper(feature.shape.at))]
          : [];
    case 'pin':
      return feature.shape.kind === 'point' ? pinMarks(frame.onPaper(feature.shape.at)) : [];
    case 'green':
      return [fillPath(steps, PAPER, { rule: 'evenodd' }), strokePath(steps, stroke(GREEN_EDGE))];
    default:
      return [];
  }
};

/** The pin as the map has it: a stick with a flag; hole locations of the day are on the green's page. */
const pinMarks = ([x, y]: Mm): Mark[] => [
  rule(x, y, x, y - 1.5, stroke(0.14)),
  fillPath([['M', x, y - 1.5], ['L', x + 0.9, y - 1.15], ['L', x, y - 0.8], ['Z']], DARK),
];

const teeBlock = ([x, y]: Mm): Mark => fillPath(rectSteps(x - 0.6, y - 0.6, 1.2, 1.2), DARK);

/** From the ground up: what is drawn later lies above. */
const ORDER: readonly MapFeature['kind'][] = [
  'rough',
  'fairway',
  'water',
  'path',
  'wood',
  'green',
  'bunker',
  'tee',
  'tree',
  'pin',
];

/** Distances between the arcs round the middle of the green. */
const arcStep = (units: UnitSystem): number => (units === 'metric' ? 50 : yardsToMetres(50));

export interface Arc {
  /** 50, 100, 150 … in the units shown. */
  readonly figure: number;
  /** Points on paper every two degrees, over the ground that the window shows. */
  readonly points: readonly Mm[];
}

/** Arcs every 50 from the middle of the green, as far back as the rearmost tee. */
export const greenArcs = (figures: HoleFigures, frame: HoleFrame, units: UnitSystem): Arc[] => {
  const step = arcStep(units);
  const length = figures.tees[0]?.length ?? 0;
  const box = windowBox(frame);
  const [gx, gy] = frame.onPaper(figures.greenMiddle);
  const up = bearingUp(figures, frame);
  const arcs: Arc[] = [];
  for (let i = 1; i * step < length - 20; i++) {
    const radius = (i * step * 1000) / frame.scale;
    const points: Mm[] = [];
    // The half circle on the side that play comes from, and a little more for a dog-leg.
    for (let a = -80; a <= 80; a += 2) {
      const [x, y] = frame.onPaper(geodesicTarget(figures.greenMiddle, up + 180 + a, i * step));
      if (Math.hypot(x - gx, y - gy) > radius * 1.1) continue;
      if (x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY) points.push([x, y]);
    }
    if (points.length > 1) arcs.push({ figure: i * 50, points });
  }
  return arcs;
};

/** The true bearing that runs up the page at the green, degrees. */
const bearingUp = (figures: HoleFigures, frame: HoleFrame): number => {
  const [x, y] = frame.onPaper(figures.greenMiddle);
  const [nx, ny] = frame.onPaper(geodesicTarget(figures.greenMiddle, 0, 100));
  return radiansToDegrees(-Math.atan2(nx - x, -(ny - y)));
};

const playLineMarks = (figures: HoleFigures, frame: HoleFrame): Mark[] => [
  strokePath(lineSteps(pointsOn(frame, figures.line)), stroke(0.13, DARK, { dash: [1.6, 0.9] })),
];

const middleMark = (at: Mm): Mark[] => [
  rule(at[0] - 0.7, at[1], at[0] + 0.7, at[1], stroke(0.16)),
  rule(at[0], at[1] - 0.7, at[0], at[1] + 0.7, stroke(0.16)),
];

/** The landing area: the fairway's width with its ends, and where the line of play crosses it. */
export const landingSign = (left: Mm | null, at: Mm, right: Mm | null): Mark[] => [
  ...(left === null || right === null
    ? []
    : [
        rule(left[0], left[1], right[0], right[1], stroke(0.2)),
        ...[left, right].map(([x, y]) => fillPath(circleSteps(x, y, 0.3), DARK)),
      ]),
  fillPath(circleSteps(at[0], at[1], 0.7), PAPER, { stroke: stroke(0.22) }),
];

export const runOutSign = ([x, y]: Mm): Mark[] => [
  rule(x - 0.6, y - 0.6, x + 0.6, y + 0.6, stroke(0.22)),
  rule(x - 0.6, y + 0.6, x + 0.6, y - 0.6, stroke(0.22)),
];

/** Bars across the line of play at the two ends of a stretch that is clear of hazards. */
export const layUpSign = (a: Mm, b: Mm): Mark[] => {
  const reach = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (reach < 0.5) return [];
  const [nx, ny] = [(-(b[1] - a[1]) / reach) * 0.8, ((b[0] - a[0]) / reach) * 0.8];
  return [a, b].map(([x, y]) => rule(x - nx, y - ny, x + nx, y + ny, stroke(0.2)));
};

const landingMarks = ({ landing, runOut }: HoleFigures, frame: HoleFrame): Mark[] => [
  ...(landing === null
    ? []
    : landingSign(
        landing.across === null ? null : frame.onPaper(landing.across[0]),
        frame.onPaper(landing.at),
        landing.across === null ? null : frame.onPaper(landing.across[1]),
      )),
  ...(runOut === null ? [] : runOutSign(frame.onPaper(runOut.at))),
];

const gapMarks = (figures: HoleFigures, frame: HoleFrame): Mark[] =>
  figures.gaps.flatMap((gap) => layUpSign(frame.onPaper(gap.from), frame.onPaper(gap.to)));

/** The drawing of a hole, clipped to its window, without its labels. */
export const drawHole = (figures: HoleFigures, frame: HoleFrame, arcs: readonly Arc[]): Mark => {
  const box = windowBox(frame);
  const ground = ORDER.flatMap((kind) =>
    figures.features
      .filter((feature) => feature.kind === kind)
      .flatMap((feature) => featureMarks(frame, feature, box)),
  );
  const rings = arcs.map((arc) => strokePath(lineSteps(arc.points), stroke(0.1)));
  const landmarks = figures.landmarks.flatMap((one) =>
    landmarkMarks(frame.onPaper(one.at), one.sign),
  );
  const { x, y, width, height } = frame.window;
  return {
    kind: 'clip',
    steps: rectSteps(x, y, width, height),
    marks: [
      ...ground,
      ...rings,
      ...playLineMarks(figures, frame),
      ...gapMarks(figures, frame),
      ...landingMarks(figures, frame),
      ...landmarks,
      ...middleMark(frame.onPaper(figures.greenMiddle)),
    ],
  };
};
