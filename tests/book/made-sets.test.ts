import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { courseMarks } from '../../src/book/course-marks.js';
import { requireOwnFolder, writeSet } from '../../src/book/made-sets.js';
import { sweep } from '../../src/book/write-beside.js';
import { loadCourse } from '../../src/course/load-course.js';
import { runCaptured } from '../cli/run-captured.js';
import { writeTinyCourse } from '../cli/tiny-course.js';

const root = mkdtempSync(join(tmpdir(), 'runnel-sets-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const LEDGER = '.runnel-made';
const course = { title: 'Links', at: [10, 50] as const, outlines: ['o', 'p'] };
const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');
const product = (file: string, text = file) => ({ file, bytes: new TextEncoder().encode(text) });

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(root, 'out-'));
});
const write = (name: string | null, ...files: readonly string[]): string[] =>
  writeSet(
    folder,
    files.map((file) => product(file)),
    { course, name },
  );
const lying = (): string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name !== LEDGER)
    .sort();

describe('a set of products that is made again', () => {
  it('takes away what it makes no more, with the folder that is empty then', () => {
    write('book a6', 'a6.pdf', 'a6-insert.pdf', 'a6-svg/1.svg');
    expect(write('book a6', 'a6.pdf')).toEqual(['a6-insert.pdf', 'a6-svg/1.svg']);
    expect(lying()).toEqual(['a6.pdf']);
    expect(write('book a6', 'a6.pdf')).toEqual([]);
  });

  it("leaves what is the user's, what someone has changed and what another set has", () => {
    write('book a6', 'a6.pdf', 'a6-insert.pdf', 'licences.txt', 'a6-svg/1.svg');
    write('book pocket', 'pocket.pdf', 'licences.txt');
    writeFileSync(join(folder, 'a6-insert.pdf'), 'signed by the printer');
    writeFileSync(join(folder, 'a6-svg/mine.svg'), 'mine');
    expect(write('book a6', 'a6.pdf')).toEqual(['a6-svg/1.svg']);
    expect(lying()).toEqual([
      'a6-insert.pdf',
      'a6-svg',
      'a6-svg/mine.svg',
      'a6.pdf',
      'licences.txt',
      'pocket.pdf',
    ]);
  });

  it('keeps what another run has told of its own set meanwhile', () => {
    let asked = 0;
    const slow = {
      file: 'a6.pdf',
      get bytes(): Uint8Array {
        // Once for its digest; the other run ends while this one writes.
        if (++asked === 2) write('book pocket', 'pocket.pdf', 'pocket-insert.pdf');
        return new TextEncoder().encode('a6');
      },
    };
    writeSet(folder, [slow], { course, name: 'book a6' });
    expect(lying()).toEqual(['a6.pdf', 'pocket-insert.pdf', 'pocket.pdf']);
    expect(write('book pocket', 'pocket.pdf')).toEqual(['pocket-insert.pdf']);
    const { sets } = JSON.parse(readFileSync(join(folder, LEDGER), 'utf8'));
    expect(Object.keys(sets)).toEqual(['book a6', 'book pocket']);
  });

  it('is left alone by files that are each made for themselves', () => {
    write(null, 'a6-green-1.pdf', 'a6-water-1.pdf');
    expect(write(null, 'a6-green-1.pdf')).toEqual([]);
    expect(lying()).toEqual(['a6-green-1.pdf', 'a6-water-1.pdf']);
  });

  it.each([
    ['no JSON', '{"sets"'],
    ['another form', '{"course":{"title":"Links","at":null,"outlines":[]},"sets":[1]}'],
    [
      'a file outside of the folder',
      JSON.stringify({ course, sets: { 'book a6': { '../beside.txt': sha256('kept') } } }),
    ],
    ['a folder', JSON.stringify({ course, sets: { 'book a6': { inner: sha256('') } } })],
  ])('takes nothing away by a list that is damaged: %s', (_, text) => {
    mkdirSync(join(folder, 'inner'));
    writeFileSync(join(root, 'beside.txt'), 'kept');
    writeFileSync(join(folder, LEDGER), text);
    expect(write('book a6', 'a6.pdf')).toEqual([]);
    expect(existsSync(join(root, 'beside.txt'))).toBe(true);
    expect(lying()).toEqual(['a6.pdf', 'inner']);
  });

  it('is cleared by the next that looks where the run was killed after its renaming', () => {
    // A number that no process has: the largest that Linux gives is 2^22.
    const gone = 4_194_305;
    for (const name of ['old.pdf', 'changed.pdf']) writeFileSync(join(folder, name), name);
    writeFileSync(join(root, 'beside.txt'), 'kept');
    writeFileSync(
      join(folder, `.${gone}.runnel-set`),
      JSON.stringify([
        { file: 'old.pdf', sha256: sha256('old.pdf') },
        { file: 'changed.pdf', sha256: sha256('as it was') },
        { file: '../beside.txt', sha256: sha256('kept') },
        { file: 3 },
        null,
      ]),
    );
    sweep(folder);
    expect(lying()).toEqual(['changed.pdf']);
    expect(readFileSync(join(root, 'beside.txt'), 'utf8')).toBe('kept');
  });
});

describe("a folder with another course's products", () => {
  const other = { title: 'Moor', at: [10, 50] as const, outlines: ['q'] };

  it('is refused, and that of the same course, renamed or drawn anew, is not', () => {
    requireOwnFolder(folder, course);
    write('day day-2', 'day-2.pdf');
    expect(() => requireOwnFolder(folder, other)).toThrow(
      'it holds what was made of another course, "Links", whose folder has the same name',
    );
    requireOwnFolder(folder, { ...other, outlines: ['p'] });
    requireOwnFolder(folder, { ...course, outlines: ['q'] });
  });

  const tiny = join(root, 'links');
  beforeAll(() => writeTinyCourse(tiny, '10ft'));
  it.each([
    ['day', [tiny, '--day', '2']],
    ['green', [tiny, '12']],
    ['station', [tiny, '12', '--on', '4', '--left', '4', '--layout', 'practice-large']],
    ['book', [tiny]],
  ])('is refused by %s before anything is solved', async (command, args) => {
    const place = join(folder, 'links');
    writeSet(place, [product('day-1.pdf')], { course: other, name: 'day day-1' });
    const { code, stderr } = await runCaptured([command, ...args, '--out', folder]);
    expect(code, stderr).toBe(2);
    expect(stderr).toMatch(/links: it holds what was made of another course, "Moor"/);
    expect(readdirSync(place).sort()).toEqual([LEDGER, 'day-1.pdf']);
  });

  it('is known by marks that a course keeps', () => {
    const { title, at, outlines } = courseMarks(loadCourse(tiny));
    expect([title, at?.length, outlines.length]).toEqual(['One small green', 2, 1]);
  });
});
