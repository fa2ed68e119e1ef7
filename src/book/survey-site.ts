import { noGreen } from '../course/check-map.js';
import type { Course, SurveySource } from '../course/course.js';
import { fileOfCourse } from '../course/course-files.js';
import type { LonLat, MapFeature } from '../course/course-map.js';
import { middleOf } from '../course/hole-site.js';
import { holeOf } from '../course/named-hole.js';
import { readMap } from '../course/read-map.js';
import { InputFault } from '../fault.js';
import { type Point, type Ring, signedArea } from '../geometry.js';
import { coordinateSystem, localPlane, type Plane, planeFor } from '../survey/crs/plane.js';
import type { GreenFrame, Survey } from '../survey/survey.js';
import { readTextFile } from '../user-text.js';

/** Where a survey's green lies, by a course or by an outline alone. */
export interface SurveySite {
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

/** The green of a hole; its plane is in `crs` where the course does not say. */
export const siteOfCourse = (loaded: Course, holeId: string, crs: string | null): SurveySite => {
  const hole = holeOf(loaded, holeId);
  if (hole.green !== null) {
    const { outline, plane, drains, survey, frame } = hole.green;
    const file = fileOfCourse(loaded.folder, survey.file);
    return { outline, plane, drains, source: survey, file, frame };
  }
  const green = hole.site.green;
  if (green === null || green.shape.kind !== 'area') {
    throw new InputFault({ file: loaded.file }, `the map has no green for hole ${hole.id}`);
  }
  const alone = { drains: [], source: null, file: null };
  const site = hole.outline ?? null;
  // A survey by hand counts its paces in the frame of the green.
  if (crs === null && site !== null) {
    return { ...alone, outline: site.outline, plane: site.plane, frame: site.frame };
  }
  const plane = planeNear(crs, middleOf(green));
  return { ...alone, outline: ringOf(green, plane), plane, frame: null };
};

/** The one green of a map file, or that of a hole (its reference or its id). */
export const siteOfOutline = (
  file: string,
  holeId: string | null,
  crs: string | null,
): SurveySite => {
  const areas = readMap(readTextFile(file, 'check its name'), file).features.filter(
    (f) => f.shape.kind === 'area',
  );
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
  const outline = ringOf(wanted[0], plane);
  const wrong = noGreen(outline);
  if (wrong !== null)
    throw new InputFault({ file, place: wanted[0].id }, wrong.problem, wrong.cure);
  return {
    outline,
    plane,
    drains: [],
    source: null,
    file: null,
    frame: null,
  };
};

/** The plane of a survey that was read without a map; null when it is not its coordinate system. */
export const planeOfSurvey = (survey: Survey): Plane | null => {
  const crs = survey.crs ?? null;
  if (crs === null) return null;
  const system = coordinateSystem(crs, 'command line');
  if (system.geographic) return null;
  const plane = planeFor(crs, system.unproject(survey.x[0], survey.y[0]), 'command line');
  return plane.definition === system.definition ? plane : null;
};
