import type { Point } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { METRES_PER_PACE } from '../units.js';
import { type Marker, markerOf } from './marker.js';
import type { ArrivingPutt, PuttSettings, Quadrant, TableCell } from './putt.js';
import { breakTable, quadrantDirection } from './table.js';
import { puttGround } from './workspace.js';

/**
 * What to picture from a tee: putting up, the ball running past the hole; putting down, stopping short of
 * it; from the sides, rolling over the same point above it. Common practice, no source.
 */
export type Picture = 'runs past' | 'stops short' | 'over the point above';

export interface StationTee {
  readonly quadrant: Quadrant;
  readonly tee: Point;
  readonly picture: Picture;
  readonly outcome: TableCell['outcome'];
  readonly putt: ArrivingPutt | null;
  /**
   * Where to picture a hole on the level, that the same stroke would reach at the same pace past it:
   * metres beyond the hole, negative this side of it. Null without a putt.
   */
  readonly pictured: number | null;
}

/** Four tees one pace from the hole on its fall line and across it. */
export interface PracticeStation {
  readonly hole: Point;
  readonly settings: PuttSettings;
  /** Unit vector downhill at the hole. */
  readonly fall: Point;
  readonly grade: number;
  /** Metres from the hole to each tee. */
  readonly distance: number;
  /** Below, above, left, right, looking up the fall line. */
  readonly tees: readonly StationTee[];
  /**
   * The point above the hole over which both side putts aim: the mean of their aims, and by how far
   * the two differ, metres. Null when a side has no putt.
   */
  readonly above: {
    readonly at: Point;
    readonly distance: number;
    readonly difference: number;
  } | null;
  /** The one marker that serves all four, or why none does; null where one of them has no putt. */
  readonly marker: Marker | null;
}

const PICTURES: Readonly<Record<Quadrant, Picture>> = {
  below: 'runs past',
  above: 'stops short',
  left: 'over the point above',
  right: 'over the point above',
};

/** The practice station of a hole location. */
export const practiceStation = (
  surface: Surface,
  hole: Point,
  settings: PuttSettings,
  distance = METRES_PER_PACE,
): PracticeStation => {
  const { fall, grade, cells } = breakTable(surface, hole, [distance], settings);
  const tees = cells.map(
    ({ quadrant, ball, outcome, putt }): StationTee => ({
      quadrant,
      tee: ball,
      picture: PICTURES[quadrant],
      outcome,
      putt,
      pictured: putt === null ? null : putt.pace - settings.past - distance,
    }),
  );
  const [, , left, right] = tees;
  const [ux, uy] = quadrantDirection('above', fall);
  // From the left of the fall line uphill is to the left of the line of play, from the right to its right.
  const height =
    left.putt === null || right.putt === null
      ? null
      : (left.putt.aimOffset - right.putt.aimOffset) / 2;
  const putts = cells.flatMap(({ quadrant, outcome, putt }) =>
    outcome === 'solved' && putt !== null ? [{ quadrant, putt }] : [],
  );
  return {
    hole,
    settings,
    fall,
    grade,
    distance,
    tees,
    above:
      height === null || left.putt === null || right.putt === null
        ? null
        : {
            at: [hole[0] + height * ux, hole[1] + height * uy],
            distance: height,
            difference: Math.abs(left.putt.aimOffset + right.putt.aimOffset),
          },
    marker: markerOf(puttGround(surface, settings), { hole, fall, distance, putts }),
  };
};
