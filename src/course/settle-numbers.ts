import { distance, type Point } from '../geometry.js';
import { cheapestAssignment } from './assignment.js';
import { bareNumber, wordAndNumber } from './hole-numbers.js';

/** A line of play with its direction settled. */
export interface LineToNumber {
  readonly refs: readonly string[];
  readonly tags: Readonly<Record<string, string>>;
  readonly start: Point;
  readonly end: Point;
  /** The numbers that its green bears. */
  readonly greenRefs: readonly string[];
}

export interface NumberedLine {
  /** The holes it is played as, as the book names them. */
  readonly ids: readonly string[];
  readonly loop: string | null;
  /** What was decided about its number, in words; null when the map says it. */
  readonly decided: string | null;
}

/** What is decided of all loops together where no word of the map tells them apart. */
export const LOOPS_BY_WALKS =
  'numbers of holes stand more than once: the loops are told apart by the walks from green to tee';

/** Tags that say which course or loop of a club a hole belongs to. */
const LOOP_TAGS = ['golf:course:name', 'golf:course', 'course:name', 'course', 'loop'];

/** The course or loop that a hole's tags name; null for none. */
export const loopTag = (tags: Readonly<Record<string, string>>): string | null => {
  for (const key of LOOP_TAGS) {
    const value = tags[key]?.trim();
    if (value !== undefined && value !== '') return value;
  }
  return null;
};

/** A word names a loop where it stands before so many numbers at least. */
const LEAST_LOOP = 3;

/** A line's word and number, where its name or its ref is such; its number is the one it bears. */
const wordOf = ({ refs, tags }: LineToNumber): { word: string; number: string } | null => {
  if (refs.length !== 1) return null;
  for (const text of [refs[0], tags.name]) {
    const found = text === undefined ? null : wordAndNumber(text);
    if (found !== null && (found.number === refs[0] || text === refs[0])) return found;
  }
  return null;
};

/** Loops by the word that stands before each number ("Red 7"), in the lines' refs or names; null where they do not tell. */
const wordLoops = (lines: readonly LineToNumber[]): NumberedLine[] | null => {
  const found = lines.map(wordOf);
  const words = found.map((one) => one?.word ?? null);
  const told = found.flatMap((one) => (one === null ? [] : [`${one.word}|${one.number}`]));
  const counts = [...new Set(words)].map((word) => words.filter((one) => one === word).length);
  const tells =
    told.length === lines.length &&
    new Set(told).size === told.length &&
    counts.length > 1 &&
    counts.every((count) => count >= LEAST_LOOP);
  if (!tells) return null;
  const numbered = lines.map((line, i) => ({ ...line, refs: [found[i]!.number] }));
  return asLoops(numbered, words, null);
};

/** Loops by the letter of each number ("A7"); null where they do not tell. */
const letterLoops = (lines: readonly LineToNumber[]): NumberedLine[] | null => {
  const letters = lines.map(({ refs }) => /^(\p{Lu})\d+$/u.exec(refs[0] ?? '')?.[1] ?? null);
  const counts = [...new Set(letters)].map((one) => letters.filter((two) => two === one).length);
  const tells =
    letters.every((one) => one !== null) &&
    counts.length > 1 &&
    counts.every((count) => count >= LEAST_LOOP);
  return tells
    ? lines.map(({ refs }, i) => ({ ids: refs, loop: letters[i], decided: null }))
    : null;
};

const numberOf = (line: LineToNumber): number | null =>
  line.refs.length > 0 && /^\d+$/.test(line.refs[0]) ? Number(line.refs[0]) : null;

/** A letter or two for each loop: its initial where that tells the loops apart, else A, B, C. */
const prefixesOf = (loops: readonly string[]): Map<string, string> => {
  const initials = loops.map((one) => one.slice(0, 1).toUpperCase());
  const apart =
    new Set(initials).size === loops.length && initials.every((one) => /[A-Z]/.test(one));
  return new Map(loops.map((one, i) => [one, apart ? initials[i] : String.fromCharCode(65 + i)]));
};

const asLoops = (
  lines: readonly LineToNumber[],
  loopOf: readonly (string | null)[],
  decided: string | null,
): NumberedLine[] => {
  const loops = [...new Set(loopOf.filter((one) => one !== null))].sort();
  const prefixes = prefixesOf(loops);
  return lines.map((line, i): NumberedLine => {
    const loop = loopOf[i];
    return loop === null
      ? { ids: line.refs, loop, decided: null }
      : { ids: line.refs.map((ref) => `${prefixes.get(loop)}${ref}`), loop, decided };
  });
};

/** Loops told apart by the shortest walks from one hole to the next. */
const chainedLoops = (lines: readonly LineToNumber[]): (string | null)[] => {
  const byNumber = new Map<number, number[]>();
  lines.forEach((line, i) => {
    const number = numberOf(line);
    if (number !== null) byNumber.set(number, [...(byNumber.get(number) ?? []), i]);
  });
  const numbers = [...byNumber.keys()].sort((a, b) => a - b);
  const loopOf = new Array<string | null>(lines.length).fill(null);
  const width = Math.max(...[...byNumber.values()].map((all) => all.length));
  // From west to east, so that the order does not hang on the order of the file.
  const first = numbers.find((number) => byNumber.get(number)!.length === width)!;
  const heads = [...byNumber.get(first)!].sort(
    (a, b) => lines[a].start[0] - lines[b].start[0] || lines[a].start[1] - lines[b].start[1],
  );
  heads.forEach((line, k) => {
    loopOf[line] = String.fromCharCode(65 + k);
  });
  const walk = (
    order: readonly number[],
    from: (line: LineToNumber) => Point,
    to: (line: LineToNumber) => Point,
  ) => {
    let last = heads;
    for (const number of order) {
      const here = byNumber.get(number)!;
      if (here.length > last.length) continue;
      const columns = cheapestAssignment(
        here.map((i) => last.map((k) => distance(from(lines[k]), to(lines[i])))),
      );
      const next = [...last];
      here.forEach((i, r) => {
        loopOf[i] = loopOf[last[columns[r]]];
        next[columns[r]] = i;
      });
      last = next;
    }
  };
  walk(
    numbers.filter((n) => n > first),
    (l) => l.end,
    (l) => l.start,
  );
  walk(
    numbers.filter((n) => n < first).reverse(),
    (l) => l.start,
    (l) => l.end,
  );
  return loopOf;
};

/** Lines without a number, or with one that stands twice, given the numbers that are missing, by the shortest walks. */
const withMissingNumbers = (lines: readonly LineToNumber[]): NumberedLine[] => {
  const walkTo = (line: LineToNumber, number: number): number => {
    const near = (by: 1 | -1): number => {
      const others = lines.filter((one) => one !== line && one.refs.includes(`${number + by}`));
      return others.length === 0
        ? 150
        : Math.min(
            ...others.map((one) =>
              by === 1 ? distance(line.end, one.start) : distance(one.end, line.start),
            ),
          );
    };
    // What its green says weighs more than any walk.
    const told = line.greenRefs.includes(`${number}`) ? 1000 : 0;
    return near(-1) + near(1) - told;
  };
  const holders = new Map<string, number[]>();
  lines.forEach((line, i) => {
    for (const ref of line.refs) holders.set(ref, [...(holders.get(ref) ?? []), i]);
  });
  const free = new Set<number>();
  lines.forEach((line, i) => {
    if (line.refs.length === 0) free.add(i);
  });
  // Of two lines with one number, the one that fits worse between its neighbours is free.
  for (const [ref, all] of holders) {
    if (all.length < 2 || !/^\d+$/.test(ref)) continue;
    const sorted = [...all].sort(
      (a, b) => walkTo(lines[a], Number(ref)) - walkTo(lines[b], Number(ref)) || a - b,
    );
    for (const i of sorted.slice(1)) if (lines[i].refs.length === 1) free.add(i);
  }
  const taken = new Set(lines.flatMap((line, i) => (free.has(i) ? [] : line.refs)));
  // A number that no course has is a name, and asks for none before it.
  const highest = Math.max(0, ...[...taken].map((ref) => Number(bareNumber(ref) ?? 0)));
  const count = Math.max(9, Math.ceil(Math.max(highest, lines.length) / 9) * 9);
  const missing = Array.from({ length: count }, (_, k) => k + 1).filter((n) => !taken.has(`${n}`));
  const rows = [...free];
  const given = new Map<number, number>();
  if (rows.length > 0 && rows.length <= missing.length) {
    const columns = cheapestAssignment(
      rows.map((i) => missing.map((number) => walkTo(lines[i], number))),
    );
    for (const [r, i] of rows.entries()) given.set(i, missing[columns[r]]);
  }
  return lines.map((line, i): NumberedLine => {
    const number = given.get(i);
    if (number === undefined) {
      return free.has(i) && line.refs.length > 0
        ? {
            ids: [],
            loop: null,
            decided: `a second line with the number ${line.refs[0]}, left out`,
          }
        : { ids: line.refs, loop: null, decided: null };
    }
    const was =
      line.refs.length === 0 ? 'had no number' : `bore the number ${line.refs[0]} twice given`;
    return {
      ids: [`${number}`],
      loop: null,
      decided: `its line ${was} and is taken for hole ${number}, which was missing`,
    };
  });
};

/**
 * The holes that the lines are played as. Numbers that many lines share are loops (of nine, of eighteen),
 * told apart by a tag or by the walks from green to tee; one or two are slips, mended from what is missing.
 */
export const numberLines = (lines: readonly LineToNumber[]): NumberedLine[] => {
  const counts = new Map<string, number>();
  const byWord = wordLoops(lines) ?? letterLoops(lines);
  if (byWord !== null) return byWord;
  for (const line of lines)
    for (const ref of line.refs) {
      if (/^\d+$/.test(ref)) counts.set(ref, (counts.get(ref) ?? 0) + 1);
    }
  const repeated = [...counts.values()].filter((count) => count > 1).length;
  const tags = lines.map((line) => loopTag(line.tags));
  if (repeated < 3 || 2 * repeated < counts.size) {
    const numbered = withMissingNumbers(lines);
    return numbered.map((one, i) => ({ ...one, loop: one.loop ?? tags[i] }));
  }
  const keys = lines.flatMap((line, i) => line.refs.map((ref) => `${tags[i]}|${ref}`));
  if (tags.every((tag) => tag !== null) && new Set(keys).size === keys.length) {
    return asLoops(lines, tags, null);
  }
  const loops = chainedLoops(lines);
  return asLoops(lines, loops, LOOPS_BY_WALKS);
};
