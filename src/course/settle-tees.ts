import { distance, nearestOnSegment, type Point } from '../geometry.js';
import { besideLine, type FlatFeature } from './flat.js';
import { nameOfTee } from './tee-names.js';

/** How far a tee without a number may lie from the start of a hole's line, metres. */
const TEE_REACH = 60;
/** Forward tees lie beside the first part of the line: so much of it, and no farther from it, metres. */
const TEE_PART = 0.45;
const TEE_BESIDE = 22;
/** A tee this far from the line of the hole that it names is looked at, metres. */
const FAR = 120;
/** Two lines this nearly as near to a tee leave its hole in doubt, metres. */
const CLOSE_CALL = 4;
/** A tee whose name its hole has twice may be another's, if that is farther by no more than this, metres. */
const FAR_CALL = 25;

export interface PlayedHole {
  readonly ids: readonly string[];
  /** The numbers that the map gives it. */
  readonly refs: readonly string[];
  /** As it is played. */
  readonly points: readonly Point[];
}

export interface SettledTee {
  readonly ids: readonly string[];
  /** What to look at; null when nothing. */
  readonly look: string | null;
}

/** A tee by itself, with the other hole that it may belong to as well, and how much farther that is, metres. */
interface NearTee extends SettledTee {
  readonly rival: PlayedHole | null;
  readonly margin: number;
}

/** How far a tee lies from where a line is teed off: from its start, or from beside its first part; null when it does not. */
const teeingDistance = (tee: Point, line: readonly Point[]): number | null => {
  const toStart = distance(tee, line[0]);
  let length = 0;
  for (let i = 1; i < line.length; i++) length += distance(line[i - 1], line[i]);
  let beside = Infinity;
  let walked = 0;
  for (let i = 1; i < line.length && walked < TEE_PART * length; i++) {
    const near = nearestOnSegment(line[i - 1], line[i], tee);
    if (walked + distance(line[i - 1], near) <= TEE_PART * length) {
      beside = Math.min(beside, distance(near, tee));
    }
    walked += distance(line[i - 1], line[i]);
  }
  if (beside <= TEE_BESIDE) return Math.min(beside, toStart);
  return toStart <= TEE_REACH ? toStart : null;
};

const settledTee = (tee: FlatFeature, holes: readonly PlayedHole[]): NearTee => {
  const { refs } = tee.feature;
  const at = tee.middle;
  const named = holes.filter((hole) => hole.refs.some((ref) => refs.includes(ref)));
  const perRef = refs.flatMap((ref) => {
    const all = named
      .filter((hole) => hole.refs.includes(ref))
      .sort((a, b) => besideLine(a.points, at) - besideLine(b.points, at));
    return all.length === 0 ? [] : [{ hole: all[0], ref }];
  });
  if (perRef.length > 0) {
    const ids = perRef.map(({ hole, ref }) => hole.ids[hole.refs.indexOf(ref)] ?? hole.ids[0]);
    const far = perRef.find(({ hole }) => besideLine(hole.points, at) > FAR);
    return {
      ids: [...new Set(ids)],
      look:
        far === undefined
          ? null
          : `a tee that bears its number lies ${Math.round(besideLine(far.hole.points, at))} m from its line`,
      rival: null,
      margin: 0,
    };
  }
  if (refs.length > 0) return { ids: refs, look: null, rival: null, margin: 0 };
  const near = holes
    .flatMap((hole) => {
      const away = teeingDistance(at, hole.points);
      return away === null ? [] : [{ hole, away }];
    })
    .sort((a, b) => a.away - b.away);
  if (near.length === 0) return { ids: [], look: null, rival: null, margin: 0 };
  const [first, second] = near;
  if (second === undefined) return { ids: first.hole.ids, look: null, rival: null, margin: 0 };
  const margin = second.away - first.away;
  return {
    ids: first.hole.ids,
    look: margin < CLOSE_CALL ? asNear(second.hole) : null,
    rival: margin < FAR_CALL ? second.hole : null,
    margin,
  };
};

const asNear = (rival: Pick<PlayedHole, 'ids'>): string =>
  `a tee lies as near to hole ${rival.ids.join(', ')} as to it`;

/**
 * Of two holes near to a tee, the one that lacks a tee of its name while the other has two; of those two the one goes
 * that lies less clearly there.
 */
const byName = (tees: readonly FlatFeature[], settled: readonly NearTee[]): SettledTee[] => {
  const names = tees.map(({ feature }) => nameOfTee(feature.tags));
  const alike = (ids: readonly string[], name: string | null): number[] =>
    settled.flatMap((one, i) =>
      names[i] === name && one.ids.some((id) => ids.includes(id)) ? [i] : [],
    );
  return settled.map(({ ids, look, rival, margin }, i) => {
    if (rival === null || names[i] === null) return { ids, look };
    const twins = alike(ids, names[i]).filter((k) => k !== i);
    const isClearer = (k: number): boolean =>
      settled[k].rival === null ||
      settled[k].margin > margin ||
      (settled[k].margin === margin && k < i);
    return twins.length > 0 && twins.every(isClearer) && alike(rival.ids, names[i]).length === 0
      ? { ids: rival.ids, look: asNear({ ids }) }
      : { ids, look };
  });
};

/** The holes that each tee belongs to: those it names, else the one whose start it lies at. */
export const settleTees = (
  tees: readonly FlatFeature[],
  holes: readonly PlayedHole[],
): SettledTee[] => {
  const played = holes.filter((hole) => hole.points.length > 1);
  return byName(
    tees,
    tees.map((tee) => settledTee(tee, played)),
  );
};
