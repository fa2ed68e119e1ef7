import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildProgram } from '../live/built-program.js';
import { writeGridCourse, writeGrowingCourse } from './growing-course.js';
import { costOf } from './process-cost.js';

/**
 * How the work grows: books of 1 to 200 greens, and a book of one green whose survey grows from 500 to 50,000 points, whole runs
 * of the compiled program without a cache, in seconds of processor of all threads. The exponent is the slope of the logarithms
 * over the upper half of each row (1: the work grows as its matter does); the reference is the first of each row. The curves are
 * drawn into out/. Seeds 119000 on.
 */

const GREENS = [1, 9, 18, 36, 200];
const POINTS = [500, 1000, 5000, 20_000, 50_000];
const ON_EACH = 300;
const SEED = 119_000;

interface Measured {
  readonly size: number;
  readonly work: number;
  readonly megabytes: number;
}

/** The slope of a line through the logarithms, by least squares. */
const exponentOf = (measured: readonly Measured[]): number => {
  const xs = measured.map(({ size }) => Math.log(size));
  const ys = measured.map(({ work }) => Math.log(work));
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, value) => sum + value, 0) / values.length;
  const [x0, y0] = [mean(xs), mean(ys)];
  const over = xs.reduce((sum, x, i) => sum + (x - x0) * (ys[i] - y0), 0);
  return over / xs.reduce((sum, x) => sum + (x - x0) ** 2, 0);
};

const [WIDTH, HEIGHT, EDGE] = [480, 320, 50] as const;

const ticksOf = (low: number, high: number): number[] =>
  [-1, 0, 1, 2, 3, 4, 5].map((power) => 10 ** power).filter((one) => one >= low && one <= high);

/** A curve on logarithmic axes, with a straight line beside it as the work would grow that grows as its matter does. */
const curveOf = (title: string, unit: string, measured: readonly Measured[]): string => {
  const sizes = measured.map(({ size }) => size);
  const works = measured.map(({ work }) => work);
  const low = [sizes[0] / 1.5, Math.min(...works) / 2] as const;
  const high = [sizes[sizes.length - 1] * 1.5, Math.max(...works) * 2] as const;
  const along = (value: number, i: 0 | 1): number =>
    Math.log(value / low[i]) / Math.log(high[i] / low[i]);
  const x = (size: number): number => EDGE + along(size, 0) * (WIDTH - EDGE - 15);
  const y = (work: number): number => HEIGHT - EDGE + along(work, 1) * (2 * EDGE - HEIGHT);
  const place = (size: number, work: number): string =>
    `${x(size).toFixed(1)},${y(work).toFixed(1)}`;
  const word = (at: readonly [number, number], text: string, anchor = 'middle'): string =>
    `<text x="${at[0].toFixed(1)}" y="${at[1].toFixed(1)}" text-anchor="${anchor}">${text}</text>`;
  const last = measured[measured.length - 1];
  const even = `${place(sizes[0], (last.work * sizes[0]) / last.size)} ${place(last.size, last.work)}`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" font-family="sans-serif" font-size="11">`,
    `<clipPath id="field"><rect x="${EDGE}" y="${EDGE}" width="${WIDTH - EDGE - 15}" height="${HEIGHT - 2 * EDGE}"/></clipPath>`,
    `<rect width="${WIDTH}" height="${HEIGHT}" fill="#fff"/>`,
    word([WIDTH / 2, 20], title),
    word([WIDTH / 2, HEIGHT - 12], unit),
    word([8, 38], 'seconds of processor', 'start'),
    `<path d="M${EDGE} ${EDGE}V${HEIGHT - EDGE}H${WIDTH - 15}" fill="none" stroke="#000"/>`,
    ...sizes.map((size) => word([x(size), HEIGHT - EDGE + 15], `${size}`)),
    ...ticksOf(low[1], high[1]).map((work) => word([EDGE - 6, y(work) + 4], `${work}`, 'end')),
    `<polyline points="${even}" fill="none" stroke="#999" stroke-dasharray="4 4" clip-path="url(#field)"/>`,
    `<polyline points="${measured.map((one) => place(one.size, one.work)).join(' ')}" fill="none" stroke="#000" stroke-width="1.5"/>`,
    ...measured.map(
      ({ size, work }) => `<circle cx="${x(size).toFixed(1)}" cy="${y(work).toFixed(1)}" r="3"/>`,
    ),
    '</svg>\n',
  ].join('\n');
};

/** The larger half of what was measured: below it the start of the program is most of the work. */
const upperHalf = (measured: readonly Measured[]): readonly Measured[] =>
  measured.slice(Math.floor(measured.length / 2));

const tell = (what: string, file: string, measured: readonly Measured[]): void => {
  const exponent = exponentOf(upperHalf(measured)).toFixed(2);
  for (const { size, work, megabytes } of measured) {
    const times = (work / measured[0].work).toFixed(1);
    process.stdout.write(
      `${`${size} ${what}`.padEnd(22)}${work.toFixed(2).padStart(9)} s${times.padStart(8)} times the first${megabytes.toFixed(0).padStart(7)} MB\n`,
    );
  }
  mkdirSync('out', { recursive: true });
  writeFileSync(file, curveOf(`${what}: exponent ${exponent}`, what, measured));
  process.stdout.write(`exponent ${exponent}, drawn in ${file}\n\n`);
};

/** Only when it is named, since it takes minutes. */
export const run = async (): Promise<void> => {
  if (!process.argv.includes('growth')) {
    process.stdout.write('takes minutes: npm run bench growth\n');
    return;
  }
  const program = buildProgram();
  const folder = mkdtempSync(join(tmpdir(), 'runnel-growth-'));
  let seed = SEED;
  const measure = (size: number, greens: number, points: number): Measured => {
    const course = join(folder, `links-${seed}`);
    writeGrowingCourse(course, greens, points, seed++);
    const out = join(folder, 'out');
    // Wire takes any number of leaves.
    const args = ['book', course, '--layout', 'pocket-wire', '--out', out];
    const { work, megabytes } = costOf(folder, [program.main, ...args]);
    rmSync(out, { recursive: true, force: true });
    return { size, work, megabytes };
  };
  try {
    const grid = join(folder, 'links-grid');
    writeGridCourse(grid);
    const shared = costOf(folder, [program.main, 'book', grid, '--out', join(folder, 'out')]);
    rmSync(join(folder, 'out'), { recursive: true, force: true });
    process.stdout.write(
      `18 greens out of a grid of 4 million cells: ${shared.work.toFixed(2)} s, ${shared.megabytes.toFixed(0)} MB (at most 600)\n\n`,
    );
    const points = POINTS.map((size) => measure(size, 1, size));
    tell('points on a green', 'out/growth-points.svg', points);
    const greens = GREENS.map((size) => measure(size, size, ON_EACH));
    tell('greens', 'out/growth-greens.svg', greens);
  } finally {
    rmSync(folder, { recursive: true, force: true });
    program.remove();
  }
};
