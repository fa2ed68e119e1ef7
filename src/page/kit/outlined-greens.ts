import type { BookContent, GreenContent, OutlinedGreen } from '../book-content.js';

/** A green by its outline, with nothing that its survey says of its ground. */
const outlinedOf = (green: GreenContent): OutlinedGreen => {
  const { holeId, name, par, outline, locations, worth } = green;
  const approaches = locations.flatMap(({ approach }) => approach ?? []);
  return { holeId, name, par, outline, locations, worth, approaches, northUp: false, hazards: [] };
};

/** Whether a book tells of any green how its ground falls. */
export const tellsOfGround = ({ greens }: BookContent): boolean =>
  greens.some(({ worth }) => worth.worth !== 'outline');

/** What is read of the greens whose ground a book tells of. */
export const shownReadings = ({ greens }: Pick<BookContent, 'greens'>): GreenContent['reading'][] =>
  greens.flatMap(({ worth, reading }) => (worth.worth === 'outline' ? [] : [reading]));

/** All greens of a book that are shown by their outlines alone, those of a survey that is worth no more among them. */
export const outlinedGreens = ({ greens, outlines = [] }: BookContent): OutlinedGreen[] => [
  ...outlines,
  ...greens
    .filter(({ worth }) => worth.worth === 'outline')
    .filter(({ holeId }) => outlines.every((one) => one.holeId !== holeId))
    .map(outlinedOf),
];
