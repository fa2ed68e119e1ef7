import { join } from 'node:path';
import { InputFault } from '../fault.js';
import { type Box, boxOf, growBox, type Ring } from '../geometry.js';
import { readSurveyFile } from '../survey/read-survey.js';
import { type GreenFrame, ringInFrame, type Survey, toGreenFrame } from '../survey/survey.js';
import type { Course, GreenGround, GreenSite, Hole } from './course.js';

/** How far past the outline a survey is read, metres. */
const WINDOW = 6;

/** The part of a survey that is read for a green. */
export const surveyWindow = (outline: Ring): Box => growBox(boxOf(outline), WINDOW);

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
    breaklines: survey.breaklines.map((line) =>
      line.map(([px, py, pz]) => {
        const at = toGreenFrame(frame, px, py);
        return [at[0], at[1], pz] as const;
      }),
    ),
  };
};

/** The green of a hole, as far as its survey goes; a fault when the course file names none. */
export const surveyedGreen = (course: Course, hole: Hole): GreenSite => {
  if (hole.green !== null) return hole.green;
  throw new InputFault(
    { file: course.file, place: `hole ${hole.id}` },
    'the hole has no survey',
    'name the survey of its green by the key "survey"',
  );
};

/**
 * Reads the survey of one green, cut to its surroundings, and turns all into the frame of the green
 * (see frame.ts), metres.
 *
 * @throws InputFault when the survey is damaged or none of it lies on the green.
 */
export const readGreenGround = async (course: Course, hole: Hole): Promise<GreenGround> => {
  const site = surveyedGreen(course, hole);
  const { survey: source, plane, frame } = site;
  const survey = await readSurveyFile(
    join(course.folder, source.file),
    {
      source: source.file,
      format: source.format,
      crs: source.crs,
      unit: source.unit,
      verticalUnit: source.verticalUnit,
      columns: source.columns,
      sigma: source.sigma,
      plane,
    },
    surveyWindow(site.outline),
  );
  return {
    holeId: hole.id,
    survey: surveyInFrame(survey, frame),
    outline: ringInFrame(frame, site.outline),
    drains: site.drains.map(([x, y]) => toGreenFrame(frame, x, y)),
    locations: site.locations,
  };
};
