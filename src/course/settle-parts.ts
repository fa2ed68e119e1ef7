/** Lines and greens that may belong together, none of which may belong to any other: they are settled by themselves. */
export interface SettledApart {
  /** Places in the lists of lines and of greens, upwards. */
  readonly lines: readonly number[];
  readonly greens: readonly number[];
}

const upwards = (places: Iterable<number>): number[] => [...new Set(places)].sort((a, b) => a - b);

/** Several parts as one, with further greens. */
export const joinedParts = (
  parts: readonly SettledApart[],
  greens: readonly number[],
): SettledApart => ({
  lines: upwards(parts.flatMap((part) => part.lines)),
  greens: upwards([...greens, ...parts.flatMap((part) => part.greens)]),
});

/** The parts of a course; `possible`: for each line the greens that it may end on. */
export const partsOfCourse = (possible: readonly (readonly number[])[]): SettledApart[] => {
  const linesOf = new Map<number, number[]>();
  possible.forEach((greens, line) => {
    for (const green of greens) linesOf.set(green, [...(linesOf.get(green) ?? []), line]);
  });
  const seen = new Set<number>();
  return possible.flatMap((_, first): SettledApart[] => {
    if (seen.has(first)) return [];
    seen.add(first);
    const lines = [first];
    const greens = new Set<number>();
    // The list grows while it is gone through.
    for (const line of lines) {
      for (const green of possible[line]) {
        if (greens.has(green)) continue;
        greens.add(green);
        for (const other of linesOf.get(green) ?? []) {
          if (!seen.has(other)) lines.push(other);
          seen.add(other);
        }
      }
    }
    return [{ lines: upwards(lines), greens: upwards(greens) }];
  });
};
