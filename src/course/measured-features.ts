import { quoted } from '../fault.js';
import { distance, lengthOf, type Point } from '../geometry.js';
import { metresToPaces, pacesToMetres } from '../units.js';
import type { HoleSite } from './course.js';
import type { FeatureKind, FeatureShape, LonLat, MapFeature } from './course-map.js';
import {
  centreOf,
  lineFrom,
  onMap,
  onPlane,
  type PlayLine,
  placeAlong,
  playLineOf,
  stationOf,
} from './play-line.js';

/** Where something was measured on a hole: two numbers. */
export interface MeasuredPlace {
  /** Paces along the line of play: on from a tee, or back from the middle of the green. */
  readonly on?: number;
  /** Instead: the straight distance, as a laser reads it from there. */
  readonly laser?: number;
  /** Beside the line of play, looking at the green; at most one of them. */
  readonly left?: number;
  readonly right?: number;
}

/** Something that the map lacks, as the course file or the notes give it. */
export interface MeasuredEntry extends MeasuredPlace {
  readonly kind: 'tee' | 'bunker' | 'water' | 'tree' | 'landmark' | 'line';
  /** "tee" is the rearmost; else the name of a tee, or "green". */
  readonly from?: string;
  readonly name?: string;
  /** Across, paces. */
  readonly size?: number;
  /** The other end of a line. */
  readonly to?: MeasuredPlace;
  /** When it was measured; in words. */
  readonly date?: string;
}

/** What is wrong with an entry, where in it, and what would be right. */
interface Refused {
  readonly path: readonly string[];
  readonly problem: string;
  readonly cure: string;
}

/** A measured thing in its place, or why it has none. */
export type Measured =
  | { readonly kind: 'feature'; readonly feature: MapFeature }
  | { readonly kind: 'no line' }
  | { readonly kind: 'no tee'; readonly tees: readonly string[] }
  | ({ readonly kind: 'no place' } & Refused);

/** Where a measurement starts; `back` when it runs from the green toward the tee. */
interface Origin {
  readonly at: Point;
  readonly back: boolean;
}

/** How wide a bunker and a pond are drawn when nothing is said, and half a line across, paces. */
const SIZES: Readonly<Record<string, number>> = { bunker: 8, water: 12 };
const HALF_LINE = 22;
const SIDES = 20;

/** The place `off` metres to the right of the line, where `along` of it is. */
const beside = (line: readonly Point[], along: number, off: number): Point => {
  const { at, toward } = placeAlong(line, along);
  return [at[0] + off * toward[1], at[1] - off * toward[0]];
};

/** Nothing of a hole but a landmark lies so far past the end of its line, paces. */
const PAST = 100;

/** Where along the line a straight distance is read, to a place `off` beside it: by halving. */
const alongOfLaser = (
  line: readonly Point[],
  from: Point,
  straight: number,
  off: number,
): number => {
  let [low, high] = [0, straight + Math.abs(off) + 60];
  // A bent line is longer than the straight way: the reach grows along it until it is passed.
  for (let more = 0; more < 12 && distance(from, beside(line, high, off)) < straight; more++) {
    high *= 1.3;
  }
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (distance(from, beside(line, middle, off)) < straight) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
};

const placeOf = (
  { points }: PlayLine,
  origin: Origin,
  place: MeasuredPlace,
): { readonly at: Point; readonly past: number } => {
  const off = pacesToMetres((place.right ?? 0) - (place.left ?? 0));
  // From the green, the line is walked back; right and left stay those of one who looks at the green.
  const line = origin.back ? [...points].reverse() : lineFrom(points, origin.at);
  const side = origin.back ? -off : off;
  const along =
    place.laser !== undefined
      ? alongOfLaser(line, origin.at, pacesToMetres(place.laser), side)
      : pacesToMetres(place.on ?? 0);
  return { at: beside(line, along, side), past: along - lengthOf(line) };
};

const KINDS: Readonly<Record<MeasuredEntry['kind'], FeatureKind>> = {
  bunker: 'bunker',
  water: 'water',
  tree: 'tree',
  landmark: 'landmark',
  line: 'path',
  tee: 'tee',
};

/** Where a measurement starts: the rearmost tee, a tee by its name, or the middle of the green; else the names of the tees. */
const originOf = (play: PlayLine, site: HoleSite, from: string): Origin | readonly string[] => {
  const { plane, points } = play;
  if (from === 'green') return { at: points[points.length - 1], back: true };
  const tees = site.tees.map((tee) => ({
    name: tee.name ?? '',
    at: centreOf(plane, tee),
  }));
  if (from === 'tee') {
    const [rear] = tees
      .map((tee) => ({ ...tee, along: stationOf(points, tee.at).along }))
      .sort((a, b) => a.along - b.along);
    return { at: rear?.at ?? points[0], back: false };
  }
  const named = tees.find((tee) => tee.name.toLowerCase() === from.trim().toLowerCase());
  return named === undefined ? tees.map((tee) => tee.name) : { at: named.at, back: false };
};

/** A hole is teed off no nearer to the middle of its green than this, metres. */
const NEAREST_TEE = 30;

/** Why a tee cannot stand where it was measured, or be called so; null when it can. */
const refusedTee = (
  { plane, points }: PlayLine,
  { tees }: HoleSite,
  shape: FeatureShape,
  name: string | null,
): { readonly problem: string; readonly cure: string } | null => {
  if (tees.some((tee) => tee.name?.toLowerCase() === name?.trim().toLowerCase())) {
    return {
      problem: `the hole has a tee ${quoted(name)} already`,
      cure: 'give it another name, or name the tee by the key "tees"',
    };
  }
  if (shape.kind !== 'point') return null;
  const left = lengthOf(points) - stationOf(points, onPlane(plane, shape.at)).along;
  return left >= NEAREST_TEE
    ? null
    : {
        problem: `the tee lies ${left < 1 ? 'past the green' : `${Math.round(left)} m before the middle of the green`}`,
        cure: 'from a tee, paces are counted on to the green; from: green counts them back',
      };
};

/** Why two numbers are no place on the hole; null when they are. */
const refusedPlace = (
  play: PlayLine,
  origin: Origin,
  kind: MeasuredEntry['kind'],
  place: MeasuredPlace,
): Omit<Refused, 'path'> | null => {
  const { laser, left, right } = place;
  const side = left ?? right ?? 0;
  if (laser !== undefined && laser < side) {
    return {
      problem: `a straight distance of ${laser} is shorter than the ${side} to the ${left === undefined ? 'right' : 'left'}`,
      cure: 'laser is the whole distance to the thing; on counts along the line of play alone',
    };
  }
  const past = metresToPaces(placeOf(play, origin, place).past);
  if (kind === 'landmark' || kind === 'tee' || past <= PAST) return null;
  return {
    problem: `the place lies ${Math.round(past)} paces ${origin.back ? 'behind the start of the line of play' : 'past the middle of the green'}`,
    cure: origin.back
      ? 'from: green counts back toward the tee'
      : 'from a tee, paces are counted on to the green; from: green counts them back',
  };
};

/** A day as it is written by ISO 8601 and is in no calendar. */
const isNoDay = (date: string): boolean => {
  const written = date.trim();
  if (!/^\d{4}-\d{2}-\d{2}$/.test(written)) return false;
  const day = new Date(`${written}T00:00:00Z`);
  return Number.isNaN(day.getTime()) || day.toISOString().slice(0, 10) !== written;
};

/** What of a measurement cannot be; null when all can. */
const refusedEntry = (play: PlayLine, origin: Origin, entry: MeasuredEntry): Refused | null => {
  const { kind, to, date } = entry;
  if (date !== undefined && isNoDay(date)) {
    return { path: ['date'], problem: `there is no day ${date}`, cure: 'write 2026-05-01' };
  }
  if (to !== undefined && kind !== 'line') {
    return {
      path: ['to'],
      problem: `a ${kind} has no other end`,
      cure: 'only a line has one; "size" says how far a thing reaches',
    };
  }
  const here = refusedPlace(play, origin, kind, entry);
  if (here !== null) return { path: [], ...here };
  const there = to === undefined ? null : refusedPlace(play, origin, kind, to);
  return there === null ? null : { path: ['to'], ...there };
};

/** A measured thing as a feature of the map, in its place on the hole. */
export const measuredFeature = (
  id: string,
  site: HoleSite,
  entry: MeasuredEntry,
  number: number,
): Measured => {
  const play = playLineOf(site);
  if (play === null) return { kind: 'no line' };
  const origin = originOf(play, site, entry.from ?? 'tee');
  if (!('back' in origin)) return { kind: 'no tee', tees: origin };
  const { kind, name, date } = entry;
  const wrong = refusedEntry(play, origin, entry);
  if (wrong !== null) return { kind: 'no place', ...wrong };
  const shape = shapeOf(play, origin, entry);
  const called = name ?? (kind === 'tee' ? `Tee ${site.tees.length + 1}` : null);
  const refused = kind === 'tee' ? refusedTee(play, site, shape, called) : null;
  if (refused !== null) return { kind: 'no place', path: [], ...refused };
  const feature: MapFeature = {
    id: `${kind} ${number} measured on hole ${id}`,
    kind: KINDS[kind],
    refs: [id],
    name: called ?? (kind === 'landmark' ? 'mark' : null),
    tags: {
      ...(kind === 'landmark' ? { landmark: 'post' } : {}),
      ...(date === undefined ? {} : { 'survey:date': date }),
    },
    shape,
  };
  return { kind: 'feature', feature };
};

const shapeOf = (play: PlayLine, origin: Origin, entry: MeasuredEntry): FeatureShape => {
  const { at } = placeOf(play, origin, entry);
  const toMap = (p: Point): LonLat => onMap(play.plane, p);
  if (entry.kind === 'tree' || entry.kind === 'landmark' || entry.kind === 'tee') {
    return { kind: 'point', at: toMap(at) };
  }
  if (entry.kind === 'line') {
    const ends: readonly [Point, Point] =
      entry.to !== undefined
        ? [at, placeOf(play, origin, entry.to).at]
        : [
            placeOf(play, origin, { ...entry, left: HALF_LINE, right: 0 }).at,
            placeOf(play, origin, { ...entry, left: 0, right: HALF_LINE }).at,
          ];
    return { kind: 'line', points: ends.map(toMap) };
  }
  const radius = pacesToMetres(entry.size ?? SIZES[entry.kind]) / 2;
  const ring = Array.from({ length: SIDES }, (_, i): LonLat => {
    const angle = (2 * Math.PI * i) / SIDES;
    return toMap([at[0] + radius * Math.cos(angle), at[1] + radius * Math.sin(angle)]);
  });
  return { kind: 'area', rings: [ring] };
};

/** A hole's site with a measured tee among its tees. */
export const withTee = (site: HoleSite, feature: MapFeature): HoleSite =>
  feature.kind === 'tee' ? { ...site, tees: [...site.tees, feature] } : site;

/** What is wrong with a measurement. */
export const notMeasured = (
  found: Exclude<Measured, { kind: 'feature' }>,
  id: string,
  entry: MeasuredEntry,
): Refused => {
  if (found.kind === 'no line') {
    return {
      path: [],
      problem: `hole ${id} has no line of play to measure along`,
      cure: 'give it by the key "line" of the course file',
    };
  }
  if (found.kind === 'no place') return found;
  return {
    path: ['from'],
    problem: `hole ${id} has no tee ${quoted(entry.from)}`,
    cure: `write ${['tee', 'green', ...found.tees].join(', ')}`,
  };
};
