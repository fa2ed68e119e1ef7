import { InputFault } from '../fault.js';
import type { Box } from '../geometry.js';
import { boxOf, growBox } from '../geometry.js';
import { coordinateSystem, type LengthUnit, METRES_PER, type Plane } from './plane.js';

/** What is known of a file's coordinates: from the file itself, or from who asks. */
export interface Stated {
  readonly crs: string | null;
  readonly unit: LengthUnit | null;
  readonly verticalUnit: LengthUnit | null;
}

/** The way from the numbers in a file to the metres of the plane. */
export interface Placement {
  /** Writes x and y of the plane, metres, to `out`. */
  place(x: number, y: number, out: Float64Array): void;
  /** Metres per unit of height. */
  readonly vertical: number;
  /** A box in the file's own numbers that surely holds the window. */
  windowInFile(window: Box): Box;
  /** Metres of the plane per unit of the file's x, about `x, y`. */
  scaleAt(x: number, y: number): number;
}

/** No coordinate of a plane frame in use is as large; no height on Earth is. */
const FAR = 1e8;
const HIGH = 12_000;

/**
 * Throws unless the numbers can be a place on Earth.
 *
 * @param x metres of the plane
 * @param z metres
 */
export const checkPlace = (
  x: number,
  y: number,
  z: number,
  source: string,
  place: () => string,
): void => {
  if (!(Math.abs(x) < FAR && Math.abs(y) < FAR)) {
    throw new InputFault(
      { file: source, place: place() },
      'the position is not a place on Earth',
      'check the order of the columns, the unit and the coordinate system',
    );
  }
  if (!(Math.abs(z) < HIGH)) {
    throw new InputFault(
      { file: source, place: place() },
      `the height ${z.toPrecision(6)} m is not a height on Earth`,
      'check the order of the columns and the vertical unit',
    );
  }
};

/**
 * The asker's word goes before the file's. A height unit that nobody states is the horizontal one, or
 * metres when the positions are degrees.
 */
export const combined = (asked: Stated, file: Stated): Stated => ({
  crs: asked.crs ?? file.crs,
  unit: asked.unit ?? file.unit,
  verticalUnit: asked.verticalUnit ?? file.verticalUnit,
});

/** @throws InputFault when the coordinate system is not known. */
export const placementOf = (stated: Stated, plane: Plane | null, source: string): Placement => {
  const system = stated.crs === null ? null : coordinateSystem(stated.crs, source);
  const unit = system?.geographic
    ? 1
    : stated.unit === null
      ? (system?.unit ?? 1)
      : METRES_PER[stated.unit];
  const vertical = stated.verticalUnit === null ? unit : METRES_PER[stated.verticalUnit];
  const same = system === null || plane === null || plane.definition === system.definition;
  if (same) {
    if (system?.geographic && plane === null) {
      throw new InputFault(
        { file: source, place: 'crs' },
        'longitude and latitude are not a plane in metres',
        'give the outline of the green or a projected frame to read the survey into',
      );
    }
    return {
      vertical,
      place: (x, y, out) => {
        out[0] = x * unit;
        out[1] = y * unit;
      },
      windowInFile: (w) => ({
        minX: w.minX / unit,
        minY: w.minY / unit,
        maxX: w.maxX / unit,
        maxY: w.maxY / unit,
      }),
      scaleAt: () => unit,
    };
  }
  const place = (x: number, y: number, out: Float64Array): void => {
    const [longitude, latitude] = system.unproject(x * unit, y * unit);
    const [px, py] = plane.toPlane(longitude, latitude);
    out[0] = px;
    out[1] = py;
  };
  return {
    vertical,
    place,
    windowInFile: (w) => {
      // The edges of the window bend in the file's system; eight points an edge and 5 % to spare
      // hold it for windows of a few kilometres.
      const edge: [number, number][] = [];
      const steps = 8;
      for (let i = 0; i <= steps; i++) {
        const t = i / steps;
        const x = w.minX + t * (w.maxX - w.minX);
        const y = w.minY + t * (w.maxY - w.minY);
        edge.push([x, w.minY], [x, w.maxY], [w.minX, y], [w.maxX, y]);
      }
      const inFile = boxOf(
        edge.map(([x, y]) => {
          const [longitude, latitude] = plane.toMap(x, y);
          const [sx, sy] = system.project(longitude, latitude);
          return [sx / unit, sy / unit] as const;
        }),
      );
      return growBox(inFile, 0.05 * Math.max(inFile.maxX - inFile.minX, inFile.maxY - inFile.minY));
    },
    scaleAt: (x, y) => {
      const a = new Float64Array(2);
      const b = new Float64Array(2);
      const step = system.geographic ? 1e-4 : 10;
      place(x, y, a);
      place(x + step, y, b);
      return Math.hypot(b[0] - a[0], b[1] - a[1]) / step;
    },
  };
};
