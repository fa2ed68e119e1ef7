import type { Point, Ring } from '../../geometry.js';
import { distance, hypotenuse } from '../../geometry.js';
import { seededNormals, seedOf } from '../../surface/seeded-normals.js';
import type { Surface } from '../../surface/surface.js';
import type { GroundGrid } from '../ground-grid.js';
import { nearestNode, nodeX, nodeY, sampleGround, stepOn } from '../ground-grid.js';
import type { Outlet } from '../reading.js';
import { activeNodes, type DrainageOptions } from './drainage.js';
import { accumulate, dInfinity } from './flow-accumulation.js';
import { priorityFlood } from './priority-flood.js';

/** Distance of the nodes on which a draw is drained, metres; wider on ground that is larger than any common green. */
const STEP = 0.75;
/** Draws of the ground that the survey allows; so many where the first of them all agree. */
const DRAWS = 120;
const FIRST_DRAWS = 24;
/** Water that leaves over so much of the edge leaves by one mouth, metres. */
export const MOUTH = 4;
/** Mouths on the edge no farther apart than this, along it, are one outlet; drains, in any direction: metres. */
export const SAME_OUTLET = 3;
/**
 * A mouth has a valley when it takes half of what leaves over three times its width: even ground sends it a
 * third.
 */
const VALLEY_SHARE = 0.5;
/** Other outlets are told from this share of the draws on. */
const LEAST_SHARE = 0.2;

/** Where most water leaves in one draw; `along` the outline, null at a drain. */
interface Winner {
  readonly at: Point;
  readonly along: number | null;
  readonly valley: boolean;
}

/** How far along a ring a point lies; `starts`: how far each of its corners does. */
const alongRing = (ring: Ring, starts: readonly number[], [x, y]: Point): number => {
  let best = Infinity;
  let along = 0;
  let a = ring[0];
  for (let i = 0; i < ring.length; i++) {
    const b = i + 1 < ring.length ? ring[i + 1] : ring[0];
    const long = starts[i + 1] - starts[i];
    const ex = b[0] - a[0];
    const ey = b[1] - a[1];
    const t = ((x - a[0]) * ex + (y - a[1]) * ey) / (long * long);
    const s = Math.min(1, Math.max(0, t));
    const off = long === 0 ? Infinity : hypotenuse(a[0] + s * ex - x, a[1] + s * ey - y);
    a = b;
    if (off >= best) continue;
    best = off;
    along = starts[i] + s * long;
  }
  return along;
};

/** A way round the outline, to tell how far along it a point lies. */
const outlineWay = (ring: Ring) => {
  const starts = [0];
  for (let i = 0; i < ring.length; i++) {
    starts.push(starts[i] + distance(ring[i], ring[(i + 1) % ring.length]));
  }
  const length = starts[ring.length];
  const alongOf = (point: Point): number => alongRing(ring, starts, point);
  const pointAt = (along: number): Point => {
    const i = Math.max(0, starts.findIndex((s) => s > along) - 1);
    const [ax, ay] = ring[i];
    const [bx, by] = ring[(i + 1) % ring.length];
    const t = (along - starts[i]) / (starts[i + 1] - starts[i]);
    return [ax + t * (bx - ax), ay + t * (by - ay)];
  };
  /** From a to b the shorter way, signed. */
  const between = (a: number, b: number): number => {
    const d = (((b - a) % length) + length) % length;
    return d > length / 2 ? d - length : d;
  };
  return { length, alongOf, pointAt, between };
};

type OutlineWay = ReturnType<typeof outlineWay>;

interface Leaving {
  readonly along: number;
  readonly water: number;
}

/** The mouth of the edge over which most leaves; `leaving` in order along the outline. */
const widestMouth = (way: OutlineWay, leaving: readonly Leaving[]) => {
  const n = leaving.length;
  let best = { water: 0, along: 0, near: 0 };
  for (let k = 0, end = 0, water = 0; k < n; k++) {
    const from = leaving[k].along;
    const reach = (m: number) => leaving[m % n].along + (m >= n ? way.length : 0) - from;
    while (end < k + n && reach(end) <= MOUTH) water += leaving[end++ % n].water;
    if (water > best.water) {
      let moment = 0;
      for (let m = k; m < end; m++) moment += leaving[m % n].water * reach(m);
      best = { water, along: (from + moment / water) % way.length, near: 0 };
    }
    water -= leaving[k].water;
  }
  for (const one of leaving) {
    if (Math.abs(way.between(best.along, one.along)) <= 1.5 * MOUTH) best.near += one.water;
  }
  return best;
};

/** Drains one draw and finds where most of its water leaves. */
const winnerFinder = (
  grid: GroundGrid,
  { active, ring }: ReturnType<typeof activeNodes>,
  way: OutlineWay,
  options: DrainageOptions,
) => {
  const own = Float64Array.from(grid.inside, (on) => on * grid.step * grid.step);
  const edge = ring
    .map((node) => ({ node, along: way.alongOf([nodeX(grid, node), nodeY(grid, node)]) }))
    .sort((a, b) => a.along - b.along || a.node - b.node);
  const declared = options.drains
    .map((p) => nearestNode(grid, p[0], p[1]))
    .filter((node) => grid.inside[node]);
  return (height: Float64Array): Winner => {
    const raster = { ...grid, height, active };
    let drains = declared;
    let flood = priorityFlood(raster, [...ring, ...drains]);
    const deep = flood.pools.filter((p) => p.level - height[p.bottom] > options.shownDrainDepth);
    if (deep.length > 0) {
      drains = [...declared, ...deep.map((pool) => pool.bottom)];
      flood = priorityFlood(raster, [...ring, ...drains]);
    }
    const area = accumulate(flood, dInfinity(raster, flood), own);
    const mouth = widestMouth(
      way,
      edge.map(({ node, along }) => ({ along, water: area[node] })),
    );
    let drain = -1;
    for (const node of drains) if (drain < 0 || area[node] > area[drain]) drain = node;
    if (drain >= 0 && area[drain] >= mouth.water) {
      return { at: [nodeX(grid, drain), nodeY(grid, drain)], along: null, valley: true };
    }
    const valley = mouth.water >= VALLEY_SHARE * mouth.near;
    return { at: way.pointAt(mouth.along), along: mouth.along, valley };
  };
};

const isSame = (way: OutlineWay, a: Winner, b: Winner): boolean =>
  a.along === null || b.along === null
    ? a.along === b.along && distance(a.at, b.at) <= SAME_OUTLET
    : Math.abs(way.between(a.along, b.along)) <= SAME_OUTLET;

/** The winners by outlet, those of most draws first. */
const grouped = (way: OutlineWay, winners: readonly Winner[]): Winner[][] => {
  const groups: Winner[][] = [];
  for (let left = [...winners]; left.length > 0; ) {
    let best: Winner[] = [];
    for (const one of left) {
      const own = left.filter((other) => isSame(way, one, other));
      if (own.length > best.length) best = [one, ...own.filter((other) => other !== one)];
    }
    groups.push(best);
    left = left.filter((one) => !best.includes(one));
  }
  return groups;
};

/**
 * The outlets that take most of the green's water in draws of the ground from the survey's posterior, with
 * their shares of the draws; the first is that of most draws, the others are told from a fifth on. An exact
 * surface is its own only draw. The draws are seeded by the outline: those of two surveys of a green differ by what these say alone.
 */
export const mainOutlets = (surface: Surface, options: DrainageOptions): Outlet[] => {
  const grid = sampleGround(surface, stepOn(surface.outline, STEP));
  if (grid.insideCount === 0) return [];
  const way = outlineWay(surface.outline);
  const nodes = activeNodes(grid);
  const winnerOf = winnerFinder(grid, nodes, way, options);
  const winners: Winner[] = [];
  if (surface.trust === null) {
    winners.push(winnerOf(grid.height));
  } else {
    // Of all other nodes the heights are not asked for.
    const drained = Array.from(nodes.active.keys()).filter((n) => nodes.active[n] === 1);
    const points = Float64Array.from(drained.flatMap((n) => [nodeX(grid, n), nodeY(grid, n)]));
    const draw = surface.trust.heightDraws(points);
    const normal = seededNormals(seedOf(Float64Array.from(surface.outline.flat())));
    while (winners.length < DRAWS) {
      if (winners.length === FIRST_DRAWS) {
        const [first] = grouped(way, winners);
        if (first.length === FIRST_DRAWS && first.every((one) => one.valley === first[0].valley)) {
          break;
        }
      }
      const error = draw(normal);
      const height = grid.height.slice();
      for (let k = 0; k < drained.length; k++) height[drained[k]] += error[k];
      winners.push(winnerOf(height));
    }
  }
  return grouped(way, winners)
    .map(
      (group): Outlet => ({
        at: group[0].at,
        kind: group[0].along === null ? 'drain' : 'edge',
        share: group.length / winners.length,
        kept: group.filter((one) => one.valley).length / winners.length,
        draws: winners.length,
      }),
    )
    .filter(({ share }, k) => k === 0 || share >= LEAST_SHARE);
};
