import { appraise, type KnownGround } from '../../src/appraisal/appraise.js';
import { crossesBare, surveyedTable } from '../../src/book/surveyed-only.js';
import { boxOf, insideRing, type Point } from '../../src/geometry.js';
import { HOLE_RADIUS } from '../../src/putt/capture.js';
import { fanFrom } from '../../src/putt/fan.js';
import { solveOn } from '../../src/putt/solve.js';
import { breakTable } from '../../src/putt/table.js';
import { puttGround } from '../../src/putt/workspace.js';
import { fitSurface, groundOfSurvey } from '../../src/surface/fit.js';
import { seededNormals } from '../../src/surface/seeded-normals.js';
import { H, HX, HY, JET_SIZE, type Surface } from '../../src/surface/surface.js';
import type { Survey } from '../../src/survey/survey.js';
import { feetToMetres, inchesToMetres } from '../../src/units.js';
import type { RoughGreen } from './rough-greens.js';

export type Use = 'break-tables' | 'fall-arrows' | 'outline';
export const RANK: Readonly<Record<Use, number>> = {
  outline: 0,
  'fall-arrows': 1,
  'break-tables': 2,
};

/** How a survey's word on itself stands against the truth: shares of ground and of table cells. */
export interface Held {
  readonly height: number;
  /** Heights over the mean of the green. */
  readonly form: number;
  readonly grade: number;
  readonly direction: number;
  readonly cells: number;
  /** Of the cells without `~`, those whose aim is over half a hole wrong, as a share of all. */
  readonly missed: number;
  /** Share of the cells with `~`. */
  readonly doubted: number;
  readonly count: number;
  /** Cells without figures, since they cross a face that is not known. */
  readonly lost: number;
  /** Root mean square errors: metres, and grade as a fraction. */
  readonly heightError: number;
  readonly gradeError: number;
  /** Aim error of ten-foot putts across the fall that four in five keep within, metres. */
  readonly aimError: number;
  /** Of the ground over 0.9 %, the share whose direction is right to 45 degrees. */
  readonly rightWay: number;
  /** What the judgement expected of both. */
  readonly expected: { readonly aimError: number; readonly rightWay: number };
  readonly truth: Use;
  readonly verdict: Use;
  readonly line: string;
}

const SETTINGS = { stimp: feetToMetres(10), past: inchesToMetres(12) };
const LENGTHS = [5, 10, 20].map(feetToMetres);
const TEN_FEET = feetToMetres(10);
const HALF_HOLE = HOLE_RADIUS;
const AT_95 = 1.96;
/** See appraisal/ground-quality.ts: metres of aim for a unit of mean cross slope. */
const AIM_PER_GRADE = 15;
const PARTS = 12;

/** Draws of the ground's error that tell the standard deviation of a height over the green's own level. */
const DRAWS = 80;

/**
 * Share of the heights over the mean of the green that are held, as books show heights: two sessions or swaths have each a
 * level of its own, and which of them is the right one no survey tells.
 */
const formHeld = (green: RoughGreen, surface: Surface, places: readonly Point[]) => {
  const jet = new Float64Array(JET_SIZE);
  const errors = places.map(([x, y]) => {
    surface.at(x, y, jet);
    const got = jet[H];
    green.at(x, y, jet);
    return got - jet[H];
  });
  const overMean = (all: readonly number[]): number[] => {
    const mean = all.reduce((sum, one) => sum + one, 0) / all.length;
    return all.map((one) => one - mean);
  };
  const draw = surface.trust!.heightDraws(Float64Array.from(places.flat()));
  const normal = seededNormals(places.length);
  const squares = new Float64Array(places.length);
  for (let d = 0; d < DRAWS; d++) {
    overMean([...draw(normal)]).forEach((one, k) => {
      squares[k] += (one * one) / DRAWS;
    });
  }
  const off = overMean(errors);
  return off.filter((one, k) => Math.abs(one) <= AT_95 * Math.sqrt(squares[k])).length / off.length;
};

/** @param level by which heights of the surface are over the truth, where their level is not that of the truth. */
const groundHeld = (green: RoughGreen, surface: Surface, level = 0) => {
  const [want, got] = [new Float64Array(JET_SIZE), new Float64Array(JET_SIZE)];
  const c = new Float64Array(3);
  const box = boxOf(green.outline);
  const sums = { n: 0, height: 0, grade: 0, direction: 0, h2: 0, g2: 0, over: 0, right: 0 };
  const places: Point[] = [];
  for (let x = box.minX; x <= box.maxX; x += 0.75) {
    for (let y = box.minY; y <= box.maxY; y += 0.75) {
      if (!insideRing(green.outline, x, y)) continue;
      green.at(x, y, want);
      surface.at(x, y, got);
      surface.trust!.gradientCovariance(x, y, c);
      const grade = Math.hypot(got[HX], got[HY]);
      const truth = Math.hypot(want[HX], want[HY]);
      const [u, v] = [got[HX] / grade, got[HY] / grade];
      const told = surface.trust!.widening ?? 1;
      const along = told * Math.sqrt(u * u * c[0] + 2 * u * v * c[1] + v * v * c[2]);
      const across = told * Math.sqrt(v * v * c[0] - 2 * u * v * c[1] + u * u * c[2]);
      const turn = Math.abs(Math.atan2(u * want[HY] - v * want[HX], u * want[HX] + v * want[HY]));
      // The interval of the direction: what the gradient across the fall can turn it by.
      const reach = grade > AT_95 * across ? Math.asin((AT_95 * across) / grade) : Math.PI;
      sums.n++;
      places.push([x, y]);
      sums.h2 += (got[H] - want[H] - level) ** 2;
      sums.g2 += (grade - truth) ** 2;
      if (Math.abs(got[H] - want[H] - level) <= AT_95 * surface.trust!.heightSd(x, y))
        sums.height++;
      if (Math.abs(grade - truth) <= AT_95 * along) sums.grade++;
      if (turn <= reach) sums.direction++;
      if (truth <= 0.009) continue;
      sums.over++;
      if (turn <= Math.PI / 4) sums.right++;
    }
  }
  const { n, over } = sums;
  return {
    height: sums.height / n,
    form: formHeld(green, surface, places),
    grade: sums.grade / n,
    direction: sums.direction / n,
    heightError: Math.sqrt(sums.h2 / n),
    gradeError: Math.sqrt(sums.g2 / n),
    rightWay: over === 0 ? 1 : sums.right / over,
  };
};

/** Aim errors of the ten-foot putts across the true fall, by the mean error of the cross slope. */
const aimErrorOf = (green: RoughGreen, surface: Surface, closed: readonly Point[]): number => {
  const [want, got] = [new Float64Array(JET_SIZE), new Float64Array(JET_SIZE)];
  const box = boxOf(green.outline);
  const errors: number[] = [];
  for (let x = box.minX; x <= box.maxX; x += 1.5) {
    for (let y = box.minY; y <= box.maxY; y += 1.5) {
      green.at(x, y, want);
      const grade = Math.hypot(want[HX], want[HY]);
      const fall: Point = [want[HX] / grade, want[HY] / grade];
      for (const side of [1, -1]) {
        let sum = 0;
        let on = insideRing(green.outline, x, y);
        const way: Point[] = [];
        for (let k = 0; k < PARTS; k++) {
          const d = (side * TEN_FEET * (k + 0.5)) / PARTS;
          const [px, py] = [x - d * fall[1], y + d * fall[0]];
          on &&= insideRing(green.outline, px, py);
          way.push([px, py]);
          green.at(px, py, want);
          surface.at(px, py, got);
          sum += ((got[HX] - want[HX]) * fall[0] + (got[HY] - want[HY]) * fall[1]) / PARTS;
        }
        if (on && !crossesBare(closed, way)) errors.push(Math.abs(AIM_PER_GRADE * sum));
      }
    }
  }
  errors.sort((a, b) => a - b);
  return errors[Math.floor(0.8 * (errors.length - 1))];
};

/** Table cells of three hole locations, solved on the fit and on the truth. */
const cellsHeld = (green: RoughGreen, surface: Surface, closed: readonly Point[]) => {
  const exact: Surface = { ...surface, at: green.at, trust: null };
  const w = puttGround(exact, SETTINGS);
  const box = boxOf(green.outline);
  const middle: Point = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  const holes: Point[] = [0.5, 2.6, 4.7].map((a) => [
    middle[0] + 3.5 * Math.cos(a),
    middle[1] + 3.5 * Math.sin(a),
  ]);
  let [count, held, missed, doubted, lost] = [0, 0, 0, 0, 0];
  for (const hole of holes) {
    const fan = fanFrom(w, hole, 1.6 * Math.max(...LENGTHS) + 2);
    for (const cell of surveyedTable(breakTable(surface, hole, LENGTHS, SETTINGS), closed).cells) {
      if (cell.outcome === 'unsurveyed') lost++;
      if (cell.outcome !== 'solved' || cell.putt === null || cell.aimSd === null) continue;
      const truth = solveOn(w, cell.ball, hole, fan);
      if (truth.status !== 'holed') continue;
      const error = Math.abs(truth.aimOffset - cell.putt.aimOffset);
      count++;
      if (error <= AT_95 * cell.aimSd + 0.0005) held++;
      if (AT_95 * cell.aimSd > HALF_HOLE) doubted++;
      else if (error > HALF_HOLE) missed++;
    }
  }
  return { cells: held / count, missed: missed / count, doubted: doubted / count, count, lost };
};

export const judgement = (
  survey: Survey,
  green: Pick<RoughGreen, 'outline'>,
  known: KnownGround | null = null,
) =>
  appraise(survey, {
    outline: green.outline,
    drains: [],
    length: (m) => `${m.toFixed(1)} m`,
    small: (m) => `${(1000 * m).toFixed(0)} mm`,
    known,
  });

/** Mean height of a surface over the truth. */
const levelOver = (green: RoughGreen, surface: Surface): number => {
  const [want, got] = [new Float64Array(JET_SIZE), new Float64Array(JET_SIZE)];
  const box = boxOf(green.outline);
  let [sum, n] = [0, 0];
  for (let x = box.minX; x <= box.maxX; x += 0.75) {
    for (let y = box.minY; y <= box.maxY; y += 0.75) {
      if (!insideRing(green.outline, x, y)) continue;
      green.at(x, y, want);
      surface.at(x, y, got);
      sum += got[H] - want[H];
      n++;
    }
  }
  return sum / n;
};

const trueUse = (aimError: number, rightWay: number): Use =>
  aimError < HALF_HOLE ? 'break-tables' : rightWay >= 0.95 ? 'fall-arrows' : 'outline';

/** Fits and judges one survey of a green, and holds its ground and its worth against the truth; no table is solved. */
export const groundHeldBy = (
  green: RoughGreen,
  survey: Survey,
): ReturnType<typeof groundHeld> & Pick<Held, 'aimError' | 'truth' | 'verdict' | 'line'> => {
  const { surface, report } = fitSurface({ ...groundOfSurvey(survey), outline: green.outline });
  // A survey by hand has a level of its own.
  const ground = groundHeld(green, surface, survey.paced ? levelOver(green, surface) : 0);
  const { verdict, quality } = judgement(survey, green, { surface, report, reading: null });
  const aimError = aimErrorOf(green, surface, quality.unsure);
  const truth = trueUse(aimError, ground.rightWay);
  return { ...ground, aimError, truth, verdict: verdict.use, line: verdict.line };
};

/** Fits and judges one survey of a green, and holds both against the truth. */
export const heldBy = (green: RoughGreen, survey: Survey): Held => {
  const { surface, report } = fitSurface({ ...groundOfSurvey(survey), outline: green.outline });
  const ground = groundHeld(green, surface);
  const { verdict, quality } = judgement(survey, green, { surface, report, reading: null });
  const aimError = aimErrorOf(green, surface, quality.unsure);
  const truth = trueUse(aimError, ground.rightWay);
  return {
    ...ground,
    ...cellsHeld(green, surface, quality.unsure),
    aimError,
    expected: { aimError: quality.aimRightTo, rightWay: quality.directionRight },
    truth,
    verdict: verdict.use,
    line: verdict.line,
  };
};
