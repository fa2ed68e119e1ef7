import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { greenInWords } from '../../src/page/green/green-in-words.js';

type Green = Parameters<typeof greenInWords>[0];

/** A round green of 15 m, whose front is the frame's origin. */
const OUTLINE = Array.from({ length: 90 }, (_, k): Point => {
  const angle = (2 * Math.PI * k) / 90;
  return [15 * Math.sin(angle), 15 - 15 * Math.cos(angle)];
});

/** A green with one line of drainage, of which only what is told in words is given. */
const greenDrainedTo = (mouth: Point): Green =>
  ({
    holeId: '7',
    name: 'Slipway',
    outline: OUTLINE,
    locations: [],
    reading: {
      bands: [],
      critical: [],
      streams: [
        {
          main: true,
          mouth: 'edge',
          outlet: null,
          points: [
            [2, 20, 0],
            [...mouth, 0],
          ],
        },
      ],
    },
  }) as unknown as Green;

const told = (mouth: Point): string =>
  greenInWords(greenDrainedTo(mouth), { units: 'imperial' }, 'full');

describe('a place in words', () => {
  it('is on the edge where it lies within half a pace of it, whichever side of the line its last bits put it', () => {
    for (const [x, y] of [
      [0.1, -1e-9],
      [0.1, 1e-9],
      [0.1, 0.02],
      [0.1, 0.3],
    ] as const) {
      expect(told([x, y])).toContain('off the green at the edge 0 on, right');
    }
  });

  it('is measured on and in from a pace inside', () => {
    expect(told([-3, 2])).toMatch(/off the green at 2 on, 5½? from left/);
  });
});
