import { type Box, type Point, type Polygon, simplifyLine } from '../../geometry.js';
import { ringSteps } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { GroupMark, Mm, PathStep } from '../marks/marks.js';

/** Places ground (metres, y up) on paper (millimetres, y down) at one scale, without turning it. */
export interface GroundFrame {
  /** Metres of ground per metre of paper. */
  readonly scale: number;
  /** Paper position of the ground's origin. */
  readonly origin: Mm;
}

export const onPaper = (frame: GroundFrame, x: number, y: number): Mm => {
  const mm = 1000 / frame.scale;
  return [frame.origin[0] + x * mm, frame.origin[1] - y * mm];
};

/** Length of a ground distance on paper, millimetres. */
export const paperLength = (frame: GroundFrame, metres: number): number =>
  (metres * 1000) / frame.scale;

export const polygonSteps = (frame: GroundFrame, polygon: Polygon): PathStep[] =>
  polygon.flatMap((ring) => ringSteps(ring.map(([x, y]) => onPaper(frame, x, y))));

/** What the scale of a drawn green is computed from: its outline on paper and the extent of its ground, metres. */
export const drawnGround = (
  id: string,
  outline: readonly PathStep[],
  { minX, minY, maxX, maxY }: Box,
): NonNullable<GroupMark['ground']> => ({
  id,
  outline,
  width: maxX - minX,
  height: maxY - minY,
});

/** Half the thinnest line that is printed (0.25 pt), millimetres. */
const UNSEEN = 0.044;

/** A line of ground on paper, without the points that make no difference that can be seen. */
export const linePoints = (frame: GroundFrame, line: readonly Point[]): Mm[] =>
  simplifyLine(line, (UNSEEN * frame.scale) / 1000).map(([x, y]) => onPaper(frame, x, y));

/** An area of ground on paper, thinned as lines are; for an outline whose extent is measured, see `polygonSteps`. */
export const areaSteps = (frame: GroundFrame, polygon: Polygon): PathStep[] =>
  polygon.flatMap((ring) => ringSteps(linePoints(frame, ring)));

/**
 * The frame that centres a box of ground in a cell at the given scale, or at the next smaller round
 * scale (steps of 20) at which it fits: a green is never cropped.
 */
export const fitGround = (cell: Cell, ground: Box, scale: number): GroundFrame => {
  const need = Math.max(
    (ground.maxX - ground.minX) * (1000 / cell.width),
    (ground.maxY - ground.minY) * (1000 / cell.height),
  );
  const used = need <= scale ? scale : Math.ceil(need / 20) * 20;
  const mm = 1000 / used;
  return {
    scale: used,
    origin: [
      cell.x + cell.width / 2 - ((ground.minX + ground.maxX) / 2) * mm,
      cell.y + cell.height / 2 + ((ground.minY + ground.maxY) / 2) * mm,
    ],
  };
};
