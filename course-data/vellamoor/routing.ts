import type { Point } from '../../src/geometry.js';

/**
 * Where the holes of Vellamoor lie: out along the seaward side of a crescent and home along its inner
 * side, like the old links. Eastings and northings of UTM zone 25 N (EPSG:32625) in the open Atlantic,
 * where there is no land.
 */
export const CRS = 'EPSG:32625';

const CENTRE: Point = [388400, 3606600];
const RADIUS = 1500;

/** Position of a place `s` metres along the crescent and `w` metres to its seaward side. */
export const place = (s: number, w: number): Point => {
  const angle = s / RADIUS - 1.15;
  return [
    Math.round(100 * (CENTRE[0] + (RADIUS + w) * Math.sin(angle))) / 100,
    Math.round(100 * (CENTRE[1] + (RADIUS + w) * Math.cos(angle))) / 100,
  ];
};

export interface Route {
  readonly id: string;
  readonly par: number | null;
  readonly index: number | null;
  /** From the rearmost tee by the corners of the hole to the middle of its green. */
  readonly line: readonly Point[];
}

const hole = (
  id: number,
  par: number,
  index: number,
  ...corners: readonly (readonly [number, number])[]
): Route => ({ id: String(id), par, index, line: corners.map(([s, w]) => place(s, w)) });

export const routes: readonly Route[] = [
  hole(1, 4, 9, [40, 70], [250, 95], [405, 85]),
  hole(2, 4, 3, [465, 70], [690, 90], [870, 60]),
  hole(3, 3, 15, [925, 40], [960, 190]),
  hole(4, 5, 7, [1010, 165], [1235, 80], [1465, 90]),
  hole(5, 4, 13, [1515, 60], [1665, 170], [1780, 90]),
  hole(6, 4, 5, [1840, 60], [2060, 85], [2205, 75]),
  hole(7, 3, 17, [2260, 90], [2425, 60]),
  hole(8, 4, 1, [2475, 60], [2710, 120], [2870, 100]),
  hole(9, 5, 11, [2925, 95], [3170, 45], [3420, 95]),
  hole(10, 4, 8, [3430, -50], [3200, -75], [3040, -60]),
  hole(11, 5, 12, [2985, -90], [2740, -140], [2460, -70]),
  hole(12, 3, 18, [2405, -60], [2385, -195]),
  hole(13, 4, 2, [2335, -150], [2090, -75], [1900, -90]),
  hole(14, 4, 16, [1845, -60], [1660, -135], [1530, -65]),
  hole(15, 3, 14, [1475, -90], [1305, -60]),
  hole(16, 4, 4, [1250, -60], [1010, -85], [830, -70]),
  hole(17, 5, 10, [780, -60], [530, -155], [310, -60]),
  hole(18, 4, 6, [255, -75], [30, -60], [-170, -50]),
];

/** The practice green beside the first tee: its middle, and where one walks up to it from. */
export const practice: Route = {
  id: 'practice',
  par: null,
  index: null,
  line: [place(-120, 40), place(-40, 60)],
};

/** The height of the island's ground above the sea, metres: dunes over a low back. */
export const groundHeight = ([x, y]: Point): number => {
  const u = (x - CENTRE[0]) / 1000;
  const v = (y - CENTRE[1]) / 1000;
  return (
    11 +
    4 * Math.sin(2.1 * u + 0.4) * Math.cos(1.3 * v) +
    3 * Math.sin(5.3 * u - 1.1 * v) +
    2.2 * Math.cos(9.1 * v + 3.7 * u) +
    1.2 * Math.sin(17 * u + 11 * v)
  );
};
