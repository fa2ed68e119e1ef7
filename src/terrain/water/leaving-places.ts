import type { Point, Polygon } from '../../geometry.js';
import { distance } from '../../geometry.js';
import { nearestNode, nodeX, nodeY } from '../ground-grid.js';
import { traceIsolines } from '../regions/isolines.js';
import { assembleRegion, clipToOutline } from '../regions/region.js';
import type { Drainage } from './drained-ground.js';
import { MOUTH, SAME_OUTLET } from './main-outlet.js';

/** Where water ends: over the edge, in a declared drain, or in a low point from which the survey shows no way out. */
export interface Leaving {
  readonly kind: 'edge' | 'drain' | 'low point';
  readonly at: Point;
}

/** "A" for the first place where water leaves. */
export const placeLetter = (k: number): string => String.fromCharCode(65 + k);

/** A place where poured water leaves, and the ground that drains there. */
export interface Catchment extends Leaving {
  /** Ground of which over half of the water leaves here. */
  readonly polygons: readonly Polygon[];
  /** All water that leaves here, as the area that it falls on, square metres. */
  readonly area: number;
}

export const isSameLeaving = (a: Leaving, b: Leaving): boolean =>
  a.kind === b.kind && distance(a.at, b.at) <= SAME_OUTLET;

/** Share of each node's water that ends at the seeded nodes, by the flow routing. */
const shareReaching = (drainage: Drainage, seeds: readonly number[]): Float64Array => {
  const { flood, shares } = drainage;
  const reaching = new Float64Array(drainage.grid.height.length);
  const own = new Set(seeds);
  for (const node of flood.order) {
    if (own.has(node)) {
      reaching[node] = 1;
      continue;
    }
    const first = shares.first[node];
    if (first < 0) continue;
    reaching[node] = shares.share[node] * reaching[first];
    const second = shares.second[node];
    if (second >= 0) reaching[node] += (1 - shares.share[node]) * reaching[second];
  }
  return reaching;
};

/** The end nodes of each leaving place; a node of the edge is its nearest place's. */
const seedsOf = (drainage: Drainage, leaving: readonly Leaving[]): number[][] => {
  const { grid, flood } = drainage;
  const seeds = leaving.map(({ kind, at }) =>
    kind === 'edge' ? [] : [nearestNode(grid, at[0], at[1])],
  );
  for (const node of flood.order) {
    if (flood.parent[node] >= 0 || grid.inside[node]) continue;
    let best = -1;
    let least = MOUTH / 2 + grid.step;
    leaving.forEach(({ kind, at }, k) => {
      const off = distance(at, [nodeX(grid, node), nodeY(grid, node)]);
      if (kind !== 'edge' || off >= least) return;
      least = off;
      best = k;
    });
    if (best >= 0) seeds[best].push(node);
  }
  return seeds;
};

/** The catchments of some leaving places: ground that drains over four metres of edge round each, or into it. */
export const catchmentsOf = (drainage: Drainage, leaving: readonly Leaving[]): Catchment[] => {
  const { grid } = drainage;
  return seedsOf(drainage, leaving).map((seeds, k): Catchment => {
    const reaching = shareReaching(drainage, seeds);
    let area = 0;
    let most = 0;
    for (let n = 0; n < reaching.length; n++) {
      if (!grid.inside[n]) continue;
      area += reaching[n] * grid.step ** 2;
      if (reaching[n] > 0.5) most++;
    }
    const pieces = clipToOutline(grid.outline, traceIsolines({ ...grid, value: reaching }, 0.5));
    const polygons = assembleRegion(grid.outline, pieces, 2 * most > grid.insideCount);
    return { ...leaving[k], polygons, area };
  });
};
