import type { Hole } from '../course/course.js';
import { pointOfLocation } from '../course/frame.js';
import { InputFault, namesInPart, quoted } from '../fault.js';
import type { Point, Ring } from '../geometry.js';
import { aimOfWords, speedOfWords } from './noted-words.js';

/** A place on a green as notes give it, paces. */
export interface NotedPlace {
  readonly on: number;
  readonly left?: number;
  readonly right?: number;
}

/** A putt that was holed, as notes give it. */
export interface PuttEntry {
  readonly from: NotedPlace;
  readonly to: string | NotedPlace;
  readonly aim: string;
  readonly speed?: string;
  readonly date?: string;
}

/** A putt that was holed on the practice round; metres, in the frame of the green. */
export interface PlayedPutt {
  readonly ball: Point;
  readonly hole: Point;
  /** The start line beside the hole's centre, positive left of it, seen from the ball. */
  readonly aim: number;
  /** Metres of stimp reading; null: the green's own. */
  readonly stimp: number | null;
  /** As the notes give them. */
  readonly from: NotedPlace;
  readonly to: string | NotedPlace;
  /** "12 on, 5 left to A". */
  readonly words: string;
  readonly date: string | null;
}

/** A noted place in the frame of the green; `name` is for faults. */
export const pointOfNote = (outline: Ring, place: NotedPlace, name: string): Point =>
  pointOfLocation(
    outline,
    {
      name,
      on: place.on,
      in: place.left ?? place.right ?? 0,
      side: place.left === undefined ? 'right' : 'left',
    },
    {},
  );

const placeWords = ({ on, left, right }: NotedPlace): string =>
  `${on} on, ${left ?? right} ${left === undefined ? 'right' : 'left'}`;

/** The hole of a putt: a letter of the course file, or a noted place; throws InputFault for neither. */
export const holeOfPutt = (to: PuttEntry['to'], hole: Hole, outline: Ring): Point => {
  if (typeof to !== 'string') return pointOfNote(outline, to, 'of the putt');
  const places = hole.green?.locations ?? [];
  const found = places.find(({ name }) => name.toLowerCase() === to.trim().toLowerCase());
  if (found !== undefined) return found.at;
  throw new InputFault(
    {},
    `hole ${hole.id} has no hole location ${quoted(to)}`,
    places.length === 0
      ? 'give its place: { on: 12, left: 5 }'
      : `its locations are ${namesInPart(places.map(({ name }) => name))}; or give a place`,
  );
};

/**
 * A putt of the notes in its place; `outline` of the green, in its frame.
 *
 * @throws InputFault for an aim or a speed that is none, a place off the green, a hole without a survey.
 */
export const playedPutt = (entry: PuttEntry, hole: Hole, outline: Ring): PlayedPutt => {
  if (hole.green === null) {
    throw new InputFault(
      {},
      `hole ${hole.id} has no survey to compare a putt with`,
      'tell it in the text of the note',
    );
  }
  const aim = aimOfWords(entry.aim);
  if (aim === null) {
    throw new InputFault(
      {},
      `${quoted(entry.aim)} is no aim`,
      'write as in: 14 in left, 3.5 ft right, 30 cm left, straight',
    );
  }
  const stimp = entry.speed === undefined ? null : speedOfWords(entry.speed);
  if (entry.speed !== undefined && stimp === null) {
    throw new InputFault(
      {},
      `${quoted(entry.speed)} is no green speed`,
      'write as in: 10.5ft, 3.2m',
    );
  }
  const to = typeof entry.to === 'string' ? entry.to.trim() : placeWords(entry.to);
  return {
    ball: pointOfNote(outline, entry.from, 'of the ball'),
    hole: holeOfPutt(entry.to, hole, outline),
    aim,
    stimp,
    from: entry.from,
    to: typeof entry.to === 'string' ? entry.to.trim() : entry.to,
    words: `${placeWords(entry.from)} to ${to}`,
    date: entry.date ?? null,
  };
};
