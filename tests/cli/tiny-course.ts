import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const DEMO = 'course-data/vellamoor';
const HOLE = '12';
/** The green is drawn together about its middle to this share of its size. */
const SHARE = 0.4;

interface Feature {
  readonly properties: Readonly<Record<string, string>>;
  readonly geometry: { readonly type: string; readonly coordinates: number[][][] };
}

const shrunk = (feature: Feature): Feature => {
  const [ring] = feature.geometry.coordinates;
  const corners = ring.slice(0, -1);
  const middle = [0, 1].map((i) => corners.reduce((sum, p) => sum + p[i], 0) / corners.length);
  const coordinates = [
    ring.map((p) => p.slice(0, 2).map((v, i) => middle[i] + SHARE * (v - middle[i]))),
  ];
  return { ...feature, geometry: { ...feature.geometry, coordinates } };
};

/** A course of one hole with one small green, so that a run of the program is as short as can be. */
export const writeTinyCourse = (folder: string, greenSpeed: string): void => {
  mkdirSync(join(folder, 'surveys'), { recursive: true });
  cpSync(join(DEMO, 'surveys/green-12.csv'), join(folder, 'surveys/green-12.csv'));
  const map = JSON.parse(readFileSync(join(DEMO, 'map.geojson'), 'utf8')) as {
    readonly features: readonly Feature[];
  };
  const features = map.features
    .filter(({ properties }) => properties.ref === HOLE)
    .map((feature) => (feature.properties.golf === 'green' ? shrunk(feature) : feature));
  writeFileSync(join(folder, 'map.geojson'), JSON.stringify({ ...map, features }));
  writeFileSync(join(folder, 'days.csv'), `hole,day,on,in,side\n${HOLE},2,4,4,left\n`);
  writeFileSync(
    join(folder, 'course.yaml'),
    `title: One small green
map: map.geojson
days: days.csv
greenSpeed: ${greenSpeed}
surveys: { crs: EPSG:32625, unit: m }
holes:
  - hole: ${HOLE}
    survey: surveys/green-12.csv
    trust: { printAs: tables, because: a cut of a green that is }
    locations:
      A: { on: 5, left: 4 }
`,
  );
};
