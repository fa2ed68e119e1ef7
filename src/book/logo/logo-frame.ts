import type { PathMark } from '../../page/marks/marks.js';
import { pathBox } from '../../print/path-geometry.js';

/** What a path may leave its frame by, millimetres: rounding of who drew it. */
const SLACK = 0.1;

/** Whether a path runs out of the frame of its picture, which cuts it off on a screen and would not on paper. */
export const leavesFrame = (
  { steps }: PathMark,
  { width, height }: { readonly width: number; readonly height: number },
): boolean => {
  const { minX, minY, maxX, maxY } = pathBox(steps);
  return minX < -SLACK || minY < -SLACK || maxX > width + SLACK || maxY > height + SLACK;
};
