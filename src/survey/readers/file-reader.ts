import type { Box } from '../../geometry.js';
import type { Stated } from '../crs/placement.js';
import type { LengthUnit, Plane } from '../crs/plane.js';
import type { Survey } from '../survey.js';
import type { ByteSource } from './byte-source.js';
import type { PointDetail } from './point-store.js';
import type { SourceFormat } from './sniff.js';

export interface ReadOptions {
  /** The file's name for messages and for `Survey.source`. */
  readonly source: string;
  /** Null or absent: told from the first bytes. */
  readonly format?: SourceFormat | null;
  /** An EPSG code or a definition string; null or absent: what the file states, else a local frame. */
  readonly crs?: string | null;
  /** Null or absent: what the file states, else the unit of the coordinate system, else metres. */
  readonly unit?: LengthUnit | null;
  /** Null or absent: what the file states, else the horizontal unit (metres for degrees). */
  readonly verticalUnit?: LengthUnit | null;
  /** Names of the columns of a points file, in order. */
  readonly columns?: readonly string[] | null;
  /** Classes of a point cloud that are ground; null or absent: 2, which the LAS standard gives to it. */
  readonly classes?: readonly number[] | null;
  /** The name of one surface of a LandXML file; null or absent: the only one. */
  readonly surface?: string | null;
  /** Layers of a drawing; null or absent: all. */
  readonly layer?: string | null;
  /** The name of a sheet of a workbook, or of a file in an archive; null or absent: the only one. */
  readonly sheet?: string | null;
  /** The band of a GeoTIFF that holds the heights, from 1; null or absent: the first. */
  readonly band?: number | null;
  /** Texts of the files beside it, by their ending in lower case: prj, tfw, aux.xml. */
  readonly beside?: Readonly<Record<string, string>>;
  /** The mask file beside a GeoTIFF. */
  readonly mask?: Uint8Array | null;
  /** Standard deviation of a height that the survey states, metres. */
  readonly sigma?: number | null;
  /** The frame to read into; null or absent: the survey's own coordinates, in metres. */
  readonly plane?: Plane | null;
}

/** A point in the file's own numbers; gives where it came to lie, or null when outside all windows. */
export type ReadPoint = (
  x: number,
  y: number,
  z: number,
  place: () => string,
  detail?: PointDetail,
) => [number, number, number] | null;

/** What a reader is given. `begin` comes first, once the file's own statements are known. */
export interface ReadContext {
  readonly options: ReadOptions;
  begin(stated: Stated): ReadPoint;
  /** Counts how many of some positions lie in a window, read with what is stated; null without windows. */
  landing(stated: Stated, positions: readonly (readonly [number, number])[]): number | null;
  /** The windows in the file's own numbers; null when everything is wanted. */
  windowsInFile(): readonly Box[] | null;
  scaleAt(x: number, y: number): number;
  /** The extent of the file's numbers, for readers that do not give all points. */
  reaches(extent: Box): void;
  /** Places a point that is not kept as one of the survey (a vertex of a breakline). */
  place(x: number, y: number, z: number): [number, number, number];
}

export interface ReadResult {
  readonly kind: Survey['kind'];
  readonly cellSize: number | null;
  readonly breaklines: Survey['breaklines'];
  readonly notes: readonly string[];
  /** Which column or part of the file is what, and whence that was known; left out where the format fixes it. */
  readonly how?: string;
  /** Whence the unit is known that the reader stated: "by the names". */
  readonly unitWhence?: string;
}

export type FileReader = (bytes: ByteSource, context: ReadContext) => Promise<ReadResult>;
