import type { Point } from '../geometry.js';
import { SHIFT, type StraightLine, type TriedStep, TURNS } from './walk-steps.js';

/** What a fit leaves of heights: places, and the residual times its weight. */
interface Left {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly off: Float64Array;
}

/** Beside each line that was tried this many are looked at, in turn and in shift: half of the distance to the next. */
const CLOSER = 4;
/** Of the lines that were tried so many, the clearest by what is looked at beside them, are weighed in full. */
const WEIGHED = 32;

const across = ([x, y]: Point, angle: number): number => x * Math.cos(angle) + y * Math.sin(angle);

/** Lines of one angle: their offsets rise from `from` by `step`. */
interface Row {
  readonly angle: number;
  readonly from: number;
  readonly step: number;
  readonly count: number;
}

/** For lines of one angle: half of what is left on their raised side less half of that on the other. */
const scoresOf = ({ x, y, off }: Left, { angle, from, step, count }: Row): Float64Array => {
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  // What lies between a line and the one before it; sorting the points would tell no more.
  const scores = new Float64Array(count);
  let whole = 0;
  for (let p = 0; p < x.length; p++) {
    const line = Math.max(0, Math.ceil((x[p] * cos + y[p] * sin - from) / step));
    whole += off[p];
    if (line < count) scores[line] += off[p];
  }
  let below = 0;
  for (let k = 0; k < count; k++) {
    below += scores[k];
    scores[k] = whole / 2 - below;
  }
  return scores;
};

type TriedLine = { readonly line: StraightLine; readonly sd: number };

/** The clearest line beside each of some of one angle, whose offsets are whole `SHIFT`s apart. */
const besideEach = (tried: readonly TriedLine[], left: Left, about: Point) => {
  const { angle: middle } = tried[0].line;
  const offsets = tried.map(({ line }) => line.offset);
  const least = Math.min(...offsets);
  const count = CLOSER * (Math.round((Math.max(...offsets) - least) / SHIFT) + 1);
  const step = SHIFT / CLOSER;
  const first = least - across(about, middle) - ((CLOSER - 1) / 2) * step;
  const rows = Array.from({ length: CLOSER }, (_, turn) => {
    const angle = middle + ((turn - CLOSER / 2 + 0.5) * Math.PI) / (TURNS * CLOSER);
    const row = { angle, from: first + across(about, angle), step, count };
    return { ...row, scores: scoresOf(left, row) };
  });
  return tried.map(({ line, sd }) => {
    const at = CLOSER * Math.round((line.offset - least) / SHIFT);
    let most = { row: rows[0], k: at, score: -1 };
    for (const row of rows) {
      for (let k = at; k < at + CLOSER; k++) {
        const score = Math.abs(row.scores[k]);
        if (score > most.score) most = { row, k, score };
      }
    }
    const { angle, from } = most.row;
    return { line: { angle, offset: from + most.k * step }, clear: most.score * sd };
  });
};

/**
 * The clearest lines between those that were tried: half a metre beside a step little of it shows. What a step would
 * gain along each is known from what the fit leaves of the heights, and about how well from the line beside it.
 *
 * @param tried steps along lines whole `SHIFT`s and a `TURNS`th of a half turn apart.
 * @param about a place near the middle of the points, from which turned lines keep their distance.
 */
export const closerLines = (
  tried: readonly TriedStep[],
  left: Left,
  about: Point,
): StraightLine[] => {
  const byAngle = new Map<number, TriedLine[]>();
  for (const { line, sd } of tried) {
    if (line === null) continue;
    const own = byAngle.get(line.angle) ?? [];
    own.push({ line, sd });
    byAngle.set(line.angle, own);
  }
  return [...byAngle.values()]
    .flatMap((own) => besideEach(own, left, about))
    .sort((a, b) => b.clear - a.clear)
    .slice(0, WEIGHED)
    .map(({ line }) => line);
};
