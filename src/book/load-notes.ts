import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Course } from '../course/course.js';
import { NOTES } from '../course/course-files.js';
import { type Notes, readNotes } from '../event/notes-file.js';
import { faultsAt } from '../fault.js';
import type { Layout } from '../layout/layout.js';
import type { MeasureText } from '../page/marks/marks.js';
import { requireRoomForNotes } from '../page/notes/note-text.js';
import type { Fonts } from '../print/fonts.js';
import { readTextFile } from '../user-text.js';

/** A note that finds no room in a book of the layout is told before a green is fitted. */
export const requireNotesFit = (
  notes: Notes | undefined,
  course: Course,
  layout: Layout,
  measure: MeasureText,
): void =>
  requireRoomForNotes(notes, layout, measure, (kind, holeId) => {
    const hole = course.holes.find(({ id }) => id === holeId);
    if (hole === undefined) return false;
    return kind === 'hole'
      ? hole.site.line !== null
      : (hole.green ?? hole.outline ?? null) !== null;
  });

/** Refuses words with a character that a face of names lacks; the fault names no file. */
export const requireWordsSet = (words: string, fonts: Fonts): void => {
  for (const face of [fonts.title, fonts['title-bold'], fonts.text]) face.refuseLacking(words);
};

/**
 * Whether the faces of the pages have the characters of the course's names, asked before anything is computed.
 *
 * @throws InputFault with the course file and the hole.
 */
export const requireNamesSet = (course: Course, fonts: Fonts): void => {
  const of = (place: string, names: readonly string[]): void =>
    faultsAt({ file: course.file, place }, () => {
      for (const name of names) requireWordsSet(name, fonts);
    });
  of('title', [course.title]);
  of('setting', [course.setting]);
  for (const { id, name } of course.holes) of(`hole ${id}`, [name]);
  for (const [place, words] of Object.entries(course.imprint)) {
    if (typeof words === 'string') of(place, [words]);
    else if (Array.isArray(words)) of(place, words as string[]);
  }
};

/**
 * The caddie's notes beside the course file; undefined when there are none. A character that the hand
 * lacks is a fault at its line.
 */
export const loadNotes = (course: Course, fonts: Fonts): Notes | undefined => {
  const file = join(course.folder, NOTES);
  if (!existsSync(file)) return undefined;
  return readNotes(readTextFile(file), file, course, fonts.note.refuseLacking);
};
