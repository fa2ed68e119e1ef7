import { geoAzimuthalEquidistant } from 'd3-geo';
import type { LonLat } from '../../course/course-map.js';
import { geodesicBearing } from '../../course/geodesy.js';
import type { HoleFigures } from '../../course/hole-figures.js';
import { degreesToRadians, radiansToDegrees } from '../../units.js';
import type { Cell } from '../kit/grid.js';
import type { Mm } from '../marks/marks.js';

/** Places a hole on paper, turned so that play runs up the page. It draws; it does not measure. */
export interface HoleFrame {
  /** Metres of ground per metre of paper. */
  readonly scale: number;
  /** The part of the cell that the drawing may fill; labels stand to its left and right. */
  readonly window: Cell;
  readonly onPaper: (at: LonLat) => Mm;
  /** The place on the ground that is drawn there. */
  readonly onGround: (at: Mm) => LonLat;
}

/** Mean radius of the Earth (IUGG), metres: d3 draws on a sphere. */
const EARTH = 6371008.8;
/** Ground shown to each side of the line of play at least, metres. */
const CORRIDOR = 34;
const BEHIND = 16;
/** A hole is turned away from tee below, green above by no more than this, degrees. */
const MOST_TURN = 30;
/** How much larger the drawing must become to be worth a degree of turning. */
const PER_DEGREE = 0.005;
/** The largest scale at which a hole is drawn. */
const LARGEST = 900;
const SCALE_STEP = 25;

interface Projection {
  readonly toPlane: (at: LonLat) => Mm;
  readonly toMap: (at: Mm) => LonLat;
}

const projection = (centre: LonLat, turn: number): Projection => {
  const project = geoAzimuthalEquidistant()
    .rotate([-centre[0], -centre[1]])
    .scale(EARTH)
    .translate([0, 0])
    .precision(0)
    .angle(turn);
  return {
    toPlane: ([longitude, latitude]) => {
      const [x, y] = project([longitude, latitude]) as [number, number];
      return [x, y];
    },
    toMap: ([x, y]) => {
      const [longitude, latitude] = project.invert!([x, y]) as [number, number];
      return [longitude, latitude];
    },
  };
};

/** What must be seen: the corridor of the line of play, the tees, the green and the hazards in play. */
const groundOf = (figures: HoleFigures): { at: LonLat; room: number }[] => {
  const shown: { at: LonLat; room: number }[] = [];
  figures.line.forEach((at, i) => {
    shown.push({ at, room: CORRIDOR });
    const next = figures.line[i + 1];
    if (next === undefined) return;
    for (let k = 1; k < 6; k++) {
      shown.push({
        at: [at[0] + (k / 6) * (next[0] - at[0]), at[1] + (k / 6) * (next[1] - at[1])],
        room: CORRIDOR,
      });
    }
  });
  for (const tee of figures.tees) shown.push({ at: tee.at, room: BEHIND });
  for (const at of figures.green ?? []) shown.push({ at, room: 6 });
  for (const hazard of figures.hazards) {
    if (hazard.feature.kind !== 'bunker' || hazard.feature.shape.kind !== 'area') continue;
    for (const at of hazard.feature.shape.rings[0]) shown.push({ at, room: 3 });
  }
  return shown;
};

/** The bounds of points turned clockwise on the page by `turn` degrees. */
const boundsOf = (
  ground: readonly { readonly at: Mm; readonly room: number }[],
  turn: number,
): Cell => {
  const [cos, sin] = [Math.cos(degreesToRadians(turn)), Math.sin(degreesToRadians(turn))];
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { at, room } of ground) {
    const x = at[0] * cos - at[1] * sin;
    const y = at[0] * sin + at[1] * cos;
    // Along the line of play less room is needed than beside it.
    const along = Math.min(room, BEHIND);
    minX = Math.min(minX, x - room);
    maxX = Math.max(maxX, x + room);
    minY = Math.min(minY, y - along);
    maxY = Math.max(maxY, y + along);
  }
  return { x: minX, y: minY, width: maxX - minX, height: maxY - minY };
};

/**
 * The frame of a hole in a cell, with `gutter` millimetres left free on either side for labels. From tee
 * to green runs up the page; a dog-leg that is bound by its width is turned, up to 30 degrees, as far as
 * the drawing gains by it.
 */
export const holeFrame = (figures: HoleFigures, cell: Cell, gutter: number): HoleFrame => {
  const window: Cell = {
    x: cell.x + gutter,
    y: cell.y,
    width: cell.width - 2 * gutter,
    height: cell.height,
  };
  const first = figures.line[0];
  const last = figures.greenMiddle;
  const centre: LonLat = [(first[0] + last[0]) / 2, (first[1] + last[1]) / 2];
  const flat = projection(centre, 0).toPlane;
  const ground = groundOf(figures).map(({ at, room }) => ({ at: flat(at), room }));
  const [ax, ay] = flat(first);
  const [bx, by] = flat(last);
  const upright =
    ax === bx && ay === by
      ? geodesicBearing(first, last)
      : radiansToDegrees(Math.atan2(bx - ax, -(by - ay)));
  let best = { cost: Infinity, need: Infinity, turn: upright, bounds: window };
  for (let away = -MOST_TURN; away <= MOST_TURN; away++) {
    const bounds = boundsOf(ground, -(upright + away));
    const need = Math.max(bounds.width / window.width, bounds.height / window.height) * 1000;
    const cost = need * (1 + PER_DEGREE * Math.abs(away));
    if (cost < best.cost - 1e-9) best = { cost, need, turn: upright + away, bounds };
  }
  const scale = Math.ceil(Math.max(LARGEST, best.need) / SCALE_STEP) * SCALE_STEP;
  const project = projection(centre, best.turn);
  const mm = 1000 / scale;
  const { bounds } = best;
  const left = window.x + window.width / 2 - (bounds.x + bounds.width / 2) * mm;
  const top = window.y + window.height / 2 - (bounds.y + bounds.height / 2) * mm;
  return {
    scale,
    window,
    onPaper: (at) => {
      const [x, y] = project.toPlane(at);
      return [left + x * mm, top + y * mm];
    },
    onGround: ([x, y]) => project.toMap([(x - left) / mm, (y - top) / mm]),
  };
};
