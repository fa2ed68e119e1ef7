import { DARK, type Mark, type Mm } from '../marks/marks.js';
import { fillPath, ringSteps } from './draw.js';

/** Millimetres of a peg: half its bar, half its stem, and from its middle up to bar and shoulder and down to the tip. */
export interface PegSize {
  readonly bar: number;
  readonly stem: number;
  readonly top: number;
  readonly shoulder: number;
  readonly tip: number;
}

/** A tee peg seen from the side: a bar on a stem. */
export const teePeg = (
  [x, y]: Mm,
  { bar, stem, top, shoulder, tip }: PegSize,
  look: Parameters<typeof fillPath>[2] = {},
): Mark =>
  fillPath(
    ringSteps([
      [x - bar, y - top],
      [x + bar, y - top],
      [x + stem, y - shoulder],
      [x, y + tip],
      [x - stem, y - shoulder],
    ]),
    DARK,
    look,
  );
