import { distance, type Point } from '../geometry.js';

/** Balls nearer to their mark than this have no direction, metres. */
export const LEAST_LINE = 0.3;

/** The place so far along the line from a ball to its mark and so far left of it, metres. */
export const placeOffLine = (ball: Point, mark: Point, along: number, left: number): Point => {
  const line = distance(ball, mark);
  const [ux, uy] = [(mark[0] - ball[0]) / line, (mark[1] - ball[1]) / line];
  return [ball[0] + along * ux - left * uy, ball[1] + along * uy + left * ux];
};
