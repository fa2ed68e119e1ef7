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

/** A tee by itself, with the other hole that it may belong to as well. */
interface NearTee extends SettledTee {
  readonly rival: PlayedHole | null;
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
    };
  }
  if (refs.length > 0) return { ids: refs, look: null, rival: null };
  const near = holes
    .flatMap((hole) => {
      const away = teeingDistance(at, hole.points);
      return away === null ? [] : [{ hole, away }];
    })
    .sort((a, b) => a.away - b.away);
  if (near.length === 0) return { ids: [], look: null, rival: null };
  const [first, second] = near;
  const rival = second !== undefined && second.away - first.away < CLOSE_CALL ? second.hole : null;
  return { ids: first.hole.ids, look: rival === null ? null : asNear(rival), rival };
};

const asNear = (rival: Pick<PlayedHole, 'ids'>): string =>
  `a tee lies as near to hole ${rival.ids.join(', ')} as to it`;

/** Of two holes as near to a tee, the one that lacks a tee of its name. */
const byName = (tees: readonly FlatFeature[], settled: readonly NearTee[]): SettledTee[] => {
  const names = tees.map(({ feature }) => nameOfTee(feature.tags));
  const has = (ids: readonly string[], name: string | null, but: number): boolean =>
    settled.some(
      (one, i) => i !== but && names[i] === name && one.ids.some((id) => ids.includes(id)),
    );
  return settled.map(({ ids, look, rival }, i) =>
    rival !== null && names[i] !== null && has(ids, names[i], i) && !has(rival.ids, names[i], i)
      ? { ids: rival.ids, look: asNear({ ids }) }
      : { ids, look },
  );
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
