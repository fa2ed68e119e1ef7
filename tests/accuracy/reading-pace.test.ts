import { expect, it } from 'vitest';
import { readSurveys } from '../../src/survey/read-survey.js';

/**
 * A course of points as CSV, cut to eighteen greens: at most two and a half times the work of splitting the lines
 * and turning the fields into numbers, and no more memory than a few pieces of the file.
 */

const COUNT = 1_000_000;
const BOUND = 2.5;

const seconds = async (work: () => Promise<unknown> | unknown): Promise<number> => {
  const times: number[] = [];
  for (let k = 0; k < 3; k++) {
    const start = process.cpuUsage();
    await work();
    const { user, system } = process.cpuUsage(start);
    times.push((user + system) / 1e6);
  }
  return Math.min(...times);
};

it('a million points as CSV are read in little more than it takes to split them', async () => {
  const text = Array.from({ length: COUNT }, (_, k) => {
    const [c, r] = [(2 * k) % 2000, 2 * Math.floor(k / 1000)];
    const z = 40 + 3 * Math.sin(c / 170) + 2 * Math.cos(r / 130);
    return `${400_000 + c / 2},${5_700_000 + r / 2},${z.toFixed(3)}`;
  }).join('\n');
  const bytes = new TextEncoder().encode(text);
  const greens = Array.from({ length: 18 }, (_, k) => {
    const [minX, minY] = [400_060 + 150 * (k % 6), 5_700_100 + 300 * Math.floor(k / 6)];
    return { minX, minY, maxX: minX + 42, maxY: minY + 42 };
  });
  let sum = 0;
  const plain = await seconds(() => {
    for (const line of new TextDecoder().decode(bytes).split('\n')) {
      const [x, y, z] = line.split(',').map(Number);
      sum += x + y + z;
    }
  });
  expect(sum).toBeGreaterThan(0);
  const taken = await seconds(() => readSurveys(bytes, { source: 'points.csv' }, greens));
  console.log(`a million points: ${taken.toFixed(2)} s, split only ${plain.toFixed(2)} s`);
  expect(taken / plain).toBeLessThan(BOUND);
}, 120_000);
