import type {
  Face,
  HatchMark,
  Mm,
  Paint,
  PathMark,
  PathStep,
  Stroke,
  TextMark,
} from '../marks/marks.js';
import { DARK } from '../marks/marks.js';

/** Control distance of a quarter circle drawn as a cubic: 4/3 (sqrt 2 - 1). */
const KAPPA = (4 / 3) * (Math.SQRT2 - 1);

export const lineSteps = (points: readonly Mm[]): PathStep[] =>
  points.map(([x, y], i) => (i === 0 ? ['M', x, y] : ['L', x, y]));

export const ringSteps = (points: readonly Mm[]): PathStep[] => [...lineSteps(points), ['Z']];

export const rectSteps = (x: number, y: number, width: number, height: number): PathStep[] => [
  ['M', x, y],
  ['L', x + width, y],
  ['L', x + width, y + height],
  ['L', x, y + height],
  ['Z'],
];

export const circleSteps = (cx: number, cy: number, r: number): PathStep[] => {
  const k = KAPPA * r;
  return [
    ['M', cx + r, cy],
    ['C', cx + r, cy + k, cx + k, cy + r, cx, cy + r],
    ['C', cx - k, cy + r, cx - r, cy + k, cx - r, cy],
    ['C', cx - r, cy - k, cx - k, cy - r, cx, cy - r],
    ['C', cx + k, cy - r, cx + r, cy - k, cx + r, cy],
    ['Z'],
  ];
};

export const stroke = (width: number, paint: Paint = DARK, more: Partial<Stroke> = {}): Stroke => ({
  paint,
  width,
  cap: 'round',
  join: 'round',
  ...more,
});

export const strokePath = (steps: readonly PathStep[], line: Stroke): PathMark => ({
  kind: 'path',
  steps,
  stroke: line,
});

export const fillPath = (
  steps: readonly PathStep[],
  fill: Paint,
  more: Partial<PathMark> = {},
): PathMark => ({ kind: 'path', steps, fill, ...more });

export const rule = (x1: number, y1: number, x2: number, y2: number, line: Stroke): PathMark =>
  strokePath(
    [
      ['M', x1, y1],
      ['L', x2, y2],
    ],
    line,
  );

export const hatch = (
  steps: readonly PathStep[],
  angle: number,
  pitch: number,
  line: Stroke,
): HatchMark => ({ kind: 'hatch', steps, rule: 'evenodd', angle, pitch, stroke: line });

export const text = (
  at: Mm,
  words: string,
  face: Face,
  size: number,
  more: Partial<TextMark> = {},
): TextMark => ({
  kind: 'text',
  at,
  text: words,
  face,
  size,
  paint: DARK,
  align: 'left',
  ...more,
});
