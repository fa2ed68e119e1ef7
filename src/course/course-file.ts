import { createRequire } from 'node:module';
import { yamlReader } from '../checked-yaml.js';
import type { InputFault } from '../fault.js';
import type { Course, SurveySource } from './course.js';
import type { LonLat } from './course-map.js';
import type { MeasuredEntry } from './measured-features.js';

/** The course file as the schema has it. */
export interface CourseFile {
  readonly title: string;
  readonly setting?: string;
  readonly map: string;
  /** The name or the id of its boundary, when the map holds several courses. */
  readonly course?: string;
  readonly ground?: SourceEntry;
  readonly use?: Course['use'];
  readonly words?: string;
  readonly units?: NonNullable<Course['units']>;
  readonly greenSpeed?: number | string;
  readonly surveys?: Omit<Partial<SourceFields>, 'file'>;
  readonly days?: string;
  readonly edition?: string;
  readonly buyer?: string;
  readonly imprint?: string | ImprintEntry;
  readonly holes: readonly HoleEntry[];
}

/** What the book says of itself; see the schema. */
export interface ImprintEntry {
  readonly publisher?: string;
  readonly copyright?: string;
  readonly contact?: string | readonly string[];
  readonly surveyed?: string;
  readonly price?: string;
  readonly isbn?: string;
  readonly addOn?: string;
  readonly logo?: string | { readonly file: string; readonly width?: number };
  readonly about?: string;
}

export interface SourceFields {
  readonly file: string;
  readonly format: NonNullable<SurveySource['format']>;
  readonly crs: string;
  readonly unit: NonNullable<SurveySource['unit']>;
  readonly verticalUnit: NonNullable<SurveySource['verticalUnit']>;
  readonly sigma: number;
  readonly columns: readonly string[];
  readonly classes: readonly number[];
  readonly surface: string;
  readonly layer: string;
  readonly sheet: string;
  readonly band: number;
  readonly tie: NonNullable<SurveySource['tie']>;
  readonly surveyed: string;
}

/** A file name, or how the file is to be read. */
export type SourceEntry = string | (Partial<SourceFields> & Pick<SourceFields, 'file'>);

/** A hole as the file has it; see the schema for what each key means. */
export interface HoleEntry {
  readonly hole: number | string;
  readonly name?: string;
  readonly par?: number;
  readonly index?: number;
  /** The loop of a course of several that it belongs to. */
  readonly loop?: string;
  readonly survey?: SourceEntry;
  readonly greenSpeed?: number | string;
  readonly green?: PlaceOnMap;
  readonly tees?: readonly TeeEntry[];
  /** The id of a line of the map, or its points. */
  readonly line?: string | number | readonly LonLat[];
  /** What the map lacks, measured on the course. */
  readonly add?: readonly MeasuredEntry[];
  readonly approach?: number;
  readonly drains?: readonly (readonly [number, number])[];
  /** What is printed of the green against the judgement of its survey, and why. */
  readonly trust?: { readonly printAs: 'tables' | 'arrows' | 'outline'; readonly because: string };
  readonly locations?: Readonly<Record<string, LocationEntry>>;
  /** By the number of the day: a location, or the name of one. */
  readonly days?: Readonly<Record<string, LocationEntry | string>>;
}

/** A feature of the map by its id, or by a point on it. */
export type PlaceOnMap = string | number | LonLat;

export type TeeEntry = PlaceOnMap | { readonly name?: string; readonly at: PlaceOnMap };

export interface LocationEntry {
  readonly on?: number;
  readonly left?: number;
  readonly right?: number;
  readonly at?: readonly [number, number];
}

/** Keys and places from the top of the file to one of its parts. */
export type Path = readonly (string | number)[];
/** Makes the fault at a part of the file, ready to be thrown. */
export type FaultAt = (path: Path, problem: string, cure?: string) => InputFault;

interface Schema {
  readonly $defs: object;
  readonly properties: { readonly imprint: { readonly properties: object } };
}
const SCHEMA = createRequire(import.meta.url)('./course.schema.json') as Schema;

/** Reads the text of a course file and checks it by the schema beside this module. */
export const readCourseFile = yamlReader<CourseFile>(SCHEMA);

/** The same of a file that holds an imprint alone, as the key of the course file would. */
export const readImprintFile = yamlReader<ImprintEntry>({
  type: 'object',
  additionalProperties: false,
  properties: SCHEMA.properties.imprint.properties,
  $defs: SCHEMA.$defs,
});
