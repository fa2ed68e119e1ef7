import type { PathStep } from '../page/marks/marks.js';

/** A path under construction (ISO 32000-1, 8.5.2). */
export interface DrawnPath {
  /** Takes a construction operator; false when the operator is not one. */
  readonly take: (operator: string, n: (i: number) => number) => boolean;
  /** The steps so far; the next path starts empty. */
  readonly finish: () => PathStep[];
}

export const startPath = (): DrawnPath => {
  let steps: PathStep[] = [];
  let here: readonly [number, number] = [0, 0];
  const curve = (...[x1, y1, x2, y2, x, y]: [number, number, number, number, number, number]) => {
    steps.push(['C', x1, y1, x2, y2, x, y]);
    here = [x, y];
  };
  return {
    take: (operator, n) => {
      switch (operator) {
        case 'm':
        case 'l':
          here = [n(0), n(1)];
          steps.push([operator === 'm' ? 'M' : 'L', ...here]);
          return true;
        case 'c':
          curve(n(0), n(1), n(2), n(3), n(4), n(5));
          return true;
        case 'v':
          curve(here[0], here[1], n(0), n(1), n(2), n(3));
          return true;
        case 'y':
          curve(n(0), n(1), n(2), n(3), n(2), n(3));
          return true;
        case 'h':
          steps.push(['Z']);
          return true;
        case 're':
          steps.push(
            ['M', n(0), n(1)],
            ['L', n(0) + n(2), n(1)],
            ['L', n(0) + n(2), n(1) + n(3)],
            ['L', n(0), n(1) + n(3)],
            ['Z'],
          );
          here = [n(0), n(1)];
          return true;
        default:
          return false;
      }
    },
    finish: () => {
      const done = steps;
      steps = [];
      return done;
    },
  };
};
