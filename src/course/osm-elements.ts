import osm2geojson from 'osm2geojson-lite';
import sax from 'sax';
import { type FaultPlace, InputFault, quoted } from '../fault.js';
import { INPUT_LIMITS } from '../input-limits.js';
import { writeXml } from '../xml-text.js';
import { kindOfTags } from './course-map.js';

/** An element of OpenStreetMap, in the form of Overpass JSON. */
export interface OsmElement {
  readonly type: 'node' | 'way' | 'relation';
  readonly id: number;
  readonly lat?: number;
  readonly lon?: number;
  readonly nodes?: readonly number[];
  readonly geometry?: readonly ({ readonly lat: number; readonly lon: number } | null)[];
  readonly members?: readonly OsmMember[];
  readonly tags?: Readonly<Record<string, string>>;
}

interface OsmMember {
  readonly type: OsmElement['type'];
  readonly ref: number;
  readonly role: string;
  readonly geometry?: OsmElement['geometry'];
}

type Writable<T> = { -readonly [K in keyof T]: T[K] };

/**
 * The elements of an OpenStreetMap XML file (`.osm`).
 *
 * @throws InputFault with the line when the XML is damaged.
 */
export const elementsOfXml = (text: string, file: string): OsmElement[] => {
  const elements: OsmElement[] = [];
  let open: Writable<OsmElement> | null = null;
  let isDeleted = false;
  const parser = sax.parser(true, { trim: false });
  const fail = (problem: string, cure?: string): never => {
    throw new InputFault({ file, place: `line ${parser.line + 1}` }, problem, cure);
  };
  const number = (value: string | undefined, what: string): number => {
    const parsed = value === undefined || value.trim() === '' ? Number.NaN : Number(value);
    return Number.isFinite(parsed) ? parsed : fail(`${what} is not a number`);
  };
  parser.onerror = () =>
    fail('the XML is not well formed', 'it is cut off or damaged; fetch it again');
  /** Of the way, or the way of a relation, that is open: Overpass writes its places beside its nodes ("out geom"). */
  let places: { lat: number; lon: number }[] = [];
  parser.onopentag = (tag) => {
    const at = tag.attributes as Record<string, string>;
    switch (tag.name) {
      case 'node':
      case 'way':
      case 'relation':
        // An editor keeps what was deleted, marked so, until it is uploaded; a history has what is seen no more.
        isDeleted = at.action === 'delete' || at.visible === 'false';
        if (isDeleted && tag.name === 'node' && at.lat === undefined) break;
        open = { type: tag.name, id: number(at.id, `the id of a ${tag.name}`), tags: {} };
        if (tag.name === 'node') {
          open.lat = number(at.lat, `lat of node ${at.id}`);
          open.lon = number(at.lon, `lon of node ${at.id}`);
        }
        if (tag.name === 'way') open.nodes = [];
        if (tag.name === 'relation') open.members = [];
        places = [];
        break;
      case 'nd':
        if (at.lat !== undefined && at.lon !== undefined) {
          places.push({ lat: number(at.lat, 'lat of a nd'), lon: number(at.lon, 'lon of a nd') });
        }
        if (open?.type !== 'way') break;
        (open.nodes as number[]).push(number(at.ref, 'the ref of a nd'));
        break;
      case 'member':
        places = [];
        (open?.members as OsmMember[] | undefined)?.push({
          type: at.type as OsmElement['type'],
          ref: number(at.ref, 'the ref of a member'),
          role: at.role ?? '',
        });
        break;
      case 'tag':
        if (open !== null && at.k !== undefined) {
          (open.tags as Record<string, string>)[at.k] = at.v ?? '';
        }
        break;
    }
  };
  parser.onclosetag = (name) => {
    if (open === null) return;
    if (name === 'member' && open.type === 'relation' && places.length > 0) {
      const member = (open.members as Writable<OsmMember>[]).at(-1);
      if (member !== undefined) member.geometry = places;
    }
    if (name !== open.type) return;
    const isWhole =
      open.type === 'way' && places.length > 0 && places.length === open.nodes?.length;
    if (isWhole) open.geometry = places;
    if (!isDeleted) elements.push(open);
    open = null;
  };
  writeXml(parser, text);
  parser.close();
  return elements;
};

/** Places as Overpass writes them; null in their list stands for one outside the asked area. */
const refuseUnsoundPlaces = (places: unknown, where: FaultPlace, what: string): void => {
  if (places === undefined) return;
  const fault = (problem: string): InputFault =>
    new InputFault(where, problem, 'ask for whole ways: "out geom" without a box behind it');
  if (!Array.isArray(places)) throw fault(`${what} is no list`);
  const isPlace = (one: Partial<Record<'lat' | 'lon', unknown>> | null): boolean =>
    Number.isFinite(one?.lat) && Number.isFinite(one?.lon);
  const wrong = places.findIndex((one) => !isPlace(one));
  if (wrong >= 0) throw fault(`place ${wrong + 1} of ${what} has no lat and lon`);
};

/**
 * The elements of an Overpass answer.
 *
 * @throws InputFault when it is no list of elements.
 */
export const elementsOfOverpass = (
  answer: { elements?: unknown; remark?: unknown },
  file: string,
): OsmElement[] => {
  // A query that ran out of time or memory answers with what it had by then, and says so.
  if (typeof answer.remark === 'string' && /error|timed? ?out/i.test(answer.remark)) {
    throw new InputFault(
      { file, place: 'remark' },
      `the answer is not complete: ${quoted(answer.remark.replace(/\s+/g, ' '), 80)}`,
      'ask again, for a smaller area or with more time ("[timeout:180]")',
    );
  }
  if (!Array.isArray(answer.elements)) {
    throw new InputFault({ file, place: 'elements' }, 'not a list of elements');
  }
  answer.elements.forEach((one: Partial<OsmElement> | null, i) => {
    const place = { file, place: `elements[${i}]` };
    if (one === null || typeof one !== 'object') throw new InputFault(place, 'not an element');
    if (one.type !== 'node' && one.type !== 'way' && one.type !== 'relation') {
      throw new InputFault(place, 'the type is not node, way or relation');
    }
    for (const key of ['nodes', 'members'] as const) {
      if (one[key] !== undefined && !Array.isArray(one[key])) {
        throw new InputFault(place, `its ${key} are no list`);
      }
    }
    if (one.nodes?.some((id) => !Number.isFinite(id))) {
      throw new InputFault(place, 'one of its nodes is not a number');
    }
    if (one.members?.some((member) => member === null || typeof member !== 'object')) {
      throw new InputFault(place, 'one of its members is no member');
    }
    refuseUnsoundPlaces(one.geometry, place, 'its geometry');
    one.members?.forEach(({ geometry }, k) => {
      refuseUnsoundPlaces(geometry, place, `the geometry of member ${k + 1}`);
    });
    if (one.tags !== undefined && (one.tags === null || typeof one.tags !== 'object')) {
      throw new InputFault(place, 'its tags are no mapping');
    }
    if (!Number.isFinite(one.id)) throw new InputFault(place, 'the id is not a number');
    if (one.type === 'node' && !(Number.isFinite(one.lat) && Number.isFinite(one.lon))) {
      throw new InputFault(place, `node ${one.id} has no lat and lon`);
    }
  });
  return answer.elements as OsmElement[];
};

const hasOwnTags = (element: OsmElement): boolean => Object.keys(element.tags ?? {}).length > 0;

/** Every tagged way and multipolygon must come with its geometry: an extract cut short is told, not drawn in part. */
const checkComplete = (elements: readonly OsmElement[], file: string): void => {
  const known = new Map(elements.map((one) => [`${one.type}/${one.id}`, one]));
  const cure =
    'export the map with all nodes of its ways (Overpass: "out geom", or "out body; >; out skel qt")';
  const missing = (way: OsmElement): boolean =>
    way.geometry === undefined &&
    (way.nodes === undefined || way.nodes.some((id) => !known.has(`node/${id}`)));
  for (const element of elements) {
    const id = `${element.type}/${element.id}`;
    const golf = element.tags?.golf !== undefined;
    if (element.type === 'way' && golf && missing(element)) {
      throw new InputFault({ file, place: id }, 'some of its nodes are not in the file', cure);
    }
    if (element.type === 'relation' && golf) {
      for (const member of element.members ?? []) {
        if (member.type !== 'way' || member.geometry !== undefined) continue;
        const way = known.get(`way/${member.ref}`);
        if (way === undefined || missing(way)) {
          throw new InputFault(
            { file, place: id },
            `its member way/${member.ref} is not in the file`,
            cure,
          );
        }
      }
    }
  }
};

/** Refuses relations that stand in each other without end, or deeper than any map has them: who joins them would not come back. */
const refuseDeepRelations = (elements: readonly OsmElement[], file: string): void => {
  const byId = new Map(elements.map((one) => [`${one.type}/${one.id}`, one]));
  const heights = new Map<OsmElement, number>();
  const heightOf = (relation: OsmElement, depth: number): number => {
    const known = heights.get(relation);
    if (known !== undefined) return known;
    let height = 1;
    for (const { type, ref } of relation.members ?? []) {
      const inner = type === 'relation' ? byId.get(`relation/${ref}`) : undefined;
      if (inner === undefined) continue;
      if (depth < INPUT_LIMITS.depth) height = Math.max(height, 1 + heightOf(inner, depth + 1));
      if (depth < INPUT_LIMITS.depth && height <= INPUT_LIMITS.depth) continue;
      throw new InputFault(
        { file, place: `relation/${relation.id}` },
        `relations stand in a circle, or more than ${INPUT_LIMITS.depth} deep in each other`,
        'take the relation out of its own members',
      );
    }
    heights.set(relation, height);
    return height;
  };
  for (const one of elements) {
    if (one.type === 'relation' && kindOfTags(one.tags ?? {}, false) !== null) heightOf(one, 1);
  }
};

/** The elements that a page may show, and all that they are made of; a town round a course is left out. */
const shownElements = (elements: readonly OsmElement[]): OsmElement[] => {
  const byId = new Map(elements.map((one) => [`${one.type}/${one.id}`, one]));
  const wanted = new Set<OsmElement>();
  const want = (element: OsmElement | undefined): void => {
    if (element === undefined || wanted.has(element)) return;
    wanted.add(element);
    for (const id of element.nodes ?? []) want(byId.get(`node/${id}`));
    for (const { type, ref } of element.members ?? []) want(byId.get(`${type}/${ref}`));
  };
  for (const element of elements) {
    if (kindOfTags(element.tags ?? {}, element.type === 'node') !== null) want(element);
  }
  return elements.filter((one) => wanted.has(one));
};

/** GeoJSON features of the tagged elements, ids such as "way/12", in the order of the file. */
export const geoJsonOfElements = (elements: readonly OsmElement[], file: string): object => {
  checkComplete(elements, file);
  refuseDeepRelations(elements, file);
  const tagged = new Map(
    elements
      .filter(hasOwnTags)
      .map((one, i) => [`${one.type}/${one.id}`, { tags: one.tags!, order: i }]),
  );
  const collection = osm2geojson(
    { elements: structuredClone(shownElements(elements)) },
    { completeFeature: true, renderTagged: true, excludeWay: false },
  );
  const features = collection.features
    .filter((one) => tagged.has(String(one.id)))
    .map((one) => ({ ...one, properties: tagged.get(String(one.id))!.tags }))
    .sort((a, b) => tagged.get(String(a.id))!.order - tagged.get(String(b.id))!.order);
  return { type: 'FeatureCollection', features };
};
