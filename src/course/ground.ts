import { boxOf, growBox } from '../geometry.js';
import { readSurveyFile } from '../survey/read-survey.js';
import type { Course } from './course.js';
import { fileOfCourse } from './course-files.js';
import type { LonLat } from './course-map.js';
import { planeOfSource } from './green-site.js';
import { heightFrom } from './ground-heights.js';
import { firstPosition } from './read-map.js';

/** Heights of a course's ground, metres. */
export interface GroundModel {
  /** Null where the model has no heights. */
  heightAt(at: LonLat): number | null;
  /** What the reader of its file had to assume, or passed over; absent when nothing. */
  readonly notes?: readonly string[];
}

/**
 * Reads the ground model that the course file names; null when it names none.
 *
 * @throws InputFault when the file is damaged or of another place.
 */
export const readGround = async (course: Course): Promise<GroundModel | null> => {
  const source = course.ground;
  if (source === null || course.map.features.length === 0) return null;
  const plane = planeOfSource(source, firstPosition(course.map.features[0].shape));
  const places = course.holes.flatMap((hole) => hole.site.line ?? []);
  const window =
    places.length === 0
      ? null
      : growBox(
          boxOf(places.map(([longitude, latitude]) => plane.toPlane(longitude, latitude))),
          150,
        );
  const survey = await readSurveyFile(
    fileOfCourse(course.folder, source.file),
    { ...source, source: source.file, plane },
    window,
  );
  const heightAt = heightFrom(survey);
  return {
    heightAt: ([longitude, latitude]) => heightAt(plane.toPlane(longitude, latitude)),
    notes: survey.notes ?? [],
  };
};
