import type { Box } from '../../geometry.js';
import { boxOf } from '../../geometry.js';
import { codeOf, utmDefinition } from './definitions.js';
import { type FilePlacement, placementOf, type Stated } from './placement.js';
import type { LengthUnit, Plane } from './plane.js';

/**
 * Why a survey does not lie on its green: the same numbers are placed by each of the ways that people get
 * wrong, and the first way by which they land on the green is named.
 */

/** Another reading of the same numbers. */
interface Guess {
  readonly exchanged: boolean;
  readonly stated: Stated;
  /** "with x and y exchanged" */
  readonly words: string;
  readonly cure: string;
}

const UNIT_WORDS: Readonly<Record<LengthUnit, string>> = {
  m: 'metres',
  ft: 'international feet',
  'us-ft': 'US survey feet',
};

const UNITS: readonly LengthUnit[] = ['m', 'us-ft', 'ft'];

const exchangedBox = (box: Box): Box => ({
  minX: box.minY,
  maxX: box.maxY,
  minY: box.minX,
  maxY: box.maxX,
});

const inDegrees = ({ minX, minY, maxX, maxY }: Box): boolean =>
  minX >= -180 && maxX <= 180 && minY >= -180 && maxY <= 180;

/** The zones beside a UTM zone, and the same zone of the other hemisphere. */
export const neighbouringSystems = (crs: string): string[] => {
  const code = codeOf(crs);
  if (code === null || utmDefinition(code) === null) return [];
  const other = code >= 32601 && code <= 32660 ? code + 100 : code - 100;
  return [code - 1, code + 1, other]
    .filter((next) => utmDefinition(next) !== null)
    .map((next) => `EPSG:${next}`);
};

const zoneOf = (plane: Plane, window: Box): string => {
  const [longitude, latitude] = plane.toMap(
    (window.minX + window.maxX) / 2,
    (window.minY + window.maxY) / 2,
  );
  const zone = Math.min(60, Math.max(1, Math.floor((longitude + 180) / 6) + 1));
  return `EPSG:${(latitude < 0 ? 32700 : 32600) + zone}`;
};

const guessesOf = (extent: Box, stated: Stated, plane: Plane | null, window: Box): Guess[] => {
  const guesses: Guess[] = [];
  const add = (exchanged: boolean, change: Partial<Stated>, words: string, cure: string): void => {
    guesses.push({ exchanged, stated: { ...stated, ...change }, words, cure });
  };
  const order = 'check the order of the columns';
  add(true, {}, 'with x and y exchanged', order);
  for (const unit of UNITS) {
    add(false, { unit }, `as ${UNIT_WORDS[unit]}`, 'check the unit');
  }
  for (const unit of UNITS) {
    const words = `as ${UNIT_WORDS[unit]} with x and y exchanged`;
    add(true, { unit }, words, 'check the unit and the order of the columns');
  }
  if (plane === null) return guesses;
  if (inDegrees(extent)) {
    const degrees = { crs: 'EPSG:4326', unit: null };
    const cure = 'state the coordinate system EPSG:4326';
    add(false, degrees, 'as longitude and latitude', cure);
    add(true, degrees, 'as latitude and longitude', `${cure} and the order of the columns`);
  }
  const systems = stated.crs === null ? [] : neighbouringSystems(stated.crs);
  for (const crs of [...systems, zoneOf(plane, window)]) {
    add(false, { crs, unit: null }, `in ${crs}`, 'check the coordinate system');
    add(true, { crs, unit: null }, `in ${crs} with x and y exchanged`, order);
  }
  return guesses;
};

/** Where a box of the file's numbers comes to lie; null when it does not come to lie anywhere. */
const placedBox = (extent: Box, placement: FilePlacement): Box | null => {
  const out = new Float64Array(2);
  const steps = [0, 0.5, 1];
  const corners = steps.flatMap((s) =>
    steps.map((t): [number, number] => {
      placement.place(
        extent.minX + s * (extent.maxX - extent.minX),
        extent.minY + t * (extent.maxY - extent.minY),
        out,
      );
      return [out[0], out[1]];
    }),
  );
  return corners.flat().every(Number.isFinite) ? boxOf(corners) : null;
};

/** How much of the smaller box lies in the larger one, 0 to 1. */
const overlap = (a: Box, b: Box): number => {
  const along = (low: number, high: number, low2: number, high2: number): number => {
    const shared = Math.min(high, high2) - Math.max(low, low2);
    const least = Math.min(high - low, high2 - low2);
    return shared < 0 ? 0 : least === 0 ? 1 : shared / least;
  };
  return along(a.minX, a.maxX, b.minX, b.maxX) * along(a.minY, a.maxY, b.minY, b.maxY);
};

const distanceBetween = (a: Box, b: Box): number =>
  Math.hypot(
    Math.max(0, a.minX - b.maxX, b.minX - a.maxX),
    Math.max(0, a.minY - b.maxY, b.minY - a.maxY),
  );

/** "38 m", "4.2 km", "4 200 km". */
const distanceWords = (metres: number): string => {
  if (metres < 1000) return `${Math.round(metres)} m`;
  const km = metres / 1000;
  return `${km < 10 ? km.toFixed(1) : String(Math.round(km)).replace(/\B(?=(\d{3})+$)/g, ' ')} km`;
};

export interface LikelyCause {
  /** "the points land 4 200 km from the outline" */
  readonly problem: string;
  /** "with x and y exchanged they fit: check the order of the columns" */
  readonly cure: string;
}

/**
 * @param extent of the file's own numbers
 * @param window the outline's box, metres of the plane; without a plane that of the places asked for
 */
export const likelyCause = (
  extent: Box,
  window: Box,
  stated: Stated,
  plane: Plane | null,
): LikelyCause => {
  const lands = (exchanged: boolean, how: Stated): Box | null => {
    try {
      return placedBox(exchanged ? exchangedBox(extent) : extent, placementOf(how, plane, ''));
    } catch {
      return null;
    }
  };
  const here = lands(false, stated);
  const away = here === null ? null : distanceBetween(here, window);
  const target = plane === null ? 'the places asked for' : 'the outline';
  const problem =
    away === null || !Number.isFinite(away)
      ? 'the points do not lie in their coordinate system'
      : away === 0
        ? `none of the points lies ${plane === null ? 'near the places asked for, though they lie round them' : 'on the green, though they lie round it'}`
        : `the points land ${distanceWords(away)} from ${target}`;
  if (away === 0) {
    return { problem, cure: `the survey does not cover ${plane === null ? 'them' : 'the green'}` };
  }
  let best: Guess | null = null;
  let most = 0;
  for (const guess of guessesOf(extent, stated, plane, window)) {
    const there = lands(guess.exchanged, guess.stated);
    const share = there === null ? 0 : overlap(there, window);
    // The simpler guess comes first, and stays unless a later one fits clearly better.
    if (share > most + 0.1) {
      best = guess;
      most = share;
    }
  }
  if (best !== null) return { problem, cure: `${best.words} they fit: ${best.cure}` };
  return {
    problem,
    cure:
      stated.crs === null && plane !== null && plane.definition !== null
        ? 'state the coordinate system of the survey'
        : `check the ${plane === null ? 'places' : 'coordinate system'}, the unit and the order of the columns`,
  };
};
