import { firstIndex } from '../../first-index.js';
import type { Point, Polygon, Ring } from '../../geometry.js';
import { insideRing, signedArea } from '../../geometry.js';
import type { OutlineIndex, OutlinePlace } from '../outline-index.js';
import { crossingsOf } from '../outline-index.js';
import type { Isoline } from './isolines.js';

/** A piece of an isoline on the green: closed, or from the outline to the outline. */
export interface Piece {
  readonly points: readonly Point[];
  readonly closed: boolean;
  /** Where an open piece enters and leaves; null when closed. */
  readonly enter: OutlinePlace | null;
  readonly leave: OutlinePlace | null;
}

/** The parts of isolines that lie inside the outline. */
export const clipToOutline = (index: OutlineIndex, lines: readonly Isoline[]): Piece[] => {
  const pieces: Piece[] = [];
  for (const line of lines) {
    const { points, closed } = line;
    const segments = closed ? points.length : points.length - 1;
    let inside = insideRing(index.ring, points[0][0], points[0][1]);
    const startedInside = inside;
    let current: Point[] = inside ? [points[0]] : [];
    let enter: OutlinePlace | null = null;
    const first = pieces.length;
    let crossed = false;
    for (let k = 0; k < segments; k++) {
      const [px, py] = points[k];
      const q = points[(k + 1) % points.length];
      for (const crossing of crossingsOf(index, px, py, q[0], q[1])) {
        crossed = true;
        current.push(crossing.point);
        if (inside) {
          if (enter !== null || startedInside) {
            pieces.push({ points: current, closed: false, enter, leave: crossing.at });
          }
          current = [];
          enter = null;
        } else {
          current = [crossing.point];
          enter = crossing.at;
        }
        inside = !inside;
      }
      if (inside && !(closed && !crossed && k === segments - 1)) current.push(q);
    }
    if (!crossed) {
      if (inside) pieces.push({ points, closed, enter: null, leave: null });
    } else if (inside && closed && first < pieces.length && startedInside) {
      // The line began inside: its last piece runs on into its first.
      const head = pieces[first];
      pieces[first] = {
        points: [...current, ...head.points.slice(1)],
        closed: false,
        enter,
        leave: head.leave,
      };
    }
  }
  return pieces;
};

export const reversePiece = (piece: Piece): Piece => ({
  points: [...piece.points].reverse(),
  closed: piece.closed,
  enter: piece.leave,
  leave: piece.enter,
});

const before = (a: OutlinePlace, b: OutlinePlace): boolean =>
  a.edge < b.edge || (a.edge === b.edge && a.t < b.t);

const comparePlaces = (a: OutlinePlace, b: OutlinePlace): number => a.edge - b.edge || a.t - b.t;

/** Vertices of the ring passed on the way counter-clockwise from one place to another. */
const verticesBetween = (ring: Ring, from: OutlinePlace, to: OutlinePlace): Point[] => {
  const out: Point[] = [];
  let edge = from.edge;
  if (edge === to.edge && !before(to, from)) return out;
  do {
    edge = (edge + 1) % ring.length;
    out.push(ring[edge]);
  } while (edge !== to.edge);
  return out;
};

/** Area cut off by an open piece, on whichever side is smaller, square metres. */
export const areaCutOff = (index: OutlineIndex, piece: Piece, whole: number): number => {
  if (piece.closed) return Math.abs(signedArea(piece.points));
  if (piece.enter === null || piece.leave === null) return whole;
  const onLeft = Math.abs(
    signedArea([...piece.points, ...verticesBetween(index.ring, piece.leave, piece.enter)]),
  );
  return Math.min(onLeft, whole - onLeft);
};

const insidePolygon = (ring: Ring, point: Point): boolean => insideRing(ring, point[0], point[1]);

/**
 * Polygons of the ground that lies on the left of all pieces, bounded by them and by the outline.
 * @param wholeIsIn whether the outline itself lies in the ground when no piece meets it.
 */
export const assembleRegion = (
  index: OutlineIndex,
  pieces: readonly Piece[],
  wholeIsIn: boolean,
): Polygon[] => {
  const open = pieces.filter((piece) => piece.enter !== null && piece.leave !== null);
  open.sort((a, b) => comparePlaces(a.enter as OutlinePlace, b.enter as OutlinePlace));
  const outers: Ring[] = [];
  const holes: Ring[] = [];
  const used = new Uint8Array(open.length);
  const nextEntry = (place: OutlinePlace): number => {
    const next = firstIndex(open.length, (k) => !before(open[k].enter as OutlinePlace, place));
    return next === open.length ? 0 : next;
  };
  for (let start = 0; start < open.length; start++) {
    if (used[start]) continue;
    const ring: Point[] = [];
    let at = start;
    while (!used[at]) {
      used[at] = 1;
      const piece = open[at];
      // One by one: a call takes only so many arguments.
      for (const point of piece.points) ring.push(point);
      const leave = piece.leave as OutlinePlace;
      at = nextEntry(leave);
      const between = verticesBetween(index.ring, leave, open[at].enter as OutlinePlace);
      for (const vertex of between) ring.push(vertex);
    }
    outers.push(ring);
  }
  if (open.length === 0 && wholeIsIn) outers.push(index.ring);
  for (const piece of pieces) {
    if (!piece.closed) continue;
    if (signedArea(piece.points) >= 0) outers.push(piece.points);
    else holes.push(piece.points);
  }
  const areas = outers.map(signedArea);
  const polygons: Ring[][] = outers.map((ring) => [ring]);
  for (const hole of holes) {
    let best = -1;
    for (let k = 0; k < outers.length; k++) {
      if ((best < 0 || areas[k] < areas[best]) && insidePolygon(outers[k], hole[0])) best = k;
    }
    if (best >= 0) polygons[best].push(hole);
  }
  return polygons;
};

export const areaOfPolygon = (polygon: Polygon): number => {
  let sum = 0;
  for (const ring of polygon) sum += signedArea(ring);
  return sum;
};
