import { pointsToMm } from '../../units.js';
import type { LocationContent, OutlinedGreen } from '../book-content.js';
import { rule, stroke, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { asRoomAllows, locationWords, moreRow } from '../kit/location-words.js';
import type { PageContext } from '../kit/page-modules.js';
import { fitOrShorten } from '../kit/paragraph.js';
import { paragraphGroup } from '../kit/read-aloud.js';
import type { Mark, Mm } from '../marks/marks.js';
import { phrase } from '../words/words.js';

type Locations = OutlinedGreen['locations'] | readonly LocationContent[];

/** Line pitches, of the size of the type: the first at which all stand below each other. */
const PITCHES = [1.6, 1.45, 1.3] as const;
/** Rows of one column at most, and between a letter and its words, millimetres. */
const MOST_ROWS = 4;
const BESIDE_NAME = 1.3;
const BETWEEN_COLUMNS = 1.5;

/**
 * The hole locations of a green in words, as a sheet gives them: a head, then one below the other, in two columns where
 * one is too short. What they leave of the room is lines to write those of other days on.
 */
export const locationList = (
  locations: Locations,
  { layout, measure, book }: PageContext,
  { x, y, width, height }: Cell,
): Mark[] => {
  const { table, small } = layout.type;
  const rowsAt = (step: number): number =>
    Math.max(0, Math.min(MOST_ROWS, Math.floor((height - 0.6 * step) / step)));
  const steps = PITCHES.map((pitch) => pointsToMm(table) * pitch);
  // Closer where that saves a second column.
  const step =
    steps.find((one) => rowsAt(one) >= Math.min(MOST_ROWS, locations.length)) ?? steps[0];
  const rows = rowsAt(step);
  const columns = locations.length > rows ? 2 : 1;
  const { shown, more } = asRoomAllows(locations, columns * rows);
  const at = (i: number): Mm => [
    x + (width / columns) * Math.floor(i / rows),
    y + step * (1.6 + (i % rows)),
  ];
  const names = shown.map(({ name }) => measure(name, 'text-bold', table));
  const beside = Math.max(0, ...names) + BESIDE_NAME;
  const room = width / columns - beside - (columns === 1 ? 0 : BETWEEN_COLUMNS);
  return [
    text([x, y + step * 0.6], phrase(book, 'green.locations'), 'text-italic', small),
    ...shown.map((one, i): Mark => {
      const words = locationWords(one, book);
      const sizes = { face: 'text', size: table, least: 6 } as const;
      const { text: said, size } = fitOrShorten(words, room, sizes, measure);
      const [left, base] = at(i);
      return paragraphGroup(`${one.name}: ${words}`, [
        text([left, base], one.name, 'text-bold', table),
        text([left + beside, base], said, 'text', size),
      ]);
    }),
    ...moreRow(at(shown.length), more, small, book),
    ...Array.from({ length: Math.max(0, rows - locations.length) }, (_, i) => {
      const [, base] = at(locations.length + i);
      return rule(x, base, x + 0.8 * width, base, stroke(0.12));
    }),
  ];
};
