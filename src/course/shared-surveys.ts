import { readSurveysFile } from '../survey/read-survey.js';
import type { Survey } from '../survey/survey.js';
import type { Course, GreenGround, GreenSite, Hole } from './course.js';
import { fileOfCourse } from './course-files.js';
import {
  greenGroundOf,
  readOptionsOf,
  readSurveyOfSite,
  surveyWindow,
  textByHand,
} from './green-ground.js';
import { surveyedGreen } from './named-hole.js';

/** Greens that are read by one pass: the surveys of as many are held until their turn. */
const MOST_TOGETHER = 100;

/** Greens whose surveys are one file, read in one way into one plane. */
interface Sharing {
  readonly sites: GreenSite[];
  /** Null until the first of them is asked for. */
  surveys: Promise<Map<GreenSite, Survey>> | null;
}

const sharedKey = ({ survey, plane }: GreenSite): string =>
  JSON.stringify([survey, plane.name, plane.definition]);

/** What a grid's reader tells of its cells counts those of all windows together. */
const countsAllWindows = ({ kind, notes = [] }: Survey): boolean =>
  kind === 'grid' && notes.length > 0;

/** A file's surveys of several greens by one pass; none where the file wants each green read for itself. */
const readTogether = async (
  course: Course,
  sites: readonly GreenSite[],
): Promise<Map<GreenSite, Survey>> => {
  const { survey: source, plane } = sites[0];
  const path = fileOfCourse(course.folder, source.file);
  if (textByHand(path, source.format) !== null) return new Map();
  const windows = sites.map(({ outline }) => surveyWindow(outline));
  try {
    const read = await readSurveysFile(path, { ...readOptionsOf(source), plane }, windows);
    const pairs = read.map((survey, i) => [sites[i], survey] as const);
    return new Map(pairs.filter(([, survey]) => !countsAllWindows(survey)));
  } catch {
    // Whatever is wrong is told of the green whose turn it is, and the others may be read.
    return new Map();
  }
};

/**
 * Reads the ground of some greens, one at a time as asked for; a file that several of them share is read once
 * for every hundred of them.
 * Each comes out as `readGreenGround` gives it, and throws as that does.
 */
export const groundReader = (
  course: Course,
  holes: readonly Hole[],
): ((hole: Hole) => Promise<GreenGround>) => {
  const last = new Map<string, Sharing>();
  const sharedBy = new Map<GreenSite, Sharing>();
  for (const { green } of holes) {
    if (green === null) continue;
    const key = sharedKey(green);
    const before = last.get(key);
    const isFull = before === undefined || before.sites.length >= MOST_TOGETHER;
    const sharing: Sharing = isFull ? { sites: [], surveys: null } : before;
    sharing.sites.push(green);
    last.set(key, sharing);
    sharedBy.set(green, sharing);
  }
  return async (hole) => {
    const site = surveyedGreen(course, hole);
    const sharing = sharedBy.get(site);
    let survey: Survey | undefined;
    if (sharing !== undefined && sharing.sites.length > 1) {
      sharing.surveys ??= readTogether(course, sharing.sites);
      const surveys = await sharing.surveys;
      survey = surveys.get(site);
      surveys.delete(site);
    }
    return greenGroundOf(hole, site, survey ?? (await readSurveyOfSite(course, site)));
  };
};
