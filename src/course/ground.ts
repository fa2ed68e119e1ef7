import { join } from 'node:path';
import { boxOf, growBox, type Point } from '../geometry.js';
import { readSurveyFile } from '../survey/read-survey.js';
import type { Survey } from '../survey/survey.js';
import type { Course } from './course.js';
import type { LonLat } from './course-map.js';
import { planeOfSource } from './green-site.js';
import { firstPosition } from './read-map.js';

/** Heights of a course's ground, metres. */
export interface GroundModel {
  /** Null where the model has no heights. */
  heightAt(at: LonLat): number | null;
}

/** Heights are taken from this many of the nearest points of the model. */
const NEIGHBOURS = 6;

/**
 * A height by a plane fitted to the nearest points, nearer ones weighing more (weights 1 / d^2): exact on
 * sloping ground, continuous enough for a change of elevation in whole metres. Null when the nearest
 * point is farther than two spacings.
 */
export const heightFrom = (survey: Survey): ((at: Point) => number | null) => {
  const { x, y } = survey;
  const box = boxOf(Array.from(x, (_, i): Point => [x[i], y[i]]));
  const area = (box.maxX - box.minX) * (box.maxY - box.minY);
  const spacing = survey.cellSize ?? Math.max(0.5, Math.sqrt(area / Math.max(1, x.length)));
  const bins = new Map<string, number[]>();
  const binOf = (px: number, py: number): [number, number] => [
    Math.floor((px - box.minX) / (2 * spacing)),
    Math.floor((py - box.minY) / (2 * spacing)),
  ];
  for (let i = 0; i < x.length; i++) {
    const key = binOf(x[i], y[i]).join(' ');
    const bin = bins.get(key);
    if (bin === undefined) bins.set(key, [i]);
    else bin.push(i);
  }
  return ([px, py]) => {
    const [bx, by] = binOf(px, py);
    const near: { d: number; i: number }[] = [];
    for (let u = bx - 1; u <= bx + 1; u++) {
      for (let v = by - 1; v <= by + 1; v++) {
        for (const i of bins.get(`${u} ${v}`) ?? []) {
          near.push({ d: Math.hypot(x[i] - px, y[i] - py), i });
        }
      }
    }
    near.sort((a, b) => a.d - b.d);
    if (near.length === 0 || near[0].d > 2 * spacing) return null;
    return planeThrough(near.slice(0, NEIGHBOURS), px, py, survey, spacing);
  };
};

/** The height at (px, py) of the weighted least-squares plane; the weighted mean when the points lie on a line. */
const planeThrough = (
  near: readonly { d: number; i: number }[],
  px: number,
  py: number,
  { x, y, z }: Survey,
  spacing: number,
): number => {
  let [w, sx, sy, sz, sxx, sxy, syy, sxz, syz] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (const { d, i } of near) {
    const weight = 1 / (d * d + 1e-4 * spacing * spacing);
    const u = (x[i] - px) / spacing;
    const v = (y[i] - py) / spacing;
    w += weight;
    sx += weight * u;
    sy += weight * v;
    sz += weight * z[i];
    sxx += weight * u * u;
    sxy += weight * u * v;
    syy += weight * v * v;
    sxz += weight * u * z[i];
    syz += weight * v * z[i];
  }
  const [mx, my, mz] = [sx / w, sy / w, sz / w];
  const [cxx, cxy, cyy] = [sxx / w - mx * mx, sxy / w - mx * my, syy / w - my * my];
  const [cxz, cyz] = [sxz / w - mx * mz, syz / w - my * mz];
  const det = cxx * cyy - cxy * cxy;
  if (!(det > 1e-4 * (cxx + cyy) ** 2)) return mz;
  const gx = (cyy * cxz - cxy * cyz) / det;
  const gy = (cxx * cyz - cxy * cxz) / det;
  return mz - gx * mx - gy * my;
};

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
    join(course.folder, source.file),
    { ...source, source: source.file, plane },
    window,
  );
  const heightAt = heightFrom(survey);
  return { heightAt: ([longitude, latitude]) => heightAt(plane.toPlane(longitude, latitude)) };
};
