import { trueGreen, trueGreens } from '../../course-data/vellamoor/truth.js';
import { boxOf } from '../../src/geometry.js';
import { fitSurface } from '../../src/surface/fit.js';
import { JET_SIZE } from '../../src/surface/surface.js';
import { coverageOf, errorsOf, roverGround, surveyOf } from '../surface/demo-ground.js';
import { evenFit } from '../surface/thin-plate.js';

/** Surveys of each green that the errors are averaged over. */
const SURVEYS = 3;
const FIRST_SEED = 431;
const FACTORS = [0.2, 0.4, 0.65, 1.5, 2.5, 5];

/** The height error of the thin-plate spline whose even smoothing is tuned with the truth, metres. */
const tunedThinPlate = (green: (typeof trueGreens)[0], seed: number): number => {
  const { gross, ...ground } = roverGround(green, seed);
  const sound = (values: Float64Array) => values.filter((_, k) => !gross.includes(k));
  const points = { ...ground, x: sound(ground.x), y: sound(ground.y), z: sound(ground.z) };
  return Math.min(
    ...[-2.5, -2, -1.5, -1, -0.5, 0, 0.5, 1, 1.5].map(
      (e) => errorsOf(green, green.outline, evenFit(points, 10 ** e, 0.6).at).height,
    ),
  );
};

const accuracy = (): void => {
  const rows = trueGreens.map((green) => {
    const sums = {
      height: 0,
      grade: 0,
      face: 0,
      direction: 0,
      best: 0,
      plate: 0,
      heights: 0,
      grades: 0,
    };
    for (let seed = FIRST_SEED; seed < FIRST_SEED + SURVEYS; seed++) {
      const ground = roverGround(green, seed);
      const { surface, report } = fitSurface(ground);
      const errors = errorsOf(green, green.outline, surface.at);
      const covered = coverageOf(green, surface);
      sums.height += errors.height ** 2 / SURVEYS;
      sums.grade += errors.grade ** 2 / SURVEYS;
      sums.face += errors.faceGrade ** 2 / SURVEYS;
      sums.direction += errors.direction / SURVEYS;
      sums.heights += covered.height / SURVEYS;
      sums.grades += covered.grade / SURVEYS;
      const best = FACTORS.map((factor) => {
        const other = fitSurface(ground, { smoothing: factor * report.smoothing });
        return errorsOf(green, green.outline, other.surface.at).height;
      });
      sums.plate += tunedThinPlate(green, seed) ** 2 / SURVEYS;
      sums.best += Math.min(errors.height, ...best) ** 2 / SURVEYS;
    }
    return {
      green: green.id,
      'height mm': (1000 * Math.sqrt(sums.height)).toFixed(2),
      'thin plate mm': (1000 * Math.sqrt(sums.plate)).toFixed(2),
      'grade points': (100 * Math.sqrt(sums.grade)).toFixed(3),
      'on 2 m face': sums.face === 0 ? '' : (100 * Math.sqrt(sums.face)).toFixed(3),
      'direction deg': sums.direction.toFixed(2),
      'over best': Math.sqrt(sums.height / sums.best).toFixed(3),
      'height held': sums.heights.toFixed(3),
      'grade held': sums.grades.toFixed(3),
    };
  });
  console.log(
    `Against the true surfaces, mean of ${SURVEYS} surveys (8 mm, 1 m). Bounds: 4 mm, 0.25 points, 0.5 on a` +
      ' 2 m face, 6 degrees (95 % of ground over 1.5 %), 1.15 over the best smoothing.',
  );
  console.table(rows);
};

const speed = (): void => {
  const rows = ['5', '9', '18'].map((id) => {
    const green = trueGreen(id);
    const box = boxOf(green.outline);
    const spacing = Math.sqrt(
      ((box.maxX - box.minX + 3) * (box.maxY - box.minY + 3) * 0.8) / 20000,
    );
    const ground = surveyOf(green.at, green.outline, 5, spacing);
    const timed = (run: () => void): number => {
      const times = [0, 0, 0].map(() => {
        const start = performance.now();
        run();
        return performance.now() - start;
      });
      return Math.min(...times);
    };
    const full = timed(() => fitSurface(ground));
    const even = timed(() => evenFit(ground, 0.5, 0.8));
    return {
      green: id,
      points: ground.x.length,
      'fit ms': Math.round(full),
      'one even fit ms': Math.round(even),
      ratio: (full / even).toFixed(1),
    };
  });
  const { surface } = fitSurface(surveyOf(trueGreen('5').at, trueGreen('5').outline, 1));
  const jet = new Float64Array(JET_SIZE);
  const calls = 2e6;
  const start = performance.now();
  for (let k = 0; k < calls; k++) surface.at((k % 97) * 0.1 - 5, (k % 89) * 0.2, jet);
  const each = (1e6 * (performance.now() - start)) / calls;
  console.log('About 20,000 points on one green (bound: 1 s).');
  console.table(rows);
  console.log(`One jet: ${each.toFixed(0)} ns.`);
};

export const run = async (): Promise<void> => {
  speed();
  accuracy();
};
