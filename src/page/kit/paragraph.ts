import { pointsToMm } from '../../units.js';
import type { Face, Mark, MeasureText } from '../marks/marks.js';
import { text } from './draw.js';
import type { Cell } from './grid.js';
import { paragraphGroup } from './read-aloud.js';

/** Width of a letter of running text in parts of the type size: where the first guess at a line's length starts. */
const LETTER = 0.5;

/** How many of the words from `from` on have no more letters, with the spaces between them. */
const wordsOf = (words: readonly string[], from: number, letters: number): number => {
  let count = 0;
  let length = -1;
  while (from + count < words.length) {
    length += 1 + words[from + count].length;
    if (length > letters) break;
    count += 1;
  }
  return count;
};

/** What lines are made of: words, a point that parts sayings with the one before it, since no line begins with it. */
const unbroken = (words: string): string[] => {
  const all: string[] = [];
  for (const word of words.split(/\s+/)) {
    if (word === '·' && all.length > 0) all[all.length - 1] += ' ·';
    else if (word !== '') all.push(word);
  }
  return all;
};

/**
 * Greedy line breaking at spaces; a single word wider than the line stands on its own. Setting a text is dear and a line
 * with one more word is wider: so its length is guessed by its letters, and lines about that length alone are measured.
 */
export const wrapLines = (
  words: string,
  width: number,
  face: Face,
  size: number,
  measure: MeasureText,
): string[] => {
  const all = unbroken(words);
  const lines: string[] = [];
  let letters = width / (LETTER * pointsToMm(size));
  for (let from = 0; from < all.length; ) {
    const lineOf = (count: number): string => all.slice(from, from + count).join(' ');
    let fits = 1;
    let over = all.length - from + 1;
    while (over - fits > 1) {
      const count = Math.min(Math.max(wordsOf(all, from, letters), fits + 1), over - 1);
      const line = lineOf(count);
      const wide = measure(line, face, size);
      if (wide > width) over = count;
      else fits = count;
      letters = (line.length * width) / wide;
    }
    lines.push(lineOf(fits));
    from += fits;
  }
  return lines;
};

export interface SetText {
  readonly marks: readonly Mark[];
  /** Millimetres used from the top of the cell. */
  readonly height: number;
}

/** How a paragraph is set; points. */
export interface ParagraphStyle {
  readonly face: Face;
  readonly size: number;
  readonly leading: number;
}

/** Sets a paragraph from the top of a cell. */
export const setParagraph = (
  words: string,
  cell: Cell,
  { face, size, leading }: ParagraphStyle,
  measure: MeasureText,
): SetText => {
  const lines = wrapLines(words, cell.width, face, size, measure);
  const step = pointsToMm(leading);
  return {
    marks:
      lines.length === 0
        ? []
        : [
            paragraphGroup(
              words,
              lines.map((line, i) =>
                text([cell.x, cell.y + pointsToMm(size) * 0.8 + i * step], line, face, size),
              ),
            ),
          ],
    height: lines.length * step,
  };
};

/** What is set at the largest size that lets it end within `room`: the full size, or steps of half a point down to the least. */
export const setToFit = (
  set: (size: number) => SetText,
  room: number,
  sizes: { readonly full: number; readonly least: number },
): SetText => {
  let size = sizes.full;
  let found = set(size);
  while (found.height > room && size - 0.5 >= sizes.least - 1e-9) {
    size -= 0.5;
    found = set(size);
  }
  return found;
};

/**
 * Paragraphs from the top of a cell, at the largest size that lets all of them end inside it: the full
 * size, or steps of half a point down to the least. `lead` is line pitch over size, `gap` millimetres.
 */
export const setParagraphs = (
  paragraphs: readonly string[],
  cell: Cell,
  style: { readonly face: Face; readonly lead: number; readonly gap: number },
  sizes: { readonly full: number; readonly least: number },
  measure: MeasureText,
): SetText => {
  const at = (size: number): SetText => {
    let used = 0;
    const marks = paragraphs.flatMap((words) => {
      const place = { ...cell, y: cell.y + used };
      const set = setParagraph(
        words,
        place,
        { face: style.face, size, leading: size * style.lead },
        measure,
      );
      used += set.height + style.gap;
      return set.marks;
    });
    return { marks, height: used - style.gap };
  };
  return setToFit(at, cell.height, sizes);
};

/**
 * The first wording and size that fits a width: each wording is tried at the full size and at steps of
 * half a point down to the least size, the longest wording first. Null when none fits.
 */
export const fitWording = (
  wordings: readonly string[],
  width: number,
  { face, size, least }: { readonly face: Face; readonly size: number; readonly least: number },
  measure: MeasureText,
): { readonly text: string; readonly size: number } | null => {
  for (const wording of wordings) {
    for (let s = size; s >= least - 1e-9; s -= 0.5) {
      if (measure(wording, face, s) <= width) return { text: wording, size: s };
    }
  }
  return null;
};

/** The words at the largest size that fits a width; their longest beginning with an ellipsis where none does. */
export const fitOrShorten = (
  words: string,
  width: number,
  sizes: { readonly face: Face; readonly size: number; readonly least: number },
  measure: MeasureText,
): { readonly text: string; readonly size: number } => {
  const fitted = fitWording([words], width, sizes, measure);
  if (fitted !== null) return fitted;
  const { face, least } = sizes;
  let keep = words.length - 1;
  while (keep > 1 && measure(`${words.slice(0, keep)}…`, face, least) > width) keep -= 1;
  return { text: `${words.slice(0, keep).trimEnd()}…`, size: least };
};
