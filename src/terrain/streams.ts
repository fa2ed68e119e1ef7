import type { Drainage, WaterLine } from './drainage.js';
import { traceWater } from './drainage.js';
import type { GroundPoint } from './fall-line.js';
import { nearestNode, nodeX, nodeY } from './ground-grid.js';
import { NEIGHBOUR_DX, NEIGHBOUR_DY } from './priority-flood.js';
import type { Stream } from './reading.js';

/**
 * Nodes on the way up from a node, always to the neighbour that sends it the greatest area, until less
 * than `least` square metres come from above.
 */
const wayUp = (drainage: Drainage, from: number, least: number): number[] => {
  const { grid, area, shares, flood } = drainage;
  const way = [from];
  let node = from;
  for (;;) {
    let best = -1;
    let most = least;
    for (let k = 0; k < 8; k++) {
      const other = node + NEIGHBOUR_DY[k] * grid.columns + NEIGHBOUR_DX[k];
      if (!grid.inside[other] || flood.parent[other] < 0) continue;
      const given =
        shares.first[other] === node
          ? area[other] * shares.share[other]
          : shares.second[other] === node
            ? area[other] * (1 - shares.share[other])
            : 0;
      if (given > most) {
        most = given;
        best = other;
      }
    }
    if (best < 0) return way;
    node = best;
    way.push(node);
  }
};

/** Contributing area along a line: the greatest near each point, never shrinking downstream. */
export const areaAlong = (drainage: Drainage, points: readonly GroundPoint[]): number[] => {
  const { grid, area } = drainage;
  let most = 0;
  return points.map(([x, y]) => {
    const node = nearestNode(grid, x, y);
    for (let dj = -1; dj <= 1; dj++) {
      for (let di = -1; di <= 1; di++) {
        const other = node + dj * grid.columns + di;
        if (other >= 0 && other < area.length && area[other] > most) most = area[other];
      }
    }
    return most;
  });
};

const endsNear = (a: WaterLine, x: number, y: number): number => {
  const [ex, ey] = a.points[a.points.length - 1];
  return Math.hypot(ex - x, ey - y);
};

/**
 * The main drainage line: from the outlet through which most of the green's water leaves, up the way that
 * brings most of it, to its head; then traced down the continuous surface.
 * @param headArea area above which a head may lie, square metres.
 */
export const mainLine = (drainage: Drainage, headArea: number): WaterLine | null => {
  const { grid, area, flood } = drainage;
  let mouth = -1;
  for (const node of flood.order) {
    if (flood.parent[node] >= 0) continue;
    if (mouth < 0 || area[node] > area[mouth]) mouth = node;
  }
  if (mouth < 0 || area[mouth] === 0) return null;
  const way = wayUp(drainage, mouth, headArea);
  const mx = nodeX(grid, mouth);
  const my = nodeY(grid, mouth);
  let best: WaterLine | null = null;
  for (let k = way.length - 1; k >= 1; k -= Math.max(1, Math.floor(way.length / 12))) {
    const line = traceWater(drainage, nodeX(grid, way[k]), nodeY(grid, way[k]));
    if (best === null || endsNear(line, mx, my) + 0.5 < endsNear(best, mx, my)) best = line;
    if (endsNear(line, mx, my) < 0.6) return line;
  }
  return best;
};

export const streamsOf = (drainage: Drainage, headArea: number): Stream[] => {
  const main = mainLine(drainage, headArea);
  if (main === null) return [];
  return [
    {
      order: 1,
      main: true,
      points: main.points,
      area: areaAlong(drainage, main.points),
      mouth: main.mouth,
    },
  ];
};
