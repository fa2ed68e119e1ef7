import { resolve } from 'node:path';
import type { Course, SurveySource } from '../course/course.js';
import { fileOfCourse } from '../course/course-files.js';
import { locationOfPoint } from '../course/frame.js';
import {
  readGreenGround,
  readGreenSurvey,
  readOptionsOf,
  surveyInFrame,
} from '../course/green-ground.js';
import { inPlane } from '../course/green-site.js';
import { holeOf, surveyedGreen } from '../course/named-hole.js';
import { commonGround } from '../event/common-ground.js';
import { outlineInFrame } from '../event/day-locations.js';
import { InputFault } from '../fault.js';
import type { Point, Ring } from '../geometry.js';
import { boxOf, signedArea } from '../geometry.js';
import { locationWords } from '../page/kit/location-words.js';
import { phrase, type Worded } from '../page/words/words.js';
import { readSurveyFile } from '../survey/read-survey.js';
import type { ReadOptions } from '../survey/readers/file-reader.js';
import { type GreenFrame, ringInFrame, type Survey, toGreenFrame } from '../survey/survey.js';
import { feetToMetres } from '../units.js';
import { withLikelyReading } from './likely-reading.js';

/** Which surveys are compared, and how they are to be read. */
export interface SurveyPair {
  readonly older: string;
  readonly newer: string;
  /** Points of the survey at which tables are compared. */
  readonly at: readonly Point[];
  /** How a file is read: by what the course says of its survey, where it is that or of the same green. */
  readonly reading: (given: SurveySource | null, isOwn: boolean) => Reading;
}

type Reading = Omit<ReadOptions, 'source' | 'plane'>;

/** What both surveys are compared on. */
export interface CommonGreen {
  readonly title: (tell: Worded) => string;
  readonly outline: Ring;
  readonly older: Survey;
  readonly newer: Survey;
  readonly holes: readonly { readonly name: (tell: Worded) => string; readonly at: Point }[];
  readonly stimp: number;
  /** Words of a place, metres of the green's frame. */
  readonly place: (at: Point, tell: Worded) => string;
}

const DEFAULT_STIMP = feetToMetres(10);

/** What a hole that the command line names is called. */
const asked =
  (i: number) =>
  (tell: Worded): string =>
    phrase(tell, 'moved.hole', { number: i + 1 });

/** The two surveys in the frame of a green of a course. */
export const onCourse = async (
  pair: SurveyPair,
  course: Course,
  holeId: string,
): Promise<CommonGreen> => {
  const hole = holeOf(course, holeId);
  const outline = outlineInFrame(hole, course.file);
  const site = surveyedGreen(course, hole);
  const read = async (file: string): Promise<Survey> => {
    // The word "course" stands for the survey that the course file names.
    if (file === 'course') {
      const { survey } = await readGreenGround(course, hole);
      const path = fileOfCourse(course.folder, site.survey.file);
      return withLikelyReading(survey, path, readOptionsOf(site.survey), site);
    }
    const isOwn = resolve(fileOfCourse(course.folder, site.survey.file)) === resolve(file);
    const how = pair.reading(site.survey, isOwn);
    const survey = await readGreenSurvey(file, { source: file, ...how, plane: site.plane }, site);
    const framed = surveyInFrame(survey, site.frame);
    return withLikelyReading(framed, file, { source: file, ...how }, site);
  };
  const more = pair.at.map((point, i) => {
    const [x, y] = inPlane(site.survey, site.plane, point);
    return { name: asked(i), at: toGreenFrame(site.frame, x, y) };
  });
  return {
    title: (tell) => phrase(tell, 'moved.green', { number: hole.id, name: hole.name }),
    outline,
    older: await read(pair.older),
    newer: await read(pair.newer),
    holes: [...site.locations.map(({ name, at }) => ({ name: () => name, at })), ...more],
    stimp: site.stimp,
    place: (at, tell) => locationWords(locationOfPoint(outline, '', at, {}), tell),
  };
};

/** The two surveys on the ground that they have in common, in a frame about its middle, north up. */
export const onCommonGround = async (pair: SurveyPair): Promise<CommonGreen> => {
  const read = (file: string): Promise<Survey> =>
    readSurveyFile(file, { source: file, ...pair.reading(null, true) });
  const [older, newer] = [await read(pair.older), await read(pair.newer)];
  const ring = commonGround(older, newer);
  if (ring.length < 3 || Math.abs(signedArea(ring)) < 1) {
    throw new InputFault(
      { file: pair.newer },
      'the two surveys have no ground in common',
      'check their coordinate systems and units',
    );
  }
  const box = boxOf(ring);
  const origin: Point = [
    Math.round((box.minX + box.maxX) / 2),
    Math.round((box.minY + box.maxY) / 2),
  ];
  const frame: GreenFrame = { origin, forward: [0, 1] };
  return {
    title: (tell) => phrase(tell, 'moved.two'),
    outline: ringInFrame(frame, ring),
    older: surveyInFrame(older, frame),
    newer: surveyInFrame(newer, frame),
    holes: pair.at.map(([x, y], i) => ({ name: asked(i), at: toGreenFrame(frame, x, y) })),
    stimp: DEFAULT_STIMP,
    place: ([x, y]) => `${(x + origin[0]).toFixed(1)}, ${(y + origin[1]).toFixed(1)}`,
  };
};
