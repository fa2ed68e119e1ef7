import type { DrawnFeature, Place, UntidyMap } from './untidy-course.js';

/** Writes a map in the forms that people get one in. */
export type MapForm = 'osm' | 'overpass body' | 'overpass geom' | 'geojson';

export const FORMS: readonly MapForm[] = ['osm', 'overpass body', 'overpass geom', 'geojson'];

const HOME = [7.25, 46.1] as const;

export const toDegrees = ([x, y]: Place): [number, number] => [
  Number((HOME[0] + x / (111_320 * Math.cos((HOME[1] * Math.PI) / 180))).toFixed(8)),
  Number((HOME[1] + y / 111_320).toFixed(8)),
];

interface Element {
  readonly type: 'node' | 'way' | 'relation';
  readonly id: number;
  readonly at?: [number, number];
  readonly nodes?: readonly number[];
  readonly members?: readonly number[];
  readonly tags: Readonly<Record<string, string>>;
}

/** Nodes, ways and relations; a relation's outline in two ways, the second drawn backward. */
const elementsOf = (features: readonly DrawnFeature[]): Element[] => {
  const elements: Element[] = [];
  let last = 100;
  const add = (one: Omit<Element, 'id'>): number => {
    last += 1;
    elements.push({ ...one, id: last });
    return last;
  };
  const nodesOf = (points: readonly Place[]): number[] =>
    points.map((at) => add({ type: 'node', at: toDegrees(at), tags: {} }));
  for (const { shape, points, tags, relation } of features) {
    if (shape === 'point') {
      add({ type: 'node', at: toDegrees(points[0]), tags });
      continue;
    }
    const nodes = nodesOf(points);
    if (shape === 'line') {
      add({ type: 'way', nodes, tags });
    } else if (relation !== true) {
      add({ type: 'way', nodes: [...nodes, nodes[0]], tags });
    } else {
      const half = Math.floor(nodes.length / 2);
      const one = add({ type: 'way', nodes: nodes.slice(0, half + 1), tags: {} });
      const two = add({ type: 'way', nodes: [nodes[0], ...nodes.slice(half).reverse()], tags: {} });
      add({ type: 'relation', members: [one, two], tags: { ...tags, type: 'multipolygon' } });
    }
  }
  return elements;
};

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');

const asXml = (elements: readonly Element[]): string => {
  const tagsOf = (tags: Element['tags']): string =>
    Object.entries(tags)
      .map(([k, v]) => `<tag k="${escaped(k)}" v="${escaped(v)}"/>`)
      .join('');
  const lines = elements.map(({ type, id, at, nodes, members, tags }) => {
    if (type === 'node') {
      return `<node id="${id}" lat="${at![1]}" lon="${at![0]}">${tagsOf(tags)}</node>`;
    }
    const parts =
      nodes?.map((ref) => `<nd ref="${ref}"/>`) ??
      members!.map((ref) => `<member type="way" ref="${ref}" role="outer"/>`);
    return `<${type} id="${id}">${parts.join('')}${tagsOf(tags)}</${type}>`;
  });
  return `<?xml version="1.0"?>\n<osm version="0.6">\n${lines.join('\n')}\n</osm>\n`;
};

const asOverpass = (elements: readonly Element[], geom: boolean): string => {
  const byId = new Map(elements.map((one) => [one.id, one]));
  const geometryOf = (nodes: readonly number[]) =>
    nodes.map((id) => ({ lon: byId.get(id)!.at![0], lat: byId.get(id)!.at![1] }));
  return JSON.stringify({
    version: 0.6,
    elements: elements
      .filter((one) => !geom || Object.keys(one.tags).length > 0)
      .map(({ type, id, at, nodes, members, tags }) => ({
        type,
        id,
        ...(at === undefined ? {} : { lon: at[0], lat: at[1] }),
        ...(nodes === undefined ? {} : { nodes, ...(geom ? { geometry: geometryOf(nodes) } : {}) }),
        ...(members === undefined
          ? {}
          : {
              members: members.map((ref) => ({
                type: 'way',
                ref,
                role: 'outer',
                ...(geom ? { geometry: geometryOf(byId.get(ref)!.nodes!) } : {}),
              })),
            }),
        ...(Object.keys(tags).length === 0 ? {} : { tags }),
      })),
  });
};

const asGeoJson = (features: readonly DrawnFeature[]): string =>
  JSON.stringify({
    type: 'FeatureCollection',
    features: features.map(({ shape, points, tags, relation }) => {
      const at = points.map(toDegrees);
      const ring = [...at, at[0]];
      return {
        type: 'Feature',
        id: tags.uid,
        properties: tags,
        geometry:
          shape === 'point'
            ? { type: 'Point', coordinates: at[0] }
            : shape === 'line'
              ? { type: 'LineString', coordinates: at }
              : relation === true
                ? { type: 'MultiPolygon', coordinates: [[ring]] }
                : { type: 'Polygon', coordinates: [ring] },
      };
    }),
  });

export const writtenAs = (form: MapForm, map: UntidyMap): string => {
  if (form === 'geojson') return asGeoJson(map.features);
  const elements = elementsOf(map.features);
  return form === 'osm' ? asXml(elements) : asOverpass(elements, form === 'overpass geom');
};
