import { quoted } from '../fault.js';
import type { Box } from '../geometry.js';
import { SPINE_CLEAR } from '../layout/cover-spine.js';
import { mmToPoints, pointsToMm } from '../units.js';
import { type Finding, inside, overPages, round } from './preflight-finding.js';
import type { ReadBook } from './read-book.js';

/** Rounding of lengths in a file, millimetres. */
const SLACK = 0.01;

/** The spine between the back and the front of a cover, as they are drawn; null where they do not lie so. */
const drawnSpine = ({ drawn }: ReadBook['pages'][number]): Box | null => {
  const front = drawn.placed.find(({ number }) => number % 2 === 1)?.trim;
  const back = drawn.placed.find(({ number }) => number % 2 === 0)?.trim;
  return front === undefined || back === undefined || back.maxX > front.minX + SLACK
    ? null
    : { minX: back.maxX, maxX: front.minX, minY: back.minY, maxY: back.maxY };
};

/** Whether the spine of a cover is that of its book, and its words keep to it. */
export const coverFindings = (book: ReadBook): Finding[] => {
  const cover = book.facts?.cover ?? null;
  if (book.facts === null || cover === null) return [];
  const { block, board } = cover;
  const right = (block / 2) * book.facts.paper + 2 * board;
  return overPages(
    book,
    'spine',
    `${round(right)} mm: ${block} pages of ${book.facts.paper} mm a leaf, and the board twice`,
    (page) => {
      const spine = drawnSpine(page);
      if (spine === null) return ['there is no spine between a back and a front'];
      const wide = pointsToMm(spine.maxX - spine.minX);
      const lines = page.drawn.texts.filter(
        ({ on, box }) =>
          on === null &&
          !inside(
            box,
            { ...spine, minY: -Infinity, maxY: Infinity },
            mmToPoints(SPINE_CLEAR) - 0.3,
          ),
      );
      return [
        ...(Math.abs(wide - right) > SLACK
          ? [
              `the spine is ${round(wide)} mm wide; ${block} pages and the board take ${round(right)} mm`,
            ]
          : []),
        ...lines.map(
          ({ text }) => `${quoted(text)} is less than ${SPINE_CLEAR} mm inside the spine`,
        ),
      ];
    },
  );
};
