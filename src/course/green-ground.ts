import { closeSync, existsSync, openSync, readSync, statSync } from 'node:fs';
import { type Box, boxOf, growBox, type Ring } from '../geometry.js';
import { readSurveyFile } from '../survey/read-survey.js';
import { isByHand } from '../survey/readers/by-hand.js';
import type { ReadOptions } from '../survey/readers/file-reader.js';
import type { SourceFormat } from '../survey/readers/sniff.js';
import {
  type GreenFrame,
  type PacedReadings,
  type PlaneParts,
  ringInFrame,
  type Survey,
  toGreenFrame,
} from '../survey/survey.js';
import { beginningOf, readTextFile } from '../user-text.js';
import type { Course, GreenGround, GreenSite, Hole, SurveySource } from './course.js';
import { fileOfCourse } from './course-files.js';
import { surveyedGreen } from './named-hole.js';
import { surveyByHand } from './survey-by-hand.js';

/** How far past the outline a survey is read, metres. */
const WINDOW = 6;

/** The part of a survey that is read for a green. */
export const surveyWindow = (outline: Ring): Box => growBox(boxOf(outline), WINDOW);

/** What was read by hand, turned into the frame of a green. */
const turned = (paced: PacedReadings, { forward }: GreenFrame): PacedReadings => {
  const turn = <P extends PlaneParts>(parts: P): P => {
    const at = Array.from(parts.x, (px, i) =>
      toGreenFrame({ origin: [0, 0], forward }, px, parts.y[i]),
    );
    return {
      ...parts,
      x: Float64Array.from(at, (one) => one[0]),
      y: Float64Array.from(at, (one) => one[1]),
    };
  };
  const { falls, walked } = paced;
  return { ...paced, walked: turn(walked), falls: falls === null ? null : turn(falls) };
};

/** A survey in the frame of a green: positions turned and shifted, heights as they are. */
export const surveyInFrame = (survey: Survey, frame: GreenFrame): Survey => {
  const x = new Float64Array(survey.x.length);
  const y = new Float64Array(survey.y.length);
  for (let i = 0; i < x.length; i++) {
    const at = toGreenFrame(frame, survey.x[i], survey.y[i]);
    x[i] = at[0];
    y[i] = at[1];
  }
  return {
    ...survey,
    x,
    y,
    ...(survey.paced ? { paced: turned(survey.paced, frame) } : {}),
    breaklines: survey.breaklines.map((line) =>
      line.map(([px, py, pz]) => {
        const at = toGreenFrame(frame, px, py);
        return [at[0], at[1], pz] as const;
      }),
    ),
  };
};

/** How much of a file tells that it is a survey by hand. */
const HEAD = 8192;

/** The text of a rough survey by hand, told by its names of columns unless it is said; null for a file of any other kind. */
export const textByHand = (path: string, format: SourceFormat | null): string | null => {
  if (!existsSync(path) || !statSync(path).isFile()) return null;
  if (format !== null) return format === 'by-hand' ? readTextFile(path) : null;
  const file = openSync(path, 'r');
  try {
    const head = Buffer.alloc(HEAD);
    const length = readSync(file, head, 0, HEAD, 0);
    return isByHand(beginningOf(head.subarray(0, length))) ? readTextFile(path) : null;
  } finally {
    closeSync(file);
  }
};

/** Reads the survey of a green, cut to its surroundings, in the plane of the green: a file of any format, or one made by hand. */
export const readGreenSurvey = (
  path: string,
  options: ReadOptions,
  site: Pick<GreenSite, 'outline' | 'frame'>,
): Promise<Survey> => {
  const byHand = textByHand(path, options.format ?? null);
  return byHand === null
    ? readSurveyFile(path, options, surveyWindow(site.outline))
    : Promise.resolve(
        surveyByHand(byHand, options.source, options.sigma ?? null, site.outline, site.frame),
      );
};

/** How the course file says that a survey is to be read; the frame apart. */
export const readOptionsOf = ({
  file,
  tie: _,
  surveyed: __,
  ...how
}: SurveySource): ReadOptions => ({
  ...how,
  source: file,
});

/** A survey in the plane of its green, turned into the frame of the green. */
export const greenGroundOf = (
  hole: Hole,
  { frame, outline, drains, locations }: GreenSite,
  survey: Survey,
): GreenGround => ({
  holeId: hole.id,
  survey: surveyInFrame(survey, frame),
  outline: ringInFrame(frame, outline),
  drains: drains.map(([x, y]) => toGreenFrame(frame, x, y)),
  locations,
});

/** Reads the survey of one green as the course file says, cut to its surroundings. */
export const readSurveyOfSite = (course: Course, site: GreenSite): Promise<Survey> => {
  const { survey: source, plane } = site;
  const path = fileOfCourse(course.folder, source.file);
  return readGreenSurvey(path, { ...readOptionsOf(source), plane }, site);
};

/**
 * Reads the survey of one green, cut to its surroundings, and turns all into the frame of the green
 * (see frame.ts), metres.
 *
 * @throws InputFault when the survey is damaged or none of it lies on the green.
 */
export const readGreenGround = async (course: Course, hole: Hole): Promise<GreenGround> => {
  const site = surveyedGreen(course, hole);
  return greenGroundOf(hole, site, await readSurveyOfSite(course, site));
};
