import { pointsToMm } from '../../units.js';
import { text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { PageContext } from '../kit/page-modules.js';
import { firstFree } from '../labels/label-inside.js';
import type { Face, Mark, Mm } from '../marks/marks.js';

/** Clear paper about the words of a label, millimetres. */
const CLEAR = 0.7;
/** Height of letters, of their size; and what the last line needs below its base. */
const LETTERS = 0.74;

/** What labels keep off, and those that are set. */
export interface Kept {
  readonly bounds: Cell;
  readonly boxes: Cell[];
  /** Lines of putts and of aim, and lines that a label may lie over where it has no other place. */
  readonly lines: readonly (readonly Mm[])[];
  readonly soft: readonly (readonly Mm[])[];
}

interface Label {
  readonly lines: readonly { readonly words: string; readonly face: Face }[];
  readonly size: number;
}

const TURNS = 16;
const GAPS = [0.6, 1.6, 3, 5, 8];

/** Middles of a label about a sign: nearest first, and of these by the directions that are asked for first. */
const placesAbout = ([x, y]: Mm, room: number, [width, height]: Mm, first: number): Mm[] =>
  GAPS.flatMap((gap) =>
    Array.from({ length: TURNS }, (_, k): Mm => {
      const step = k % 2 === 0 ? k / 2 : -(k + 1) / 2;
      const angle = first + (step * 2 * Math.PI) / TURNS;
      const [dx, dy] = [Math.cos(angle), Math.sin(angle)];
      // Out to where the label's box clears the sign's, along the direction.
      const reach = Math.min(
        (room + gap + width / 2) / Math.max(1e-6, Math.abs(dx)),
        (room + gap + height / 2) / Math.max(1e-6, Math.abs(dy)),
      );
      return [x + dx * reach, y + dy * reach];
    }),
  );

/** Sets a label where it is free of all else; nothing where there is no room, since the table tells it, too. */
export const labelAt = (
  at: Mm,
  { lines, size }: Label,
  { room, first }: { readonly room: number; readonly first: number },
  { kept, measure }: { readonly kept: Kept; readonly measure: PageContext['measure'] },
): Mark[] => {
  const pitch = pointsToMm(size) * 1.2;
  const wide = Math.max(...lines.map(({ words, face }) => measure(words, face, size)));
  const width = wide + 2 * CLEAR;
  const height = (lines.length - 1) * pitch + pointsToMm(size) * (LETTERS + 0.24) + 2 * CLEAR;
  const places = placesAbout(at, room, [width, height], first);
  const { bounds, boxes } = kept;
  const free = (lines: Kept['lines']): Cell | null =>
    firstFree(places, width, height, bounds, { boxes, lines });
  const box = free([...kept.lines, ...kept.soft]) ?? free(kept.lines);
  if (box === null) return [];
  boxes.push(box);
  return lines.map(({ words, face }, k) =>
    text(
      [box.x + box.width / 2, box.y + CLEAR + pointsToMm(size) * LETTERS + k * pitch],
      words,
      face,
      size,
      { align: 'centre', halo: 0.5 },
    ),
  );
};
