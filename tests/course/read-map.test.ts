import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { CourseMap, MapFeature } from '../../src/course/course-map.js';
import { readMap } from '../../src/course/read-map.js';
import { InputFault } from '../../src/fault.js';
import { asOsmXml, asOverpass } from './osm-writer.js';
import { HABITS, ringCourse } from './ring-course.js';
import { writtenAs } from './untidy-writers.js';

const geoJson = readFileSync(
  new URL('../../course-data/vellamoor/map.geojson', import.meta.url),
  'utf8',
);

/** All but the ids, which the formats do not share, in an order of its own. */
const plain = (map: CourseMap): string[] =>
  map.features
    .map(({ kind, refs, name, shape, tags }: MapFeature) =>
      JSON.stringify({ kind, refs, name, shape, tags: Object.entries(tags).sort() }),
    )
    .sort();

describe('one map in three formats', () => {
  const map = readMap(geoJson, 'map.geojson');

  test('GeoJSON: every feature of the demo course', () => {
    const kinds = new Map<string, number>();
    for (const { kind } of map.features) kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
    expect(kinds.get('hole')).toBe(18);
    expect(kinds.get('tee')).toBe(54);
    expect(kinds.get('green')).toBe(19);
    expect(kinds.get('pin')).toBe(18);
    expect(map.features.length).toBe(
      (JSON.parse(geoJson) as { features: unknown[] }).features.length,
    );
  });

  const same = (other: CourseMap): void => {
    const own = new Set(plain(map));
    const others = plain(other);
    expect(others.length).toBe(own.size);
    expect(others.filter((one) => !own.has(one)).map((one) => one.slice(0, 60))).toEqual([]);
  };

  test('OpenStreetMap XML gives the same features', () => {
    same(readMap(asOsmXml(geoJson), 'map.osm'));
  });

  test('Overpass JSON gives the same features, with nodes apart or geometry inline', () => {
    same(readMap(asOverpass(geoJson, false), 'map.json'));
    same(readMap(asOverpass(geoJson, true), 'map.json'));
  });
});

describe("other programs' habits", () => {
  const truth = ringCourse('nine', HABITS[0], 115_060);
  const map = readMap(writtenAs('geojson', truth), 'map.geojson');
  const uids = (text: string): string[] =>
    readMap(text, 'map')
      .features.map((one) => one.tags.uid)
      .sort();
  const all = map.features.map((one) => one.tags.uid).sort();

  test('tags packed in one text, as GDAL writes them', () => {
    const collection = JSON.parse(writtenAs('geojson', truth));
    for (const feature of collection.features) {
      const { name, ...rest } = feature.properties;
      const packed = Object.entries(rest).map(([k, v]) => `"${k}"=>"${v}"`);
      feature.properties = { osm_id: '7', name: name ?? null, other_tags: packed.join(',') };
    }
    expect(uids(JSON.stringify(collection))).toEqual(all);
    const quoted = { osm_id: '1', other_tags: '"golf"=>"green","note"=>"the \\"old\\" one"' };
    collection.features[0].properties = quoted;
    const { features } = readMap(JSON.stringify({ ...collection }), 'map');
    expect(features.find((one) => one.tags.note !== undefined)?.tags.note).toBe('the "old" one');
  });

  test('XML with the places beside the nodes of each way, in single quotes', () => {
    const { elements } = JSON.parse(writtenAs('overpass geom', truth)) as {
      elements: readonly {
        type: string;
        id: number;
        nodes?: number[];
        geometry?: { lat: number; lon: number }[];
        tags: Record<string, string>;
      }[];
    };
    const ways = elements.map(({ id, nodes, geometry, tags }) => {
      const places = nodes!.map(
        (ref, i) => `<nd ref='${ref}' lat='${geometry![i].lat}' lon='${geometry![i].lon}'/>`,
      );
      const own = Object.entries(tags).map(([k, v]) => `<tag k='${k}' v='${v}'/>`);
      return `<way id='${id}'>${places.join('')}${own.join('')}</way>`;
    });
    const text = `<osm version='0.6'>${ways.join('')}</osm>`;
    expect(uids(text)).toEqual(all);
    // A relation whose member ways bring their places.
    const green = elements.find((one) => one.tags.golf === 'green')!;
    const ring = green.geometry!.map(({ lat, lon }) => `<nd lat='${lat}' lon='${lon}'/>`).join('');
    const relation = `<relation id='9'><member type='way' ref='8' role='outer'>${ring}</member><tag k='type' v='multipolygon'/><tag k='golf' v='green'/><tag k='uid' v='r'/></relation>`;
    const [area] = readMap(`<osm version='0.6'>${relation}</osm>`, 'map').features;
    expect(area.shape).toMatchObject({ kind: 'area' });
    expect(area.tags.uid).toBe('r');
  });

  // RFC 8142 with the separators of RFC 7464; by lines as several programs write it (common practice, no source).
  test('a sequence of features, with record separators or one a line', () => {
    const { features } = JSON.parse(writtenAs('geojson', truth)) as { features: object[] };
    const written = features.map((one) => JSON.stringify(one));
    const sequence = written.map((one) => `\u001e${one}\n`).join('');
    const lines = written.join('\r\n');
    const half = Math.floor(features.length / 2);
    const collections = [features.slice(0, half), features.slice(half)].map((some) =>
      JSON.stringify({ type: 'FeatureCollection', features: some }),
    );
    const spread = features.map((one) => `\u001e${JSON.stringify(one, null, 2)}\n`).join('');
    for (const text of [sequence, lines, `\ufeff\n${lines}\n\n`, collections.join('\n'), spread]) {
      const read = readMap(text, 'map.geojsonl');
      expect(read.features).toEqual(map.features);
    }
    const [first, second, ...rest] = written;
    for (const text of [
      sequence.replace(second, second.slice(0, -9)),
      lines.replace(second, second.slice(0, -9)),
    ]) {
      expect(() => readMap(text, 'map.geojsonl')).toThrow(
        /map\.geojsonl, line 2, column \d+: not valid JSON: the file ends where/,
      );
    }
    const foreign = [first, '{"type":"Point","coordinates":[1,2]}', ...rest].join('\n');
    expect(() => readMap(foreign, 'map.geojsonl')).toThrow(/feature 2: not a GeoJSON feature/);
  });

  test('what an editor has deleted is gone', () => {
    const text = writtenAs('osm', truth).replace(
      /<way id="(\d+)">((?:(?!<\/way>).)*v="g7")/,
      '<way id="$1" action="delete">$2',
    );
    expect(uids(text)).toEqual(all.filter((one) => one !== 'g7'));
  });

  test('an answer that ran out of time is refused', () => {
    const answer = JSON.parse(writtenAs('overpass geom', truth));
    const remark = 'runtime error: Query timed out in "query" at line 3 after 25 seconds.';
    expect(() => readMap(JSON.stringify({ ...answer, remark }), 'map.json')).toThrow(
      /map\.json, remark: the answer is not complete.*ask again/,
    );
  });
});

test('a multipolygon relation is one area with its hole, as its member ways give it', () => {
  const node = (id: number, lon: number, lat: number) => ({ type: 'node', id, lon, lat });
  const answer = {
    elements: [
      ...[
        [0, 0],
        [4, 0],
        [4, 4],
        [0, 4],
      ].map(([x, y], i) => node(1 + i, 10 + x * 1e-4, 50 + y * 1e-4)),
      ...[
        [1, 1],
        [3, 1],
        [3, 3],
        [1, 3],
      ].map(([x, y], i) => node(11 + i, 10 + x * 1e-4, 50 + y * 1e-4)),
      { type: 'way', id: 21, nodes: [1, 2, 3] },
      { type: 'way', id: 22, nodes: [3, 4, 1] },
      { type: 'way', id: 23, nodes: [11, 12, 13, 14, 11] },
      {
        type: 'relation',
        id: 31,
        tags: { type: 'multipolygon', golf: 'fairway', ref: '7' },
        members: [
          { type: 'way', ref: 21, role: 'outer' },
          { type: 'way', ref: 22, role: 'outer' },
          { type: 'way', ref: 23, role: 'inner' },
        ],
      },
    ],
  };
  const [fairway] = readMap(JSON.stringify(answer), 'm.json').features;
  expect(fairway.id).toBe('relation/31');
  expect(fairway.kind).toBe('fairway');
  expect(fairway.shape.kind === 'area' && fairway.shape.rings.map((r) => r.length)).toEqual([4, 4]);
});

test('tags: refs "07" and "1;10", areas of water, points with names, what is not drawn', () => {
  const feature = (properties: object, type: 'Point' | 'Polygon' = 'Point') => ({
    type: 'Feature',
    properties,
    geometry:
      type === 'Point'
        ? { type, coordinates: [10, 50] }
        : {
            type,
            coordinates: [
              [
                [10, 50],
                [10.001, 50],
                [10.001, 50.001],
                [10, 50],
              ],
            ],
          },
  });
  const { features } = readMap(
    JSON.stringify({
      type: 'FeatureCollection',
      features: [
        feature({ golf: 'green', ref: '07' }, 'Polygon'),
        feature({ golf: 'tee', ref: '1;10' }, 'Polygon'),
        feature({ natural: 'water' }, 'Polygon'),
        feature({ golf: 'lateral_water_hazard' }, 'Polygon'),
        feature({ name: 'bell' }),
        feature({ landmark: 'sprinkler', name: 'head 4' }),
        feature({ natural: 'tree' }),
        feature({ building: 'yes', name: 'clubhouse' }, 'Polygon'),
        feature({ amenity: 'bench' }),
        feature({ shop: 'bakery', name: 'Corner bakery' }),
        feature({ man_made: 'tower', name: 'water tower', 'name:fr': 'tour' }),
      ],
    }),
    'm.geojson',
  );
  expect(features.map((one) => one.kind)).toEqual([
    'green',
    'tee',
    'water',
    'water',
    'landmark',
    'landmark',
    'tree',
    'landmark',
  ]);
  expect(features[0].refs).toEqual(['7']);
  expect(features[1].refs).toEqual(['1', '10']);
});

test('over the antimeridian longitudes go on', () => {
  const { features } = readMap(
    JSON.stringify({
      type: 'FeatureCollection',
      features: [
        {
          type: 'Feature',
          properties: { golf: 'hole', ref: '1' },
          geometry: {
            type: 'LineString',
            coordinates: [
              [179.999, -17],
              [-179.998, -17],
            ],
          },
        },
      ],
    }),
    'm.geojson',
  );
  const [{ shape }] = features;
  expect(shape.kind === 'line' && shape.points[1][0]).toBeCloseTo(180.002, 9);
});

describe('damaged files: one clear line', () => {
  const cases: readonly [string, string, RegExp][] = [
    [
      'not JSON',
      '{"type": "FeatureCollection", "features": [',
      /^m, line 1, column \d+: not valid JSON: /,
    ],
    [
      'not XML',
      '<osm><node id="1" lat="5" lon="6">',
      /^m, line \d+: the XML is not well formed; .*fetch it again/,
    ],
    ['neither', '{"hello": 1}', /^m: neither GeoJSON nor an OpenStreetMap extract; a map is/],
    ['elements that are none', '{"elements": 5}', /^m, elements: not a list of elements/],
    [
      'a node without a place',
      '{"elements": [{"type": "node", "id": 4}]}',
      /^m, elements\[0\]: node 4 has no lat and lon/,
    ],
    [
      'a way whose nodes are missing',
      '{"elements": [{"type": "way", "id": 9, "nodes": [1, 2], "tags": {"golf": "hole"}}]}',
      /^m, way\/9: some of its nodes are not in the file; export the map with all nodes/,
    ],
    [
      'a relation whose way is missing',
      '{"elements": [{"type": "relation", "id": 3, "tags": {"type": "multipolygon", "golf": "green"}, "members": [{"type": "way", "ref": 8, "role": "outer"}]}]}',
      /^m, relation\/3: its member way\/8 is not in the file/,
    ],
    [
      'an attribute that is no number',
      '<osm><node id="1" lat="north" lon="6"/></osm>',
      /^m, line 1: lat of node 1 is not a number/,
    ],
    [
      'projected coordinates',
      '{"type":"FeatureCollection","features":[{"type":"Feature","id":"g","properties":{"golf":"pin"},"geometry":{"type":"Point","coordinates":[388000,3608000]}}]}',
      /^m, g: \[388000, 3608000\] is no longitude and latitude; the coordinates look projected/,
    ],
    [
      'latitude first, beyond 90',
      '{"type":"FeatureCollection","features":[{"type":"Feature","id":"g","properties":{"golf":"pin"},"geometry":{"type":"Point","coordinates":[35.1,-120.2]}}]}',
      /^m, g: latitude -120.2 is beyond 90; latitude and longitude look exchanged/,
    ],
    [
      'a polygon of two points',
      '{"type":"FeatureCollection","features":[{"type":"Feature","id":"g","properties":{"golf":"green"},"geometry":{"type":"Polygon","coordinates":[[[1,1],[2,2]]]}}]}',
      /^m, g: a ring has fewer than 3 positions/,
    ],
    [
      'no geometry',
      '{"type":"FeatureCollection","features":[{"type":"Feature","id":"g","properties":{"golf":"green"},"geometry":null}]}',
      /^m, g: the geometry is missing and is not one of RFC 7946/,
    ],
  ];
  test.each(cases)('%s', (_name, text, expected) => {
    expect(() => readMap(text, 'm')).toThrow(expected);
  });

  test('any damage to a real file is a fault or a read, never a crash', { tags: 'long' }, () => {
    const small = JSON.stringify({
      type: 'FeatureCollection',
      features: (JSON.parse(geoJson) as { features: unknown[] }).features.slice(0, 12),
    });
    const texts = [small, asOsmXml(small), asOverpass(small, true)];
    fc.assert(
      fc.property(
        fc.constantFrom(...texts),
        fc.array(
          fc.tuple(fc.nat(), fc.constantFrom('0', '"', '<', '}', '-', ' ', 'e9', '\u0000')),
          {
            minLength: 1,
            maxLength: 6,
          },
        ),
        fc.option(fc.nat(), { nil: null }),
        (text, edits, cut) => {
          let damaged = text;
          for (const [at, put] of edits) {
            const i = at % damaged.length;
            damaged = damaged.slice(0, i) + put + damaged.slice(i + 1);
          }
          if (cut !== null) damaged = damaged.slice(0, cut % damaged.length);
          try {
            readMap(damaged, 'm');
          } catch (error) {
            expect(error).toBeInstanceOf(InputFault);
            expect((error as InputFault).message).not.toContain('\n');
          }
        },
      ),
      { numRuns: 400, seed: 11 },
    );
  });
});
