import { type Point, sharesOf } from '../../geometry.js';
import { isKept, type Stream } from '../../terrain/reading.js';
import { fillPath, ringSteps, stroke } from '../kit/draw.js';
import type { Mark, Mm } from '../marks/marks.js';
import { DARK, PAPER, TINT } from '../marks/marks.js';
import { type GroundFrame, linePoints } from './ground-frame.js';

const HEAD_WIDTH = 0.25;
const MOUTH_WIDTH = 1.5;
const BRANCH_MOUTH_WIDTH = 0.6;
const CASING = 0.35;

/** The outline of a line that is `widths[i]` wide at point i. */
export const taper = (points: readonly Mm[], widths: readonly number[]): Mm[] => {
  const left: Mm[] = [];
  const right: Mm[] = [];
  for (let i = 0; i < points.length; i++) {
    const a = points[Math.max(0, i - 1)];
    const b = points[Math.min(points.length - 1, i + 1)];
    const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    const nx = (-(b[1] - a[1]) / long) * (widths[i] / 2);
    const ny = ((b[0] - a[0]) / long) * (widths[i] / 2);
    left.push([points[i][0] + nx, points[i][1] + ny]);
    right.push([points[i][0] - nx, points[i][1] - ny]);
  }
  return [...left, ...right.reverse()];
};

/** A barb at the mouth, so that the line reads as flowing out. */
export const mouthBarb = (points: readonly Mm[], width: number): Mm[] => {
  const tip = points[points.length - 1];
  let back = points.length - 2;
  while (back > 0 && Math.hypot(tip[0] - points[back][0], tip[1] - points[back][1]) < width) back--;
  const from = points[Math.max(0, back)];
  const long = Math.hypot(tip[0] - from[0], tip[1] - from[1]) || 1;
  const dx = (tip[0] - from[0]) / long;
  const dy = (tip[1] - from[1]) / long;
  return [
    [tip[0] + dx * width * 1.5, tip[1] + dy * width * 1.5],
    [tip[0] - dy * width, tip[1] + dx * width],
    [tip[0] + dy * width, tip[1] - dx * width],
  ];
};

/**
 * A main line whose outlet or valley most grounds that the survey allows do not keep is one of many alike:
 * printed in the tint with a dark edge, not in solid ink.
 */
const filled = (outline: readonly Mm[], stream: Stream): Mark =>
  stream.main && !isKept(stream)
    ? fillPath(ringSteps(outline), TINT, { stroke: stroke(0.22) })
    : fillPath(ringSteps(outline), DARK);

/** The mouth of another outlet that may take most of the water, pointing out of the green. */
export const otherMouth = ([x, y]: Mm, [dx, dy]: Mm): Mark =>
  fillPath(
    ringSteps(
      mouthBarb(
        [
          [x - dx * MOUTH_WIDTH, y - dy * MOUTH_WIDTH],
          [x, y],
        ],
        MOUTH_WIDTH,
      ),
    ),
    TINT,
    { stroke: stroke(0.22) },
  );

/**
 * Streams as tapering lines, thin at the head and wide at the mouth, each on a casing of bare paper so
 * that it stays clear of arrows and contours. The main drainage line is the heavy one.
 */
export const drainageMarks = (frame: GroundFrame, streams: readonly Stream[]): Mark[] => {
  const ordered = [...streams].sort((a, b) => Number(a.main) - Number(b.main));
  return ordered.flatMap((stream) => {
    if (stream.points.length < 2) return [];
    const points = linePoints(
      frame,
      stream.points.map(([x, y]): Point => [x, y]),
    );
    const widest = stream.main ? MOUTH_WIDTH : BRANCH_MOUTH_WIDTH;
    const [from, to] = stream.piece ?? [0, 1];
    const widths = sharesOf(points).map(
      (share) => HEAD_WIDTH + (widest - HEAD_WIDTH) * (from + (to - from) * share),
    );
    const marks: Mark[] = [
      fillPath(
        ringSteps(
          taper(
            points,
            widths.map((w) => w + 2 * CASING),
          ),
        ),
        PAPER,
      ),
      filled(taper(points, widths), stream),
    ];
    if (stream.main && stream.mouth === 'edge') {
      marks.push(filled(mouthBarb(points, MOUTH_WIDTH), stream));
    }
    return marks;
  });
};
