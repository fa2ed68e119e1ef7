import type { NoteSign } from '../../event/notes-file.js';
import { stroke, strokePath } from '../kit/draw.js';
import type { Mark, Mm, PathStep } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';

/**
 * The signs of a caddie's notes, our own, drawn as by a hand: open strokes in a box from -1 to 1, y down.
 * Those that point do so to the top.
 */
const STROKES: Readonly<Record<NoteSign, readonly (readonly PathStep[])[]>> = {
  ring: [
    [
      ['M', 0.25, -0.95],
      ['C', -0.75, -1.05, -1.1, -0.3, -0.92, 0.3],
      ['C', -0.7, 1.05, 0.45, 1.1, 0.85, 0.45],
      ['C', 1.15, -0.1, 0.85, -0.85, -0.1, -0.88],
    ],
  ],
  cross: [
    [
      ['M', -0.85, -0.8],
      ['C', -0.3, -0.35, 0.35, 0.25, 0.9, 0.85],
    ],
    [
      ['M', 0.8, -0.88],
      ['C', 0.35, -0.25, -0.3, 0.4, -0.88, 0.82],
    ],
  ],
  tick: [
    [
      ['M', -0.9, 0.1],
      ['C', -0.7, 0.35, -0.5, 0.6, -0.35, 0.85],
      ['C', 0.05, 0.1, 0.45, -0.5, 1, -0.95],
    ],
  ],
  star: [
    [
      ['M', 0.05, -1],
      ['C', -0.02, -0.4, 0.04, 0.4, -0.03, 1],
    ],
    [
      ['M', -0.9, -0.48],
      ['C', -0.4, -0.2, 0.4, 0.22, 0.9, 0.52],
    ],
    [
      ['M', 0.9, -0.5],
      ['C', 0.4, -0.25, -0.4, 0.2, -0.88, 0.5],
    ],
  ],
  drop: [
    [
      ['M', 0.1, -1],
      ['C', -0.1, -0.4, -0.75, 0.05, -0.7, 0.45],
      ['C', -0.62, 1.1, 0.62, 1.12, 0.7, 0.42],
      ['C', 0.72, 0.02, 0.25, -0.4, 0.04, -0.9],
    ],
  ],
  step: [
    [
      ['M', -1, 0.75],
      ['C', -0.7, 0.72, -0.45, 0.76, -0.2, 0.72],
      ['C', -0.16, 0.3, -0.2, 0, -0.16, -0.3],
      ['C', 0.2, -0.26, 0.6, -0.32, 1, -0.28],
    ],
    [
      ['M', -0.75, 0.2],
      ['L', -0.75, -0.75],
    ],
    [
      ['M', -1, -0.45],
      ['L', -0.75, -0.78],
      ['L', -0.5, -0.45],
    ],
  ],
  arrow: [
    [
      ['M', 0.05, 1],
      ['C', -0.05, 0.4, 0.05, -0.3, 0, -0.98],
    ],
    [
      ['M', -0.55, -0.35],
      ['C', -0.35, -0.55, -0.15, -0.8, 0, -1],
      ['C', 0.12, -0.78, 0.35, -0.5, 0.58, -0.38],
    ],
  ],
  wind: [
    [
      ['M', -0.4, 1],
      ['C', -0.75, 0.6, -0.05, 0.3, -0.4, -0.1],
      ['C', -0.65, -0.4, -0.3, -0.6, -0.3, -0.75],
    ],
    [
      ['M', 0.4, 1],
      ['C', 0.05, 0.6, 0.75, 0.3, 0.4, -0.1],
      ['C', 0.15, -0.4, 0.35, -0.6, 0.3, -0.75],
    ],
    [
      ['M', -0.75, -0.5],
      ['C', -0.45, -0.65, -0.2, -0.85, 0, -1.1],
      ['C', 0.2, -0.85, 0.45, -0.65, 0.75, -0.5],
    ],
  ],
  grain: [
    [
      ['M', -0.65, 0.6],
      ['L', -0.6, -0.35],
    ],
    [
      ['M', 0, 0.9],
      ['L', 0.03, -0.85],
    ],
    [
      ['M', 0.65, 0.6],
      ['L', 0.6, -0.35],
    ],
  ],
  hop: [
    [
      ['M', 0.2, 1],
      ['C', -1, 1, -0.95, 0.1, 0.15, 0.12],
      ['C', -0.6, 0.05, -0.55, -0.5, 0.05, -0.5],
    ],
    [
      ['M', -0.45, -0.6],
      ['L', 0.12, -1],
      ['L', 0.6, -0.55],
    ],
  ],
};

const moved = (steps: readonly PathStep[], at: Mm, size: number, turn: number): PathStep[] => {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const put = (x: number, y: number): [number, number] => [
    at[0] + size * (x * c - y * s),
    at[1] + size * (x * s + y * c),
  ];
  return steps.map((step): PathStep => {
    if (step[0] === 'Z') return step;
    if (step[0] !== 'C') return [step[0], ...put(step[1], step[2])];
    return ['C', ...put(step[1], step[2]), ...put(step[3], step[4]), ...put(step[5], step[6])];
  });
};

/**
 * A sign round a point; `size` is half its width in millimetres, `clock` the hour to which it points.
 * A rim of paper keeps it clear of what lies below.
 */
export const noteSign = (
  sign: NoteSign,
  at: Mm,
  size: number,
  clock: number | null = null,
): Mark[] => {
  const turn = clock === null ? 0 : (clock * Math.PI) / 6;
  const lines = STROKES[sign].map((steps) => moved(steps, at, size, turn));
  return [
    ...lines.map((steps) => strokePath(steps, stroke(1.1, PAPER))),
    ...lines.map((steps) => strokePath(steps, stroke(0.38, DARK))),
  ];
};
