import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { TrustEntry } from '../../src/appraisal/worth.js';
import {
  buildCodeDigests,
  fitKey,
  programDigest,
  puttsKey,
  readingKey,
  wholeProgramDigest,
  worthKey,
} from '../../src/book/cache-keys.js';
import type { HolesRequest } from '../../src/book/green-job.js';
import type { Course, GreenSite } from '../../src/course/course.js';
import { loadCourse } from '../../src/course/load-course.js';
import { writeTinyCourse } from '../cli/tiny-course.js';

const SRC = fileURLToPath(new URL('../../src/', import.meta.url));
const ROOMS = ['survey', 'surface', 'terrain', 'putt', 'course', 'appraisal', 'event', 'book'];
const root = mkdtempSync(join(tmpdir(), 'runnel-keys-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

describe('the digest of the program', () => {
  const program = join(root, 'program', 'src');
  const at = (...path: string[]): string => join(root, 'program', ...path);
  const write = (path: string, text: string): void => {
    mkdirSync(join(path, '..'), { recursive: true });
    writeFileSync(path, text);
  };
  const manifest = (version: string, dependencies: Readonly<Record<string, string>> = {}): string =>
    JSON.stringify({ version, dependencies });
  beforeAll(() => {
    for (const room of ROOMS) cpSync(join(SRC, room), join(program, room), { recursive: true });
    for (const file of ['units.ts', 'geometry.ts', 'page/book-content.ts']) {
      cpSync(join(SRC, file), join(program, file), { recursive: true });
    }
    write(at('package.json'), manifest('1.0.0', { near: '^1.0.0' }));
    write(at('node_modules', 'near', 'package.json'), manifest('1.0.1', { far: '^2.0.0' }));
    write(at('node_modules', 'far', 'package.json'), manifest('2.0.1', { near: '^1.0.0' }));
  });

  /** The digest before, while and after a file holds something else. */
  const whileChanged = (path: string, text: string): void => {
    const own = readFileSync(path, 'utf8');
    const before = programDigest(program);
    writeFileSync(path, text);
    expect(programDigest(program), path).not.toBe(before);
    writeFileSync(path, own);
    expect(programDigest(program), path).toBe(before);
  };

  it.each([
    'units.ts',
    'geometry.ts',
    'survey/survey.ts',
    'survey/crs/plane.ts',
    'surface/fit.ts',
    'terrain/read-green.ts',
    'putt/table.ts',
    'page/book-content.ts',
    'course/course.schema.json',
    'appraisal/judge-survey.ts',
    'event/green-parts.ts',
    'book/green-job.ts',
  ])('changes with src/%s', (file) => {
    const path = join(program, file);
    whileChanged(path, `${readFileSync(path, 'utf8')}\n`);
  });

  it('changes with package.json', () => {
    whileChanged(at('package.json'), manifest('1.0.1', { near: '^1.0.0' }));
  });

  it('of a finished book changes with what draws pages, too, which no fit or putt depends on', () => {
    const path = join(program, 'print', 'ink.ts');
    write(path, 'export const INK = 1;');
    const before = [programDigest(program), wholeProgramDigest(program)];
    write(path, 'export const INK = 2;');
    expect(programDigest(program)).toBe(before[0]);
    expect(wholeProgramDigest(program)).not.toBe(before[1]);
    whileChanged(at('package.json'), manifest('1.0.2', { near: '^1.0.0' }));
  });

  it('changes with the lockfile, and without one with each package that is installed', () => {
    const without = programDigest(program);
    whileChanged(at('node_modules', 'near', 'package.json'), manifest('1.0.2', { far: '^2.0.0' }));
    whileChanged(at('node_modules', 'far', 'package.json'), manifest('2.0.2'));
    write(at('package-lock.json'), '{ "lockfileVersion": 3 }');
    expect(programDigest(program)).not.toBe(without);
    whileChanged(at('package-lock.json'), '{ "lockfileVersion": 4 }');
  });
});

describe('digests of the code that the build leaves', () => {
  const program = join(root, 'built', '.build');
  const code = join(program, 'units.ts');
  const told = join(program, 'code-digests.json');
  const both = (): string[] => [programDigest(program), wholeProgramDigest(program)];
  let read: string[];
  beforeAll(() => {
    cpSync(join(root, 'program', 'src'), program, { recursive: true });
    cpSync(join(root, 'program', 'package.json'), join(root, 'built', 'package.json'));
    read = both();
    buildCodeDigests(program);
  });

  it('are those of the code itself', () => {
    expect(both()).toEqual(read);
    expect(JSON.parse(readFileSync(told, 'utf8')).whole).not.toBe('');
  });

  it('are taken without reading the code, until it is compiled again', () => {
    const own = readFileSync(code, 'utf8');
    writeFileSync(code, `${own}\n`);
    expect(both()).toEqual(read);
    utimesSync(told, new Date(0), new Date(0));
    const [reading, whole] = both();
    expect(reading).not.toBe(read[0]);
    expect(whole).not.toBe(read[1]);
    writeFileSync(code, own);
    expect(both()).toEqual(read);
  });

  it('count for nothing where they are damaged', () => {
    writeFileSync(told, '{');
    expect(both()).toEqual(read);
  });
});

describe('the keys of a green', () => {
  let course: Course;
  let site: GreenSite;
  beforeAll(() => {
    writeTinyCourse(join(root, 'links'), '10ft');
    course = loadCourse(join(root, 'links'));
    site = course.holes.find(({ green }) => green !== null)!.green!;
  });

  it('the fit has another for each thing that a survey is read by', () => {
    const { survey } = site;
    const tie = { local: [0, 0], map: [0, 0] } as const;
    const others: Partial<GreenSite['survey']>[] = [
      { format: 'ascii-grid' },
      { crs: 'EPSG:32626' },
      { unit: 'ft' },
      { verticalUnit: 'us-ft' },
      { sigma: 0.007 },
      { columns: ['y', 'x', 'z'] },
      { tie: [tie, tie] },
    ];
    const keys = [{}, ...others].map((other) =>
      fitKey(course, { ...site, survey: { ...survey, ...other } }, 'program'),
    );
    expect(new Set(keys).size).toBe(keys.length);
  });

  it('the fit has another for another program, plane, outline, frame or other bytes of the survey', () => {
    const { plane, outline, frame } = site;
    const moved = outline.map(([x, y], k) =>
      k === 0 ? ([x + 0.1, y] as const) : ([x, y] as const),
    );
    const path = join(course.folder, site.survey.file);
    const own = readFileSync(path, 'utf8');
    const keyOf = (one: GreenSite): string => fitKey(course, one, 'program');
    const keys = [
      keyOf(site),
      fitKey(course, site, 'another'),
      keyOf({ ...site, plane: { ...plane, definition: `${plane.definition} +towgs84=0,0,1` } }),
      keyOf({ ...site, plane: { ...plane, name: `${plane.name} in feet` } }),
      keyOf({ ...site, outline: moved }),
      keyOf({ ...site, frame: { ...frame, origin: [frame.origin[0], frame.origin[1] + 1] } }),
      keyOf({ ...site, frame: { ...frame, forward: [frame.forward[1], frame.forward[0]] } }),
    ];
    writeFileSync(path, own.replace('16.', '17.'));
    keys.push(keyOf(site));
    writeFileSync(path, `${own}\n`);
    keys.push(keyOf(site));
    writeFileSync(path, own);
    expect(new Set(keys).size).toBe(keys.length);
    expect(keyOf(site)).toBe(keys[0]);
  });

  it('the putts have another for another fit, trust, length, pace and speed, and one for all places', () => {
    const asked: HolesRequest = {
      locations: [[1, 2]],
      stimps: [3],
      past: 0.3,
      lengths: [2, 4],
      regions: 'bends',
    } as unknown as HolesRequest;
    const keyOf = (more: object): string => puttsKey('fit', null, { ...asked, ...more });
    const keys = [
      keyOf({}),
      puttsKey('other', null, asked),
      puttsKey('fit', { use: 'arrows' } as unknown as TrustEntry, asked),
      keyOf({ stimps: [3.1] }),
      keyOf({ past: 0.4 }),
      keyOf({ lengths: [2, 5] }),
      keyOf({ regions: 'none' }),
      keyOf({ regions: 'lanes' }),
    ];
    expect(new Set(keys).size).toBe(keys.length);
    expect(keyOf({ locations: [[1, 2.1]] })).toBe(keys[0]);
  });

  it('the judgement has another for another fit and other units', () => {
    expect(
      new Set([worthKey('a', 'metric'), worthKey('a', 'imperial'), worthKey('b', 'metric')]).size,
    ).toBe(3);
  });

  it.each(['prj', 'csv.prj', 'tfw', 'wld', 'aux.xml', 'csv.aux.xml', 'csv.msk'])(
    'the fit has another when the file .%s beside the survey comes or changes',
    (ending) => {
      const path = join(course.folder, site.survey.file.replace(/csv$/, ending));
      const keys = [null, 'one', 'another'].map((text) => {
        if (text !== null) writeFileSync(path, text);
        return fitKey(course, site, 'program');
      });
      expect(new Set(keys).size).toBe(3);
      rmSync(path);
      expect(fitKey(course, site, 'program')).toBe(keys[0]);
    },
  );

  it('the reading has another for another fit and each way of reading', () => {
    const keys = [
      readingKey('fit', {}),
      readingKey('other', {}),
      readingKey('fit', { contourInterval: 0.1 }),
      readingKey('fit', { bandThresholds: [0.01, 0.02] }),
      readingKey('fit', { drains: [[1, 2]] }),
      readingKey('fit', { drains: [[1, 3]] }),
    ];
    expect(new Set(keys).size).toBe(keys.length);
  });
});
