import type { Point } from '../../geometry.js';
import type { Surface } from '../../surface/surface.js';
import { HX, HY, JET_SIZE } from '../../surface/surface.js';
import { type GroundPoint, WALK } from '../fall-line.js';
import { addLine, nearestLine, newLineIndex } from '../line-index.js';
import type { Stream } from '../reading.js';
import { areasAlong } from './catchments.js';
import { type Catchment, catchmentsOf, isSameLeaving, type Leaving } from './leaving-places.js';
import { type Met, metOnWay } from './met-on-way.js';
import { joinStreams } from './stream-junctions.js';
import { goingOn, ON_LINE, type WaterGround } from './water-ground.js';
import { traceWater } from './water-line.js';

/** The way of water poured at one place, down the ground that was read. Metres. */
export interface PouredStream {
  readonly from: Point;
  /** Height never rises along it. */
  readonly points: readonly GroundPoint[];
  /** Ground whose water has come in by each point, square metres. */
  readonly area: readonly number[];
  /** When the water is at each point, seconds after it was poured. */
  readonly seconds: readonly number[];
  /** Share of the grounds that the survey allows whose water passes within a metre of each point. */
  readonly kept: readonly number[];
  /** Null where that is not known. */
  readonly leaving: Leaving | null;
  readonly met: readonly Met[];
  /** The water poured before it that it joins: which, and at which point; null where it runs alone. */
  readonly joins: { readonly pour: number; readonly point: number } | null;
  /** Where the water leaves in those grounds, with their shares, the likeliest first. */
  readonly mayLeave: readonly (Leaving & { readonly share: number })[];
  /** Its ways in those grounds. */
  readonly strands: readonly (readonly Point[])[];
}

export interface PouredWater {
  readonly streams: readonly PouredStream[];
  /** One for each place where poured water leaves. */
  readonly catchments: readonly Catchment[];
  /** Grounds that the survey allows that were looked at. */
  readonly draws: number;
}

/** Two ways no farther apart than this are one, metres. */
const SAME_WAY = 1;
/** Poured water that comes this near to other poured water has joined it, metres. */
const JOINED = 0.4;
/** A way that fewer of the grounds keep is not known. */
export const WAY_KEPT = 0.5;
/** So many ways in those grounds are shown where they do not keep it. */
const STRANDS = 12;
/** Ways out are told from this share of the draws on. */
const LEAST_SHARE = 0.1;
/** Ways in draws need not be followed more closely than they differ. */
const DRAWN_WALK = { ...WALK, tolerance: 2e-3 };
/**
 * Speed of shallow water over short grass, metres per second at a grade of one; it goes with the root of the grade
 * (NRCS National Engineering Handbook 630, chapter 15, table 15-3: 6.962 ft/s; from memory).
 */
const GRASS_SPEED = 2.122;
/** Standing water moves on as over this grade. */
const LEAST_GRADE = 0.002;

const leavingOf = (
  mouth: 'edge' | 'drain',
  points: readonly GroundPoint[],
  declared: readonly Point[],
): Leaving => {
  const [x, y] = points[points.length - 1];
  const isDeclared = declared.some((drain) => Math.hypot(drain[0] - x, drain[1] - y) < ON_LINE);
  const kind = mouth === 'edge' ? 'edge' : isDeclared ? 'drain' : 'low point';
  return { kind, at: [x, y] };
};

/** Down the ground as far as a drainage line that runs near, and by that line on. */
const wayOf = (ground: WaterGround, from: Point) => {
  const { drainage, lines, index, reading } = ground;
  const own = traceWater(drainage, from[0], from[1]);
  const joined = joinStreams(drainage.grid.surface, own, lines, index, 0);
  if (joined.parent < 0) return { points: own.points, mouth: own.mouth, joint: null };
  const rest = lines[joined.parent].points.slice(joined.joint + 1);
  const points = goingOn(joined.points, rest);
  const end = lastStream(reading.streams, points);
  // A line that is not known to its mouth leads nowhere.
  if (end === undefined) return { points: own.points, mouth: own.mouth, joint: null };
  return {
    points,
    mouth: end.mouth === 'drain' ? ('drain' as const) : ('edge' as const),
    joint: { point: joined.points.length - 1, main: reading.streams[joined.parent].main },
  };
};

/** The drainage line by whose mouth a way ends. */
const lastStream = (
  streams: readonly Stream[],
  points: readonly GroundPoint[],
): Stream | undefined => {
  const [x, y] = points[points.length - 1];
  return streams.find(({ points: own, mouth }) => {
    const [sx, sy] = own[own.length - 1];
    return mouth !== 'stream' && Math.hypot(sx - x, sy - y) < ON_LINE;
  });
};

/** When water is where on its way: quick where it is steep. */
const timesOf = (surface: Surface, points: readonly GroundPoint[]): number[] => {
  const jet = new Float64Array(JET_SIZE);
  let now = 0;
  return points.map(([x, y], k) => {
    if (k === 0) return 0;
    const [px, py] = points[k - 1];
    surface.at((x + px) / 2, (y + py) / 2, jet);
    const grade = Math.max(LEAST_GRADE, Math.hypot(jet[HX], jet[HY]));
    now += Math.hypot(x - px, y - py) / (GRASS_SPEED * Math.sqrt(grade));
    return now;
  });
};

/** The water's ways in the draws, and what they say of the way on the fitted ground. */
const doubtOf = (
  { draws, declared }: WaterGround,
  from: Point,
  points: readonly GroundPoint[],
  leaving: Leaving,
): Pick<PouredStream, 'kept' | 'mayLeave' | 'strands'> => {
  if (draws.length === 0) {
    return { kept: points.map(() => 1), mayLeave: [{ ...leaving, share: 1 }], strands: [] };
  }
  const kept = points.map(() => 0);
  const ends: Leaving[] = [];
  const strands = draws.map((drawn) => {
    const way = traceWater(drawn, from[0], from[1], DRAWN_WALK);
    const index = newLineIndex(SAME_WAY);
    addLine(index, 0, way.points);
    points.forEach(([x, y], k) => {
      if (nearestLine(index, x, y, SAME_WAY) !== null) kept[k] += 1 / draws.length;
    });
    ends.push(leavingOf(way.mouth, way.points, declared));
    return way.points.map(([x, y]): Point => [x, y]);
  });
  const groups: Leaving[][] = [];
  for (let left = [leaving, ...ends]; left.length > 0; ) {
    // The way on the fitted ground names its own outlet; it is no draw.
    const alike = left.map((one) => left.filter((other) => isSameLeaving(one, other)));
    const best =
      groups.length === 0 ? alike[0] : alike.reduce((a, b) => (b.length > a.length ? b : a));
    groups.push(best);
    left = left.filter((one) => !best.includes(one));
  }
  const mayLeave = groups
    .map((group, k) => {
      const count = group.length - (k === 0 ? 1 : 0);
      return { ...(k === 0 ? leaving : group[0]), share: count / draws.length };
    })
    .filter(({ share }) => share >= LEAST_SHARE)
    .sort((a, b) => b.share - a.share);
  return { kept, mayLeave, strands };
};

/** Ways in the grounds that the survey allows, of a stream that these do not keep. */
export const shownStrands = ({ kept, strands }: PouredStream): (readonly Point[])[] =>
  kept.every((share) => share >= WAY_KEPT)
    ? []
    : strands.slice(0, STRANDS).filter((strand) => strand.length > 1);

/** From where on a way another runs within reach of it to the end; null where it does not. */
const joinedFrom = (points: readonly GroundPoint[], other: readonly GroundPoint[]) => {
  const index = newLineIndex(JOINED);
  addLine(index, 0, other);
  let first = points.length;
  while (first > 0) {
    const [x, y] = points[first - 1];
    if (nearestLine(index, x, y, JOINED) === null) break;
    first--;
  }
  return first < points.length ? first : null;
};

/** What `joins` tells of a way: the earlier one that it runs with from the highest place. */
const joinOf = (points: readonly GroundPoint[], earlier: readonly PouredStream[]) => {
  let best: PouredStream['joins'] = null;
  earlier.forEach((other, pour) => {
    const point = joinedFrom(points, other.points);
    if (point !== null && (best === null || point < best.point)) best = { pour, point };
  });
  return best;
};

/** Water poured at one place, as if no other had been poured. */
export type LonePour = Omit<PouredStream, 'joins'>;

export const pourAt = (ground: WaterGround, from: Point): LonePour => {
  const { drainage, reading, declared } = ground;
  const { surface } = drainage.grid;
  const { points, mouth, joint } = wayOf(ground, from);
  const leaving = leavingOf(mouth, points, declared);
  return {
    from,
    points,
    area: areasAlong(drainage, [{ points, parent: -1, joint: 0 }])[0],
    seconds: timesOf(surface, points),
    leaving,
    met: metOnWay(drainage.grid, points, joint, reading),
    ...doubtOf(ground, from, points, leaving),
  };
};

/** Several pours of one green, one after the other. */
export const pouredTogether = (
  { drainage, draws }: WaterGround,
  pours: readonly LonePour[],
): PouredWater => {
  const streams: PouredStream[] = [];
  for (const one of pours) streams.push({ ...one, joins: joinOf(one.points, streams) });
  const leaving: Leaving[] = [];
  for (const { leaving: own } of streams) {
    if (own !== null && !leaving.some((other) => isSameLeaving(other, own))) leaving.push(own);
  }
  return { streams, catchments: catchmentsOf(drainage, leaving), draws: draws.length };
};

/** Pours water at places on the green, one after the other. */
export const pour = (ground: WaterGround, places: readonly Point[]): PouredWater =>
  pouredTogether(
    ground,
    places.map((from) => pourAt(ground, from)),
  );
