import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { bookNumber } from '../../src/course/book-number.js';
import { madeFor } from '../../src/course/imprint.js';
import { loadCourse } from '../../src/course/load-course.js';
import { writeTinyCourse } from '../cli/tiny-course.js';

const folder = mkdtempSync(join(tmpdir(), 'imprint-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('numbers of books', () => {
  // Printed as examples in the users' manual of the International ISBN Agency and in encyclopedias; from memory.
  test.each([
    ['978-0-306-40615-7', '9780306406157'],
    ['0-306-40615-2', '9780306406157'],
    ['ISBN 978-0-11-000222-4', '9780110002224'],
    ['0-8044-2957-X', '9780804429573'],
  ])('%s is sound', (written, ean) => {
    expect(bookNumber(written)).toMatchObject({ number: { ean } });
  });

  test('every other last digit is refused, and the right one told', () => {
    for (let digit = 0; digit < 10; digit++) {
      const found = bookNumber(`978-0-306-40615-${digit}`);
      if (digit === 7) expect(found).toHaveProperty('number');
      else expect(found).toMatchObject({ cure: expect.stringContaining('it is 7') });
    }
  });

  test.each(['978-0-306-4061-7', '12', '977-0-306-40615-0', 'abc-0-306-40615-7'])(
    '"%s" is none',
    (text) => {
      expect(bookNumber(text)).toMatchObject({ problem: expect.stringContaining('is no ISBN') });
    },
  );
});

const HEAD = `title: Links
map: map.geojson
greenSpeed: 10
surveys: { crs: EPSG:32625, unit: m, surveyed: May 2027 }
edition: First edition
`;
const TAIL = `holes:
  - { hole: 12, survey: surveys/green-12.csv }
`;

/** A course with an imprint, by the lines of its file between head and holes. */
const courseWith = (lines: string): string => {
  writeTinyCourse(folder, '10');
  writeFileSync(join(folder, 'course.yaml'), `${HEAD}${lines}\n${TAIL}`);
  return folder;
};

describe('the imprint of a course', () => {
  test('is told by the course file, and a run may name edition and buyer', () => {
    const course = loadCourse(
      courseWith('imprint: { publisher: Us, isbn: 0-306-40615-2, addOn: "51299", contact: here }'),
    );
    expect(course.imprint).toEqual({
      edition: 'First edition',
      buyer: null,
      publisher: 'Us',
      copyright: null,
      contact: ['here'],
      surveyed: 'May 2027',
      price: null,
      isbn: { written: '0-306-40615-2', ean: '9780306406157' },
      addOn: '51299',
      made: null,
      logo: null,
      about: null,
    });
    const made = madeFor(course, { edition: undefined, buyer: 'Autumn meeting' }).imprint;
    expect(made).toMatchObject({ edition: 'First edition', buyer: 'Autumn meeting' });
  });

  test('is told by a file that the course file names, and its faults in that file', () => {
    writeFileSync(join(folder, 'imprint.yaml'), 'publisher: Us\ncontact: [a, b]\n');
    const { imprint } = loadCourse(courseWith('imprint: imprint.yaml'));
    expect(imprint).toMatchObject({ publisher: 'Us', contact: ['a', 'b'] });
    writeFileSync(join(folder, 'imprint.yaml'), 'publisher: Us\nisbn: 978-0-306-40615-6\n');
    expect(() => loadCourse(courseWith('imprint: imprint.yaml'))).toThrow(
      /imprint\.yaml, line 2, isbn: the check digit .* is wrong; after 978030640615 it is 7/,
    );
  });

  test.each([
    ['imprint: { addOn: "51299" }', /imprint\.addOn: .*give "isbn", too/],
    ['imprint: { isbn: 978-0-306-40615-7, addOn: "512" }', /imprint\.addOn/],
    ['imprint: { publsher: Us }', /did you mean "publisher"/],
    ['imprint: none.yaml', /imprint: there is no file "none.yaml"/],
    ['imprint: ../far.yaml', /lies outside/],
  ])('%s is refused', (lines, words) => {
    expect(() => loadCourse(courseWith(lines))).toThrow(words);
  });
});
