import { distance, type Point } from '../geometry.js';

/** Douglas and Peucker, Cartographica 10 (1973): the corners without which the line would move by over `by`. */
export const cornersOf = (line: readonly Point[], by: number): Point[] => {
  if (line.length < 3) return [...line];
  const [a, b] = [line[0], line[line.length - 1]];
  const reach = distance(a, b);
  let [worst, at] = [0, 0];
  for (let i = 1; i < line.length - 1; i++) {
    const p = line[i];
    const off =
      reach === 0
        ? distance(a, p)
        : Math.abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / reach;
    if (off > worst) {
      worst = off;
      at = i;
    }
  }
  if (worst <= by) return [a, b];
  return [...cornersOf(line.slice(0, at + 1), by).slice(0, -1), ...cornersOf(line.slice(at), by)];
};
