/** Writes a GeoJSON map as OpenStreetMap XML and as an Overpass answer, for tests of the readers. */
interface Feature {
  readonly properties: Readonly<Record<string, string>>;
  readonly geometry:
    | { readonly type: 'Point'; readonly coordinates: [number, number] }
    | { readonly type: 'LineString'; readonly coordinates: [number, number][] }
    | { readonly type: 'Polygon'; readonly coordinates: [number, number][][] };
}

interface Node {
  readonly id: number;
  readonly lon: number;
  readonly lat: number;
  readonly tags: Readonly<Record<string, string>>;
}

interface Way {
  readonly id: number;
  readonly nodes: number[];
  readonly tags: Readonly<Record<string, string>>;
}

const elementsOf = (geoJson: string): { nodes: Node[]; ways: Way[] } => {
  const nodes: Node[] = [];
  const ways: Way[] = [];
  const add = ([lon, lat]: [number, number], tags: Node['tags'] = {}): number => {
    nodes.push({ id: 1000 + nodes.length, lon, lat, tags });
    return nodes[nodes.length - 1].id;
  };
  for (const { properties, geometry } of (JSON.parse(geoJson) as { features: Feature[] })
    .features) {
    if (geometry.type === 'Point') {
      add(geometry.coordinates, properties);
    } else if (geometry.type === 'LineString') {
      ways.push({
        id: 500_000 + ways.length,
        nodes: geometry.coordinates.map((at) => add(at)),
        tags: properties,
      });
    } else {
      const ids = geometry.coordinates[0].slice(0, -1).map((at) => add(at));
      ways.push({ id: 500_000 + ways.length, nodes: [...ids, ids[0]], tags: properties });
    }
  }
  return { nodes, ways };
};

const escaped = (text: string): string =>
  text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&apos;');

const tagLines = (tags: Node['tags']): string =>
  Object.entries(tags)
    .map(([k, v]) => `<tag k="${escaped(k)}" v="${escaped(v)}"/>`)
    .join('');

export const asOsmXml = (geoJson: string): string => {
  const { nodes, ways } = elementsOf(geoJson);
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<osm version="0.6" generator="a test">',
    ...nodes.map(
      ({ id, lon, lat, tags }) =>
        `<node id="${id}" version="1" lat="${lat}" lon="${lon}">${tagLines(tags)}</node>`,
    ),
    ...ways.map(
      ({ id, nodes: refs, tags }) =>
        `<way id="${id}" version="1">${refs.map((ref) => `<nd ref="${ref}"/>`).join('')}${tagLines(tags)}</way>`,
    ),
    '</osm>',
  ].join('\n');
};

/** `out body; >; out skel qt` (nodes apart) or `out geom` (geometry with each way). */
export const asOverpass = (geoJson: string, withGeometry: boolean): string => {
  const { nodes, ways } = elementsOf(geoJson);
  const byId = new Map(nodes.map((node) => [node.id, node]));
  const shown = withGeometry ? nodes.filter((node) => Object.keys(node.tags).length > 0) : nodes;
  return JSON.stringify({
    version: 0.6,
    elements: [
      ...ways.map(({ id, nodes: refs, tags }) => ({
        type: 'way',
        id,
        nodes: refs,
        ...(withGeometry
          ? {
              geometry: refs.map((ref) => ({
                lat: byId.get(ref)!.lat,
                lon: byId.get(ref)!.lon,
              })),
            }
          : {}),
        tags,
      })),
      ...shown.map(({ id, lon, lat, tags }) => ({
        type: 'node',
        id,
        lat,
        lon,
        ...(Object.keys(tags).length > 0 ? { tags } : {}),
      })),
    ],
  });
};
