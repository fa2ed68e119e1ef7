import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { EditionRecord } from '../../src/book/edition-record.js';
import { recordOfPdf } from '../../src/check/read-record.js';
import { readGreenGround } from '../../src/course/green-ground.js';
import { loadCourse } from '../../src/course/load-course.js';
import { atDepth } from '../depth.js';
import { type CloudPoint, writeLas } from '../survey/las-writer.js';
import { runCaptured } from './run-captured.js';
import { type SmallCourse, smallCourse } from './small-course.js';
import { writeTinyLayout } from './tiny-layout.js';

/** Books from surveys in the manner of other hands; of one green each, on a layout of few pages. */
let course: SmallCourse;
let layout: string;
/** Easting, northing, height of the demo's first green. */
let truth: readonly (readonly [number, number, number])[];
let middle: readonly [number, number];

beforeAll(() => {
  course = smallCourse([1]);
  layout = writeTinyLayout(course.root);
  truth = readFileSync(join(course.folder, 'surveys/green-01.csv'), 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => {
      const [, e, n, h] = line.split(',').map(Number);
      return [e, n, h] as const;
    });
  middle = [truth[0][0], truth[0][1]];
});
afterAll(() => course.remove());

// A table is solved on the same ground as the page is drawn from: the long runs look at it, too.
const LOCATION = atDepth('', '    locations: { A: { on: 10, right: 10 } }\n');

/** Gives the hole the survey that is written as `source`. */
const withSurvey = (source: string): void => {
  course.write(`title: One green
map: map.geojson
greenSpeed: 10
holes:
  - hole: 1
    survey: ${source}
${LOCATION}`);
};

interface Book {
  readonly code: number;
  readonly stderr: string;
  readonly pdfs: Record<string, string>;
  readonly readAs: string | null;
}

const makeBook = async (): Promise<Book> => {
  rmSync(course.out, { recursive: true, force: true });
  const { code, stdout, stderr } = await runCaptured([
    ...['book', course.folder, '--layout', layout, '--out', course.out, '--json'],
  ]);
  const folder = join(course.out, 'links');
  const names = existsSync(folder)
    ? readdirSync(folder).filter((name) => name.endsWith('.pdf'))
    : [];
  return {
    code,
    stderr,
    pdfs: Object.fromEntries(
      names.sort().map((name) => [name, readFileSync(join(folder, name)).toString('base64')]),
    ),
    readAs: code === 0 ? JSON.parse(stdout).greens[0].read_as : null,
  };
};

/** What a fit is made from, in the frame of the green. */
const groundOf = async (): Promise<object> => {
  const loaded = loadCourse(course.folder);
  const { survey, outline } = await readGreenGround(loaded, loaded.holes[0]);
  const { x, y, z } = survey;
  return { x, y, z, outline };
};

const put = (name: string, body: string | Uint8Array): void => {
  mkdirSync(join(course.folder, 'surveys'), { recursive: true });
  writeFileSync(join(course.folder, 'surveys', name), body);
};

describe('the mirrored green', { tags: 'long' }, () => {
  /** The demo's first green in a frame of its own, `north` metres up, and its tie to the map. */
  const localFrame = (north: number): { rows: [string, string, string][]; source: string } => {
    withSurvey('{ file: surveys/green-01.csv, crs: EPSG:32625 }');
    const { plane } = loadCourse(course.folder).holes[0].green!;
    const local = (e: number, n: number): [number, number] => [
      1000 + e - middle[0],
      north + n - middle[1],
    ];
    const mark = (e: number, n: number): string =>
      `{ local: [${local(e, n).map((v) => v.toFixed(4))}], map: [${plane.toMap(e, n).map((v) => v.toFixed(10))}] }`;
    const [e, n] = middle;
    return {
      rows: truth.map(([x, y, z]) => {
        const at = local(x, y);
        return [at[0].toFixed(3), at[1].toFixed(3), z.toFixed(3)];
      }),
      source: `{ file: surveys/local.csv, unit: m, tie: [${mark(e - 60, n - 40)}, ${mark(e + 80, n + 70)}] }`,
    };
  };

  /** What the pages of a book show and rest on, file by file: all but the bytes of the survey. */
  const drawnIn = async ({ pdfs }: Book): Promise<unknown[]> =>
    Promise.all(
      Object.entries(pdfs).map(async ([name, bytes]) => {
        const record = await recordOfPdf(Buffer.from(bytes, 'base64'), name);
        const { pages, holes } = JSON.parse(record ?? '') as EditionRecord;
        return { name, pages, ground: holes.map(({ survey, ...hole }) => [survey?.[1], hole]) };
      }),
    );

  it('written as number, northing, easting, ortho. height, code gives the book of the right order', async () => {
    const { rows, source } = localFrame(1000);
    withSurvey(source);
    const straight = rows.map(([e, n, h], k) => `${k + 1},${e},${n},${h},GR`).join('\n');
    put('local.csv', `Point,Easting,Northing,Ortho. Height,Code\n${straight}\n`);
    // The long runs make the other book, too; the quick ones stop at the ground that it is made from.
    const right = await atDepth<() => Promise<Book | null>>(async () => null, makeBook)();
    const sound = await groundOf();
    const turned = rows.map(([e, n, h], k) => `${k + 1},${n},${e},${h},GR`).join('\n');
    put('local.csv', `Point,Northing,Easting,Ortho. Height,Code\n${turned}\n`);
    const mirrored = await makeBook();
    expect(mirrored.code, mirrored.stderr).toBe(0);
    expect(mirrored.readAs).toMatch(
      /^column 3 "Easting" east, column 2 "Northing" north, column 4 "Ortho. Height" height .*first point/,
    );
    expect(Object.keys(mirrored.pdfs).length).toBeGreaterThan(0);
    if (right !== null) expect(await drawnIn(mirrored)).toEqual(await drawnIn(right));
    expect(await groundOf()).toEqual(sound);
    // Without names nothing says which is which where both orders lie on the green.
    put('local.csv', `${turned}\n`);
    const bare = await makeBook();
    expect(bare.code).toBe(2);
    expect(bare.stderr.trimEnd().split('\n')).toHaveLength(1);
    expect(bare.stderr).toMatch(
      /may be north and east, or east and north.*--columns "id north east height code" or --columns "id east north height code", or the key columns/,
    );
    expect(bare.pdfs).toEqual({});
    // The key that the line names is one that the course file holds.
    withSurvey(source.replace('unit: m', 'unit: m, columns: [id, north, east, height, code]'));
    expect(await groundOf()).toEqual(sound);
  });
});

/** Heights of a grid of a metre over the first green: it falls north, or (`existing`) west and lower. */
const onGrid = (kind: 'finished' | 'existing'): CloudPoint[] => {
  const [west, south] = [0, 1].map((k) => Math.floor(Math.min(...truth.map((p) => p[k]))) - 3);
  const [east, north] = [0, 1].map((k) => Math.ceil(Math.max(...truth.map((p) => p[k]))) + 3);
  const points: CloudPoint[] = [];
  for (let y = south; y <= north; y++) {
    for (let x = west; x <= east; x++) {
      const ripple = 0.05 * Math.sin(x / 5) * Math.cos(y / 6);
      const z = kind === 'finished' ? 20 - 0.02 * (y - south) : 12 + 0.03 * (x - west);
      points.push({ x, y, z: z + ripple, group: 1 });
    }
  }
  return points;
};

const landXml = (): string => {
  const surface = (name: string, points: readonly CloudPoint[]): string => {
    const width = points.findIndex((p) => p.y !== points[0].y);
    const faces = points.flatMap((_, k) =>
      (k + 1) % width === 0 || k + width >= points.length
        ? []
        : [
            `<F>${k + 1} ${k + 2} ${k + 1 + width}</F>`,
            `<F>${k + 2} ${k + 2 + width} ${k + 1 + width}</F>`,
          ],
    );
    return `<Surface name="${name}"><Definition surfType="TIN"><Pnts>${points
      .map((p, k) => `<P id="${k + 1}">${p.y} ${p.x} ${p.z.toFixed(4)}</P>`)
      .join('')}</Pnts><Faces>${faces.join('')}</Faces></Definition></Surface>`;
  };
  return `<?xml version="1.0"?><LandXML version="1.2"><Units><Metric linearUnit="meter"/></Units><Surfaces>${surface('Existing ground', onGrid('existing'))}${surface('Finished ground', onGrid('finished'))}</Surfaces></LandXML>`;
};

/** Where the drainage of the green starts and ends, metres of its frame. */
const lowest = async (): Promise<number> => {
  const { stdout, code, stderr } = await runCaptured([
    ...['green', course.folder, '1', '--layout', layout, '--out', course.out, '--json'],
  ]);
  expect(code, stderr).toBe(0);
  const heights = JSON.parse(stdout).points.map((p: { height_m: number }) => p.height_m);
  return Math.min(...heights);
};

describe('surveys of which a part is wanted', { tags: 'long' }, () => {
  it('a LandXML of existing and finished ground gives the surface named, and none without a name', {
    tags: 'deep',
  }, async () => {
    put('ground.xml', landXml());
    withSurvey('{ file: surveys/ground.xml, crs: EPSG:32625 }');
    const unnamed = await makeBook();
    expect(unnamed.code).toBe(2);
    expect(unnamed.stderr).toMatch(
      /holds 2 surfaces; name one by --surface or the key surface: "Existing ground", "Finished ground"/,
    );
    withSurvey('{ file: surveys/ground.xml, crs: EPSG:32625, surface: Finished ground }');
    const named = await makeBook();
    expect(named.code, named.stderr).toBe(0);
    expect(named.readAs).toContain('Finished ground');
    // The finished ground lies over 18 m, the existing below 14 m.
    expect(await lowest()).toBeGreaterThan(18);
  });

  it('an unclassified cloud gives a book by the class that the course file names', {
    tags: 'deep',
  }, async () => {
    put('cloud.las', writeLas(onGrid('finished'), 32625));
    withSurvey('{ file: surveys/cloud.las }');
    const unnamed = await makeBook();
    expect(unnamed.code).toBe(2);
    expect(unnamed.stderr).toMatch(
      /the classes here are 1 \(\d+ points\); classify the ground, or name the classes.*key classes/,
    );
    withSurvey('{ file: surveys/cloud.las, classes: [1] }');
    const named = await makeBook();
    expect(named.code, named.stderr).toBe(0);
    expect(named.readAs).toMatch(/of class 1;/);
    expect(Object.keys(named.pdfs).length).toBeGreaterThan(0);
  });
});
