import { InputFault } from '../../fault.js';
import type { Box } from '../../geometry.js';
import { boxOf, growBox } from '../../geometry.js';
import {
  type CoordinateSystem,
  coordinateSystem,
  type LengthUnit,
  METRES_PER,
  type Plane,
  planeFor,
} from './plane.js';

/** What is known of a file's coordinates: from the file itself, or from who asks. */
export interface Stated {
  readonly crs: string | null;
  readonly unit: LengthUnit | null;
  readonly verticalUnit: LengthUnit | null;
  /** The positions are surely degrees: a projected system that is asked for cannot be theirs. */
  readonly degrees?: boolean;
}

/** The way from the numbers in a file to the metres of the plane. */
export interface FilePlacement {
  /** Writes x and y of the plane, metres, to `out`. */
  place(x: number, y: number, out: Float64Array): void;
  /** Metres per unit of height. */
  readonly vertical: number;
  /** A box in the file's own numbers that surely holds the window. */
  windowInFile(window: Box): Box;
  /** Metres of the plane per unit of the file's x, about `x, y`. */
  scaleAt(x: number, y: number): number;
}

/** No coordinate of a plane frame in use is as large; no ground on Earth is as high (8849 m, Nepal and China 2020). */
const FAR = 1e8;
const HIGH = 9_500;

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
      Number.isFinite(z)
        ? `the height ${z.toPrecision(6)} m is not a height on Earth`
        : 'the height is not a number',
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

/**
 * Longitude and latitude, or a system that stretches lengths, with no frame asked for: the frame is laid
 * out where the first point lies.
 */
const ownPlane = (crs: string, source: string): ((x: number, y: number) => Plane) => {
  const system = coordinateSystem(crs, source);
  let plane: Plane | null = null;
  return (x, y) => {
    if (plane === null) {
      const [longitude, latitude] = system.unproject(x, y);
      if (!(Math.abs(longitude) <= 360 && Math.abs(latitude) <= 90)) {
        throw new InputFault(
          { file: source },
          `the position ${x}, ${y} does not lie in the coordinate system ${system.name}`,
          'check the coordinate system, the unit and the order of the columns',
        );
      }
      plane = planeFor(crs, [round3(longitude), round3(latitude)], source);
    }
    return plane;
  };
};

const round3 = (degrees: number): number => Math.round(degrees * 1000) / 1000;

/** The way when the file's numbers are those of the frame, but for their unit. */
const samePlacement = (unit: number, vertical: number): FilePlacement => ({
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
});

/**
 * The file's box of a window: its edges bend in the file's system, so points along them and 5 % to spare
 * are taken, which holds windows of a few kilometres.
 */
const windowThrough = (window: Box, plane: Plane, system: CoordinateSystem, unit: number): Box => {
  const edge: [number, number][] = [];
  const steps = 8;
  for (let i = 0; i <= steps; i++) {
    const x = window.minX + (i / steps) * (window.maxX - window.minX);
    const y = window.minY + (i / steps) * (window.maxY - window.minY);
    edge.push([x, window.minY], [x, window.maxY], [window.minX, y], [window.maxX, y]);
  }
  const box = boxOf(
    edge.map(([x, y]) => {
      const [longitude, latitude] = plane.toMap(x, y);
      const [sx, sy] = system.project(longitude, latitude);
      return [sx / unit, sy / unit] as const;
    }),
  );
  return growBox(box, 0.05 * Math.max(box.maxX - box.minX, box.maxY - box.minY));
};

/** @throws InputFault when the coordinate system is not known. */
export const placementOf = (stated: Stated, plane: Plane | null, source: string): FilePlacement => {
  const system = stated.crs === null ? null : coordinateSystem(stated.crs, source);
  const stateUnit = stated.unit === null ? (system?.unit ?? 1) : METRES_PER[stated.unit];
  const unit = system?.geographic ? 1 : stateUnit;
  const vertical = stated.verticalUnit === null ? unit : METRES_PER[stated.verticalUnit];
  if (system === null || (plane !== null && plane.definition === system.definition)) {
    return samePlacement(unit, vertical);
  }
  const lazy = plane === null ? ownPlane(stated.crs!, source) : null;
  const planeAt = (x: number, y: number): Plane => plane ?? lazy!(x, y);
  const place = (x: number, y: number, out: Float64Array): void => {
    const to = planeAt(x * unit, y * unit);
    if (to.definition === system.definition) {
      out[0] = x * unit;
      out[1] = y * unit;
      return;
    }
    const [longitude, latitude] = system.unproject(x * unit, y * unit);
    const [px, py] = to.toPlane(longitude, latitude);
    out[0] = px;
    out[1] = py;
  };
  return {
    vertical,
    place,
    windowInFile: (w) =>
      plane === null
        ? samePlacement(unit, vertical).windowInFile(w)
        : windowThrough(w, plane, system, unit),
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
