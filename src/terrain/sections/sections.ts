import type { Point, Polygon } from '../../geometry.js';
import { boxOf, insideRing } from '../../geometry.js';
import type { GroundGrid } from '../ground-grid.js';
import { nearestNode } from '../ground-grid.js';
import { counterClockwise } from '../outline-index.js';
import type { GroundGraph } from '../points/persistence.js';
import type { CriticalPoint, Section, SectionKind, Stream } from '../reading.js';
import type { LevelField } from '../regions/isolines.js';
import { traceIsolines } from '../regions/isolines.js';
import { areaCutOff, assembleRegion, clipToOutline, reversePiece } from '../regions/region.js';
import type { Drainage } from '../water/drained-ground.js';
import { bendAcross } from './bend-field.js';
import { splitSteepGround } from './false-edge.js';
import type { Part } from './part.js';
import { partOf } from './part.js';
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
/** Longer than this times its width, a hollow is a swale. */
const SWALE = 1.8;
/** A hollow (or a top) this deep is a bowl (a crown) however gently it bends, metres. */
const DEEP = 0.1;
/** Share of its relief that a bowl rises over its low point (a crown falls from its high one): the first whose contour closes. */
const RIMS = [0.5, 0.35, 0.25];

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
  drainage: Drainage,
  graph: GroundGraph,
  squared: LevelField,
  options: SectionOptions,
): Section[] => {
  const { grid, area } = ground;
  const box = boxOf(grid.outline.ring);
  const faceGrade = options.faceGrade ?? Math.min(0.07, Math.max(0.045, 1.8 * medianGrade(grid)));
  const sections: Section[] = [];
  const faces: Part[] = [];
  for (const part of partsOver(ground, squared, faceGrade ** 2, 1, LEAST_PART)) {
    if (part.area < LEAST_PART || part.highest - part.lowest < options.leastFaceRise) continue;
    for (const { piece, outward } of splitSteepGround(drainage, graph, part, faceGrade, area)) {
      if (outward === null) {
        faces.push(piece);
      } else {
        const { kind, name } = falseEdgeName(outward);
        sections.push(section(kind, name, piece));
      }
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

/** The ground round a high or low point inside the green, within a closed contour; null where none closes. */
const roundPoint = (ground: Ground, point: CriticalPoint): Part | null => {
  const { grid } = ground;
  const sign = point.kind === 'high' ? 1 : -1;
  const field = { ...grid, value: grid.height, dx: grid.hx, dy: grid.hy };
  for (const rim of RIMS) {
    const level = point.height - sign * rim * point.relief;
    for (const line of clipToOutline(grid.outline, traceIsolines(field, level))) {
      if (!line.closed || !insideRing(line.points, point.at[0], point.at[1])) continue;
      return partOf(grid, [counterClockwise(line.points)]);
    }
  }
  return null;
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
  /** Whether a section with this place in it is named already. */
  const isNamed = (at: Point): boolean =>
    sections.some((other) => other.polygons.some(([ring]) => insideRing(ring, at[0], at[1])));
  for (const point of critical) {
    if (point.kind === 'saddle' || point.onEdge || point.relief < DEEP) continue;
    const kind = point.kind === 'high' ? 'crown' : 'bowl';
    const part = roundPoint(ground, point);
    if (part === null || part.area < least || isNamed(point.at)) continue;
    sections.push(section(kind, `${positionWord(box, point.at)} ${kind}`, part));
  }
  for (const part of partsOver(ground, field, options.hollowBend, 1, LEAST_PART)) {
    if (part.area < least || isNamed(part.centre)) continue;
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
    const high = critical.find(
      (point) => point.kind === 'high' && !point.onEdge && holds(part, point.at),
    );
    if (high === undefined || isNamed(high.at)) continue;
    sections.push(section('crown', `${positionWord(box, part.centre)} crown`, part));
  }
  return sections;
};

/** What is read of the ground before its sections are. */
export interface ReadGround {
  readonly drainage: Drainage;
  /** Of the green, m2. */
  readonly area: number;
  readonly graph: GroundGraph;
  /** The square of the grade. */
  readonly squared: LevelField;
  readonly critical: readonly CriticalPoint[];
  readonly streams: readonly Stream[];
}

/**
 * The green in the parts that a caddie would name. Tiers, shelves, faces and false edges do not overlap; a
 * bowl, swale or crown may lie on a tier.
 */
export const sectionsOf = (
  { drainage, area, graph, squared, critical, streams }: ReadGround,
  options: SectionOptions,
): Section[] => {
  const ground = { grid: drainage.grid, area };
  return distinctNames([
    ...levelsAndFaces(ground, drainage, graph, squared, options),
    ...hollowsAndCrowns(ground, critical, streams, options).sort((a, b) => b.area - a.area),
  ]);
};
