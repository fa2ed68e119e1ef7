import { join, resolve } from 'node:path';
import { holeOf } from '../book/course-days.js';
import { likelyReading } from '../book/likely-reading.js';
import type { SurveySource } from '../course/course.js';
import type { LonLat, MapFeature } from '../course/course-map.js';
import { readGreenSurvey, surveyWindow, textByHand } from '../course/green-ground.js';
import { middleOf } from '../course/hole-site.js';
import { loadCourse } from '../course/load-course.js';
import { readMap } from '../course/read-map.js';
import { InputFault } from '../fault.js';
import type { Point, Ring } from '../geometry.js';
import { signedArea } from '../geometry.js';
import { readNamedFile } from '../named-file.js';
import { coordinateSystem, localPlane, type Plane, planeFor } from '../survey/crs/plane.js';
import { readSurvey, readSurveyFile } from '../survey/read-survey.js';
import { gatherStream } from '../survey/readers/byte-source.js';
import type { ReadOptions } from '../survey/readers/file-reader.js';
import type { GreenFrame, Survey } from '../survey/survey.js';
import { forAnotherFile, type ReadingArguments, readingOf } from './survey-arguments.js';

/** What the command line says of the survey and its ground. */
export interface SubjectArguments extends ReadingArguments {
  readonly file: string | undefined;
  readonly course: string | undefined;
  readonly hole: string | undefined;
  readonly outline: string | undefined;
}

/** A survey to be judged, cut to its green when there is one. */
export interface Subject {
  readonly source: string;
  /** How it was asked to be read. */
  readonly options: ReadOptions;
  readonly survey: Survey;
  /** In the plane that the survey was read into; null when no map says where the green is. */
  readonly outline: Ring | null;
  readonly plane: Plane | null;
  readonly drains: readonly Point[];
  /** What a faulty unit may explain. */
  readonly notes: readonly string[];
}

/** What the parser makes of "-", the name that stands for standard input. */
const STANDARD_INPUT = '';

interface Site {
  readonly outline: Ring;
  readonly plane: Plane;
  readonly drains: readonly Point[];
  readonly source: SurveySource | null;
  readonly file: string | null;
  /** The frame of the green, by which paces are placed; null where no course tells it. */
  readonly frame: GreenFrame | null;
}

const ringOf = (feature: MapFeature, plane: Plane): Ring => {
  if (feature.shape.kind !== 'area') throw new Error(`${feature.id} is not an area`);
  const ring = feature.shape.rings[0].map(([longitude, latitude]) =>
    plane.toPlane(longitude, latitude),
  );
  return signedArea(ring) > 0 ? ring : ring.reverse();
};

const planeNear = (crs: string | null, near: LonLat): Plane =>
  crs === null ? localPlane(near[0], near[1]) : planeFor(crs, near, 'command line');

const siteOfCourse = (course: string, holeId: string, crs: string | null): Site => {
  const loaded = loadCourse(course);
  const hole = holeOf(loaded, holeId);
  if (hole.green !== null) {
    const { outline, plane, drains, survey, frame } = hole.green;
    const file = join(loaded.folder, survey.file);
    return { outline, plane, drains, source: survey, file, frame };
  }
  const green = hole.site.green;
  if (green === null || green.shape.kind !== 'area') {
    throw new InputFault({ file: loaded.file }, `the map has no green for hole ${hole.id}`);
  }
  const plane = planeNear(crs, middleOf(green));
  return {
    outline: ringOf(green, plane),
    plane,
    drains: [],
    source: null,
    file: null,
    frame: null,
  };
};

const siteOfOutline = (file: string, holeId: string | null, crs: string | null): Site => {
  const areas = readMap(readText(file), file).features.filter((f) => f.shape.kind === 'area');
  const greens = areas.filter((feature) => feature.kind === 'green');
  const all = areas.length === 1 ? areas : greens;
  const wanted =
    holeId === null ? all : all.filter((f) => f.refs.includes(holeId) || f.id === holeId);
  if (wanted.length !== 1) {
    throw new InputFault(
      { file },
      wanted.length === 0
        ? `no outline of a green${holeId === null ? '' : ` of hole ${holeId}`}`
        : `${wanted.length} greens`,
      holeId === null && wanted.length > 1
        ? 'name one by --hole'
        : 'draw one polygon, in longitude and latitude, and tag it golf=green',
    );
  }
  const plane = planeNear(crs, middleOf(wanted[0]));
  return {
    outline: ringOf(wanted[0], plane),
    plane,
    drains: [],
    source: null,
    file: null,
    frame: null,
  };
};

const readText = (file: string): string => readNamedFile(file, 'check its name').toString('utf8');

const siteOf = (args: SubjectArguments): Site | null => {
  const where = { file: 'command line' };
  const crs = args.crs ?? null;
  if (args.course !== undefined) {
    if (args.outline !== undefined) {
      throw new InputFault(where, 'both --course and --outline', 'give one of them');
    }
    if (args.hole === undefined) {
      throw new InputFault(where, '--course without --hole', 'name the hole by --hole');
    }
    return siteOfCourse(args.course, args.hole, crs);
  }
  if (args.outline !== undefined) return siteOfOutline(args.outline, args.hole ?? null, crs);
  if (args.hole !== undefined) {
    throw new InputFault(
      where,
      '--hole without --course or --outline',
      'name the course folder or a map',
    );
  }
  return null;
};

/** Reads the survey that the command line names. */
export const readSubject = async (args: SubjectArguments): Promise<Subject> => {
  const site = siteOf(args);
  const path = args.file ?? site?.file ?? null;
  if (path === null || (path === STANDARD_INPUT && process.stdin.isTTY)) {
    throw new InputFault(
      { file: 'command line' },
      'no survey file is named',
      'runnel survey FILE, or --course and --hole of a course that names one',
    );
  }
  const given = site?.source ?? null;
  const isOwn =
    args.file === undefined || (site?.file != null && resolve(site.file) === resolve(args.file));
  const options: ReadOptions = {
    source: path === STANDARD_INPUT ? 'standard input' : (args.file ?? given?.file ?? path),
    ...readingOf(args, given === null || isOwn ? given : forAnotherFile(given)),
    plane: site?.plane ?? null,
  };
  const window = site === null ? null : surveyWindow(site.outline);
  const byHand = path !== STANDARD_INPUT && textByHand(path) !== null;
  if (byHand && site?.frame == null) {
    throw new InputFault(
      { file: path },
      'a survey by hand, whose paces start from the edge of a green',
      'name the course and the hole that it is of: --course C --hole H, and the file by the key "survey" there',
    );
  }
  const survey =
    path === STANDARD_INPUT
      ? await readSurvey(await gatherStream(process.stdin, 'standard input'), options, window)
      : site?.frame != null
        ? await readGreenSurvey(path, options, { outline: site.outline, frame: site.frame })
        : await readSurveyFile(path, options, window);
  const plane = site?.plane ?? ownPlane(survey);
  return {
    source: options.source,
    options,
    survey,
    outline: site?.outline ?? null,
    plane,
    drains: site?.drains ?? [],
    notes:
      site === null || path === STANDARD_INPUT || byHand
        ? []
        : await likelyReading(survey, { path, options, outline: site.outline, frame: null }),
  };
};

/** The plane of a survey that was read without a map; null when it is not its coordinate system. */
const ownPlane = (survey: Survey): Plane | null => {
  const crs = survey.crs ?? null;
  if (crs === null) return null;
  const system = coordinateSystem(crs, 'command line');
  if (system.geographic) return null;
  const plane = planeFor(crs, system.unproject(survey.x[0], survey.y[0]), 'command line');
  return plane.definition === system.definition ? plane : null;
};
