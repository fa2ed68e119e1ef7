import { distance, nearestOnSegment, type Point, type Ring } from '../geometry.js';
import type { Stream } from '../terrain/reading.js';

/** Toward which part of the green something lies or falls, as seen from its front. */
export type PartOfGreen =
  | 'back'
  | 'back right'
  | 'right'
  | 'front right'
  | 'front'
  | 'front left'
  | 'left'
  | 'back left';

/** A place and how far it is, metres. */
export interface NearPlace {
  readonly at: Point;
  readonly distance: number;
  readonly toward: PartOfGreen;
}

/** How a hole lies on its green, so that it is found again: frame of the green, metres. */
export interface StationSetting {
  /** The nearest place of the edge. */
  readonly edge: NearPlace;
  /** The nearest place of the main drainage line; null where none is known. */
  readonly stream: NearPlace | null;
  readonly falls: PartOfGreen;
}

const PARTS: readonly PartOfGreen[] = [
  'back',
  'back right',
  'right',
  'front right',
  'front',
  'front left',
  'left',
  'back left',
];

/** The eighth of the circle that a direction of plan lies in. */
const partOfGreen = ([x, y]: Point): PartOfGreen =>
  PARTS[Math.round((Math.atan2(x, y) * 4) / Math.PI + 8) % 8];

const nearestOn = (line: readonly Point[], from: Point): NearPlace | null => {
  let best: Point | null = null;
  for (let i = 1; i < line.length; i++) {
    const at = nearestOnSegment(line[i - 1], line[i], from);
    if (best === null || distance(at, from) < distance(best, from)) best = at;
  }
  return best === null
    ? null
    : {
        at: best,
        distance: distance(best, from),
        toward: partOfGreen([best[0] - from[0], best[1] - from[1]]),
      };
};

/** Edge, fall and stream about a hole. */
export const stationSetting = (
  outline: Ring,
  streams: readonly Stream[],
  hole: Point,
  fall: Point,
): StationSetting => {
  const edge = nearestOn([...outline, outline[0]], hole);
  if (edge === null) throw new RangeError('a green has an outline');
  const near = streams
    .filter(({ main }) => main)
    .flatMap(
      ({ points }) =>
        nearestOn(
          points.map(([x, y]): Point => [x, y]),
          hole,
        ) ?? [],
    );
  return {
    edge,
    stream: near.sort((a, b) => a.distance - b.distance)[0] ?? null,
    falls: partOfGreen(fall),
  };
};
