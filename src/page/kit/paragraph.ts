import { pointsToMm } from '../../units.js';
import type { Face, Mark, MeasureText } from '../marks/marks.js';
import { text } from './draw.js';
import type { Cell } from './grid.js';
import { paragraphGroup } from './read-aloud.js';

/** Greedy line breaking at spaces; a single word wider than the line stands on its own. */
export const wrapLines = (
  words: string,
  width: number,
  face: Face,
  size: number,
  measure: MeasureText,
): string[] => {
  const lines: string[] = [];
  let line = '';
  for (const word of words.split(/\s+/).filter((w) => w !== '')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && measure(longer, face, size) > width) {
      lines.push(line);
      line = word;
    } else {
      line = longer;
    }
  }
  if (line !== '') lines.push(line);
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
