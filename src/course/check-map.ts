import { InputFault } from '../fault.js';
import { distance, type Point, signedArea } from '../geometry.js';
import { INPUT_LIMITS } from '../input-limits.js';
import { localPlane } from '../survey/crs/plane.js';
import type { CourseMap, FeatureShape, LonLat, MapFinding } from './course-map.js';
import { geodesicDistance } from './geodesy.js';
import { linesOfHole, middleOf, siteOfHole } from './hole-site.js';
import { selfCrossing } from './self-crossing.js';

/** A course is no larger than this: what lies farther off belongs to another, metres. */
const FAR = 8_000;
/** Projections in common use, and play, end here, degrees. */
const HIGH_LATITUDE = 84;

const pointsOf = (shape: FeatureShape): readonly LonLat[] =>
  shape.kind === 'point' ? [shape.at] : shape.kind === 'line' ? shape.points : shape.rings.flat();

const warning = (feature: string, problem: string, cure: string): MapFinding => ({
  severity: 'warning',
  feature,
  problem,
  cure,
});
const fault = (feature: string, problem: string, cure: string): MapFinding => ({
  severity: 'fault',
  feature,
  problem,
  cure,
});

/** An outline of less encloses nothing that a hole could be cut in, square metres. */
const LEAST_GREEN = 1;

/** What is wrong with an outline of a green in a plane, metres, that encloses no ground, or far too much; null when it does not. */
export const noGreen = (ring: readonly Point[]): { problem: string; cure: string } | null => {
  const area = Math.abs(signedArea(ring));
  if (area < LEAST_GREEN) {
    return {
      problem: 'the outline of a green that encloses less than a square metre',
      cure: 'its points lie on each other or on one line: draw it round the green again',
    };
  }
  if (area > INPUT_LIMITS.greenArea) {
    return {
      problem: 'the outline of a green that encloses more than ten hectares',
      cure: 'draw it round the green alone, in degrees of longitude and latitude',
    };
  }
  return null;
};

/** Where most of the map lies: the median of its features' middles. */
const homeOf = (map: CourseMap): LonLat => {
  const middles = map.features.map(middleOf);
  const median = (values: number[]): number =>
    values.sort((a, b) => a - b)[Math.floor(values.length / 2)];
  return [median(middles.map((m) => m[0])), median(middles.map((m) => m[1]))];
};

const placeFindings = (map: CourseMap, home: LonLat): MapFinding[] =>
  map.features.flatMap((feature): MapFinding[] => {
    const middle = middleOf(feature);
    const far = geodesicDistance(middle, home);
    if (far <= FAR) return [];
    const exchanged = geodesicDistance([middle[1], middle[0]], home) < FAR;
    const km = `${Math.round(far / 1000)} km from the rest of the course`;
    return [
      exchanged
        ? fault(
            feature.id,
            `lies ${km}`,
            'its latitude and longitude are exchanged: RFC 7946 has the longitude first',
          )
        : fault(
            feature.id,
            `lies ${km}`,
            'it belongs to another course, or its coordinates are wrong: take it out of the map',
          ),
    ];
  });

const latitudeFindings = (map: CourseMap, home: LonLat): MapFinding[] => {
  const [first] = map.features;
  const latitude = Math.abs(home[1]);
  const findings: MapFinding[] = [];
  if (latitude > HIGH_LATITUDE) {
    findings.push(
      fault(
        first.id,
        `lies at latitude ${home[1].toFixed(2)}, where no course is played`,
        'latitude and longitude may be exchanged: RFC 7946 has the longitude first',
      ),
    );
  }
  return findings;
};

/** A feature cut in two at the antimeridian, as RFC 7946 (3.1.9) asks: it is drawn in parts, and told. */
const antimeridianFindings = (map: CourseMap): MapFinding[] =>
  map.features.flatMap((feature): MapFinding[] =>
    pointsOf(feature.shape).some(([longitude]) => Math.abs(Math.abs(longitude) - 180) < 1e-9)
      ? [
          warning(
            feature.id,
            'it ends at the antimeridian',
            'if it is one half of a feature cut there, join the halves with longitudes past 180',
          ),
        ]
      : [],
  );

const outlineFindings = (map: CourseMap, home: LonLat): MapFinding[] => {
  const plane = localPlane(home[0], home[1]);
  return map.features.flatMap((feature): MapFinding[] => {
    if (feature.shape.kind !== 'area') return [];
    const { rings } = feature.shape;
    return rings.flatMap((ring): MapFinding[] => {
      const inPlane = ring.map(([lon, lat]) => plane.toPlane(lon, lat));
      const isOuter = ring === rings[0];
      const wrong = feature.kind === 'green' && isOuter ? noGreen(inPlane) : null;
      if (wrong !== null) return [fault(feature.id, wrong.problem, wrong.cure)];
      const crossing = selfCrossing(inPlane);
      if (crossing === null) return [];
      const [lon, lat] = plane.toMap(crossing[0], crossing[1]);
      // A tangled wood or rough spoils the picture only; the others are measured.
      const say = feature.kind === 'wood' || feature.kind === 'rough' ? warning : fault;
      return [
        say(
          feature.id,
          `its outline crosses itself near ${lon.toFixed(6)}, ${lat.toFixed(6)}`,
          'put its points in order round the outline',
        ),
      ];
    });
  });
};

const shapeFindings = (map: CourseMap): MapFinding[] =>
  map.features.flatMap((feature): MapFinding[] => {
    if (feature.kind === 'hole' && feature.shape.kind !== 'line') {
      return [
        fault(
          feature.id,
          'a hole that is not a line',
          'draw golf=hole as a line from the tee to the green',
        ),
      ];
    }
    if (feature.kind === 'green' && feature.shape.kind !== 'area') {
      return [fault(feature.id, 'a green that is not an area', 'close its outline')];
    }
    return [];
  });

/** The numbers of the holes that the map has a line of play for, in order. */
const holeNumbers = (map: CourseMap): string[] => {
  const refs = new Set(map.features.flatMap((one) => (one.kind === 'hole' ? one.refs : [])));
  return [...refs].sort((a, b) => {
    const [x, y] = [Number(a), Number(b)];
    if (Number.isNaN(x) || Number.isNaN(y)) return a < b ? -1 : a > b ? 1 : 0;
    return x - y;
  });
};

/** What is missing of one hole, each in a few words. */
export const missingOfHole = (map: CourseMap, id: string): string[] => {
  const site = siteOfHole(map, id, null);
  const missing: string[] = [];
  if (site.line === null) missing.push('line of play');
  if (site.tees.length === 0) missing.push('tees');
  if (site.green === null) missing.push('green');
  if (site.tags.par === undefined) missing.push('par');
  if (site.tags.handicap === undefined) missing.push('handicap');
  return missing;
};

const holeFindings = (map: CourseMap): MapFinding[] => {
  const findings: MapFinding[] = [];
  for (const line of map.features) {
    if (line.kind === 'hole' && line.refs.length === 0) {
      findings.push(
        warning(line.id, 'a line of play without a number', 'give it the tag ref=<hole>'),
      );
    }
  }
  for (const id of holeNumbers(map)) {
    const lines = linesOfHole(map, id);
    const name = lines[0]?.id ?? `hole ${id}`;
    try {
      const site = siteOfHole(map, id, null);
      if (site.tees.length === 0) {
        findings.push(
          warning(
            name,
            `hole ${id} has no tees and is measured from the start of its line`,
            `draw golf=tee at its start, or give its tees the tag ref=${id}`,
          ),
        );
      }
      if (site.green === null) {
        findings.push(
          warning(
            name,
            `hole ${id} does not reach a green`,
            `end its line on a golf=green, or give its green the tag ref=${id}`,
          ),
        );
      }
    } catch (error) {
      if (!(error instanceof InputFault)) throw error;
      findings.push(fault(error.where.place ?? name, error.problem, error.cure ?? ''));
    }
  }
  return findings;
};

const greenFindings = (map: CourseMap): MapFinding[] =>
  map.features
    .filter((one) => one.kind === 'green' && one.refs.length === 0)
    .map((green) =>
      warning(
        green.id,
        'a green that no hole reaches',
        'end a line of play (golf=hole) on it, or give it the tag ref=<hole>; a practice green has a word, such as ref=practice',
      ),
    );

/** A map whose features all lie on a single point or in a box of some metres is no map of a course. */
const sizeFindings = (map: CourseMap, home: LonLat): MapFinding[] => {
  const plane = localPlane(home[0], home[1]);
  const reach = Math.max(
    ...map.features.map((one) => {
      const [lon, lat] = middleOf(one);
      return distance(plane.toPlane(lon, lat), [0, 0]);
    }),
  );
  return reach < 20 && map.features.length > 3
    ? [
        fault(
          map.features[0].id,
          'the whole map lies within 20 m',
          'the coordinates look scaled or rounded: export the map in WGS 84 degrees',
        ),
      ]
    : [];
};

/**
 * Looks through a settled map for what would spoil a book: each finding names the feature and the likely cure.
 * Faults first, then warnings, each in the order of the map.
 */
export const checkMap = (map: CourseMap): MapFinding[] => {
  if (map.features.length === 0) {
    return [
      fault(
        map.file,
        'no feature of a golf course',
        'a map needs features with golf=* tags (hole, tee, green …)',
      ),
    ];
  }
  const home = homeOf(map);
  const findings = [
    ...latitudeFindings(map, home),
    ...placeFindings(map, home),
    ...antimeridianFindings(map),
    ...sizeFindings(map, home),
    ...shapeFindings(map),
    ...outlineFindings(map, home),
    ...holeFindings(map),
    ...greenFindings(map),
  ];
  if (!map.features.some((one) => one.kind === 'hole')) {
    findings.push(
      fault(map.file, 'no line of play (golf=hole)', 'draw each hole as a line from tee to green'),
    );
  }
  return [
    ...findings.filter((one) => one.severity === 'fault'),
    ...findings.filter((one) => one.severity === 'warning'),
  ];
};
