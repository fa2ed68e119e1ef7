import { stroke, strokePath } from '../kit/draw.js';
import type { PageContext, PageModule } from '../kit/page-modules.js';
import type { Mark, PathStep } from '../marks/marks.js';
import { DARK, TINT } from '../marks/marks.js';

/** Falling streams: the book's own ornament, drawn from three lines that gather into one. */
export const ornamentModule: PageModule<PageContext> = (_context, cell) => {
  const at = (u: number, v: number): [number, number] => [
    cell.x + u * cell.width,
    cell.y + v * cell.height,
  ];
  const curve = (
    a: [number, number],
    b: [number, number],
    c: [number, number],
    d: [number, number],
  ): PathStep[] => [
    ['M', ...at(...a)],
    ['C', ...at(...b), ...at(...c), ...at(...d)],
  ];
  const marks: Mark[] = [];
  for (let i = 0; i < 15; i++) {
    const v = (0.9 * i) / 14;
    const paint = i % 5 === 0 ? DARK : TINT;
    marks.push(
      strokePath(
        curve([0, v], [0.3, v * 0.55 + 0.02], [0.42, 0.62 + v * 0.26], [1, 0.28 + v * 0.5]),
        stroke(i % 5 === 0 ? 0.3 : 0.16, paint),
      ),
    );
  }
  for (const [head, bend, width] of [
    [0.1, 0.3, 0.5],
    [0.55, 0.62, 1.1],
    [0.95, 0.8, 0.5],
  ] as const) {
    marks.push(
      strokePath(curve([0.02, head], [0.3, bend], [0.45, 0.7], [0.98, 0.58]), stroke(width)),
    );
  }
  return [{ kind: 'group', role: 'decoration', marks }];
};
