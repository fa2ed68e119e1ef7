import { fetchedRecord } from '../fetched-record.js';
import { packedPoints } from '../packed-points.js';
import { refOfText } from './hole-numbers.js';

/** WGS 84 degrees, as in RFC 7946. Longitudes of one map never jump: past the antimeridian they go on beyond 180. */
export type LonLat = readonly [longitude: number, latitude: number];

/** What a feature of the map is to a player. */
export type FeatureKind =
  | 'course'
  | 'hole'
  | 'tee'
  | 'fairway'
  | 'green'
  | 'bunker'
  | 'water'
  | 'rough'
  | 'path'
  | 'pin'
  | 'tree'
  | 'wood'
  | 'landmark';

export type FeatureShape =
  | { readonly kind: 'point'; readonly at: LonLat }
  | { readonly kind: 'line'; readonly points: readonly LonLat[] }
  /** Rings are not closed by a repeated point; the first is the outer one. */
  | { readonly kind: 'area'; readonly rings: readonly (readonly LonLat[])[] };

export interface MapFeature {
  /** The feature's own id, or its place in the file ("feature 12"). */
  readonly id: string;
  readonly kind: FeatureKind;
  /** The holes that it says it belongs to; empty when it says none. */
  readonly refs: readonly string[];
  readonly name: string | null;
  readonly tags: Readonly<Record<string, string>>;
  readonly shape: FeatureShape;
}

export interface CourseMap {
  readonly file: string;
  readonly features: readonly MapFeature[];
  /** The areas of whole courses (leisure=golf_course), which no page draws. */
  readonly boundaries: readonly MapFeature[];
}

const withPackedShape = (feature: MapFeature): MapFeature => {
  const { shape } = feature;
  if (shape.kind !== 'area') return feature;
  const packed = shape.rings.map((ring) => packedPoints(ring));
  return { ...feature, shape: packedArea(packed) };
};

/** Of a function of its own, so that it holds no more. */
const packedArea = (packed: readonly (() => LonLat[])[]): FeatureShape =>
  fetchedRecord({ kind: 'area' } as const, { rings: () => packed.map((bring) => bring()) });

/** Features of a map that is held as it is: more than a course of eighteen holes has. */
const FEW = 512;

/** The same map; where it is large its areas lie packed, each brought when it is asked for, as its holes ask one after the other. */
export const packedMap = ({ features, ...map }: CourseMap): CourseMap => ({
  ...map,
  features: features.length <= FEW ? features : features.map(withPackedShape),
});

/** Something about a map that a user should know; `fault` is set when no page can be made from it. */
export interface MapFinding {
  readonly severity: 'fault' | 'warning';
  readonly feature: string;
  readonly problem: string;
  readonly cure: string;
}

/** Keys that a landmark on a golf course may carry beside its name. */
const LANDMARK_KEYS = new Set([
  'barrier',
  'description',
  'ele',
  'golf',
  'historic',
  'man_made',
  'name',
  'natural',
  'note',
  'ref',
  'source',
]);

const isOfCourse = (key: string): boolean =>
  LANDMARK_KEYS.has(key) || /^(name|description|note|source):/.test(key);

/**
 * The kind of a feature by its open tags (OpenStreetMap wiki: Key:golf, natural=water, natural=tree,
 * natural=wood). Points with a `landmark` tag, or with a name and no meaning off the course (a shop, a
 * bus stop), are landmarks. Null:
 * nothing that a yardage book draws.
 */
export const kindOfTags = (
  tags: Readonly<Record<string, string>>,
  isPoint: boolean,
): FeatureKind | null => {
  switch (tags.golf) {
    case 'hole':
    case 'tee':
    case 'fairway':
    case 'green':
    case 'bunker':
    case 'rough':
    case 'pin':
      return tags.golf;
    case 'practice_green':
    case 'putting_green':
      return 'green';
    case 'water_hazard':
    case 'lateral_water_hazard':
      return 'water';
    case 'cartpath':
    case 'path':
      return 'path';
  }
  if (tags.leisure === 'golf_course' && !isPoint) return 'course';
  if (tags.landmark !== undefined && isPoint) return 'landmark';
  if (tags.natural === 'water' || tags.waterway !== undefined) return 'water';
  if (tags.natural === 'tree') return 'tree';
  if (!isPoint && (tags.natural === 'wood' || tags.landuse === 'forest')) return 'wood';
  if (isPoint && tags.name !== undefined && Object.keys(tags).every(isOfCourse)) return 'landmark';
  return null;
};

/** "7", "07" and "Hole 7" are one hole; "1;10" and "1/10" name two. */
export const refsOf = (ref: string | undefined): string[] =>
  (ref ?? '')
    .split(/[;,/&+]/)
    .map((one) => one.trim())
    .filter((one) => one !== '')
    .map(refOfText);

const PRACTICE_WORD = /\b(practi[cs]e|putting|putter)\b/i;

/** Whether a green is for practice, by any of the tags that mappers use for it. */
export const isPracticeGreen = (tags: Readonly<Record<string, string>>): boolean =>
  tags.golf === 'practice_green' ||
  tags.golf === 'putting_green' ||
  (tags.golf === 'green' &&
    !/\d/.test(tags.ref ?? '') &&
    (PRACTICE_WORD.test(
      [tags.ref, tags.name, tags.usage, tags.description, tags.green].join(' '),
    ) ||
      [tags.practice, tags.practice_green, tags.putting_green, tags['golf:practice']].includes(
        'yes',
      )));
