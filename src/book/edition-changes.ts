import {
  type BookChangeKind,
  type BookChanges,
  type ChangeKind,
  type HoleChange,
  hasChanged,
  type NewLeaf,
} from '../page/changes.js';
import type { EditionRecord, HoleRecord, PageRecord } from './edition-record.js';

/** The names whose digests differ, and those that only one of the two has. */
const namesApart = (old: HoleRecord['tees'], now: HoleRecord['tees']): string[] => {
  const [before, after] = [new Map(old), new Map(now)];
  return [...new Set([...after.keys(), ...before.keys()])].filter(
    (name) => before.get(name) !== after.get(name),
  );
};

/**
 * A green is surveyed again where both its survey and its ground are others: a file that many greens share, or
 * that was written in another form, is another file with the same ground.
 */
const isSurveyedAgain = (old: HoleRecord['survey'], now: HoleRecord['survey']): boolean =>
  now !== null && (old === null || (old[0] !== now[0] && old[1] !== now[1]));

const holeChanges = (old: HoleRecord | undefined, now: HoleRecord): HoleChange[] => {
  if (old === undefined) return [{ kind: 'new', hole: now.id, of: [] }];
  const changes: HoleChange[] = [];
  const add = (kind: ChangeKind, is: boolean, of: readonly string[] = []): void => {
    if (is) changes.push({ kind, hole: now.id, of });
  };
  const tees = namesApart(old.tees, now.tees);
  const locations = namesApart(old.locations, now.locations);
  const isWalkedOtherwise = tees.length > 0 || old.line !== now.line;
  add('survey', isSurveyedAgain(old.survey, now.survey));
  add('outline', old.outline !== now.outline);
  add('locations', locations.length > 0, locations);
  add('tees', tees.length > 0, tees);
  add('line', old.line !== now.line);
  add('map', old.map !== now.map);
  // Along another line the ground is another, too.
  add('ground', !isWalkedOtherwise && old.ground !== now.ground);
  add('speed', old.speed !== now.speed && old.speed !== null && now.speed !== null);
  add('worth', old.worth !== now.worth);
  add('names', old.names !== now.names);
  add('notes', old.notes !== now.notes);
  return changes;
};

const bookChanges = (old: EditionRecord, now: EditionRecord): BookChangeKind[] => [
  ...(old.title === now.title ? [] : (['title'] as const)),
  ...(old.units === now.units ? [] : (['units'] as const)),
  ...(old.use === now.use ? [] : (['use'] as const)),
  ...(old.layout[1] === now.layout[1] ? [] : (['layout'] as const)),
];

const digestsOf = (pages: readonly PageRecord[]): string[] => pages.map(([, , digest]) => digest);

/** The pages of a book by leaves: what stands on the front and on the back of each. */
const leavesOf = (pages: readonly PageRecord[]): string[] => {
  const digests = digestsOf(pages);
  return Array.from(
    { length: Math.ceil(digests.length / 2) },
    (_, i) => `${digests[2 * i]} ${digests[2 * i + 1] ?? ''}`,
  );
};

/** Pairs of equal leaves, in order, as many as there can be (the longest common subsequence). */
const keptLeaves = (old: readonly string[], now: readonly string[]): [number, number][] => {
  const lengths = Array.from({ length: old.length + 1 }, () => new Int32Array(now.length + 1));
  for (let i = old.length - 1; i >= 0; i--) {
    for (let k = now.length - 1; k >= 0; k--) {
      lengths[i][k] =
        old[i] === now[k]
          ? lengths[i + 1][k + 1] + 1
          : Math.max(lengths[i + 1][k], lengths[i][k + 1]);
    }
  }
  const kept: [number, number][] = [];
  for (let i = 0, k = 0; i < old.length && k < now.length; ) {
    if (old[i] === now[k]) kept.push([i++, k++]);
    else if (lengths[i + 1][k] >= lengths[i][k + 1]) i += 1;
    else k += 1;
  }
  return kept;
};

/** Which leaves are put in, and in whose place: between two that stay, in their order, as far as there are old ones. */
const leafChanges = (
  old: readonly PageRecord[],
  now: readonly PageRecord[],
): Pick<BookChanges, 'leaves' | 'out' | 'renumbered'> => {
  const [before, after] = [leavesOf(old), leavesOf(now)];
  const kept = keptLeaves(before, after);
  const leaves: NewLeaf[] = [];
  const out: number[] = [];
  let [i, k] = [0, 0];
  for (const [oldEnd, newEnd] of [...kept, [before.length, after.length]]) {
    for (; k < newEnd; k++) {
      const back = 2 * k + 1;
      const replaces = i < oldEnd ? ++i : null;
      leaves.push({ front: 2 * k, back: back < now.length ? back : null, replaces });
    }
    for (; i < oldEnd; i++) out.push(i + 1);
    [i, k] = [oldEnd + 1, newEnd + 1];
  }
  const renumbered = kept.some(([o, n]) => old[2 * o][1] !== now[2 * n][1]);
  return { leaves, out, renumbered };
};

/** What has changed for the buyer from one edition of a book to the next. */
const changesBetween = (old: EditionRecord, now: EditionRecord, whole: boolean): BookChanges => {
  const before = new Map(old.holes.map((hole) => [hole.id, hole]));
  const known = new Set(digestsOf(old.pages));
  const ids = new Set(old.pages.map(([id]) => id));
  const drawnAnew = now.pages.filter(([, , digest]) => !known.has(digest)).map(([id]) => id);
  const newIds = new Set(now.pages.map(([id]) => id));
  const newDigests = new Set(digestsOf(now.pages));
  return {
    since: old.edition,
    book: bookChanges(old, now),
    holes: now.holes.flatMap((hole) => holeChanges(before.get(hole.id), hole)),
    gone: old.holes
      .filter(({ id }) => !now.holes.some((hole) => hole.id === id))
      .map(({ id }) => id),
    changed: drawnAnew.filter((id) => ids.has(id)),
    added: drawnAnew.filter((id) => !ids.has(id)),
    lost: old.pages.filter(([id, , digest]) => !newIds.has(id) && !newDigests.has(digest)).length,
    pages: now.pages.length,
    whole,
    ...leafChanges(old.pages, now.pages),
  };
};

/**
 * The same where an earlier edition is named; null where none is, or nothing has changed.
 *
 * @param whole whether the book is one sheet.
 */
export const changesSince = (
  old: EditionRecord | null,
  now: EditionRecord,
  whole = false,
): BookChanges | null => {
  const changes = old === null ? null : changesBetween(old, now, whole);
  return changes !== null && hasChanged(changes) ? changes : null;
};
