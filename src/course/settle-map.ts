import type { CourseMap, LonLat, MapFeature, MapFinding } from './course-map.js';
import { drawnLines } from './drawn-lines.js';
import { type Flat, type FlatFeature, flatRound, laidFlat } from './flat.js';
import { bent, type Draft, draftOf, holesWithoutLine } from './hole-draft.js';
import { byNumber, isHoleNumber, sameSet } from './hole-refs.js';
import { middleOf } from './hole-site.js';
import { finding, loopFindings, missingFindings } from './map-findings.js';
import { type SettledLine, settleGreens } from './settle-greens.js';
import { numberLines } from './settle-numbers.js';
import { type SettledTee, settleTees } from './settle-tees.js';
import type { Confidence, SettledHole } from './settled-hole.js';
import { namedTees, writtenInto } from './written-map.js';

export interface SettledMap {
  /** The map with every line drawn from tee to green, and every line, green and tee bearing the holes that it belongs to. */
  readonly map: CourseMap;
  readonly holes: readonly SettledHole[];
  readonly findings: readonly MapFinding[];
}

/** What the user names for holes, by their ids. */
export interface Wishes {
  /** The id of the green. */
  readonly greens: ReadonlyMap<string, string>;
  /** Holes whose line is the user's: it is not bent. */
  readonly lines: ReadonlySet<string>;
}

const NO_WISHES: Wishes = { greens: new Map(), lines: new Set() };

/** Margins of the assignment that make an answer sure, and likely, metres. */
const SURE = 20;
const LIKELY = 8;

const confidenceOf = (line: SettledLine | null, doubtful: boolean): Confidence => {
  if (line === null || doubtful || line.margin < LIKELY || line.green === null) return 'doubtful';
  return line.margin < SURE ? 'likely' : 'sure';
};

/** Greens for practice, in the order of the map: "practice", "practice 2" where they share a word. */
const practiceNames = (greens: readonly MapFeature[], taken: ReadonlySet<string>) => {
  const counts = new Map<string, number>();
  const names = new Map<MapFeature, readonly string[]>();
  for (const green of greens) {
    const [ref] = green.refs;
    if (green.refs.length !== 1 || isHoleNumber(ref) || taken.has(ref)) continue;
    const count = (counts.get(ref) ?? 0) + 1;
    counts.set(ref, count);
    names.set(green, count === 1 ? green.refs : [`${ref} ${count}`]);
  }
  return names;
};

const homeOf = (features: readonly MapFeature[]): LonLat => {
  const middles = features.map(middleOf);
  const median = (values: number[]): number =>
    values.sort((a, b) => a - b)[Math.floor(values.length / 2)];
  return [median(middles.map((m) => m[0])), median(middles.map((m) => m[1]))];
};

/**
 * Settles which line, green and tees belong to each hole, over the whole course together, and writes it into
 * the map. Nothing is decided in silence: each hole lists what the map does not say and what to look at.
 * A map that says everything itself comes back as it was. What the user names stands.
 */
export const settleMap = (map: CourseMap, wishes: Wishes = NO_WISHES): SettledMap => {
  if (map.features.length === 0) return { map, holes: [], findings: [] };
  const flat = flatRound(homeOf(map.features));
  const laid = (kind: MapFeature['kind'], shape: 'area' | null): FlatFeature[] =>
    map.features
      .filter((one) => one.kind === kind && (shape === null || one.shape.kind === shape))
      .map((one) => laidFlat(flat, one));
  const lines = drawnLines(
    flat,
    map.features.filter((one) => one.kind === 'hole' && one.shape.kind === 'line'),
  );
  const tees = laid('tee', null);
  const lineRefs = new Set(lines.flatMap((one) => one.features[0].refs));
  const allGreens = laid('green', 'area');
  const practice = practiceNames(
    allGreens.map((one) => one.feature),
    lineRefs,
  );
  const greens = allGreens.filter(({ feature }) => !practice.has(feature));
  const settledLines = settleGreens({
    lines: lines.map((one) => ({
      points: one.points,
      refs: one.features[0].refs,
      named: one.features[0].refs
        .map((ref) => wishes.greens.get(ref))
        .find((id) => id !== undefined),
    })),
    greens,
    tees,
  });
  const greenRefsOf = ({ green }: SettledLine): readonly string[] =>
    green === null ? [] : greens[green].feature.refs;
  const numbered = numberLines(
    lines.map((one, i) => {
      const { reversed } = settledLines[i];
      const [first, last] = [one.points[0], one.points[one.points.length - 1]];
      return {
        refs: one.features[0].refs,
        tags: one.features[0].tags,
        greenRefs: greenRefsOf(settledLines[i]),
        start: reversed ? last : first,
        end: reversed ? first : last,
      };
    }),
  );
  const lined = bent(
    lines.map((one, i) => draftOf(one, settledLines[i], numbered[i], greens)),
    laid('fairway', 'area'),
    wishes.lines,
  );
  const taken = new Set(lined.flatMap((draft) => (draft.green === null ? [] : [draft.green])));
  const known = new Set([...lineRefs, ...lined.flatMap((draft) => draft.numbered.ids)]);
  const drafts = [
    ...lined,
    ...holesWithoutLine(
      known,
      greens.filter((green) => !taken.has(green)),
      tees,
    ),
  ];
  const settledTees = settleTees(
    tees,
    drafts.map(({ numbered: { ids }, refs, points }) => ({ ids, refs, points })),
  );
  return assembled(map, flat, { drafts, greens, practice, tees, settledTees });
};

interface Assembly {
  readonly drafts: readonly Draft[];
  readonly greens: readonly FlatFeature[];
  readonly practice: ReadonlyMap<MapFeature, readonly string[]>;
  readonly tees: readonly FlatFeature[];
  readonly settledTees: readonly SettledTee[];
}

const assembled = (
  map: CourseMap,
  flat: Flat,
  { drafts, greens, practice, tees, settledTees }: Assembly,
): SettledMap => {
  const greenIds = new Map<MapFeature, readonly string[]>(practice);
  for (const { feature } of greens) {
    const ids = drafts.flatMap((draft) =>
      draft.green?.feature === feature ? draft.numbered.ids : [],
    );
    // A green that no line was given keeps no number of a hole that has another green.
    const others = new Set(
      drafts.flatMap((draft) =>
        draft.green === null ? [] : [...draft.refs, ...draft.numbered.ids],
      ),
    );
    greenIds.set(
      feature,
      ids.length > 0
        ? sameSet(ids, feature.refs)
          ? feature.refs
          : [...new Set(ids)].sort(byNumber)
        : feature.refs.filter((ref) => !others.has(ref)),
    );
  }
  const teeIds = new Map(tees.map((tee, i) => [tee.feature, settledTees[i].ids] as const));
  const teeNames = namedTees(drafts, tees, settledTees);
  const settled = writtenInto(map, flat, drafts, { greenIds, teeIds, teeNames });
  const holes = drafts
    .flatMap((draft) =>
      draft.numbered.ids.map((id): SettledHole => {
        const own = tees.filter((_, i) => settledTees[i].ids.includes(id));
        const looks = [
          ...draft.look,
          ...tees.flatMap((_, i) =>
            settledTees[i].ids.includes(id) && settledTees[i].look !== null
              ? [settledTees[i].look!]
              : [],
          ),
        ];
        const confidence = confidenceOf(draft.line, draft.look.length > 0);
        if (draft.line !== null && draft.green !== null && draft.line.margin < LIKELY) {
          looks.push(
            `its green or the way it is played could be another (${draft.green.feature.id})`,
          );
        }
        return {
          id,
          loop: draft.numbered.loop,
          lineId: draft.drawn?.features[0].id ?? null,
          greenId: draft.green?.feature.id ?? null,
          teeIds: own.map((tee) => tee.feature.id),
          confidence,
          decided: draft.decided,
          // Several tees beside one neighbour are one thing to look at.
          look: [...new Set(looks)],
        };
      }),
    )
    .sort((a, b) => byNumber(a.id, b.id));
  const left = drafts.filter((draft) => draft.numbered.ids.length === 0);
  const findings = [
    ...left
      .filter((draft) => draft.refs.length > 0)
      .map((draft) =>
        finding(
          draft.drawn!.features[0].id,
          draft.numbered.decided ?? 'a line of play that is no hole of the course',
          'give it the number of its hole by the tag ref, or take it out of the map',
        ),
      ),
    ...holes.flatMap((hole) =>
      [...hole.decided, ...hole.look].map((words) =>
        finding(
          hole.lineId ?? `hole ${hole.id}`,
          `hole ${hole.id}: ${words}`,
          'look at the picture of the course',
        ),
      ),
    ),
    ...loopFindings(map, drafts),
    ...missingFindings(
      map,
      holes.map((hole) => hole.id),
    ),
  ];
  return { map: settled, holes, findings };
};
