import { distance, insideRing, lengthOf, type Point, type Ring } from '../geometry.js';
import { metresToYards } from '../units.js';
import type { DrawnLine } from './drawn-lines.js';
import { bendAlongFairway } from './fairway-bend.js';
import { besideLine, type FlatFeature } from './flat.js';
import { byNumber, isHoleNumber } from './hole-refs.js';
import type { SettledLine } from './settle-greens.js';
import { LOOPS_BY_WALKS, type NumberedLine } from './settle-numbers.js';

/** A line that ends farther from its green is looked at, metres. */
const LONG_GAP = 40;
/** The tee of a hole without a line is no farther from its green, metres. */
const LONGEST_HOLE = 700;

/** A hole while it is being settled. */
export interface Draft {
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

/** Before its line is bent. */
type StraightDraft = Omit<Draft, 'points'> & { readonly straight: readonly Point[] };

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

/** What was decided of a drawn line and its green, and what to look at. */
export const draftOf = (
  drawn: DrawnLine,
  line: SettledLine,
  numbered: NumberedLine,
  greens: readonly FlatFeature[],
): StraightDraft => {
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
export const holesWithoutLine = (
  known: ReadonlySet<string>,
  greens: readonly FlatFeature[],
  tees: readonly FlatFeature[],
): Draft[] => {
  const refs = new Set([...greens, ...tees].flatMap(({ feature }) => feature.refs));
  return [...refs]
    .filter((ref) => isHoleNumber(ref) && !known.has(ref))
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

/** Lines of two points bent along their fairways, but for those that the user gave. */
export const bent = (
  drafts: readonly StraightDraft[],
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
