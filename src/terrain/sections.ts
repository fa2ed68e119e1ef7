import type { Point, Polygon } from '../geometry.js';
import { boxOf } from '../geometry.js';
import { HX, HY, JET_SIZE } from '../surface/surface.js';
import type { GroundGrid } from './ground-grid.js';
import { nearestNode } from './ground-grid.js';
import type { LevelField } from './isolines.js';
import { traceIsolines } from './isolines.js';
import type { Part } from './part.js';
import { partOf } from './part.js';
import type { GroundGraph } from './persistence.js';
import type { CriticalPoint, Section, SectionKind, Stream } from './reading.js';
import { areaCutOff, assembleRegion, clipToOutline, reversePiece } from './region.js';
import { distinctNames, falseEdgeName, positionWord, tierName } from './section-names.js';

export interface SectionOptions {
  /** Grade over which ground is a face; null: 1.8 times the median grade of the green, 4.5 to 7 %. */
  readonly faceGrade: number | null;
  /** Least height from the foot of a face to its brow, metres. */
  readonly leastFaceRise: number;
  /** A level part of the green smaller than this share of it is a shelf, larger a tier. */
  readonly shelfShare: number;
  /** Bend across the fall line from which ground counts as hollow or crowned, 1/m. */
  readonly hollowBend: number;
}

/** Parts smaller than this are left out, m2, or as a share of the green where that is more. */
const LEAST_PART = 5;
const LEAST_LEVEL_SHARE = 0.06;
const LEAST_HOLLOW_SHARE = 0.03;
/** A false front meets the edge along at least this length, metres, and reaches in no further than twice it. */
const LEAST_FALSE_EDGE = 3;
const DEEPEST_FALSE_EDGE = 7;
/** Longer than this times its width, a hollow is a swale. */
const SWALE = 1.8;
/** Bends are averaged over squares of this half-width, metres: a section is no smaller. */
const WINDOW = 1;
/** Grade under which the direction of fall says little; the mean bend is used instead. */
const SOFT = 0.004;

interface Ground {
  readonly grid: GroundGrid;
  readonly area: number;
}

/** Ground where the field is at or over (sign 1) or under (-1) a level, in connected parts. */
const partsOver = (
  { grid, area }: Ground,
  field: LevelField,
  level: number,
  sign: 1 | -1,
  minIsland: number,
): Part[] => {
  const pieces = clipToOutline(grid.outline, traceIsolines(field, level)).filter(
    (piece) => areaCutOff(grid.outline, piece, area) >= minIsland,
  );
  let over = 0;
  for (let n = 0; n < field.value.length; n++) {
    if (grid.inside[n] && field.value[n] >= level) over++;
  }
  const wholeOver = 2 * over > grid.insideCount;
  const polygons: Polygon[] = assembleRegion(
    grid.outline,
    sign > 0 ? pieces : pieces.map(reversePiece),
    sign > 0 ? wholeOver : !wholeOver,
  );
  return polygons
    .map((polygon) => partOf(grid, polygon))
    .filter((part): part is Part => part !== null);
};

const medianGrade = (grid: GroundGrid): number => {
  const grades: number[] = [];
  for (let n = 0; n < grid.inside.length; n += 3) {
    if (grid.inside[n]) grades.push(Math.hypot(grid.hx[n], grid.hy[n]));
  }
  grades.sort((a, b) => a - b);
  return grades[grades.length >> 1] ?? 0;
};

/** How a part meets the edge: the length over which the ground falls outwards there, and the mean way out. */
const edgeOf = (
  { grid }: Ground,
  graph: GroundGraph,
  part: Part,
): { length: number; outward: Point } => {
  const own = new Uint8Array(grid.height.length);
  for (const n of part.nodes) own[n] = 1;
  const jet = new Float64Array(JET_SIZE);
  const { ring } = grid.outline;
  let length = 0;
  let ox = 0;
  let oy = 0;
  for (let k = 0; k < graph.count - graph.gridCount; k++) {
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
    const next = graph.gridCount + ((k + 1) % (graph.count - graph.gridCount));
    const step = Math.hypot(graph.x[next] - x, graph.y[next] - y);
    length += step;
    ox += nx * step;
    oy += ny * step;
  }
  const size = Math.hypot(ox, oy) || 1;
  return { length, outward: [ox / size, oy / size] };
};

const section = (kind: SectionKind, name: string, part: Part): Section => ({
  kind,
  name,
  polygons: [part.polygon],
  area: part.area,
  meanGrade: part.meanGrade,
});

/** Faces, false fronts and edges, and the tiers and shelves that they part. */
const levelsAndFaces = (
  ground: Ground,
  graph: GroundGraph,
  squared: LevelField,
  options: SectionOptions,
): Section[] => {
  const { grid, area } = ground;
  const box = boxOf(grid.outline.ring);
  const faceGrade = options.faceGrade ?? Math.min(0.07, Math.max(0.045, 1.8 * medianGrade(grid)));
  const steep = partsOver(ground, squared, faceGrade ** 2, 1, LEAST_PART);
  const sections: Section[] = [];
  const faces: Part[] = [];
  for (const part of steep) {
    if (part.area < LEAST_PART || part.highest - part.lowest < options.leastFaceRise) continue;
    const edge = edgeOf(ground, graph, part);
    if (edge.length >= LEAST_FALSE_EDGE && part.area / edge.length <= DEEPEST_FALSE_EDGE) {
      const { kind, name } = falseEdgeName(edge.outward);
      sections.push(section(kind, name, part));
    } else {
      faces.push(part);
    }
  }
  const levels = partsOver(ground, squared, faceGrade ** 2, -1, LEAST_PART)
    .filter((part) => part.area >= LEAST_LEVEL_SHARE * area)
    .sort((a, b) => a.meanHeight - b.meanHeight);
  for (const face of faces) {
    sections.push(section('face', `${positionWord(box, face.centre)} face`, face));
  }
  if (faces.length > 0 && levels.length > 1) {
    const tiers = levels.filter((part) => part.area >= options.shelfShare * area);
    for (const part of levels) {
      const rank = tiers.indexOf(part);
      if (rank >= 0 && tiers.length > 1) {
        sections.push(section('tier', tierName(rank, tiers.length), part));
      } else if (rank < 0) {
        sections.push(section('shelf', `${positionWord(box, part.centre)} shelf`, part));
      }
    }
  }
  return sections;
};

/**
 * Second derivative of height across the fall line, averaged over a square: positive in hollows and
 * swales, negative on crowns and spurs, zero on the straight brow of a tier.
 */
const bendAcross = (grid: GroundGrid): LevelField => {
  const { originX, originY, step, columns, rows, hx, hy, hxx, hxy, hyy } = grid;
  const raw = new Float64Array(hx.length);
  for (let n = 0; n < hx.length; n++) {
    const gx = hx[n];
    const gy = hy[n];
    const square = gx * gx + gy * gy;
    const across = hxx[n] * gy * gy - 2 * hxy[n] * gx * gy + hyy[n] * gx * gx;
    const soft = SOFT * SOFT;
    raw[n] = (across + (soft * (hxx[n] + hyy[n])) / 2) / (square + soft);
  }
  return {
    originX,
    originY,
    step,
    columns,
    rows,
    value: boxMean(raw, columns, rows, Math.max(1, Math.round(WINDOW / step))),
  };
};

/** Mean over a square of nodes, cut at the border of the grid, by running sums along rows and columns. */
const boxMean = (
  field: Float64Array,
  columns: number,
  rows: number,
  reach: number,
): Float64Array => {
  const pass = (
    from: Float64Array,
    lines: number,
    count: number,
    along: number,
    across: number,
  ) => {
    const out = new Float64Array(from.length);
    for (let l = 0; l < lines; l++) {
      let sum = 0;
      let low = 0;
      let high = -1;
      for (let k = 0; k < count; k++) {
        while (high < Math.min(count - 1, k + reach)) sum += from[l * across + ++high * along];
        while (low < k - reach) sum -= from[l * across + low++ * along];
        out[l * across + k * along] = sum / (high - low + 1);
      }
    }
    return out;
  };
  return pass(pass(field, rows, columns, 1, columns), columns, rows, columns, 1);
};

/** Bowls, swales and crowns. */
const hollowsAndCrowns = (
  ground: Ground,
  critical: readonly CriticalPoint[],
  streams: readonly Stream[],
  options: SectionOptions,
): Section[] => {
  const { grid, area } = ground;
  const box = boxOf(grid.outline.ring);
  const field = bendAcross(grid);
  const least = Math.max(2 * LEAST_PART, LEAST_HOLLOW_SHARE * area);
  const holds = (part: Part, at: Point): boolean => {
    const node = nearestNode(grid, at[0], at[1]);
    return part.nodes.includes(node);
  };
  const sections: Section[] = [];
  for (const part of partsOver(ground, field, options.hollowBend, 1, LEAST_PART)) {
    if (part.area < least) continue;
    const low = critical.some((point) => point.kind === 'low' && holds(part, point.at));
    const drained = streams.some((stream) =>
      stream.points.some(([x, y]) => holds(part, [x, y] as const)),
    );
    if (part.elongation >= SWALE && !drained) continue;
    const kind = part.elongation >= SWALE ? 'swale' : 'bowl';
    if (kind === 'bowl' && !low && !drained) continue;
    sections.push(section(kind, `${positionWord(box, part.centre)} ${kind}`, part));
  }
  for (const part of partsOver(ground, field, -options.hollowBend, -1, LEAST_PART)) {
    if (part.area < least) continue;
    const high = critical.some(
      (point) => point.kind === 'high' && !point.onEdge && holds(part, point.at),
    );
    if (high) sections.push(section('crown', `${positionWord(box, part.centre)} crown`, part));
  }
  return sections;
};

/**
 * The green in the parts that a caddie would name. Tiers, shelves, faces and false edges do not overlap; a
 * bowl, swale or crown may lie on a tier.
 */
export const sectionsOf = (
  grid: GroundGrid,
  area: number,
  graph: GroundGraph,
  squared: LevelField,
  critical: readonly CriticalPoint[],
  streams: readonly Stream[],
  options: SectionOptions,
): Section[] => {
  const ground = { grid, area };
  return distinctNames([
    ...levelsAndFaces(ground, graph, squared, options),
    ...hollowsAndCrowns(ground, critical, streams, options).sort((a, b) => b.area - a.area),
  ]);
};
