import { closeSync, mkdirSync, openSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import proj4 from 'proj4';

/** Metres: half of a green across, from one green's middle to the next one's, and the length of a hole. */
const [WIDE, DEEP] = [11, 14] as const;
const [APART, BETWEEN] = [60, 300] as const;
const LENGTH = 260;
const [EAST, NORTH] = [387_000, 3_600_000] as const;
const IN_A_ROW = 70;

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

/** The map of some greens, with a folder for their surveys; gives their holes. */
const writeMap = (folder: string, greens: number): readonly number[] => {
  mkdirSync(join(folder, 'surveys'), { recursive: true });
  const holes = Array.from({ length: greens }, (_, i) => i + 1);
  writeFileSync(
    join(folder, 'map.geojson'),
    JSON.stringify({ type: 'FeatureCollection', features: holes.flatMap(featuresOf) }),
  );
  return holes;
};

const writeCourseFile = (
  folder: string,
  holes: readonly number[],
  survey: (hole: number) => string | null,
): void => {
  const entries = holes.map((hole) => {
    const file = survey(hole);
    const surveyed = file === null ? '' : `\n    survey: surveys/${file}`;
    return `  - hole: ${hole}${surveyed}\n    locations: { A: { on: 12, left: 3 } }`;
  });
  writeFileSync(
    join(folder, 'course.yaml'),
    `title: ${holes.length} greens
map: map.geojson
greenSpeed: 10ft
surveys: { crs: EPSG:32625, unit: m }
holes:
${entries.join('\n')}
`,
  );
};

const SIDE = 2000;

/** Writes eighteen greens and one grid of 4 million cells of a metre that they all lie in, as text. */
export const writeGridCourse = (folder: string): void => {
  const holes = writeMap(folder, 18);
  const file = openSync(join(folder, 'surveys/ground.asc'), 'w');
  const [x0, y0] = [EAST - 100, NORTH - 1000];
  writeSync(file, `ncols ${SIDE}\nnrows ${SIDE}\nxllcorner ${x0}\nyllcorner ${y0}\ncellsize 1\n`);
  for (let row = 0; row < SIDE; row++) {
    const y = SIDE - row;
    const heights = Array.from({ length: SIDE }, (_, x) =>
      (12 + 0.02 * y + 0.15 * Math.sin(x / 5) + 0.1 * Math.cos(y / 6)).toFixed(3),
    );
    writeSync(file, `${heights.join(' ')}\n`);
  }
  closeSync(file);
  writeCourseFile(folder, holes, () => 'ground.asc');
};

/** Writes a course of some greens, each `every`th with a survey of some points, all by a seed. */
export const writeGrowingCourse = (
  folder: string,
  greens: number,
  points: number,
  seed: number,
  every = 1,
): void => {
  const holes = writeMap(folder, greens);
  const next = numbersFrom(seed);
  const isSurveyed = (hole: number): boolean => hole % every === 0;
  for (const hole of holes.filter(isSurveyed)) {
    writeFileSync(join(folder, `surveys/${hole}.csv`), surveyOf(hole, points, next));
  }
  writeCourseFile(folder, holes, (hole) => (isSurveyed(hole) ? `${hole}.csv` : null));
};
