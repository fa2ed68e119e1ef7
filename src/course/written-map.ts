import { distance } from '../geometry.js';
import type { CourseMap, MapFeature } from './course-map.js';
import type { Flat, FlatFeature } from './flat.js';
import type { Draft } from './hole-draft.js';
import { sameRefs } from './hole-refs.js';
import type { SettledTee } from './settle-tees.js';
import { nameOfTee, nameTees, otherColours } from './tee-names.js';

/** One name over the course for each tee of its holes. */
export const namedTees = (
  drafts: readonly Draft[],
  tees: readonly FlatFeature[],
  settled: readonly SettledTee[],
): Map<MapFeature, string> => {
  const perHole = drafts.map((draft) =>
    tees.filter((_, i) => settled[i].ids.some((id) => draft.numbered.ids.includes(id))),
  );
  const names = nameTees(
    perHole.map((own, i) =>
      own.map((tee) => {
        const { points, green } = drafts[i];
        const end = green?.middle ?? points[points.length - 1] ?? tee.middle;
        return {
          name: nameOfTee(tee.feature.tags, drafts[i].numbered.ids),
          length: distance(tee.middle, end),
        };
      }),
    ),
  );
  return new Map(
    perHole.flatMap((own, i) => own.map((tee, k) => [tee.feature, names[i][k]] as const)),
  );
};

const featureOfDraft = (flat: Flat, draft: Draft, feature: MapFeature): MapFeature => {
  const drawn = draft.drawn!;
  const asDrawn =
    drawn.points === draft.points && drawn.features.length === 1 && draft.line?.reversed !== true;
  const refs = draft.numbered.ids;
  if (asDrawn && sameRefs(refs, feature.refs)) return feature;
  return {
    ...feature,
    refs,
    shape: asDrawn
      ? feature.shape
      : { kind: 'line', points: draft.points.map((p) => flat.toMap(p)) },
  };
};

/** What greens and tees are settled to be. */
interface SettledNames {
  readonly greenIds: ReadonlyMap<MapFeature, readonly string[]>;
  readonly teeIds: ReadonlyMap<MapFeature, readonly string[]>;
  readonly teeNames: ReadonlyMap<MapFeature, string>;
}

/** A tee of several colours once more for each colour that its hole has no tee of. */
const sharedTees = (features: readonly MapFeature[]): MapFeature[] => {
  const tees = features.filter(({ kind, refs }) => kind === 'tee' && refs.length > 0);
  return tees.flatMap((tee) =>
    otherColours(tee.tags)
      .filter(
        (name) =>
          !tees.some((one) => one.name === name && one.refs.some((ref) => tee.refs.includes(ref))),
      )
      .map((name): MapFeature => ({ ...tee, id: `${tee.id} (${name})`, name })),
  );
};

/** The map with what was settled written into it. A feature that says it already stays the same record. */
export const writtenInto = (
  map: CourseMap,
  flat: Flat,
  drafts: readonly Draft[],
  { greenIds, teeIds, teeNames }: SettledNames,
): CourseMap => {
  const ofLine = new Map(
    drafts.flatMap(
      (draft) => draft.drawn?.features.map((one, k) => [one, { draft, k }] as const) ?? [],
    ),
  );
  const counts = new Map<string, number>();
  for (const { refs } of drafts)
    for (const ref of refs) counts.set(ref, (counts.get(ref) ?? 0) + 1);
  const isRepeated = (ref: string): boolean => (counts.get(ref) ?? 0) > 1;
  const features = map.features.flatMap((feature): MapFeature[] => {
    const line = ofLine.get(feature);
    if (line !== undefined) {
      return line.k === 0 ? [featureOfDraft(flat, line.draft, feature)] : [];
    }
    const refs =
      feature.kind === 'green'
        ? (greenIds.get(feature) ?? feature.refs)
        : feature.kind === 'tee'
          ? (teeIds.get(feature) ?? feature.refs)
          : // A number that several lines bear tells no hole.
            feature.kind !== 'hole' && feature.refs.some(isRepeated)
            ? []
            : feature.refs;
    const name = feature.kind === 'tee' ? (teeNames.get(feature) ?? feature.name) : feature.name;
    const same = sameRefs(refs, feature.refs) && name === feature.name;
    return [same ? feature : { ...feature, refs, name }];
  });
  const shared = sharedTees(features);
  const drawnAnew = drafts
    .filter((draft) => draft.drawn === null && draft.points.length > 1)
    .map(
      (draft): MapFeature => ({
        id: `line of hole ${draft.numbered.ids[0]}`,
        kind: 'hole',
        refs: draft.numbered.ids,
        name: null,
        tags: {},
        shape: { kind: 'line', points: draft.points.map((p) => flat.toMap(p)) },
      }),
    );
  return { ...map, features: [...features, ...shared, ...drawnAnew] };
};
