import type { Point, Ring } from '../../src/geometry.js';
import { boxOf, signedDistanceToRing } from '../../src/geometry.js';
import { H, JET_SIZE } from '../../src/surface/surface.js';
import { fromGreenFrame } from '../../src/survey/survey.js';
import type { Random } from './random.js';
import type { TrueGreen } from './truth.js';

/** How a rover on a pole surveys a green: metres. */
const SPACING = 1;
const EDGE_SPACING = 0.5;
const REACH = 2;
/** Standard deviation of height. */
export const NOISE = 0.008;
const POINTS_PER_OUTLIER = 300;
/** A tier whose face is no wider than this is also walked along its crest and its toe. */
const SHORT_FACE = 2.5;

export interface RoverPoint {
  readonly at: Point;
  readonly height: number;
  readonly code: 'GREEN' | 'EDGE' | 'COLLAR' | 'DRAIN' | 'CREST' | 'TOE';
  /** The breakline that the point is a corner of; empty for none. */
  readonly line: string;
  /** True where the height is grossly wrong (a tilted pole, a lost fix). */
  readonly outlier: boolean;
}

const jet = new Float64Array(JET_SIZE);
export const trueHeight = (green: TrueGreen, x: number, y: number): number => {
  green.at(x, y, jet);
  return jet[H];
};

/** Strips up and down the green, a point about every metre, none quite where it was meant. */
const stripPoints = (outline: Ring, random: Random): Point[] => {
  const box = boxOf(outline);
  const points: Point[] = [];
  let up = true;
  for (let x = box.minX - REACH; x <= box.maxX + REACH; x += SPACING) {
    const strip: Point[] = [];
    for (let y = box.minY - REACH; y <= box.maxY + REACH; y += SPACING) {
      const px = x + random.between(-0.35, 0.35);
      const py = y + random.between(-0.35, 0.35);
      const d = signedDistanceToRing(outline, px, py);
      if (d <= REACH && Math.abs(d) > 0.25) strip.push([px, py]);
    }
    points.push(...(up ? strip : strip.reverse()));
    up = !up;
  }
  return points;
};

const edgePoints = (outline: Ring, random: Random): Point[] =>
  outline.map(([x, y], i) => {
    const [ax, ay] = outline[(i + outline.length - 1) % outline.length];
    const [bx, by] = outline[(i + 1) % outline.length];
    const t = (random.between(-0.3, 0.3) * EDGE_SPACING) / Math.hypot(bx - ax, by - ay);
    const side = 0.03 * random.normal();
    const reach = Math.hypot(bx - ax, by - ay);
    return [
      x + t * (bx - ax) + (side * (by - ay)) / reach,
      y + t * (by - ay) - (side * (bx - ax)) / reach,
    ];
  });

/** Crest and toe of the short tiers from edge to edge of the green, a point about every metre. */
const breakPoints = ({ edges, outline }: TrueGreen, random: Random) => {
  const box = boxOf(outline);
  const reach = Math.ceil(Math.hypot(box.maxX - box.minX, box.maxY - box.minY));
  return edges
    .filter(({ face }) => face <= SHORT_FACE)
    .flatMap(({ name, at }, k) => {
      const line: { at: Point; code: 'CREST' | 'TOE'; line: string }[] = [];
      for (let t = -reach; t <= reach; t += SPACING) {
        const [x, y] = at(t + random.between(-0.2, 0.2));
        const side = 0.05 * random.normal();
        if (signedDistanceToRing(outline, x, y) > 0) continue;
        const code = name === 'crest' ? 'CREST' : 'TOE';
        line.push({ at: [x, y + side], code, line: `${name}-${(k >> 1) + 1}` });
      }
      return line;
    });
};

/**
 * The survey of a green in EPSG:32625: the edge first, then strips, then the edges of short tiers. Plan
 * positions are exact to the millimetre that the file keeps; heights carry noise and, once in a few
 * hundred points, an outlier.
 */
export const roverSurvey = (green: TrueGreen, random: Random): RoverPoint[] => {
  const plan = [
    ...edgePoints(green.outline, random).map((at) => ({ at, code: 'EDGE' as const })),
    ...stripPoints(green.outline, random).map((at) => ({
      at,
      code: signedDistanceToRing(green.outline, at[0], at[1]) <= 0 ? 'GREEN' : 'COLLAR',
    })),
    ...breakPoints(green, random),
    ...green.drains.map((at) => ({ at, code: 'DRAIN' as const })),
  ] as { at: Point; code: RoverPoint['code']; line?: string }[];
  const outliers = new Set<number>();
  while (outliers.size < Math.max(1, Math.round(plan.length / POINTS_PER_OUTLIER))) {
    outliers.add(Math.floor(random.between(0, plan.length - green.drains.length)));
  }
  return plan.map(({ at, code, line }, i) => {
    const outlier = outliers.has(i);
    const gross = outlier ? (random.uniform() < 0.5 ? -1 : 1) * random.between(0.12, 0.5) : 0;
    return {
      at: fromGreenFrame(green.frame, at[0], at[1]),
      height: trueHeight(green, at[0], at[1]) + NOISE * random.normal() + gross,
      code,
      line: line ?? '',
      outlier,
    };
  });
};

/** The survey as the rover's controller exports it; breaklines, where there are any, by name. */
export const roverCsv = (points: readonly RoverPoint[]): string => {
  const lines = points.some(({ line }) => line !== '');
  return [
    `point,easting,northing,height,code${lines ? ',line' : ''}`,
    ...points.map(
      ({ at, height, code, line }, i) =>
        `${1001 + i},${at[0].toFixed(3)},${at[1].toFixed(3)},${height.toFixed(3)},${code}` +
        (lines ? `,${line}` : ''),
    ),
    '',
  ].join('\n');
};

/** The survey of a green as an ESRI ASCII grid (0.5 m cells in EPSG:32625), the same noise in each cell. */
export const asciiGrid = (green: TrueGreen, random: Random): string => {
  const cell = 0.5;
  const ring = green.outline.map(([x, y]) => fromGreenFrame(green.frame, x, y));
  const box = boxOf(ring);
  const west = Math.floor((box.minX - REACH) / cell) * cell;
  const south = Math.floor((box.minY - REACH) / cell) * cell;
  const columns = Math.ceil((box.maxX + REACH - west) / cell);
  const rows = Math.ceil((box.maxY + REACH - south) / cell);
  const [fx, fy] = green.frame.forward;
  const lines = [
    `ncols ${columns}`,
    `nrows ${rows}`,
    `xllcorner ${west.toFixed(1)}`,
    `yllcorner ${south.toFixed(1)}`,
    `cellsize ${cell}`,
    'NODATA_value -9999',
  ];
  for (let r = rows - 1; r >= 0; r--) {
    const cells: string[] = [];
    for (let c = 0; c < columns; c++) {
      const e = west + (c + 0.5) * cell;
      const n = south + (r + 0.5) * cell;
      const dx = e - green.frame.origin[0];
      const dy = n - green.frame.origin[1];
      const [x, y] = [dx * fy - dy * fx, dx * fx + dy * fy];
      cells.push(
        signedDistanceToRing(green.outline, x, y) > REACH
          ? '-9999'
          : (trueHeight(green, x, y) + NOISE * random.normal()).toFixed(3),
      );
    }
    lines.push(cells.join(' '));
  }
  return `${lines.join('\n')}\n`;
};
