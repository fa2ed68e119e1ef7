/**
 * Writes the demo course: `npx tsx course-data/vellamoor/make.ts [FOLDER]`, beside this script unless a
 * folder is named. The seed is fixed, so a second run writes the same bytes. Vellamoor, its island and its holes are invented.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import proj4 from 'proj4';
import type { Point } from '../../src/geometry.js';
import { boxOf } from '../../src/geometry.js';
import { fromGreenFrame } from '../../src/survey/survey.js';
import { holeFeatures, type MapFeature, pinFeature } from './features.js';
import { type ChosenLocation, chooseLocations } from './locations.js';
import { seeded } from './random.js';
import { groundHeight, practice, routes } from './routing.js';
import { asciiGrid, NOISE, roverCsv, roverSurvey } from './rover.js';
import { trueGreen, trueGreens } from './truth.js';

const folder = process.argv[2] ?? new URL('.', import.meta.url).pathname;
const GRID_GREEN = '13';
const toLonLat = proj4('+proj=utm +zone=25 +datum=WGS84 +units=m +no_defs', 'WGS84');

const surveyName = (id: string): string =>
  `surveys/green-${id === 'practice' ? id : id.padStart(2, '0')}.${id === GRID_GREEN ? 'asc' : 'csv'}`;

/** Longitude and latitude to 1e-8 degree, about a millimetre. */
const lonLat = (at: Point): [number, number] => {
  const [lon, lat] = toLonLat.forward([at[0], at[1]]);
  return [Math.round(lon * 1e8) / 1e8, Math.round(lat * 1e8) / 1e8];
};

const geometryOf = ({ shape }: MapFeature): object => {
  switch (shape.kind) {
    case 'point':
      return { type: 'Point', coordinates: lonLat(shape.at) };
    case 'line':
      return { type: 'LineString', coordinates: shape.points.map(lonLat) };
    case 'area':
      return { type: 'Polygon', coordinates: [[...shape.ring, shape.ring[0]].map(lonLat)] };
  }
};

const locationLine = ({ name, on, in: paces, side }: ChosenLocation): string =>
  `      ${name}: { on: ${on}, ${side}: ${paces} }`;

const courseYaml = (locations: ReadonlyMap<string, readonly ChosenLocation[]>): string =>
  [
    '# yaml-language-server: $schema=../../src/course/course.schema.json',
    'title: Vellamoor',
    'setting: Eighteen holes on the crescent of an island that is not on any chart',
    'edition: First edition, 2027',
    'imprint:',
    '  publisher: Slack Water Press',
    '  copyright: © 2027 Slack Water Press',
    '  contact: [Slipway House, Vellamoor Harbour, books@slackwater.example]',
    '  surveyed: by rover and by drone, May 2027',
    '  price: £14.00',
    '  # Invented: no agency has given out numbers that begin so.',
    '  isbn: 979-9-00-000001-1',
    '  addOn: "51400"',
    '  about: >-',
    '    It rains here two days in three, and nineteen greens have learnt to shed it. Each is drawn as it sheds: its',
    '    slope, its hollows, the line by which the water leaves; and from that the aim and the pace of the putts you',
    '    will have, from below, from above and across, at every hole location, the green behind the boathouse too.',
    'map: map.geojson',
    'ground: ground.asc',
    'use: practice',
    '# A stimp reading, in feet.',
    'greenSpeed: 10.5',
    'surveys:',
    '  crs: EPSG:32625',
    '  unit: m',
    '  surveyed: rover, May 2027',
    '',
    'holes:',
    ...[...routes, practice].flatMap((route) => {
      const green = trueGreen(route.id);
      const drains = green.drains.map(([x, y]) => fromGreenFrame(green.frame, x, y));
      const isHole = route.par !== null;
      const [from, to] = route.line;
      return [
        `  - hole: ${route.id}`,
        `    name: ${JSON.stringify(green.name)}`,
        ...(isHole ? [`    par: ${route.par}`, `    index: ${route.index}`] : []),
        ...(route.id === GRID_GREEN
          ? [
              `    # The error of a cell: a grid does not show it by itself.`,
              `    survey: { file: ${surveyName(route.id)}, sigma: ${NOISE}, surveyed: "drone, May 2027" }`,
            ]
          : [`    survey: ${surveyName(route.id)}`]),
        ...(isHole
          ? []
          : [`    approach: ${bearing(from, to).toFixed(4)} # degrees from true north`]),
        ...(drains.length === 0
          ? []
          : [
              '    drains:',
              ...drains.map(([e, n]) => `      - [${e.toFixed(2)}, ${n.toFixed(2)}]`),
            ]),
        '    locations:',
        ...locations.get(route.id)!.map(locationLine),
      ];
    }),
    '',
    '# Hole locations of four days, as a committee would give them.',
    'days: days.csv',
    '',
  ].join('\n');

/** Bearing of a short line from true north, degrees: the grid's bearing turned by the meridian's convergence. */
const bearing = (from: Point, to: Point): number => {
  const [lon, lat] = toLonLat.forward([to[0], to[1]]);
  const north = proj4('WGS84', '+proj=utm +zone=25 +datum=WGS84 +units=m', [lon, lat + 1e-4]);
  const grid = Math.atan2(to[0] - from[0], to[1] - from[1]);
  const meridian = Math.atan2(north[0] - to[0], north[1] - to[1]);
  return (((((grid - meridian) * 180) / Math.PI) % 360) + 360) % 360;
};

/** A coarse ground model of the whole course, 25 m cells. */
const groundGrid = (): string => {
  const cell = 25;
  const box = boxOf([...routes, practice].flatMap((route) => route.line));
  const west = Math.floor((box.minX - 100) / cell) * cell;
  const south = Math.floor((box.minY - 100) / cell) * cell;
  const columns = Math.ceil((box.maxX + 100 - west) / cell);
  const rows = Math.ceil((box.maxY + 100 - south) / cell);
  const lines = Array.from({ length: rows }, (_, i) =>
    Array.from({ length: columns }, (_, c) =>
      groundHeight([west + (c + 0.5) * cell, south + (rows - i - 0.5) * cell]).toFixed(1),
    ).join(' '),
  );
  return [
    `ncols ${columns}`,
    `nrows ${rows}`,
    `xllcorner ${west}`,
    `yllcorner ${south}`,
    `cellsize ${cell}`,
    'NODATA_value -9999',
    ...lines,
    '',
  ].join('\n');
};

const write = (name: string, text: string): void => {
  writeFileSync(join(folder, name), text);
};

mkdirSync(join(folder, 'surveys'), { recursive: true });
trueGreens.forEach((green, i) => {
  const random = seeded(7100 + i);
  write(
    surveyName(green.id),
    green.id === GRID_GREEN ? asciiGrid(green, random) : roverCsv(roverSurvey(green, random)),
  );
});

const locations = new Map(trueGreens.map((green) => [green.id, chooseLocations(green)]));
const features: MapFeature[] = routes.flatMap((route, i) => {
  const green = trueGreen(route.id);
  const [first] = locations.get(route.id)!;
  return [
    ...holeFeatures(route, green, seeded(8200 + i)),
    pinFeature(route.id, fromGreenFrame(green.frame, first.x, first.y)),
  ];
});
const practiceGreen = trueGreen('practice');
features.push({
  id: 'green/practice/1',
  tags: { golf: 'green', ref: 'practice', name: 'Practice green' },
  shape: {
    kind: 'area',
    ring: practiceGreen.outline.map(([x, y]) => fromGreenFrame(practiceGreen.frame, x, y)),
  },
});
write(
  'map.geojson',
  `{"type":"FeatureCollection","features":[\n${features
    .map((one) =>
      JSON.stringify({
        type: 'Feature',
        id: one.id,
        properties: one.tags,
        geometry: geometryOf(one),
      }),
    )
    .join(',\n')}\n]}\n`,
);
write('ground.asc', groundGrid());
write('course.yaml', courseYaml(locations));
