import { distance, lengthOf, type Point, type Ring } from '../../geometry.js';
import type { TableCell } from '../../putt/putt.js';
import { aimReading, lengthReading, paceReading } from '../../putt/rounding.js';
import { isKept, otherOutlets, type Reading } from '../../terrain/reading.js';
import { feetToMetres } from '../../units.js';
import type { GreenContent, LocationContent } from '../book-content.js';
import { withUnit } from '../kit/unit-words.js';
import { isDoubtfulAim } from '../putts/table-figures.js';
import { phrase, type Telling, type Worded } from '../words/words.js';

/** A putt that is asked about: a cell of the table of one hole location. */
export interface AskedPutt {
  readonly location: LocationContent;
  readonly cell: TableCell;
}

/** Letters stand round the edge at equal lengths of it, the first at the middle of the front, on to the right. */
const EDGE_LETTERS = 'abcdefghijkl';
const MOST_PUTTS = 3;
/** Nobody aims so far beside the hole; metres. Ours, no source. */
const FARTHEST_AIM = feetToMetres(6);
/** A mean fall that a player could not tell from none, as a fraction. Ours, no source. */
const LEVEL = 0.003;

export interface EdgeLetter {
  readonly letter: string;
  readonly at: Point;
  /** Unit vector out of the green. */
  readonly out: Point;
}

/** The point of a closed ring so far along it. */
const alongRing = (ring: Ring, far: number): { readonly at: Point; readonly ahead: Point } => {
  let left = far;
  for (let i = 0; i < ring.length; i++) {
    const [a, b] = [ring[i], ring[(i + 1) % ring.length]];
    const long = distance(a, b);
    if (left <= long && long > 0) {
      const ahead: Point = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
      return { at: [a[0] + ahead[0] * left, a[1] + ahead[1] * left], ahead };
    }
    left -= long;
  }
  return { at: ring[0], ahead: [1, 0] };
};

/** How far along a ring its point nearest to the middle of the front edge lies. */
const frontOf = (ring: Ring): number => {
  let [best, at, along] = [Infinity, 0, 0];
  ring.forEach((point, i) => {
    const off = Math.hypot(point[0], point[1]);
    if (off < best) [best, at] = [off, along];
    along += distance(point, ring[(i + 1) % ring.length]);
  });
  return at;
};

/** The letters round a green; metres in its frame. Rings run counter-clockwise: on to the right from the front. */
export const edgeLetters = (outline: Ring): EdgeLetter[] => {
  const whole = lengthOf([...outline, outline[0]]);
  const from = frontOf(outline);
  return [...EDGE_LETTERS].map((letter, k) => {
    const { at, ahead } = alongRing(outline, (from + (whole * k) / EDGE_LETTERS.length) % whole);
    return { letter, at, out: [ahead[1], -ahead[0]] };
  });
};

const nearestLetter = (letters: readonly EdgeLetter[], at: Point): string =>
  letters.reduce((best, one) => (distance(one.at, at) < distance(best.at, at) ? one : best)).letter;

/** Where most of the water leaves, by the letters; what the survey leaves open is told. */
export const outletWords = (
  reading: Reading,
  letters: readonly EdgeLetter[],
  tell: Worded,
): string => {
  // Ground without points cuts a line into pieces: the one that leaves the green tells where.
  const pieces = reading.streams.filter(({ main: isMain }) => isMain);
  const main = pieces.find(({ mouth }) => mouth !== 'stream') ?? pieces[0];
  if (main === undefined) return phrase(tell, 'quiz.all-round');
  const name = (at: Point, kind: 'edge' | 'drain'): string =>
    kind === 'drain'
      ? phrase(tell, 'quiz.by-drain')
      : phrase(tell, 'quiz.near', { letter: nearestLetter(letters, at) });
  const [x, y] = main.points[main.points.length - 1];
  const own =
    main.mouth === 'stream' && main.outlet !== null
      ? name(main.outlet.at, main.outlet.kind)
      : name([x, y], main.mouth === 'drain' ? 'drain' : 'edge');
  const others = otherOutlets(reading);
  if (others.length > 0 && main.outlet !== null) {
    const shares = [main.outlet, ...others].map(({ at, kind, share }) =>
      phrase(tell, 'quiz.in-share', { where: name(at, kind), percent: Math.round(100 * share) }),
    );
    return phrase(tell, 'quiz.open', { list: shares.join(', ') });
  }
  return phrase(tell, isKept(main) ? 'quiz.leaves' : 'quiz.leaves-doubt', { where: own });
};

/** The half that is higher, front or back and left or right, by the mean of the fall over the green. */
export const highHalves = (
  { arrows }: Reading,
  tell: Worded,
): readonly [depth: string, width: string] => {
  const mean = (axis: 0 | 1): number =>
    arrows.reduce((sum, { toward, grade }) => sum + toward[axis] * grade, 0) /
    Math.max(1, arrows.length);
  type End = 'front' | 'back' | 'left' | 'right';
  const side = (fall: number, low: End, high: End): string =>
    Math.abs(fall) < LEVEL
      ? phrase(tell, 'quiz.level')
      : phrase(tell, `quiz.the-${fall < 0 ? high : low}`);
  return [side(mean(1), 'front', 'back'), side(mean(0), 'left', 'right')];
};

/** High and low points that the answers show. */
export const countPoints = (reading: Reading, kind: 'high' | 'low'): number =>
  reading.critical.filter((one) => one.kind === kind).length;

/** From these sides in turn, so that where the balls lie does not tell the fall. */
const TURN = ['left', 'above', 'right', 'below'] as const;

const isAskable = (cell: TableCell): boolean =>
  cell.outcome === 'solved' &&
  cell.putt !== null &&
  !isDoubtfulAim(cell) &&
  Math.abs(cell.putt.aimOffset) < FARTHEST_AIM;

/** Up to three putts of a green, one a hole location while there are any, the longest whose aim is known from each side. */
export const askedPutts = ({ locations, holeId, worth }: GreenContent): AskedPutt[] => {
  if (worth.worth !== 'tables') return [];
  const tabled = locations.filter(({ table }) => table !== null);
  const asked: AskedPutt[] = [];
  // Greens begin on different sides.
  const start = [...holeId].reduce((sum, c) => sum + c.charCodeAt(0), 0);
  for (let k = 0; tabled.length > 0 && k < TURN.length * 2 && asked.length < MOST_PUTTS; k++) {
    const location = tabled[k % tabled.length];
    const side = TURN[(start + k) % TURN.length];
    const cell = (location.table?.cells ?? [])
      .filter(({ quadrant }) => quadrant === side)
      .filter(isAskable)
      .reduce<TableCell | null>(
        (best, one) => (best === null || one.length > best.length ? one : best),
        null,
      );
    if (cell === null || asked.some((one) => one.cell === cell)) continue;
    asked.push({ location, cell });
  }
  return asked;
};

/** "Ball 1 to A, 15 ft". */
export const puttName = ({ location, cell }: AskedPutt, k: number, tell: Telling): string =>
  phrase(tell, 'quiz.ball', {
    number: k + 1,
    location: location.name,
    length: withUnit(lengthReading(cell.length, tell.units), tell),
  });

/** The answer: aim and pace as the tables print them. */
export const puttWords = ({ cell }: AskedPutt, tell: Telling): string => {
  if (cell.putt === null) return '';
  const { figure, side } = aimReading(cell.putt.aimOffset, tell.units);
  const aim =
    side === 'straight'
      ? phrase(tell, 'quiz.straight')
      : phrase(tell, `quiz.aim-${side}`, { figure: withUnit(figure, tell) });
  const pace = withUnit(paceReading(cell.putt.pace, tell.units), tell);
  return phrase(tell, `quiz.lies-${cell.quadrant}`, { aim, pace });
};
