import { distance, type Point } from '../geometry.js';
import { cheapestAssignment } from './assignment.js';
import { awayFrom, type FlatFeature } from './flat.js';
import { joinedParts, partsOfCourse, type SettledApart } from './settle-parts.js';

/**
 * Which green each line of play ends on, and which way it is played, settled over the whole course together:
 * the cheapest assignment, in metres by which the map would have to be wrong.
 */

/** A line that ends on no green at all costs this. */
const NO_GREEN = 90;
/** A green without a number may lie so far from the end of a line, metres. */
const REACH = 60;
/** A green that names another hole costs so much more, one that names none so much. */
const OTHER_REF = 70;
const NO_REF = 15;
/** A green that two lines end on, without saying so. */
const SHARED = 35;
/** OpenStreetMap draws a hole from tee to green (wiki, golf=hole): the other way costs so much. */
const REVERSED = 12;
/** The farthest a tee is looked for from where a line begins, and what a metre of it counts. */
const TEE_REACH = 40;
const TEE_WEIGHT = 0.6;
/** What a metre of the walk from the last green and to the next tee counts, and the longest walk. */
const WALK_WEIGHT = 0.08;
const WALK = 300;
/** What a metre counts between a line's end and the green that bears its number. */
const REF_WEIGHT = 0.4;
const REF_REACH = 400;

const IMPOSSIBLE = 1e6;
/** What the user says outweighs the whole map. */
const NAMED = 1e4;

export interface LineToSettle {
  readonly points: readonly Point[];
  readonly refs: readonly string[];
  /** The id of the green that the user names for it. */
  readonly named?: string | undefined;
}

export interface SettledLine {
  /** Place in the list of greens; null for none. */
  readonly green: number | null;
  /** Drawn from green to tee. */
  readonly reversed: boolean;
  /** What the next best answer costs more, metres: the green's, and the direction's. */
  readonly margin: number;
  /** From the line's end to its green's edge, metres; null without one. */
  readonly gap: number | null;
}

interface Setting {
  readonly lines: readonly LineToSettle[];
  readonly greens: readonly FlatFeature[];
  readonly tees: readonly FlatFeature[];
}

const startOf = (points: readonly Point[], reversed: boolean): Point =>
  reversed ? points[points.length - 1] : points[0];
const endOf = (points: readonly Point[], reversed: boolean): Point => startOf(points, !reversed);

const agrees = (a: readonly string[], b: readonly string[]): boolean =>
  a.some((ref) => b.includes(ref));

const greenCost = (line: LineToSettle, green: FlatFeature, end: Point): number => {
  if (line.named !== undefined) return green.feature.id === line.named ? -NAMED : IMPOSSIBLE;
  const away = awayFrom(green, end);
  const { refs } = green.feature;
  if (agrees(line.refs, refs)) return REF_WEIGHT * Math.min(away, REF_REACH);
  if (away > REACH) return IMPOSSIBLE;
  return away + (refs.length === 0 || line.refs.length === 0 ? NO_REF : OTHER_REF);
};

const teeCost = (line: LineToSettle, tees: readonly FlatFeature[], start: Point): number => {
  let near = TEE_REACH;
  for (const tee of tees) {
    const refs = tee.feature.refs;
    if (refs.length > 0 && !agrees(line.refs, refs)) continue;
    near = Math.min(near, distance(tee.middle, start));
  }
  return TEE_WEIGHT * near;
};

/** The walks from the green of the hole before and to the tee of the hole after, once their directions are known. */
const walkCost = (
  setting: Setting,
  i: number,
  reversed: boolean,
  known: readonly boolean[] | null,
): number => {
  if (known === null) return 0;
  const { lines } = setting;
  const walkTo = (by: 1 | -1): number => {
    const wanted = lines[i].refs.flatMap((ref) =>
      /^\d+$/.test(ref) ? [`${Number(ref) + by}`] : [],
    );
    let walk = Infinity;
    lines.forEach((other, k) => {
      if (k === i || !agrees(other.refs, wanted)) return;
      const from = by === 1 ? endOf(lines[i].points, reversed) : endOf(other.points, known[k]);
      const to = by === 1 ? startOf(other.points, known[k]) : startOf(lines[i].points, reversed);
      walk = Math.min(walk, distance(from, to));
    });
    return walk === Infinity ? 0 : WALK_WEIGHT * Math.min(walk, WALK);
  };
  return walkTo(-1) + walkTo(1);
};

/** For each line what the greens that it may end on cost at its end, as drawn and reversed. */
type Costs = readonly ReadonlyMap<number, readonly number[]>[];

const greenCostsOf = ({ lines, greens }: Setting): Costs =>
  lines.map((line) => {
    const ends = [false, true].map((reversed) => endOf(line.points, reversed));
    const costs = new Map<number, readonly number[]>();
    greens.forEach((green, g) => {
      const both = ends.map((end) => greenCost(line, green, end));
      if (Math.min(...both) < IMPOSSIBLE) costs.set(g, both);
    });
    return costs;
  });

/** What the two directions of each line cost. */
const waysOf = (setting: Setting, known: readonly boolean[] | null): number[][] =>
  setting.lines.map((line, i) =>
    [false, true].map(
      (reversed) =>
        teeCost(line, setting.tees, startOf(line.points, reversed)) +
        walkCost(setting, i, reversed, known) +
        (reversed ? REVERSED : 0),
    ),
  );

/** What a green costs a line, as drawn and reversed, with the direction. */
const bothOf = (
  ofLine: ReadonlyMap<number, readonly number[]>,
  g: number,
  ways: readonly number[],
): number[] => ways.map((way, k) => Math.min(IMPOSSIBLE, (ofLine.get(g)?.[k] ?? IMPOSSIBLE) + way));

/** Costs, line by line of a part, of each of its greens (twice: once as its own, once shared) and of none. */
const costsOf = (
  { greens }: Setting,
  part: SettledApart,
  ofGreens: Costs,
  ways: readonly (readonly number[])[],
): number[][] =>
  part.lines.map((i) => {
    const own = part.greens.map((g) =>
      ofGreens[i].has(g) ? Math.min(...bothOf(ofGreens[i], g, ways[i])) : IMPOSSIBLE,
    );
    const shared = own.map((cost, k) => {
      const { refs } = greens[part.greens[k]].feature;
      return cost + (refs.length > 1 && cost < NO_GREEN ? 0 : SHARED);
    });
    const none = part.lines.map((k) => (k === i ? NO_GREEN + Math.min(...ways[i]) : IMPOSSIBLE));
    return [...own, ...shared, ...none];
  });

const totalOf = (matrix: readonly (readonly number[])[], columns: readonly number[]): number =>
  columns.reduce((sum, column, row) => sum + matrix[row][column], 0);

/** Each part by itself: all lines with all greens would take memory by their product, and time by more. */
const solved = (
  setting: Setting,
  parts: readonly SettledApart[],
  ofGreens: Costs,
  known: readonly boolean[] | null,
) => {
  const ways = waysOf(setting, known);
  const greens: (number | null)[] = [];
  const both: (readonly number[])[] = [];
  const assigned = parts.map((part) => {
    const matrix = costsOf(setting, part, ofGreens, ways);
    const columns = cheapestAssignment(matrix);
    const count = part.greens.length;
    part.lines.forEach((i, row) => {
      const green = columns[row] >= 2 * count ? null : part.greens[columns[row] % count];
      greens[i] = green;
      both[i] = green === null ? ways[i] : bothOf(ofGreens[i], green, ways[i]);
    });
    return { ...part, matrix, columns };
  });
  return { ways, greens, both, reversed: both.map(([a, b]) => b < a), assigned };
};

type Answer = ReturnType<typeof solved>;

/** What all lines of a part cost if one of them may not have the green that it has, nor none again. */
const withoutAnswer = (
  { lines, greens }: SettledApart,
  line: number,
  green: number | null,
  matrix: readonly (readonly number[])[],
): number => {
  const count = greens.length;
  const row = lines.indexOf(line);
  const place = green === null ? -1 : greens.indexOf(green);
  const isTaken = (c: number): boolean =>
    green === null ? c >= 2 * count : c < 2 * count && c % count === place;
  const without = matrix.with(
    row,
    matrix[row].map((cost, c) => (isTaken(c) ? IMPOSSIBLE : cost)),
  );
  return totalOf(without, cheapestAssignment(without));
};

/** For each line, what the next best answer costs more. */
const nextBestOf = (setting: Setting, ofGreens: Costs, answer: Answer): number[] => {
  const { assigned, ways, greens } = answer;
  const partOf = new Map(assigned.flatMap((part) => part.lines.map((i) => [i, part] as const)));
  const withGreen = new Map(assigned.flatMap((part) => part.greens.map((g) => [g, part] as const)));
  return greens.map((green, i) => {
    const own = partOf.get(i);
    // One that must have a green reaches beyond its part.
    const reached = green === null ? [...ofGreens[i].keys()] : [];
    const parts = [...new Set([own, ...reached.map((g) => withGreen.get(g))])].filter(
      (part) => part !== undefined,
    );
    const best = parts.reduce((sum, { matrix, columns }) => sum + totalOf(matrix, columns), 0);
    const whole = parts.length === 1 && reached.every((g) => withGreen.has(g));
    const part = whole ? parts[0] : joinedParts(parts, reached);
    const matrix = whole ? parts[0].matrix : costsOf(setting, part, ofGreens, ways);
    return withoutAnswer(part, i, green, matrix) - best;
  });
};

/** Settles all lines of a course; in their order. */
export const settleGreens = (setting: Setting): SettledLine[] => {
  const { lines, greens } = setting;
  if (lines.length === 0) return [];
  // Directions first without the walks between holes, then with them until they stay.
  const ofGreens = greenCostsOf(setting);
  // A green that costs a line as much as none is its answer only where it must have one.
  const parts = partsOfCourse(
    ofGreens.map((costs) => [...costs.keys()].filter((g) => Math.min(...costs.get(g)!) < NO_GREEN)),
  );
  let answer = solved(setting, parts, ofGreens, null);
  for (let round = 0; round < 4; round++) {
    const next = solved(setting, parts, ofGreens, answer.reversed);
    const same = next.reversed.every((one, i) => one === answer.reversed[i]);
    answer = next;
    if (same) break;
  }
  const costsMore = nextBestOf(setting, ofGreens, answer);
  return lines.map((line, i): SettledLine => {
    const green = answer.greens[i];
    const reversed = answer.reversed[i];
    const [ahead, back] = answer.both[i];
    return {
      green,
      reversed,
      margin: Math.min(costsMore[i], Math.abs(back - ahead)),
      gap: green === null ? null : awayFrom(greens[green], endOf(line.points, reversed)),
    };
  });
};
