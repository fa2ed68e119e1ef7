import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, it } from 'vitest';
import { loadCourse } from '../../src/course/load-course.js';
import { readDayFile } from '../../src/event/day-file.js';
import { locationsByDay } from '../../src/event/day-locations.js';
import { readNotes } from '../../src/event/notes-file.js';
import { InputFault } from '../../src/fault.js';
import { atDepth } from '../depth.js';
import { UNTOLD } from './no-today.js';

const folder = new URL('../../course-data/vellamoor', import.meta.url).pathname;
const course = loadCourse(folder);

/** Some characters of a text cut, doubled or replaced. */
const mutated = (text: string): fc.Arbitrary<string> =>
  fc
    .array(
      fc.tuple(
        fc.nat(text.length - 1),
        fc.nat(12),
        fc.oneof(
          fc.constantFrom(
            '',
            ',',
            ';',
            '\n',
            '\t',
            '"',
            '{',
            '[',
            ':',
            '-',
            '½',
            '\u0000',
            '1e9',
            '&a',
            '*a',
          ),
          fc.string({ maxLength: 6 }),
        ),
      ),
      { minLength: 1, maxLength: 4 },
    )
    .map((edits) =>
      edits.reduce(
        (changed, [at, length, put]) => changed.slice(0, at) + put + changed.slice(at + length),
        text,
      ),
    );

const faultsOnly = (read: () => unknown): void => {
  try {
    read();
  } catch (error) {
    if (!(error instanceof InputFault)) throw error;
    if (error.message.includes('\n')) throw new Error(`not one line: ${error.message}`);
  }
};

describe('damaged files of an event', () => {
  it('of days are read or refused in one line', { tags: 'deep' }, () => {
    const text = readFileSync(`${folder}/days.csv`, 'utf8').split('\n').slice(0, 12).join('\n');
    fc.assert(
      fc.property(mutated(text), (damaged) => {
        faultsOnly(() =>
          locationsByDay(course, readDayFile(damaged, 'days.csv'), 'days.csv', UNTOLD),
        );
      }),
      { numRuns: atDepth(150, 1000), seed: 3 },
    );
  });

  it('of notes are read or refused in one line', { tags: 'deep' }, () => {
    const text = readFileSync(`${folder}/notes.yaml`, 'utf8');
    fc.assert(
      fc.property(mutated(text), (damaged) => {
        faultsOnly(() => readNotes(damaged, 'notes.yaml', course));
      }),
      { numRuns: atDepth(100, 300), seed: 4 },
    );
  });
});
