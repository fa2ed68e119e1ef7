import { readGreenGround } from '../../src/course/green-ground.js';
import { loadCourse } from '../../src/course/load-course.js';
import { fitSurface } from '../../src/surface/fit.js';
import type { Surface } from '../../src/surface/surface.js';
import { JET_SIZE } from '../../src/surface/surface.js';
import { readGreen } from '../../src/terrain/read-green.js';

/**
 * Reading a whole green at 0.25 m: bands, contours, points, drainage, sections, arrows, doubt. Bound: 150
 * ms. The reference is asking the same surface for height and derivatives at the nodes of that grid.
 */

const STEP = 0.25;
const ROUNDS = 9;
/** A plain green, a two-tier one with much doubtful ground, the largest, and the practice green. */
const GREENS = ['10', '2', '18', 'practice'];

const timed = (work: () => void): number => {
  const start = performance.now();
  work();
  return performance.now() - start;
};

const median = (times: readonly number[]): number =>
  [...times].sort((a, b) => a - b)[times.length >> 1];

const askNodes = (surface: Surface): number => {
  const jet = new Float64Array(JET_SIZE);
  const { box } = surface;
  let count = 0;
  for (let y = box.minY; y <= box.maxY; y += STEP) {
    for (let x = box.minX; x <= box.maxX; x += STEP) {
      surface.at(x, y, jet);
      count++;
    }
  }
  return count;
};

export const run = async (): Promise<void> => {
  const course = loadCourse(new URL('../../course-data/vellamoor', import.meta.url).pathname);
  console.log('reading a green at 0.25 m (bound: 150 ms)');
  console.log('green      area m2   nodes   first ms   median ms   best ms   x asking the nodes');
  for (const id of GREENS) {
    const hole = course.holes.find((one) => one.id === id);
    if (hole === undefined) throw new Error(`no hole ${id}`);
    const { survey, outline } = await readGreenGround(course, hole);
    const { x, y, z, statedSigma, breaklines } = survey;
    const { surface } = fitSurface({ x, y, z, outline, statedSigma, breaklines });
    const read = (): void => {
      readGreen(surface, { gridStep: STEP });
    };
    const first = timed(read);
    const times = Array.from({ length: ROUNDS }, () => timed(read));
    let nodes = 0;
    const reference = median(
      Array.from({ length: ROUNDS }, () =>
        timed(() => {
          nodes = askNodes(surface);
        }),
      ),
    );
    const { area } = readGreen(surface);
    const cells = [
      id.padEnd(9),
      area.toFixed(0).padStart(9),
      `${nodes}`.padStart(8),
      first.toFixed(0).padStart(11),
      median(times).toFixed(0).padStart(12),
      Math.min(...times)
        .toFixed(0)
        .padStart(10),
      (median(times) / reference).toFixed(1).padStart(13),
    ];
    console.log(cells.join(''));
  }
};
