import type { Box, Point } from '../../geometry.js';
import type { SectionKind } from '../reading.js';

/** "back-left", "front", "right" or "middle": where a point lies in a box, by thirds; front is low y. */
export const positionWord = (box: Box, at: Point): string => {
  const u = (at[0] - box.minX) / (box.maxX - box.minX);
  const v = (at[1] - box.minY) / (box.maxY - box.minY);
  const depth = v < 1 / 3 ? 'front' : v > 2 / 3 ? 'back' : '';
  const side = u < 1 / 3 ? 'left' : u > 2 / 3 ? 'right' : '';
  if (depth === '' && side === '') return 'middle';
  return depth === '' || side === '' ? depth + side : `${depth}-${side}`;
};

/** "upper tier", "middle tier", "lower tier", or counted from the lowest up when there are more than three. */
export const tierName = (rank: number, count: number): string => {
  if (count === 2) return rank === 0 ? 'lower tier' : 'upper tier';
  if (count === 3) return ['lower tier', 'middle tier', 'upper tier'][rank];
  return rank === 0 ? 'lowest tier' : rank === count - 1 ? 'top tier' : `tier ${rank + 1}`;
};

/** "false front" where the ground falls off towards the approach, else "left false edge" and the like. */
export const falseEdgeName = (outward: Point): { kind: SectionKind; name: string } => {
  const [x, y] = outward;
  if (y < 0 && -y >= Math.abs(x)) return { kind: 'false front', name: 'false front' };
  const side = y >= Math.abs(x) ? 'back' : x < 0 ? 'left' : 'right';
  return { kind: 'false edge', name: `${side} false edge` };
};

/** Gives the second of two sections of one name a number, and so on. */
export const distinctNames = <T extends { readonly name: string }>(sections: readonly T[]): T[] => {
  const seen = new Map<string, number>();
  return sections.map((section) => {
    const count = (seen.get(section.name) ?? 0) + 1;
    seen.set(section.name, count);
    return count === 1 ? section : { ...section, name: `${section.name} ${count}` };
  });
};
