import { INPUT_LIMITS } from '../input-limits.js';
import { LENGTH, pacesOfParts } from './day-length.js';

/** What one line tells: a hole, paces on and in. */
export interface DayLine {
  readonly hole: string;
  readonly on: number;
  readonly in: number;
  readonly side: 'left' | 'right';
  /** `on` counts from the back edge, toward the front. */
  readonly fromBack?: true;
  /** Half way between the sides: `in` and `side` tell nothing. */
  readonly isCentred?: true;
  /** How deep the sheet has the green, paces. */
  readonly depth?: number;
  /** Which tees are played, and how far they stand before (-) or behind (+) their mark on the card. */
  readonly tees?: string;
}

const END = '(front|back|f|b)';
/** A side as people write it; of two that could be meant the longer word goes first. */
export const SIDE = '(left|right|lft|rgt|lt|rt|l|r)';
const GAP = String.raw`[\s,;/]*`;
/** Words for half way between the sides, as sheets have them (common practice, no source). */
const CENTRE = '(?:in\\s+)?(?:the\\s+)?(?:centre|center|middle|ctr|mid|c)';
const WHOLE_CENTRE = new RegExp(`^${CENTRE}$`, 'i');
const HOLE = String.raw`^\s*(?:hole\s*)?#?\s*(\d{1,2}|[a-z]\d{1,2}|[a-z]+)(?:(?<=\d)(?:st|nd|rd|th)\b)?\s*(?:[:.)]|[-–—](?=\s))?[\s,;]+`;
const ON = String.raw`(?:on\s+)?${END}?\s*${LENGTH}\s*(?:on\b)?\s*(?:from\b)?\s*(?:the\b)?\s*${END}?(?:\s+edge)?`;
const IN = String.raw`${SIDE}?[\s,]*${LENGTH}\s*(?:in\b)?\s*(?:from\b)?\s*(?:the\b)?[\s,]*${SIDE}?(?:\s+(?:edge|side))?`;
const LINE = new RegExp(`${HOLE}${ON}(?:${GAP})(?<![\\d.,½])${IN}\\s*$`, 'i');

/** No figure for the side: "8 11 C". */
const CENTRED = new RegExp(`${HOLE}${ON}(?:${GAP})(?<![a-z])${CENTRE}\\s*$`, 'i');

/** The side before the depth, where each says which it is. */
const SIDE_FIRST = new RegExp(
  `${HOLE}(?=[^,;/]*(?:left|right|l|r)\\b)${IN}(?:${GAP})(?<![\\d.,½])(?=.*(?:\\bon\\b|front|back))${ON}\\s*$`,
  'i',
);

/** The parts of a line that told the side first, in the order of the others: whole, hole, depth, side. */
const depthFirst = (found: readonly string[] | null): readonly string[] | null =>
  found === null ? null : [...found.slice(0, 2), ...found.slice(7, 12), ...found.slice(2, 7)];

/** The side that a word of `SIDE` means. */
export const sideOfWord = (word: string): 'left' | 'right' =>
  word.toLowerCase().startsWith('l') ? 'left' : 'right';

/** Whether a cell says that the hole is half way between the sides. */
export const isCentre = (cell: string): boolean => WHOLE_CENTRE.test(cell.trim());

/** What stands for the sides where the hole is half way between them. */
export const CENTRED_SIDE = { in: 0, side: 'left', isCentred: true } as const;

/** "07" is hole 7, "a7" hole A7 of a course of several loops; a practice green has a word. */
const holeAsNamed = (hole: string): string =>
  /^[a-z]\d+$/i.test(hole) ? hole.toUpperCase() : hole.toLowerCase().replace(/^0+(?=\d)/, '');

/** Figures and a side set apart by commas alone, none of which can stand before tenths: "7,12,5,L". */
const CELLS = /^\s*\d{1,2}\s*,\s*\d{1,2}\s*,\s*(?:\d{1,2}\s*,\s*[a-z]+|[a-z]+\s*,\s*\d{1,2})\s*$/i;

/** Dashes that set apart, and are no sign of a figure: tight on both sides, or with blanks on both. */
const TIGHT_DASH = /(?<=[\da-z])[-–—](?=[\dlr])/gi;
const LOOSE_DASH = / [-–—] /g;

/** The line with blanks for all that only sets its words apart, one at most between two. */
const setApart = (line: string): string => {
  const words = line.replaceAll(/["|;]/g, ' ');
  return (CELLS.test(words) ? words.replaceAll(',', ' ') : words)
    .replaceAll(TIGHT_DASH, ' ')
    .replaceAll(/\s+/g, ' ')
    .replaceAll(LOOSE_DASH, ' ');
};

/**
 * A line of a sheet in words, in the order hole, on, in, as Committees hand them out (common practice, no
 * source): "7 12 5L", "Hole 7: 12 on, 5 left", "7  4 from back  3 m from right"; or in, then on, where the line says
 * which is which: "7: 5 left, 12 on". Null when it is none.
 */
export const lineInWords = (line: string): DayLine | null => {
  // The patterns take the square of what is longer.
  if (line.length > INPUT_LIMITS.locationLine) return null;
  // One space at most between words: the pattern tries each way to share several.
  const words = setApart(line);
  const found = LINE.exec(words) ?? depthFirst(SIDE_FIRST.exec(words)) ?? CENTRED.exec(words);
  if (found === null) return null;
  const [, hole, end1, on, onHalf, onUnit, end2, side1, inn, inHalf, inUnit, side2] = found;
  const end = (end1 ?? end2 ?? 'front').toLowerCase();
  const side = (side1 ?? side2 ?? '').toLowerCase();
  const isCentred = inn === undefined;
  if (!isCentred && (side === '' || (side1 !== undefined && side2 !== undefined))) return null;
  return {
    hole: holeAsNamed(hole),
    on: pacesOfParts(on, onHalf, onUnit, ''),
    ...(isCentred
      ? CENTRED_SIDE
      : {
          in: pacesOfParts(inn, inHalf, inUnit, ''),
          side: sideOfWord(side),
        }),
    ...(end.startsWith('b') ? { fromBack: true as const } : {}),
  };
};
