import { resolve } from 'node:path';
import { likelyReading } from '../book/likely-reading.js';
import {
  planeOfSurvey,
  type SurveySite,
  siteOfCourse,
  siteOfOutline,
} from '../book/survey-site.js';
import type { Course } from '../course/course.js';
import { readGreenSurvey, surveyWindow, textByHand } from '../course/green-ground.js';
import { InputFault } from '../fault.js';
import type { Point, Ring } from '../geometry.js';
import type { Plane } from '../survey/crs/plane.js';
import { readSurvey, readSurveyFile } from '../survey/read-survey.js';
import { gatherStream } from '../survey/readers/byte-source.js';
import type { ReadOptions } from '../survey/readers/file-reader.js';
import type { Survey } from '../survey/survey.js';
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

const siteOf = (args: SubjectArguments, course: Course | null): SurveySite | null => {
  const where = { file: 'command line' };
  const crs = args.crs ?? null;
  if (course !== null) {
    if (args.outline !== undefined) {
      throw new InputFault(where, 'both --course and --outline', 'give one of them');
    }
    if (args.hole === undefined) {
      throw new InputFault(where, '--course without --hole', 'name the hole by --hole');
    }
    return siteOfCourse(course, args.hole, crs);
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

/** Reads the survey that the command line names; `course` is the one that it names, if it does. */
export const readSubject = async (
  args: SubjectArguments,
  course: Course | null,
): Promise<Subject> => {
  const site = siteOf(args, course);
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
  const byHand = path !== STANDARD_INPUT && textByHand(path, options.format ?? null) !== null;
  if (byHand && site?.frame == null) {
    throw new InputFault(
      { file: path },
      'a survey by hand, whose paces start from the edge of a green',
      'name the course and the hole that it is of: --course C --hole H',
    );
  }
  const survey =
    path === STANDARD_INPUT
      ? await readSurvey(await gatherStream(process.stdin, 'standard input'), options, window)
      : site?.frame != null
        ? await readGreenSurvey(path, options, { outline: site.outline, frame: site.frame })
        : await readSurveyFile(path, options, window);
  const plane = site?.plane ?? planeOfSurvey(survey);
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
