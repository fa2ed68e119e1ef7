import { execFileSync } from 'node:child_process';
import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { loadCourse } from '../../src/course/load-course.js';
import { surveyedGreen } from '../../src/course/named-hole.js';
import { runCaptured } from '../cli/run-captured.js';
import { writeTinyCourse } from '../cli/tiny-course.js';

let root = '';
let folder = '';
beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'named-'));
  folder = join(root, 'links');
  writeTinyCourse(folder, '10');
  cpSync('course-data/vellamoor/ground.asc', join(folder, 'ground.asc'));
});

const rewrite = (from: string, to: string): void => {
  const file = join(folder, 'course.yaml');
  writeFileSync(file, readFileSync(file, 'utf8').replace(from, to));
};

/** Moves a file of the course out of its folder. */
const moveOut = (name: string): void => renameSync(join(folder, name), join(root, 'away'));

/** Each key that names a file: what stands behind it, and what is put there. */
const KEYS: readonly (readonly [string, string, (name: string) => void])[] = [
  ['map', 'map.geojson', (name) => rewrite('map: map.geojson', `map: ${name}`)],
  ['days', 'days.csv', (name) => rewrite('days: days.csv', `days: ${name}`)],
  ['ground', 'ground.asc', (name) => rewrite('map: map', `ground: ${name}\nmap: map`)],
  [
    'survey',
    'surveys/green-12.csv',
    (name) => rewrite('survey: surveys/green-12.csv', `survey: ${name}`),
  ],
];

describe('files that a course file names', () => {
  it.each(KEYS)('%s stays inside the folder unless it is allowed', (key, file, put) => {
    moveOut(file);
    for (const name of ['../away', join(root, 'away')]) {
      writeTinyCourse(join(root, 'fresh'), '10');
      cpSync(join(root, 'fresh/course.yaml'), join(folder, 'course.yaml'));
      put(name);
      expect(() => loadCourse(folder), name).toThrow(
        new RegExp(`${key}: "${name}" lies outside the course's folder; .*--outside$`),
      );
      expect(loadCourse(folder, { outside: true }).title).toBe('One small green');
    }
  });

  it.each(KEYS)('%s that is a link is followed, but not outside', (_, file, put) => {
    put(file);
    cpSync(join(folder, file), join(folder, 'inner'));
    moveOut(file);
    symlinkSync(join(folder, 'inner'), join(folder, file));
    expect(loadCourse(folder).title).toBe('One small green');
    renameSync(join(folder, 'inner'), join(root, 'outer'));
    symlinkSync('../outer', join(folder, 'inner'));
    expect(() => loadCourse(folder)).toThrow("lies outside the course's folder");
    expect(loadCourse(folder, { outside: true }).title).toBe('One small green');
  });

  it.each(KEYS)('%s is no pipe, folder or device', (_, _file, put) => {
    execFileSync('mkfifo', [join(folder, 'pipe')]);
    mkdirSync(join(folder, 'inside'));
    symlinkSync('/dev/zero', join(folder, 'zero'));
    put('NAME');
    const text = readFileSync(join(folder, 'course.yaml'), 'utf8');
    for (const [name, kind] of [
      ['pipe', 'a pipe'],
      ['inside', 'a folder'],
      ['zero', 'a device'],
    ]) {
      writeFileSync(join(folder, 'course.yaml'), text.replace('NAME', name));
      expect(() => loadCourse(folder, { outside: true })).toThrow(
        `"${name}" is ${kind}, not a file`,
      );
    }
  });

  it('what is read beside them stays inside too: the notes, the coordinate system of a survey', () => {
    writeFileSync(join(root, 'away'), 'x');
    for (const name of ['notes.yaml', 'surveys/green-12.prj']) {
      symlinkSync(join(root, 'away'), join(folder, name));
      expect(() => loadCourse(folder)).toThrow(`"${name}" lies outside the course's folder`);
      expect(loadCourse(folder, { outside: true }).title).toBe('One small green');
      renameSync(join(folder, name), join(root, 'taken away'));
    }
  });

  it('a folder that is itself a link, or a way that leads out and back in, is inside', () => {
    symlinkSync(folder, join(root, 'linked'));
    rewrite('map: map.geojson', 'map: ../links/surveys/../map.geojson');
    expect(loadCourse(folder).holes).toHaveLength(1);
    expect(loadCourse(join(root, 'linked'), { outside: true }).holes).toHaveLength(1);
  });

  it('the command line allows it: one line and exit 2 without, the days told with', async () => {
    moveOut('surveys/green-12.csv');
    rewrite('survey: surveys/green-12.csv', `survey: ${join(root, 'away')}`);
    const argv = ['holes', folder, '--json'];
    const refused = await runCaptured(argv);
    expect([refused.code, refused.stdout]).toEqual([2, '']);
    expect(refused.stderr.trim().split('\n')).toHaveLength(1);
    const allowed = await runCaptured([...argv, '--outside']);
    expect([allowed.code, allowed.stderr]).toEqual([0, expect.any(String)]);
    const course = loadCourse(folder, { outside: true });
    expect(surveyedGreen(course, course.holes[0]).survey.file).toBe(join(root, 'away'));
  });
});
