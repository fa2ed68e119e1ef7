import type { Point } from '../../geometry.js';
import { HX, HY, JET_SIZE } from '../../surface/surface.js';
import type { GroundGrid } from '../ground-grid.js';
import { nearestNode } from '../ground-grid.js';
import type { GroundGraph } from '../points/persistence.js';
import { traceIsolines } from '../regions/isolines.js';
import { areaCutOff, assembleRegion, clipToOutline } from '../regions/region.js';
import type { Drainage } from '../water/drained-ground.js';
import { boxMean } from './bend-field.js';
import type { Part } from './part.js';
import { partOf } from './part.js';

/** A false edge runs along at least this length of the edge, metres, and reaches in no further than this. */
const LEAST_LENGTH = 3;
const DEEPEST = 7;
/** Each part of divided steep ground has at least this area, m2. */
const LEAST_PART = 8;
/** The border between face and false edge is smoothed over this many metres to each side. */
const SMOOTH = 0.5;

/** Gentler ground at the foot of a false edge, no deeper than this, leaves no room for a tier: metres. */
const APRON = 3;

export interface SteepPiece {
  readonly piece: Part;
  /** Mean way out over the edge, for a false edge; null for a face inside the green. */
  readonly outward: Point | null;
}

/** How a part meets the edge: the length over which the ground falls outwards there, and the mean way out. */
const edgeOf = (
  { grid, shares }: Drainage,
  graph: GroundGraph,
  part: Part,
): { length: number; outward: Point } => {
  const own = new Uint8Array(grid.height.length);
  for (const n of part.nodes) {
    own[n] = 1;
    // And the apron that it drains over.
    let walked = 0;
    for (let m = shares.first[n]; m >= 0 && !own[m] && walked < APRON; m = shares.first[m]) {
      own[m] = 1;
      walked += grid.step;
    }
  }
  const jet = new Float64Array(JET_SIZE);
  const { ring } = grid.outline;
  const rimCount = graph.count - graph.gridCount;
  let length = 0;
  let ox = 0;
  let oy = 0;
  for (let k = 0; k < rimCount; k++) {
    const x = graph.x[graph.gridCount + k];
    const y = graph.y[graph.gridCount + k];
    const [ax, ay] = ring[graph.edge[k]];
    const [bx, by] = ring[(graph.edge[k] + 1) % ring.length];
    const long = Math.hypot(bx - ax, by - ay) || 1;
    const nx = (by - ay) / long;
    const ny = (ax - bx) / long;
    const inward = 0.75 * grid.step;
    if (!own[nearestNode(grid, x - nx * inward, y - ny * inward)]) continue;
    grid.surface.at(x, y, jet);
    const grade = Math.hypot(jet[HX], jet[HY]);
    // Falling outwards within 60 degrees of straight out.
    if (jet[HX] * nx + jet[HY] * ny > -0.5 * grade) continue;
    const next = graph.gridCount + ((k + 1) % rimCount);
    const step = Math.hypot(graph.x[next] - x, graph.y[next] - y);
    length += step;
    ox += nx * step;
    oy += ny * step;
  }
  const size = Math.hypot(ox, oy) || 1;
  return { length, outward: [ox / size, oy / size] };
};

const asFalseEdge = (drainage: Drainage, graph: GroundGraph, part: Part): Point | null => {
  const { length, outward } = edgeOf(drainage, graph, part);
  return length >= LEAST_LENGTH && part.area / length <= DEEPEST ? outward : null;
};

/** Share of each node's water that goes over the edge before it has come to more gentle ground than an apron. */
const shareOverEdge = (drainage: Drainage, part: Part): Float64Array => {
  const { grid, flood, shares } = drainage;
  const steep = new Uint8Array(grid.height.length);
  for (const n of part.nodes) steep[n] = 1;
  const over = new Float64Array(grid.height.length);
  const toEdge = new Float64Array(grid.height.length);
  for (const n of flood.order) {
    if (!grid.inside[n]) {
      over[n] = 1;
      continue;
    }
    const to = shares.first[n];
    toEdge[n] = to < 0 ? Infinity : toEdge[to] + stepBetween(grid, n, to);
    if (!steep[n]) {
      over[n] = toEdge[n] <= APRON ? 1 : 0;
      continue;
    }
    const first = shares.first[n];
    if (first >= 0) over[n] = over[first] * shares.share[n];
    const second = shares.second[n];
    if (second >= 0) over[n] += over[second] * (1 - shares.share[n]);
  }
  return over;
};

const stepBetween = (grid: GroundGrid, a: number, b: number): number => {
  const apart = Math.abs(a - b);
  return apart === 1 || apart === grid.columns ? grid.step : grid.step * Math.SQRT2;
};

/**
 * Steep ground as faces and false edges: what drains straight over the edge of the green is a false
 * edge (or front), what drains on to gentler ground is a face. Connected steep ground may be both.
 */
export const splitSteepGround = (
  drainage: Drainage,
  graph: GroundGraph,
  part: Part,
  faceGrade: number,
  area: number,
): SteepPiece[] => {
  const { grid } = drainage;
  const over = shareOverEdge(drainage, part);
  let sum = 0;
  for (const n of part.nodes) sum += over[n];
  const share = sum / part.nodes.length;
  if (share > 0.8 || share * part.area < LEAST_PART) {
    return [{ piece: part, outward: share > 0.8 ? asFalseEdge(drainage, graph, part) : null }];
  }
  const falseEdges = sidePieces(grid, part, over, 1, { faceGrade, area }).flatMap((piece) => {
    const outward = asFalseEdge(drainage, graph, piece);
    return outward === null ? [] : [{ piece, outward }];
  });
  if (falseEdges.length === 0) return [{ piece: part, outward: null }];
  // What drains over the edge but makes no false edge stays with the face.
  const given = new Float64Array(over.length);
  for (const { piece } of falseEdges) for (const n of piece.nodes) given[n] = 1;
  const faces = sidePieces(grid, part, given, -1, { faceGrade, area });
  return [...falseEdges, ...faces.map((piece) => ({ piece, outward: null }))];
};

/** The parts of steep ground where the share, smoothed, is over (sign 1) or under a half. */
const sidePieces = (
  grid: GroundGrid,
  part: Part,
  share: Float64Array,
  sign: 1 | -1,
  { faceGrade, area }: { readonly faceGrade: number; readonly area: number },
): Part[] => {
  const reach = Math.max(1, Math.round(SMOOTH / grid.step));
  const smooth = boxMean(spread(grid, part, share), grid.columns, grid.rows, reach);
  const level = faceGrade * faceGrade;
  const value = new Float64Array(grid.height.length);
  for (let n = 0; n < value.length; n++) {
    const steepness = grid.hx[n] * grid.hx[n] + grid.hy[n] * grid.hy[n] - level;
    value[n] = Math.min(steepness, sign * (smooth[n] - 0.5) * level);
  }
  const lines = clipToOutline(grid.outline, traceIsolines({ ...grid, value }, 0)).filter(
    (line) => areaCutOff(grid.outline, line, area) >= LEAST_PART,
  );
  const own = new Uint8Array(grid.height.length);
  for (const n of part.nodes) own[n] = 1;
  return assembleRegion(grid.outline, lines, false).flatMap((polygon) => {
    const piece = partOf(grid, polygon);
    const counts =
      piece !== null && piece.area >= LEAST_PART && piece.nodes.some((n) => own[n] === 1);
    return counts ? [piece] : [];
  });
};

/** The share, carried over to nodes beside the steep ground, so that smoothing does not blur its rim. */
const spread = (grid: GroundGrid, part: Part, over: Float64Array): Float64Array => {
  const out = Float64Array.from(over);
  const known = new Uint8Array(over.length);
  for (const n of part.nodes) known[n] = 1;
  let front = [...part.nodes];
  for (let round = 0; round < 4; round++) {
    const next: number[] = [];
    for (const n of front) {
      for (const other of [n + 1, n - 1, n + grid.columns, n - grid.columns]) {
        if (known[other] !== 0) continue;
        known[other] = 1;
        out[other] = out[n];
        next.push(other);
      }
    }
    front = next;
  }
  return out;
};
