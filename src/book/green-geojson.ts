import type { Feature, FeatureCollection, Geometry, Position } from 'geojson';
import { BARE_STEP } from '../appraisal/spacing.js';
import type { GreenSite } from '../course/course.js';
import { type Point, type Polygon, type Ring, signedArea } from '../geometry.js';
import type { GreenContent } from '../page/book-content.js';
import type { PuttRegions } from '../putt/lanes.js';
import { fromGreenFrame } from '../survey/survey.js';
import type { Stream } from '../terrain/reading.js';
import type { PouredWater } from '../terrain/water/pour.js';
import { outletFigures } from './green-figures.js';
import { leavingLetter } from './pour-figures.js';
import { holdsBare } from './surveyed-only.js';

/** A point in the frame of the green as longitude and latitude (WGS 84), to about a millimetre. */
type Place = (point: readonly [number, number, ...number[]]) => Position;

const placeOn = (site: GreenSite): Place => {
  const round = (degrees: number): number => Number(degrees.toFixed(8));
  return ([x, y]) => {
    const [px, py] = fromGreenFrame(site.frame, x, y);
    const [longitude, latitude] = site.plane.toMap(px, py);
    return [round(longitude), round(latitude)];
  };
};

/** Closed, outer rings counter-clockwise and holes clockwise, as RFC 7946, 3.1.6 asks. */
const ringOn = (place: Place, ring: Ring, outer: boolean): Position[] => {
  const turned = signedArea(ring) > 0 === outer ? ring : [...ring].reverse();
  const positions = turned.map(place);
  return [...positions, positions[0]];
};

const polygonsOn = (place: Place, polygons: readonly Polygon[]): Geometry => ({
  type: 'MultiPolygon',
  coordinates: polygons.map((polygon) => polygon.map((ring, k) => ringOn(place, ring, k === 0))),
});

const lineOn = (
  place: Place,
  line: readonly (readonly [number, number, ...number[]])[],
): Geometry => ({ type: 'LineString', coordinates: line.map(place) });

const pointOn = (place: Place, at: Point): Geometry => ({
  type: 'Point',
  coordinates: place(at),
});

const to = (value: number, digits: number): number => Number(value.toFixed(digits));

const feature = (
  geometry: Geometry,
  kind: string,
  properties: Record<string, unknown> = {},
): Feature => ({ type: 'Feature', geometry, properties: { feature: kind, ...properties } });

/** A square of ground without points, as a polygon. */
const squareOf = ([x, y]: Point): Polygon => {
  const half = BARE_STEP / 2;
  return [
    [
      [x - half, y - half],
      [x + half, y - half],
      [x + half, y + half],
      [x - half, y + half],
    ],
  ];
};

/** Regions of one hole location as features. */
const puttFeatures = (place: Place, name: string, regions: PuttRegions): Feature[] => {
  const tagged = { location: name };
  const areas = (kind: string, polygons: readonly Polygon[]): Feature[] =>
    polygons.length === 0 ? [] : [feature(polygonsOn(place, polygons), kind, tagged)];
  return [
    ...regions.lanes.map((lane) =>
      feature(polygonsOn(place, [lane.polygon]), 'straight lane', {
        ...tagged,
        side: lane.side,
        length_m: to(lane.length, 2),
        width_m: to(lane.width, 3),
      }),
    ),
    ...(regions.bends === null
      ? []
      : [
          ...areas('bends left', regions.bends.left),
          ...areas('bends right', regions.bends.right),
          ...areas('no pace', regions.bends.noPace),
        ]),
    ...(regions.leave === null
      ? []
      : [
          feature(polygonsOn(place, regions.leave.polygons), 'leave', tagged),
          feature(pointOn(place, regions.leave.best), 'best leave', {
            ...tagged,
            room_m: to(regions.leave.room, 2),
          }),
        ]),
  ];
};

const streamFeature = (place: Place, stream: Stream): Feature => {
  const first = stream.points[0];
  const last = stream.points[stream.points.length - 1];
  return feature(
    lineOn(place, stream.points),
    stream.main ? 'main drainage line' : 'drainage line',
    {
      order: stream.order,
      mouth: stream.mouth,
      head_height_m: to(first[2], 4),
      mouth_height_m: to(last[2], 4),
      area_m2: to(stream.area[stream.area.length - 1], 1),
    },
  );
};

/** Poured streams, the ways that they may take where the survey does not know, and their catchments. */
const waterFeatures = (place: Place, water: PouredWater): Feature[] => [
  ...water.catchments.flatMap((one) => {
    const letter = leavingLetter(water, one);
    return [
      feature(polygonsOn(place, one.polygons), 'catchment', { letter, area_m2: to(one.area, 1) }),
      feature(pointOn(place, one.at), 'leaving place', { letter, kind: one.kind }),
    ];
  }),
  ...water.streams.flatMap((stream, k) => {
    const { points, area, kept, leaving } = stream;
    const told = { pour: k + 1 };
    const frays = kept.some((share) => share < 0.5);
    return [
      feature(pointOn(place, stream.from), 'pour', told),
      ...(points.length < 2
        ? []
        : [
            feature(lineOn(place, points), 'stream', {
              ...told,
              leaves: leaving?.kind ?? null,
              letter: leaving === null ? null : leavingLetter(water, leaving),
              head_height_m: to(points[0][2], 4),
              mouth_height_m: to(points[points.length - 1][2], 4),
              area_m2: to(area[area.length - 1], 1),
              least_share_kept: to(Math.min(...kept), 3),
            }),
          ]),
      ...(frays ? stream.strands : [])
        .filter((strand) => strand.length > 1)
        .map((strand) => feature(lineOn(place, strand), 'possible stream', told)),
    ];
  }),
];

/**
 * All that was read on one green as an RFC 7946 FeatureCollection: longitude and latitude, WGS 84. What
 * a feature is stands in its property `feature`; lengths in metres, grades in per cent, heights in the
 * survey's own datum (and so in properties, not in the positions).
 */
export const greenGeoJson = (
  site: GreenSite,
  green: GreenContent,
  water: PouredWater | null = null,
): FeatureCollection => {
  const place = placeOn(site);
  const { reading } = green;
  const percent = (grade: number): number | null =>
    Number.isFinite(grade) ? to(100 * grade, 2) : null;
  const { bare } = green.worth;
  /** A polygon that reaches over ground without points says so. */
  const partly = (polygons: readonly Polygon[]): object =>
    holdsBare(polygons, bare) ? { partly_not_surveyed: true } : {};
  const edge = feature(polygonsOn(place, [[green.outline]]), 'green', {
    hole: green.holeId,
    name: green.name,
    area_m2: to(reading.area, 1),
  });
  // A survey that is fit for the outline only tells nothing of the ground.
  if (green.worth.worth === 'outline') return { type: 'FeatureCollection', features: [edge] };
  const features: Feature[] = [
    edge,
    ...(bare.length === 0 ? [] : [feature(polygonsOn(place, bare.map(squareOf)), 'not surveyed')]),
    ...reading.bands
      .filter((band) => band.polygons.length > 0)
      .map((band) =>
        feature(polygonsOn(place, band.polygons), 'slope band', {
          from_percent: percent(band.from),
          to_percent: percent(band.to),
          ...partly(band.polygons),
        }),
      ),
    ...reading.contours.flatMap((contour) =>
      contour.lines.map((line) =>
        feature(lineOn(place, line), 'contour', {
          height_m: to(contour.height, 4),
          index: contour.index,
        }),
      ),
    ),
    ...reading.sections.map((section) =>
      feature(polygonsOn(place, section.polygons), 'section', {
        kind: section.kind,
        name: section.name,
        area_m2: to(section.area, 1),
        mean_grade_percent: holdsBare(section.polygons, bare) ? null : percent(section.meanGrade),
        ...partly(section.polygons),
      }),
    ),
    ...reading.doubtful.map((polygon) =>
      feature(polygonsOn(place, [polygon]), 'direction of fall in doubt'),
    ),
    ...reading.streams.map((stream) => streamFeature(place, stream)),
    ...reading.outlets.map((outlet) =>
      feature(pointOn(place, outlet.at), 'outlet', outletFigures(outlet)),
    ),
    ...reading.divides.map((line) => feature(lineOn(place, line), 'divide')),
    ...reading.valleys.map((line) => feature(lineOn(place, line), 'valley')),
    ...reading.critical.map((point) =>
      feature(
        pointOn(place, point.at),
        point.kind === 'saddle' ? 'saddle' : `${point.kind} point`,
        {
          height_m: to(point.height, 4),
          relief_m: to(point.relief, 4),
          on_edge: point.onEdge,
        },
      ),
    ),
    ...reading.hollows.map((hollow) =>
      feature(pointOn(place, hollow.at), 'hollow', {
        level_m: to(hollow.level, 4),
        depth_m: to(hollow.depth, 4),
        drain: hollow.drain,
      }),
    ),
    ...green.drains.map((at) => feature(pointOn(place, at), 'drain')),
    ...reading.arrows.map((arrow) =>
      feature(lineOn(place, arrow.path), 'fall arrow', { grade_percent: percent(arrow.grade) }),
    ),
    ...green.locations.map((location) =>
      feature(pointOn(place, location.at), 'hole location', { name: location.name }),
    ),
    ...green.locations.flatMap(({ name, regions }) =>
      regions === null ? [] : puttFeatures(place, name, regions),
    ),
    ...(water === null ? [] : waterFeatures(place, water)),
  ];
  return { type: 'FeatureCollection', features };
};
