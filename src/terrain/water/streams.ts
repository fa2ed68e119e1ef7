import type { GroundGrid } from '../ground-grid.js';
import { nodeX, nodeY } from '../ground-grid.js';
import { addLine, nearestLine, newLineIndex } from '../line-index.js';
import type { Outlet, Stream } from '../reading.js';
import type { NetworkLine } from './catchments.js';
import { areasAlong } from './catchments.js';
import type { Drainage } from './drained-ground.js';
import { channelHeads, mainLine, wayUp } from './main-line.js';
import { SAME_OUTLET } from './main-outlet.js';
import { joinStreams } from './stream-junctions.js';
import { fromValleyHead, offTheRidge, VALLEY_BEND, valleyDepth } from './valley.js';
import { traceWater } from './water-line.js';

export interface StreamOptions {
  /** Area that must drain through a stream's mouth, share of the green. */
  readonly streamShare: number;
  /** Length of ground above a stream's head, metres. */
  readonly headLength: number;
  /** A stream shorter than this is not drawn (unless it is the main one), metres. */
  readonly leastStream: number;
  /** Height of the ground beside a stream over the stream, on average, metres (again not asked of the main one). */
  readonly leastValley: number;
}

/** A main line shorter than this share of the green's width gives way to a longer one. */
const SHORT_MAIN = 0.25;
const MOST_STREAMS = 10;

/** The outlet that a line leads to. */
const outletAt = (
  outlets: readonly Outlet[],
  points: NetworkLine['points'],
  mouth: Stream['mouth'],
): Outlet | null => {
  const [x, y] = points[points.length - 1];
  const off = ({ at }: Outlet): number => Math.hypot(at[0] - x, at[1] - y);
  const near = outlets.filter((outlet) => outlet.kind === mouth && off(outlet) <= SAME_OUTLET);
  return near.sort((a, b) => off(a) - off(b))[0] ?? null;
};

/** The drainage lines of a green: the main one, then the others by the area that they bring. */
export const streamsOf = (
  drainage: Drainage,
  greenArea: number,
  outlets: readonly Outlet[],
  options: StreamOptions,
): Stream[] => {
  const grid: GroundGrid = drainage.grid;
  const headArea = options.headLength * grid.step;
  const leastArea = options.streamShare * greenArea;
  const heads = channelHeads(drainage, leastArea / 2).map((head) => {
    const way = wayUp(drainage, head, headArea);
    const top = way[way.length - 1];
    return traceWater(drainage, nodeX(grid, top), nodeY(grid, top));
  });
  const leastMain = SHORT_MAIN * Math.sqrt(greenArea);
  const whole = mainLine(drainage, heads, {
    least: headArea,
    length: leastMain,
    toward: outlets.length === 0 ? null : outlets[0].at,
  });
  if (whole === null) return [];
  const main = offTheRidge(grid, whole, leastMain);
  const lines: NetworkLine[] = [{ points: main.points, parent: -1, joint: 0 }];
  const mouths: Stream['mouth'][] = [main.mouth];
  const index = newLineIndex(0.5);
  addLine(index, 0, main.points);
  for (const head of heads) {
    if (lines.length === MOST_STREAMS) break;
    const joined = joinStreams(grid.surface, fromValleyHead(grid, head, VALLEY_BEND), lines, index);
    if (joined.length < options.leastStream) continue;
    if (valleyDepth(grid.surface, joined.points) < options.leastValley) continue;
    const [hx, hy] = joined.points[0];
    if (nearestLine(index, hx, hy, options.leastStream) !== null) continue;
    const sums = areasAlong(drainage, [
      ...lines.map((other) => ({ ...other, parent: -1 })),
      { points: joined.points, parent: -1, joint: 0 },
    ])[lines.length];
    if (sums[sums.length - 1] < leastArea) continue;
    addLine(index, lines.length, joined.points);
    lines.push(joined);
    mouths.push(joined.mouth);
  }
  const areas = areasAlong(drainage, lines);
  const orders: number[] = [];
  for (const line of lines) orders.push(line.parent < 0 ? 1 : orders[line.parent] + 1);
  return lines.map((line, k) => ({
    order: orders[k],
    main: k === 0,
    points: line.points,
    area: areas[k],
    mouth: mouths[k],
    valley: valleyDepth(grid.surface, line.points),
    outlet: k === 0 ? outletAt(outlets, line.points, mouths[0]) : null,
  }));
};
