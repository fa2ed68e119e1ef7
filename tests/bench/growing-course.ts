import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import proj4 from 'proj4';

/** Metres: half of a green across, from one green's middle to the next one's, and the length of a hole. */
const [WIDE, DEEP] = [11, 14] as const;
const [APART, BETWEEN] = [90, 330] as const;
const LENGTH = 260;
const [EAST, NORTH] = [387_000, 3_600_000] as const;
const IN_A_ROW = 20;

const plane = proj4('+proj=utm +zone=25 +datum=WGS84', 'WGS84');
const mapped = (x: number, y: number): number[] =>
  plane.forward([x, y]).map((degrees) => Number(degrees.toFixed(8)));

/** Numbers from 0 to 1 by a linear congruential generator; each seed its own row. */
const numbersFrom = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
};

const middleOf = (hole: number): readonly [number, number] => [
  EAST + APART * ((hole - 1) % IN_A_ROW),
  NORTH + BETWEEN * Math.floor((hole - 1) / IN_A_ROW),
];

/** Points of a rover on uneven ground, no two greens alike. */
const surveyOf = (hole: number, points: number, next: () => number): string => {
  const [x0, y0] = middleOf(hole);
  const rows = Array.from({ length: points }, () => {
    const [u, v] = [2 * next() - 1, 2 * next() - 1];
    const [x, y] = [u * (WIDE + 2), v * (DEEP + 2)];
    const z = 12 + 0.02 * y + 0.12 * Math.sin(x / 4 + hole) + 0.1 * Math.cos(y / 5 - hole);
    return [x0 + x, y0 + y, z + 0.004 * (next() + next() - 1)].map((one) => one.toFixed(3)).join();
  });
  return `easting,northing,height\n${rows.join('\n')}\n`;
};

const featuresOf = (hole: number): object[] => {
  const [x0, y0] = middleOf(hole);
  const ring = Array.from({ length: 33 }, (_, i) => {
    const turn = (2 * Math.PI * (i % 32)) / 32;
    return mapped(x0 + WIDE * Math.cos(turn), y0 + DEEP * Math.sin(turn));
  });
  const feature = (golf: string, type: string, coordinates: unknown): object => ({
    type: 'Feature',
    properties: { golf, ref: `${hole}` },
    geometry: { type, coordinates },
  });
  return [
    feature('green', 'Polygon', [ring]),
    feature('hole', 'LineString', [mapped(x0, y0 - LENGTH), mapped(x0, y0)]),
  ];
};

/** Writes a course of some greens with surveys of some points each, all by a seed. */
export const writeGrowingCourse = (
  folder: string,
  greens: number,
  points: number,
  seed: number,
): void => {
  mkdirSync(join(folder, 'surveys'), { recursive: true });
  const next = numbersFrom(seed);
  const holes = Array.from({ length: greens }, (_, i) => i + 1);
  for (const hole of holes) {
    writeFileSync(join(folder, `surveys/${hole}.csv`), surveyOf(hole, points, next));
  }
  writeFileSync(
    join(folder, 'map.geojson'),
    JSON.stringify({ type: 'FeatureCollection', features: holes.flatMap(featuresOf) }),
  );
  const entries = holes.map(
    (hole) => `  - hole: ${hole}
    survey: surveys/${hole}.csv
    locations: { A: { on: 12, left: 3 } }`,
  );
  writeFileSync(
    join(folder, 'course.yaml'),
    `title: ${greens} greens
map: map.geojson
greenSpeed: 10ft
surveys: { crs: EPSG:32625, unit: m }
holes:
${entries.join('\n')}
`,
  );
};
