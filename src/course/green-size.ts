import { boxOf, type Ring } from '../geometry.js';

/** Where the line x = at crosses the ring, sorted; metres in the frame of the green. */
export const crossingsAlongY = (ring: Ring, at: number): number[] => {
  const crossings: number[] = [];
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [ax, ay] = ring[j];
    const [bx, by] = ring[i];
    if (ax > at !== bx > at) crossings.push(ay + ((at - ax) / (bx - ax)) * (by - ay));
  }
  return crossings.sort((a, b) => a - b);
};

export interface GreenSize {
  /** Along the line of approach through the middle of the front edge, metres. */
  readonly depth: number;
  /** Greatest extent across it, metres. */
  readonly width: number;
}

export const greenSize = (ring: Ring): GreenSize => {
  const box = boxOf(ring);
  const crossings = crossingsAlongY(ring, 0);
  const depth =
    crossings.length < 2 ? box.maxY - box.minY : crossings[crossings.length - 1] - crossings[0];
  return { depth, width: box.maxX - box.minX };
};
