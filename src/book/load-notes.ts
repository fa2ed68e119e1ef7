import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Course } from '../course/course.js';
import { NOTES } from '../course/course-files.js';
import { type Notes, readNotes } from '../event/notes-file.js';
import type { Fonts } from '../print/fonts.js';
import { readUserText } from './course-days.js';

/**
 * The caddie's notes beside the course file; undefined when there are none. A character that the hand
 * lacks is a fault at its line.
 */
export const loadNotes = (course: Course, fonts: Fonts): Notes | undefined => {
  const file = join(course.folder, NOTES);
  if (!existsSync(file)) return undefined;
  return readNotes(readUserText(file), file, course, fonts.note.refuseLacking);
};
