import { gzipSync } from 'node:zlib';
import { readMap } from '../../src/course/read-map.js';
import type { Point } from '../../src/geometry.js';
import { fitSurface, groundOfSurvey } from '../../src/surface/fit.js';
import { JET_SIZE, type Surface } from '../../src/surface/surface.js';
import { readSurvey } from '../../src/survey/read-survey.js';
import { tidyCourse, type UntidyMap } from '../course/untidy-course.js';
import { FORMS, writtenAs } from '../course/untidy-writers.js';
import { zip } from '../survey/foreign-binaries.js';
import { seeded } from '../survey/foreign-texts.js';
import { writeLas, writeLaz } from '../survey/las-writer.js';
import { writeLayeredLaz } from '../survey/laz14-writer.js';
import { below, oneOf, type Random } from './chance.js';
import { WrongRead } from './judge.js';
import type { Kind } from './kinds.js';

/** Changes that keep a file valid: the result must change by what was changed, and nowhere else. */

type Spot = readonly [x: number, y: number, z: number];

const WEST = 512_300;
const SOUTH = 5_712_300;
const ACROSS = 9;
const UP = 11;
const STEP = 2;
const NOISE = 0.004;

/** Ground of seeded slope and waves, walked in lines; heights to the millimetre. */
const groundOf = (random: Random, isGrid: boolean): Spot[] => {
  const [sx, sy, a, p] = [random(), random(), random(), random()].map((v) => v - 0.5);
  return Array.from({ length: ACROSS * UP }, (_, k): Spot => {
    const jitter = (): number => (isGrid ? 0 : 0.4 * (random() - 0.5));
    const x = WEST + STEP * (k % ACROSS) + jitter();
    const y = SOUTH + STEP * Math.floor(k / ACROSS) + jitter();
    const z =
      50 + 0.04 * sx * (x - WEST) + 0.05 * sy * (y - SOUTH) + 0.2 * a * Math.sin(x / 4 + 6 * p);
    const noise = NOISE * (random() + random() + random() - 1.5) * 2;
    return [Number(x.toFixed(3)), Number(y.toFixed(3)), Number((z + noise).toFixed(3))];
  });
};

const f3 = (value: number): string => value.toFixed(3);
const rows = (spots: readonly Spot[], head: string, row: (s: Spot, k: number) => string): string =>
  `${head}${spots.map(row).join('\n')}\n`;
const csv = (spots: readonly Spot[]): string =>
  rows(spots, 'Point,Northing,Easting,Elevation\n', ([x, y, z], k) =>
    [`P${k}`, f3(y), f3(x), f3(z)].join(','),
  );

const asGrid = (spots: readonly Spot[]): string => {
  const lines = Array.from({ length: UP }, (_, r) =>
    spots.slice(r * ACROSS, (r + 1) * ACROSS).map(([, , z]) => f3(z)),
  );
  const head = `ncols ${ACROSS}\nnrows ${UP}\nxllcenter ${WEST}\nyllcenter ${SOUTH}\ncellsize ${STEP}\n`;
  return `${head}${lines
    .reverse()
    .map((line) => line.join(' '))
    .join('\n')}\n`;
};

const clouds = (spots: readonly Spot[]) => spots.map(([x, y, z]) => ({ x, y, z, group: 2 }));

/** Files of the same points, by format. */
const WRITERS: Readonly<Record<string, (spots: readonly Spot[]) => string | Uint8Array>> = {
  csv,
  'comma.txt': (spots) =>
    rows(spots, 'x;y;z\n', (s) => s.map((v) => f3(v).replace('.', ',')).join(';')),
  'plain.xyz': (spots) => rows(spots, '', (s) => s.map(f3).join(' ')),
  'grid.asc': asGrid,
  'drawing.dxf': (spots) =>
    `  0\nSECTION\n  2\nENTITIES\n${spots.map(([x, y, z]) => `  0\nPOINT\n  8\nG\n 10\n${f3(x)}\n 20\n${f3(y)}\n 30\n${f3(z)}\n`).join('')}  0\nENDSEC\n  0\nEOF\n`,
  'features.geojson': (spots) =>
    JSON.stringify({
      type: 'FeatureCollection',
      crs: { type: 'name', properties: { name: 'urn:ogc:def:crs:EPSG::32630' } },
      features: spots.map((coordinates) => ({
        type: 'Feature',
        properties: {},
        geometry: { type: 'Point', coordinates },
      })),
    }),
  'scan.ply': (spots) =>
    rows(
      spots,
      `ply\nformat ascii 1.0\nelement vertex ${spots.length}\nproperty double x\nproperty double y\nproperty double z\nend_header\n`,
      (s) => s.map(f3).join(' '),
    ),
  'surface.xml': (spots) =>
    `<?xml version="1.0"?><LandXML version="1.2"><Units><Metric linearUnit="meter"/></Units><Surfaces><Surface name="G"><Definition surfType="TIN"><Pnts>${spots.map(([x, y, z], k) => `<P id="${k + 1}">${f3(y)} ${f3(x)} ${f3(z)}</P>`).join('')}</Pnts><Faces>${spots
      .slice(2)
      .map((_, k) => `<F>${k + 1} ${k + 2} ${k + 3}</F>`)
      .join('')}</Faces></Definition></Surface></Surfaces></LandXML>`,
  'cloud.las': (spots) => writeLas(clouds(spots)),
  'cloud.laz': (spots) => writeLaz(clouds(spots), 60),
  'layers.laz': (spots) => writeLayeredLaz({ format: 7, points: clouds(spots), chunkSize: 60 }),
  'points.csv.gz': (spots) => new Uint8Array(gzipSync(csv(spots))),
  'points.zip': (spots) => zip({ 'green.csv': csv(spots) }),
};

const heightAt = (surface: Surface, [x, y]: Point): number => {
  const jet = new Float64Array(JET_SIZE);
  surface.at(x, y, jet);
  return jet[0];
};

/** Every so many cases fit the ground as well. */
const FIT_EVERY = 50;
/**
 * A point moved by some millimetres moves the ground at it by a share. Far off it moves nothing of its own, but the smoothing is
 * chosen from all heights, and another choice moves ground everywhere: by no more than two grounds, each off by what the
 * fit says that it may be, lie apart by chance, and than half the noise of a point. Of clouds and grids the step that a hidden edge of swaths is expected to make is taken off
 * (surface/swath-doubt): a raised point changes that belief, and with it all ground, the other way too, within the same
 * bound. That it raises the ground at it is asked of the same heights as a walk's.
 */
const FAR = 9;
const SHARE_FAR = 0.1;

const fitted = (survey: Awaited<ReturnType<typeof readSurvey>>): Surface =>
  fitSurface({
    ...groundOfSurvey(survey),
    outline: [
      [WEST + 1, SOUTH + 1],
      [WEST + 17, SOUTH + 1],
      [WEST + 17, SOUTH + 20],
      [WEST + 1, SOUTH + 20],
    ],
  }).surface;

const movedPoint: Kind['read'] = async (_bytes, _seed, { number }) => {
  const random = seeded(90_000 + number);
  const name = oneOf(random, Object.keys(WRITERS));
  const before = groundOf(random, name === 'grid.asc');
  const at = below(random, before.length);
  const by = (3 + below(random, 6)) / 1000;
  const after = before.map((s, k): Spot => (k === at ? [s[0], s[1], s[2] + by] : s));
  const read = async (spots: readonly Spot[]) => {
    const written = WRITERS[name](spots);
    const bytes = typeof written === 'string' ? new TextEncoder().encode(written) : written;
    return readSurvey(bytes, { source: name, unit: 'm' });
  };
  const [old, now] = [await read(before), await read(after)];
  const wrong = (words: string): never => {
    throw new WrongRead(`${name}, point ${at + 1} of ${before.length} raised by ${by} m: ${words}`);
  };
  if (old.x.length !== before.length || now.x.length !== before.length) {
    wrong(`${old.x.length} points, then ${now.x.length}`);
  }
  for (let k = 0; k < old.x.length; k++) {
    const spot = before.find(
      ([x, y]) => Math.abs(x - old.x[k]) < 2e-3 && Math.abs(y - old.y[k]) < 2e-3,
    );
    if (spot === undefined) wrong(`a point that nobody wrote at ${old.x[k]}, ${old.y[k]}`);
    const isIt = spot === before[at];
    if (Math.abs(old.z[k] - spot![2]) > 1e-3) wrong(`height ${old.z[k]} for ${spot![2]}`);
    if (old.x[k] !== now.x[k] || old.y[k] !== now.y[k]) wrong('a position changed');
    if (Math.abs(now.z[k] - old.z[k] - (isIt ? by : 0)) > 1e-6) {
      wrong(`the height of ${isIt ? 'the point' : 'another'} went from ${old.z[k]} to ${now.z[k]}`);
    }
  }
  if (number % FIT_EVERY !== 0) return;
  const [first, second] = [fitted(old), fitted(now)];
  const change = (x: number, y: number): number =>
    heightAt(second, [x, y]) - heightAt(first, [x, y]);
  const [px, py] = before[at];
  const asWalk = ({ kind, ...rest }: typeof old) => ({ ...rest, kind: 'points' as const });
  const isWalk = old.kind === 'points';
  const raised = isWalk
    ? change(px, py)
    : heightAt(fitted(asWalk(now)), [px, py]) - heightAt(fitted(asWalk(old)), [px, py]);
  if (
    px > WEST + 2 &&
    px < WEST + 16 &&
    py > SOUTH + 2 &&
    py < SOUTH + 19 &&
    !(raised > 0.01 * by && change(px, py) > (isWalk ? 0 : -NOISE / 2))
  ) {
    wrong(`the ground there went by ${change(px, py)} m, as a walk by ${raised} m`);
  }
  for (let x = WEST + 2; x <= WEST + 16; x += 2) {
    for (let y = SOUTH + 2; y <= SOUTH + 19; y += 2) {
      if (Math.hypot(x - px, y - py) < FAR) continue;
      const apart = Math.SQRT2 * first.trust!.heightSd(x, y);
      const most = Math.max(SHARE_FAR * by, Math.min(apart, NOISE / 2));
      if (Math.abs(change(x, y)) > most) {
        wrong(
          `the ground ${Math.hypot(x - px, y - py).toFixed(1)} m off went by ${change(x, y)} m`,
        );
      }
    }
  }
};

/** Places of all shapes of a map, in their order. */
const placesOf = (map: ReturnType<typeof readMap>): string[][] =>
  map.features.map(({ shape }) => {
    const points =
      shape.kind === 'point'
        ? [shape.at]
        : shape.kind === 'line'
          ? shape.points
          : shape.rings.flat();
    return points.map(([lon, lat]) => `${lon.toFixed(7)} ${lat.toFixed(7)}`).sort();
  });

const movedVertex: Kind['read'] = async (_bytes, _seed, { number }) => {
  const random = seeded(70_000 + number);
  const form = oneOf(random, FORMS);
  const map = tidyCourse({ seed: number, holes: 1 + below(random, 4) });
  const which = below(random, map.features.length);
  const corner = below(random, map.features[which].points.length);
  const moved: UntidyMap = {
    ...map,
    features: map.features.map((feature, i) =>
      i === which
        ? {
            ...feature,
            points: feature.points.map(([x, y], k) => (k === corner ? [x + 1.3, y - 0.7] : [x, y])),
          }
        : feature,
    ),
  };
  const [old, now] = [map, moved].map((one) => placesOf(readMap(writtenAs(form, one), 'map')));
  const changed = old.flatMap((places, i) => {
    const lost = places.filter((place) => !(now[i] ?? []).includes(place));
    return lost.length === 0 ? [] : [new Set(lost).size];
  });
  if (old.length !== now.length || changed.length !== 1 || changed[0] !== 1) {
    throw new WrongRead(
      `${form}, corner ${corner} of feature ${which} moved: ${changed.length} features and ${changed} places changed`,
    );
  }
};

const NOTHING = [{ name: 'made', bytes: Buffer.from('-') }];

export const MOVED_KINDS: readonly Kind[] = [
  { name: 'moved-point', damage: (bytes) => bytes, seeds: () => NOTHING, read: movedPoint },
  { name: 'moved-vertex', damage: (bytes) => bytes, seeds: () => NOTHING, read: movedVertex },
];
