/** A tee of one hole, for telling the tees of a course apart. */
export interface TeeToName {
  /** As the map names it; null when it does not. */
  readonly name: string | null;
  /** Along the line of play to the green, metres. */
  readonly length: number;
}

const COLOUR_TAGS = ['tee:colour', 'tee:color', 'colour', 'color', 'golf:tee:colour', 'golf:tee'];

const capital = (text: string): string => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;

/** A tee's name without the number of its hole, as mappers write both: "7 White", "Hole 7 - White", "White 7". */
const withoutNumber = (name: string, holes: readonly string[]): string => {
  const found =
    /^(?:(?:hole|tee|no\.?)\s*)?#?0*(\d{1,2})(?:st|nd|rd|th)?[\s.:#–—-]+(?:tee\s+)?(\p{L}.*)$/iu.exec(
      name,
    ) ?? /^(\p{L}.*?)[\s.:#–—-]+(?:hole\s*)?#?0*(\d{1,2})$/iu.exec(name);
  if (found === null) return name;
  const [digits, rest] = /^\d/.test(found[1]) ? [found[1], found[2]] : [found[2], found[1]];
  const own = holes.some((id) => id.replace(/^\D+/, '') === String(Number(digits)));
  return own && !/^(?:tee|hole)$/i.test(rest) ? rest : name;
};

/** What the map calls a tee of these holes: its name, its kind, or the colour of its markers. */
export const nameOfTee = (
  tags: Readonly<Record<string, string>>,
  holes: readonly string[] = [],
): string | null => {
  const name = (tags.name ?? tags.tee)?.trim();
  if (name !== undefined && name !== '') return withoutNumber(name, holes);
  for (const key of COLOUR_TAGS) {
    const colour = tags[key]?.trim();
    if (colour !== undefined && colour !== '') return capital(colour.split(';')[0].trim());
  }
  return null;
};

/** The further colours of a tee that several sets share ("white;yellow"); none of one that has a name. */
export const otherColours = (tags: Readonly<Record<string, string>>): string[] => {
  const name = (tags.name ?? tags.tee)?.trim();
  if (name !== undefined && name !== '') return [];
  const colours = COLOUR_TAGS.map((key) => tags[key]?.trim()).find(
    (colour) => colour !== undefined && colour !== '',
  );
  const all = (colours ?? '').split(';').flatMap((one) => {
    const word = one.trim();
    return word === '' ? [] : [capital(word)];
  });
  return [...new Set(all)].slice(1);
};

/** How much of the longest tee's length each set of tees has, from the back. */
interface TeeSet {
  readonly name: string;
  readonly part: number;
}

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, one) => sum + one, 0) / values.length;

/** The sets of a course: those named, by their mean part of the longest tee; else as many as its fullest holes have. */
const setsOf = (holes: readonly (readonly TeeToName[])[]): TeeSet[] => {
  const parts = new Map<string, number[]>();
  const ranks = new Map<number, number[][]>();
  for (const tees of holes) {
    const longest = Math.max(...tees.map((tee) => tee.length), 1);
    const sorted = [...tees].sort((a, b) => b.length - a.length);
    for (const { name, length } of tees) {
      if (name !== null) parts.set(name, [...(parts.get(name) ?? []), length / longest]);
    }
    ranks.set(tees.length, [
      ...(ranks.get(tees.length) ?? []),
      sorted.map((t) => t.length / longest),
    ]);
  }
  const most = Math.max(0, ...holes.map((tees) => tees.length));
  const named = [...parts].map(([name, all]) => ({ name, part: meanOf(all) }));
  named.sort((a, b) => b.part - a.part || (a.name < b.name ? -1 : 1));
  if (named.length >= most) return named;
  const fullest = ranks.get(most) ?? [];
  const unnamed = Array.from({ length: most }, (_, rank) => ({
    name: `Tee ${rank + 1}`,
    part: meanOf(fullest.map((all) => all[rank])),
  }));
  if (named.length === 0) return unnamed;
  // Some sets have names, others none: each name takes the rank that it lies nearest to.
  const free = [...unnamed];
  for (const set of named) {
    const nearest = free.reduce((best, one) =>
      Math.abs(one.part - set.part) < Math.abs(best.part - set.part) ? one : best,
    );
    free.splice(free.indexOf(nearest), 1);
  }
  return [...named, ...free].sort((a, b) => b.part - a.part);
};

/** The unnamed tees of a hole, from the back, matched to free sets in their order with the least change of length. */
const matched = (
  lengths: readonly number[],
  longest: number,
  sets: readonly TeeSet[],
): TeeSet[] => {
  if (lengths.length === 0) return [];
  const [head, ...rest] = lengths;
  let best: { cost: number; sets: TeeSet[] } | null = null;
  for (let i = 0; i + rest.length < sets.length; i++) {
    const others = matched(rest, longest, sets.slice(i + 1));
    const chosen = [sets[i], ...others];
    const cost = chosen.reduce((sum, set, k) => {
      const length = k === 0 ? head : rest[k - 1];
      return sum + Math.abs(set.part - length / longest);
    }, 0);
    if (best === null || cost < best.cost) best = { cost, sets: chosen };
  }
  return best?.sets ?? [];
};

/**
 * Names for the tees of a course, one a set of tees over all holes: those that the map gives, and for the
 * others by their length, from the back. `holes` lists the tees of each hole.
 */
export const nameTees = (holes: readonly (readonly TeeToName[])[]): string[][] => {
  const sets = setsOf(holes.filter((tees) => tees.length > 0));
  return holes.map((tees) => {
    const longest = Math.max(...tees.map((tee) => tee.length), 1);
    const taken = new Set(tees.map((tee) => tee.name));
    const free = sets.filter((set) => !taken.has(set.name)).slice(0, 9);
    const unnamed = tees
      .map((tee, i) => ({ ...tee, i }))
      .filter((tee) => tee.name === null)
      .sort((a, b) => b.length - a.length || a.i - b.i);
    const given = matched(
      unnamed.slice(0, free.length).map((t) => t.length),
      longest,
      free,
    );
    const names = new Map(unnamed.map((tee, k) => [tee.i, given[k]?.name ?? `Tee ${k + 1}`]));
    return tees.map((tee, i) => tee.name ?? names.get(i)!);
  });
};
