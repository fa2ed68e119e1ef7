import { distance, insideRing, lengthOf, type Point, type Ring } from '../geometry.js';
import { metresToYards } from '../units.js';
import type { CourseMap, LonLat, MapFeature, MapFinding } from './course-map.js';
import { bendAlongFairway } from './fairway-bend.js';
import { besideLine, type Flat, type FlatFeature, flatRound, laidFlat } from './flat.js';
import { middleOf } from './hole-site.js';
import { type SettledLine, settleGreens } from './settle-greens.js';
import { LOOPS_BY_WALKS, loopTag, type NumberedLine, numberLines } from './settle-numbers.js';
import { type SettledTee, settleTees } from './settle-tees.js';
import type { Confidence, SettledHole } from './settled-hole.js';
import { nameOfTee, nameTees, otherColours } from './tee-names.js';

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
/** Two pieces of one line meet within this, metres. */
const JOINED = 8;
/** A line that ends farther from its green is looked at, metres. */
const LONG_GAP = 40;
/** The tee of a hole without a line is no farther from its green, metres. */
const LONGEST_HOLE = 700;

const sameRefs = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((one, i) => one === b[i]);

const isNumber = (ref: string): boolean => /^\d+$/.test(ref);

const byNumber = (a: string, b: string): number => {
  const [x, y] = [/^(\D*)(\d*)/.exec(a)!, /^(\D*)(\d*)/.exec(b)!];
  if (x[1] !== y[1]) return x[1] < y[1] ? -1 : 1;
  return Number(x[2]) - Number(y[2]) || (a < b ? -1 : a > b ? 1 : 0);
};

interface DrawnLine {
  /** Its pieces, in the order of the map. */
  readonly features: readonly MapFeature[];
  readonly points: readonly Point[];
}

/**
 * Two lines with one number whose ends meet, as one; two that come to one place from the same side are two
 * ways to draw the hole: the longer is kept. Null when they do not meet.
 */
const joined = (a: readonly Point[], b: readonly Point[]): readonly Point[] | null => {
  for (const first of [a, [...a].reverse()]) {
    for (const second of [b, [...b].reverse()]) {
      const [before, joint, after] = [first[first.length - 2], second[0], second[1]];
      if (distance(first[first.length - 1], joint) > JOINED) continue;
      const onward =
        (joint[0] - before[0]) * (after[0] - joint[0]) +
        (joint[1] - before[1]) * (after[1] - joint[1]);
      if (onward > 0) return [...first, ...second.slice(1)];
      return lengthOf(a) >= lengthOf(b) ? a : b;
    }
  }
  return null;
};

const samePlace = (a: readonly Point[], b: readonly Point[]): boolean => {
  const ends = (p: readonly Point[]): [Point, Point] => [p[0], p[p.length - 1]];
  const [a0, a1] = ends(a);
  const [b0, b1] = ends(b);
  const near = (p: Point, q: Point): boolean => distance(p, q) < JOINED;
  return (near(a0, b0) && near(a1, b1)) || (near(a0, b1) && near(a1, b0));
};

/** The lines of play, pieces of one line joined, a line drawn twice once. */
const drawnLines = (flat: Flat, lines: readonly MapFeature[]): DrawnLine[] => {
  const drawn: DrawnLine[] = [];
  for (const feature of lines) {
    const points = laidFlat(flat, feature).points;
    const twin = drawn.findIndex(
      (one) =>
        sameRefs(one.features[0].refs, feature.refs) &&
        loopTag(one.features[0].tags) === loopTag(feature.tags) &&
        (samePlace(one.points, points) ||
          (feature.refs.length > 0 && joined(one.points, points) !== null)),
    );
    if (twin < 0) {
      drawn.push({ features: [feature], points });
      continue;
    }
    const { features, points: known } = drawn[twin];
    drawn[twin] = {
      features: [...features, feature],
      points: samePlace(known, points) ? known : joined(known, points)!,
    };
  }
  return drawn;
};

/** A hole while it is being settled. */
interface Draft {
  readonly drawn: DrawnLine | null;
  readonly line: SettledLine | null;
  readonly numbered: NumberedLine;
  readonly refs: readonly string[];
  /** As played, with the corners of its fairway. */
  readonly points: readonly Point[];
  readonly green: FlatFeature | null;
  readonly decided: readonly string[];
  readonly look: readonly string[];
}

/** The fairways that a hole of two points may be bent along: not crossed by another hole, and near its green or its way. */
const fairwaysOf = (
  own: readonly Point[],
  ids: readonly string[],
  fairways: readonly FlatFeature[],
  others: readonly (readonly Point[])[],
): Ring[] =>
  fairways
    .filter(({ feature, points }) => {
      if (feature.refs.length > 0) return feature.refs.some((ref) => ids.includes(ref));
      const inside = (line: readonly Point[]): number => {
        let walked = 0;
        for (let i = 1; i < line.length; i++) {
          const side = distance(line[i - 1], line[i]);
          const steps = Math.max(1, Math.ceil(side / 8));
          for (let k = 0; k < steps; k++) {
            const t = (k + 0.5) / steps;
            const [a, b] = [line[i - 1], line[i]];
            const p: Point = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
            if (insideRing(points as Ring, p[0], p[1])) walked += side / steps;
          }
        }
        return walked;
      };
      if (inside(own) > 30) return others.every((line) => inside(line) < inside(own));
      if (others.some((line) => inside(line) > 40)) return false;
      const ends = [own[0], own[own.length - 1]];
      return Math.min(...points.map((p) => besideLine(ends, p))) < 60;
    })
    .map(({ points }) => points as Ring);

const yards = (metres: number): string => `${Math.round(metresToYards(metres))} yd`;

const confidenceOf = (line: SettledLine | null, doubtful: boolean): Confidence => {
  if (line === null || doubtful || line.margin < LIKELY || line.green === null) return 'doubtful';
  return line.margin < SURE ? 'likely' : 'sure';
};

const draftOf = (
  drawn: DrawnLine,
  line: SettledLine,
  numbered: NumberedLine,
  greens: readonly FlatFeature[],
): Omit<Draft, 'points'> & { readonly straight: readonly Point[] } => {
  const [feature] = drawn.features;
  const green = line.green === null ? null : greens[line.green];
  const decided: string[] = [];
  const look: string[] = [];
  // What was decided of all loops together is told once, of the course.
  if (numbered.decided !== null && numbered.decided !== LOOPS_BY_WALKS) {
    (numbered.ids.length === 0 || numbered.decided.includes('missing') ? look : decided).push(
      numbered.decided,
    );
  }
  if (drawn.features.length > 1) {
    decided.push(`its line is drawn ${drawn.features.length} times or in pieces; they are one`);
  }
  if (line.reversed) decided.push('its line is drawn from green to tee and was turned round');
  if (green !== null && green.feature.refs.length > 0) {
    const named = green.feature.refs;
    if (![...feature.refs, ...numbered.ids].some((ref) => named.includes(ref))) {
      look.push(
        `its line ends on the green that bears the number ${named.join(', ')} (${green.feature.id})`,
      );
    }
  }
  if (line.gap !== null && line.gap > LONG_GAP) {
    look.push(`its line ends ${Math.round(line.gap)} m short of its green (${green!.feature.id})`);
  }
  return {
    drawn,
    line,
    numbered,
    refs: feature.refs,
    straight: line.reversed ? [...drawn.points].reverse() : drawn.points,
    green,
    decided,
    look,
  };
};

/** A hole whose tees and green bear a number that no line has: its line drawn from its farthest tee. */
const holesWithoutLine = (
  known: ReadonlySet<string>,
  greens: readonly FlatFeature[],
  tees: readonly FlatFeature[],
): Draft[] => {
  const refs = new Set([...greens, ...tees].flatMap(({ feature }) => feature.refs));
  return [...refs]
    .filter((ref) => isNumber(ref) && !known.has(ref))
    .sort(byNumber)
    .map((ref): Draft => {
      const green = greens.find(({ feature }) => feature.refs.includes(ref)) ?? null;
      const own =
        green === null
          ? []
          : tees
              .filter(({ feature }) => feature.refs.includes(ref))
              .map((tee) => ({ at: tee.middle, far: distance(tee.middle, green.middle) }))
              .filter(({ far }) => far < LONGEST_HOLE)
              .sort((a, b) => b.far - a.far);
      const points = own.length === 0 ? [] : [own[0].at, green!.middle];
      return {
        drawn: null,
        line: null,
        numbered: { ids: [ref], loop: null, decided: null },
        refs: [ref],
        points,
        green,
        decided: [],
        look: [
          points.length > 0
            ? 'the map has no line of play for it: drawn from its farthest tee to its green'
            : 'the map has no line of play for it',
        ],
      };
    });
};

const bent = (
  drafts: readonly (Omit<Draft, 'points'> & { readonly straight: readonly Point[] })[],
  fairways: readonly FlatFeature[],
  given: ReadonlySet<string>,
): Draft[] =>
  drafts.map((draft, i): Draft => {
    const { straight } = draft;
    if (straight.length !== 2 || draft.refs.some((ref) => given.has(ref)))
      return { ...draft, points: straight };
    const others = drafts.filter((_, k) => k !== i).map((one) => one.straight);
    const corners = bendAlongFairway(
      straight[0],
      draft.green?.middle ?? straight[1],
      fairwaysOf(straight, draft.refs, fairways, others),
    );
    if (corners.length === 0) return { ...draft, points: straight };
    const points = [straight[0], ...corners, straight[1]];
    const at = corners.map((_, k) => yards(lengthOf(points.slice(0, k + 2)))).join(' and ');
    return {
      ...draft,
      points,
      decided: [
        ...draft.decided,
        `its line of two points was bent along its fairway, ${at} from its start`,
      ],
    };
  });

/** Greens for practice, in the order of the map: "practice", "practice 2" where they share a word. */
const practiceNames = (greens: readonly MapFeature[], taken: ReadonlySet<string>) => {
  const counts = new Map<string, number>();
  const names = new Map<MapFeature, readonly string[]>();
  for (const green of greens) {
    const [ref] = green.refs;
    if (green.refs.length !== 1 || isNumber(ref) || taken.has(ref)) continue;
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

const namedTees = (
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
const writtenInto = (
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

/** The numbers that a course of its size should have and that no hole bears. */
const missingNumbers = (ids: readonly string[]): number[] => {
  const numbers = ids.filter(isNumber).map(Number);
  if (numbers.length < 3) return [];
  const highest = Math.max(...numbers);
  const count = numbers.length >= 8 ? Math.ceil(highest / 9) * 9 : highest;
  const known = new Set(numbers);
  return Array.from({ length: count }, (_, k) => k + 1).filter((n) => !known.has(n));
};

/** Numbers with runs of three and more in short: "3, 10 to 18". */
const inRuns = (numbers: readonly number[]): string => {
  const runs = numbers.reduce<number[][]>((all, n) => {
    const last = all[all.length - 1];
    if (last?.[last.length - 1] === n - 1) last.push(n);
    else all.push([n]);
    return all;
  }, []);
  return runs
    .map((run) => (run.length < 3 ? run.join(', ') : `${run[0]} to ${run[run.length - 1]}`))
    .join(', ');
};

/** One line for all of them: a course that grows lacks many. */
const missingFindings = (map: CourseMap, numbers: readonly number[]): MapFinding[] => {
  if (numbers.length === 0) return [];
  const [first] = numbers;
  return [
    numbers.length === 1
      ? finding(
          map.file,
          `the map has no hole ${first}`,
          `draw its line (golf=hole) with the tag ref=${first}`,
        )
      : finding(
          map.file,
          `the map has no holes ${inRuns(numbers)}`,
          `draw the line of each (golf=hole) with its number as the tag, such as ref=${first}`,
        ),
  ];
};

const finding = (feature: string, problem: string, cure: string): MapFinding => ({
  severity: 'warning',
  feature,
  problem,
  cure,
});

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
    ...missingFindings(map, missingNumbers(holes.map((hole) => hole.id))),
  ];
  return { map: settled, holes, findings };
};

/** Loops that no word of the map tells apart: one line for all of them. */
const loopFindings = (map: CourseMap, drafts: readonly Draft[]): MapFinding[] => {
  const told = drafts.filter(({ numbered }) => numbered.decided === LOOPS_BY_WALKS);
  if (told.length === 0) return [];
  const loops = [...new Set(told.map(({ numbered }) => numbered.loop!))].sort();
  const spans = loops.map((loop) => {
    const ids = told
      .flatMap(({ numbered }) => (numbered.loop === loop ? numbered.ids : []))
      .sort(byNumber);
    return `${ids[0]} to ${ids[ids.length - 1]}`;
  });
  return [
    finding(
      map.file,
      `${LOOPS_BY_WALKS}: ${spans.join(', ')}`,
      'look at the picture of the course, or give each line its loop by the tag golf:course',
    ),
  ];
};

const sameSet = (a: readonly string[], b: readonly string[]): boolean =>
  new Set(a).size === new Set(b).size && a.every((one) => b.includes(one));
