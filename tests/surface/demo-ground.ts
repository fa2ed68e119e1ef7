import { seeded } from '../../course-data/vellamoor/random.js';
import { roverSurvey } from '../../course-data/vellamoor/rover.js';
import type { TrueGreen } from '../../course-data/vellamoor/truth.js';
import { boxOf, insideRing, type Ring, signedDistanceToRing } from '../../src/geometry.js';
import type { Breakline } from '../../src/surface/breaklines.js';
import type { Surface } from '../../src/surface/surface.js';
import { H, HX, HY, JET_SIZE } from '../../src/surface/surface.js';
import { toGreenFrame } from '../../src/survey/survey.js';

export interface Points {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly outline: Ring;
}

/** A survey of the true surface: points about `spacing` apart to 1.5 m past the outline, with noise. */
export const surveyOf = (
  at: Surface['at'],
  outline: Ring,
  seed: number,
  spacing = 1,
  noise = 0.008,
): Points => {
  const random = seeded(seed);
  const jet = new Float64Array(JET_SIZE);
  const box = boxOf(outline);
  const [x, y, z]: [number[], number[], number[]] = [[], [], []];
  const [ox, oy] = [random.uniform() * spacing, random.uniform() * spacing];
  for (let u = box.minX - 2 - ox; u < box.maxX + 2; u += spacing) {
    for (let v = box.minY - 2 - oy; v < box.maxY + 2; v += spacing) {
      const px = u + 0.15 * spacing * random.normal();
      const py = v + 0.15 * spacing * random.normal();
      if (signedDistanceToRing(outline, px, py) > 1.5) continue;
      at(px, py, jet);
      x.push(px);
      y.push(py);
      z.push(jet[H] + noise * random.normal());
    }
  }
  return { x: Float64Array.from(x), y: Float64Array.from(y), z: Float64Array.from(z), outline };
};

/** Visits a lattice of places inside an outline with the true jet and the surface's there. */
const overGround = (
  truth: Pick<TrueGreen, 'at'>,
  outline: Ring,
  at: Surface['at'],
  every: number,
  visit: (want: Float64Array, got: Float64Array, x: number, y: number) => void,
): void => {
  const want = new Float64Array(JET_SIZE);
  const got = new Float64Array(JET_SIZE);
  const box = boxOf(outline);
  for (let x = box.minX; x <= box.maxX; x += every) {
    for (let y = box.minY; y <= box.maxY; y += every) {
      if (!insideRing(outline, x, y)) continue;
      truth.at(x, y, want);
      at(x, y, got);
      visit(want, got, x, y);
    }
  }
};

/** Errors of a surface inside an outline: metres, grade as a fraction, degrees. */
export interface Errors {
  readonly height: number;
  /** Root mean square of the error of the grade, where the ground bends over 4 m or more. */
  readonly grade: number;
  /** The same on the face of a tier 2 m wide; 0 where there is none. */
  readonly faceGrade: number;
  /** Below this lie 95 % of the errors of the fall direction, on ground over 1.5 %. */
  readonly direction: number;
}

export const errorsOf = (
  truth: Pick<TrueGreen, 'at' | 'bendLength'>,
  outline: Ring,
  at: Surface['at'],
  every = 0.4,
): Errors => {
  const sums = { height: 0, count: 0, grade: 0, gentle: 0, face: 0, faces: 0 };
  const turns: number[] = [];
  overGround(truth, outline, at, every, (want, got, x, y) => {
    sums.count++;
    sums.height += (got[H] - want[H]) ** 2;
    const grade = Math.hypot(want[HX], want[HY]);
    const off = (Math.hypot(got[HX], got[HY]) - grade) ** 2;
    if (truth.bendLength(x, y) >= 4) {
      sums.grade += off;
      sums.gentle++;
    } else {
      sums.face += off;
      sums.faces++;
    }
    if (grade > 0.015) {
      const turn = Math.atan2(
        want[HX] * got[HY] - want[HY] * got[HX],
        want[HX] * got[HX] + want[HY] * got[HY],
      );
      turns.push((Math.abs(turn) * 180) / Math.PI);
    }
  });
  turns.sort((a, b) => a - b);
  return {
    height: Math.sqrt(sums.height / sums.count),
    grade: Math.sqrt(sums.grade / sums.gentle),
    faceGrade: sums.faces === 0 ? 0 : Math.sqrt(sums.face / sums.faces),
    direction: turns[Math.floor(0.95 * turns.length)] ?? 0,
  };
};

/** Shares of the ground where the 95 % intervals hold the truth; of the faces NaN where there are none. */
export interface Coverage {
  readonly height: number;
  readonly grade: number;
  readonly faceHeight: number;
  readonly faceGrade: number;
}

export const coverageOf = (green: TrueGreen, surface: Surface, every = 0.8): Coverage => {
  const c = new Float64Array(3);
  const sums = { points: 0, height: 0, grade: 0, faces: 0, faceHeight: 0, faceGrade: 0 };
  overGround(green, green.outline, surface.at, every, (want, got, x, y) => {
    surface.trust?.gradientCovariance(x, y, c);
    const grade = Math.hypot(got[HX], got[HY]);
    // The grade's variance is the gradient's along the fall line.
    const [u, v] = [got[HX] / grade, got[HY] / grade];
    const sd = Math.sqrt(u * u * c[0] + 2 * u * v * c[1] + v * v * c[2]);
    const heightSd = surface.trust?.heightSd(x, y) ?? 0;
    const height = Math.abs(got[H] - want[H]) <= 1.96 * heightSd ? 1 : 0;
    const slope = Math.abs(grade - Math.hypot(want[HX], want[HY])) <= 1.96 * sd ? 1 : 0;
    sums.points++;
    sums.height += height;
    sums.grade += slope;
    if (green.bendLength(x, y) >= 4) return;
    sums.faces++;
    sums.faceHeight += height;
    sums.faceGrade += slope;
  });
  return {
    height: sums.height / sums.points,
    grade: sums.grade / sums.points,
    faceHeight: sums.faceHeight / sums.faces,
    faceGrade: sums.faceGrade / sums.faces,
  };
};

/**
 * A rover's survey of a demo green in the green's frame, with the breaklines that it walked, and which
 * of its points are gross errors.
 */
export const roverGround = (
  green: TrueGreen,
  seed: number,
): Points & { readonly breaklines: readonly Breakline[]; readonly gross: readonly number[] } => {
  const points = roverSurvey(green, seeded(seed));
  const places = points.map(({ at }) => toGreenFrame(green.frame, at[0], at[1]));
  const lines = new Map<string, [number, number, number][]>();
  points.forEach(({ line, height }, k) => {
    if (line === '') return;
    lines.set(line, [...(lines.get(line) ?? []), [places[k][0], places[k][1], height]]);
  });
  return {
    x: Float64Array.from(places, ([x]) => x),
    y: Float64Array.from(places, ([, y]) => y),
    z: Float64Array.from(points, ({ height }) => height),
    outline: green.outline,
    breaklines: [...lines.values()],
    gross: points.flatMap(({ outlier }, k) => (outlier ? [k] : [])),
  };
};
