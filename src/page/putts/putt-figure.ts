import type { Point } from '../../geometry.js';
import { LARGEST_PAGE } from '../../layout/rules-limits.js';
import { HOLE_RADIUS } from '../../putt/capture.js';
import type { PuttSolution } from '../../putt/putt.js';
import { aimReading, lengthReading, paceReading } from '../../putt/rounding.js';
import { TWO_SIDED_95 } from '../../surface/normal-distribution.js';
import { fallArrow } from '../green/fall-arrow.js';
import { offsetWords } from '../kit/aim-words.js';
import {
  circleSteps,
  fillPath,
  lineSteps,
  ringSteps,
  rule,
  stroke,
  strokePath,
  text,
} from '../kit/draw.js';
import { fitOrShorten } from '../kit/paragraph.js';
import { speedWords, useWords } from '../kit/speed-words.js';
import { withUnit } from '../kit/unit-words.js';
import type { Mark, MeasureText, Mm, Page } from '../marks/marks.js';
import { DARK, PAPER, TINT } from '../marks/marks.js';
import { phrase, type Telling } from '../words/words.js';

/** A place with its unit vector downhill and its grade. */
export interface FallSpot {
  readonly at: Point;
  readonly toward: Point;
  readonly grade: number;
}

export interface PuttFigure extends Telling {
  readonly putt: PuttSolution;
  readonly stimp: number;
  readonly past: number;
  /** Standard deviation of the aim, metres; null when not known. */
  readonly aimSd: number | null;
  readonly falls: readonly FallSpot[];
}

const { width: WIDTH, height: HEIGHT } = LARGEST_PAGE;
const MARGIN = 8;
const TOP = 30;

/**
 * One putt on a sheet of its own, seen from above with the ball at the foot and the hole at the head:
 * path, straight line, aim, the window of aim, and the fall of the ground. It is larger than an image
 * for play may be, and says so.
 */
export const composePuttFigure = (figure: PuttFigure, measure: MeasureText): Page => {
  const { putt } = figure;
  const place = framing(figure);
  const ball = place.put(putt.ball);
  const hole = place.put(putt.hole);
  const steps = lineSteps(putt.path.map(place.put));
  const holeSize = Math.max(1.3, HOLE_RADIUS * place.mm);
  const marks: Mark[] = [];
  if (putt.status === 'holed') {
    const [from, to] = putt.aimWindow.map((angle) => place.put(aimedAt(putt, angle)));
    marks.push(fillPath(ringSteps([ball, from, to]), { ...TINT, tone: 0.3 }));
  }
  marks.push(
    rule(ball[0], ball[1], hole[0], hole[1], stroke(0.15, DARK, { dash: [1.2, 0.9], cap: 'butt' })),
    ...figure.falls.map(({ at, toward, grade }) =>
      fallArrow(place.put(at), place.turn(toward), grade),
    ),
    strokePath(steps, stroke(1.4, PAPER)),
    strokePath(steps, stroke(0.6)),
  );
  if (Math.abs(putt.aimAngle) < 1.4) {
    const aim = place.put(aimedAt(putt, putt.aimAngle));
    marks.push(
      rule(ball[0], ball[1], aim[0], aim[1], stroke(0.25)),
      rule(aim[0] - 1.6, aim[1], aim[0] + 1.6, aim[1], stroke(0.4)),
      rule(aim[0], aim[1] - 1.6, aim[0], aim[1] + 1.6, stroke(0.4)),
    );
  }
  marks.push(
    fillPath(circleSteps(hole[0], hole[1], holeSize), PAPER, { stroke: stroke(0.5) }),
    fillPath(circleSteps(ball[0], ball[1], 1.1), DARK, { stroke: stroke(0.5, PAPER) }),
  );
  if (putt.status === 'holed') marks.push(entryMark(putt, place, hole, holeSize));
  return {
    id: 'putt',
    title: phrase(figure, 'putt-picture.title'),
    label: '1',
    width: WIDTH,
    height: HEIGHT,
    marks: [
      { kind: 'group', role: 'text', marks: wordMarks(figure, measure) },
      { kind: 'group', role: 'figure', alt: altWords(figure), marks },
    ],
  };
};

/** The point at the hole's distance toward which a launch at this angle aims. */
const aimedAt = ({ ball, hole }: PuttSolution, angle: number): Point => {
  const side = Math.tan(angle);
  return [hole[0] - side * (hole[1] - ball[1]), hole[1] + side * (hole[0] - ball[0])];
};

interface Framing {
  /** Millimetres of paper per metre of ground. */
  readonly mm: number;
  readonly put: (at: Point) => Mm;
  /** A direction on the ground as a direction on paper. */
  readonly turn: (direction: Point) => Mm;
}

const framing = ({ putt }: PuttFigure): Framing => {
  const ux = (putt.hole[0] - putt.ball[0]) / putt.length;
  const uy = (putt.hole[1] - putt.ball[1]) / putt.length;
  const turn = ([x, y]: Point): Mm => [x * uy - y * ux, -(x * ux + y * uy)];
  const shown = [...putt.path, putt.ball, putt.hole];
  if (Math.abs(putt.aimAngle) < 1.4) shown.push(aimedAt(putt, putt.aimAngle));
  const turned = shown.map(turn);
  const xs = turned.map(([x]) => x);
  const ys = turned.map(([, y]) => y);
  const [minX, maxX] = [Math.min(...xs), Math.max(...xs)];
  const [minY, maxY] = [Math.min(...ys), Math.max(...ys)];
  const width = WIDTH - 2 * MARGIN - 8;
  const height = HEIGHT - TOP - MARGIN - 8;
  const mm = Math.min(width / Math.max(0.3, maxX - minX), height / Math.max(0.3, maxY - minY));
  const cx = WIDTH / 2;
  const cy = TOP + 4 + height / 2;
  return {
    mm,
    turn,
    put: (at) => {
      const [x, y] = turn(at);
      return [cx + (x - (minX + maxX) / 2) * mm, cy + (y - (minY + maxY) / 2) * mm];
    },
  };
};

/** A tick on the rim where the ball comes in. */
const entryMark = (putt: PuttSolution, place: Framing, hole: Mm, size: number): Mark => {
  const ux = (putt.hole[0] - putt.ball[0]) / putt.length;
  const uy = (putt.hole[1] - putt.ball[1]) / putt.length;
  const angle = (putt.entryClock * Math.PI) / 6;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const [dx, dy] = place.turn([ux * c + uy * s, uy * c - ux * s]);
  return rule(
    hole[0] + dx * (size - 0.2),
    hole[1] + dy * (size - 0.2),
    hole[0] + dx * (size + 1.8),
    hole[1] + dy * (size + 1.8),
    stroke(0.8),
  );
};

/** Clock hours to the half hour: "6", "5½". */
const clockWords = (hours: number): string => {
  const halves = Math.round(hours * 2) % 24;
  const whole = Math.floor((halves === 0 ? 24 : halves) / 2);
  const half = halves % 2 === 1 ? '½' : '';
  return `${whole === 0 ? 12 : whole}${half}`;
};

const lengthWords = (figure: PuttFigure): string =>
  withUnit(lengthReading(figure.putt.length, figure.units), figure);

const paceWords = (figure: PuttFigure): string =>
  withUnit(paceReading(figure.putt.pace, figure.units), figure);

const wordMarks = (figure: PuttFigure, measure: MeasureText): Mark[] => {
  const { putt, units, stimp, past, aimSd } = figure;
  const known = aimSd === null ? '0' : aimReading(TWO_SIDED_95 * aimSd, units).figure;
  const aim = offsetWords(putt.aimOffset, figure);
  const lines = [
    phrase(figure, 'putt-picture.length', { length: lengthWords(figure) }),
    known === '0'
      ? phrase(figure, 'putt-picture.aim', { aim })
      : phrase(figure, 'putt-picture.aim-known', { aim, doubt: withUnit(known, figure) }),
    phrase(figure, 'putt-picture.pace', {
      pace: paceWords(figure),
      clock: clockWords(putt.entryClock),
    }),
    ...(putt.status === 'holed' ? [] : [phrase(figure, `putt-picture.${putt.status}`)]),
    `${speedWords(stimp, past, figure)} · ${useWords('practice', figure)}`,
  ];
  return lines.map((line, i) => {
    const [face, full] = i === 0 ? (['title', 14] as const) : (['text', 9.5] as const);
    const set = fitOrShorten(line, WIDTH - 2 * MARGIN, { face, size: full, least: 6 }, measure);
    return text([MARGIN, MARGIN + 3.5 + (i === 0 ? 0 : 1.2 + i * 4.4)], set.text, face, set.size);
  });
};

const altWords = (figure: PuttFigure): string =>
  phrase(figure, 'putt-picture.alt', {
    length: lengthWords(figure),
    aim: offsetWords(figure.putt.aimOffset, figure),
    pace: paceWords(figure),
  });
