import type { Box } from '../geometry.js';
import type { GraphicsState } from './graphics-state.js';
import { apply, type Matrix, multiply } from './matrix.js';
import { bytesOf, type Operand } from './pdf-operators.js';

/** A text as it is shown: what it says, and where it stands in the page's space. */
export interface ShownText {
  readonly words: string;
  /** A code stands for no glyph. */
  readonly missing: boolean;
  /** Points, as it stands on the page. */
  readonly size: number;
  readonly box: Box;
}

/** Room below and above the baseline, in parts of the type size. */
const BELOW = 0.25;
const ABOVE = 0.75;

/**
 * Strings and the numbers between them, which move the next string back (ISO 32000-1, 9.4.3); also how
 * far the text position moves on, in text space.
 */
export const readShown = (
  parts: readonly Operand[],
  text: Matrix,
  state: GraphicsState,
): { readonly shown: ShownText; readonly advance: number } | null => {
  const { font } = state;
  if (font === null) return null;
  let words = '';
  let missing = false;
  let advance = 0;
  for (const part of parts) {
    if (typeof part === 'number') {
      advance -= (part / 1000) * state.size;
      continue;
    }
    const bytes = bytesOf(part);
    for (let i = 0; i + font.codeLength <= bytes.length; i += font.codeLength) {
      const code = font.codeLength === 2 ? bytes[i] * 256 + bytes[i + 1] : bytes[i];
      if (font.codeLength === 2 && code === 0) missing = true;
      words += font.charactersOf(code);
      advance += (font.widthOf(code) / 1000) * state.size + state.spacing;
    }
  }
  const full = multiply(text, state.matrix);
  const corners = [0, advance].flatMap((x) =>
    [-BELOW, ABOVE].map((y) => apply(full, x, state.rise + y * state.size)),
  );
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  return {
    shown: {
      words,
      missing,
      size: state.size * Math.hypot(full[2], full[3]),
      box: {
        minX: Math.min(...xs),
        minY: Math.min(...ys),
        maxX: Math.max(...xs),
        maxY: Math.max(...ys),
      },
    },
    advance,
  };
};
