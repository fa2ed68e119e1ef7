import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { Course } from '../../src/course/course.js';
import { geodesicDistance } from '../../src/course/geodesy.js';
import { linesOfCourse } from '../../src/course/hole-features.js';
import { holeFigures } from '../../src/course/hole-figures.js';
import { middleOf } from '../../src/course/hole-site.js';
import { loadCourse } from '../../src/course/load-course.js';
import { readNotes, withMeasured } from '../../src/event/notes-file.js';
import { pacesToMetres } from '../../src/units.js';
import { tidyCourse } from './untidy-course.js';
import { toDegrees, writtenAs } from './untidy-writers.js';

const root = mkdtempSync(join(tmpdir(), 'corrections-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const truth = tidyCourse({ seed: 41, holes: 9 });
writeFileSync(join(root, 'map.geojson'), writtenAs('geojson', truth));

const loaded = (...keys: string[]): Course => {
  const lines = ['title: Test', 'map: map.geojson', 'holes:', '  - hole: 1', '  - hole: 3'];
  const file = join(root, 'course.yaml');
  writeFileSync(file, [...lines, ...keys.map((key) => `    ${key}`), ''].join('\n'));
  return loadCourse(root);
};
const third = (course: Course) => course.holes[1].site;
const uids = (features: readonly { tags: Readonly<Record<string, string>> }[]) =>
  features.map((one) => one.tags.uid);
const middle = (uid: string): readonly [number, number] => {
  const { points } = truth.features.find((one) => one.tags.uid === uid)!;
  const sum = points.reduce(([x, y], p) => [x + p[0], y + p[1]], [0, 0]);
  return toDegrees([sum[0] / points.length, sum[1] / points.length]);
};

describe('a hole’s green, tees and line by the course file', () => {
  test('a green by id and by a point on it', () => {
    expect(third(loaded('green: g5')).green?.tags.uid).toBe('g5');
    expect(third(loaded(`green: [${middle('g5').join(', ')}]`)).green?.tags.uid).toBe('g5');
  });

  test('a green that is none is a fault at its key', () => {
    expect(() => loaded('green: g99')).toThrow(/no green with the id "g99".*or give a point/);
    expect(() => loaded('green: [7.9, 46.4]')).toThrow(/no green lies within 15 m/);
  });

  test('tees by id, by point, with a name, and where the map has none', () => {
    const [lon, lat] = middle('t32');
    const course = loaded(
      `tees: [t30, { name: White, at: [${lon}, ${lat}] }, [${lon}, ${lat + 0.0009}]]`,
    );
    const { tees } = third(course);
    expect(uids(tees)).toEqual(['t30', 't32', undefined]);
    expect(tees.map((tee) => tee.name)).toEqual(['Back', 'White', 'Tee 3']);
  });

  test('a line by id, and by its points, kept as given', () => {
    expect(third(loaded('line: h5')).lineId).toBe('h5');
    const corner = [7.2501, 46.1015];
    const points = [middle('t30'), corner, middle('g3')];
    const site = third(loaded(`line: ${JSON.stringify(points)}`));
    expect(site.line).toHaveLength(3);
    expect(site.line![1]).toEqual(corner);
    expect(site.green?.tags.uid).toBe('g3');
  });
});

describe('a correction that cannot be meant', () => {
  const told = (more: string): string[] =>
    loaded(more).findings.map(({ feature, problem }) => `${feature}: ${problem}`);
  const at = (uid: string, north = 0): string => {
    const [lon, lat] = middle(uid);
    return `[${lon}, ${lat + north}]`;
  };

  test('a tee on a green, its own or another, is refused at its key', () => {
    expect(() => loaded(`tees: [t30, ${at('g3')}]`)).toThrow(
      /holes\[1\]\.tees\[1\].*the tee lies on the green of hole 3.*where the hole begins/,
    );
    expect(() => loaded(`tees: [${at('g5')}]`)).toThrow(/the tee lies on the green of hole 5/);
  });

  test('a tee far from the line of the hole is refused, one beside it is not', () => {
    expect(() => loaded('tees: [t50]')).toThrow(/the tee lies \d+ m from the line of hole 3/);
    expect(() => loaded(`tees: [${at('t30', 0.045)}]`)).toThrow(
      /the tee lies \d{4} m from the line/,
    );
    expect(third(loaded(`tees: [${at('t30', 0.0009)}]`)).tees).toHaveLength(1);
  });

  test('a line from the green to the tee is refused', () => {
    const points = [middle('g3'), [7.2501, 46.1015], middle('t30')];
    expect(() => loaded(`line: ${JSON.stringify(points)}`)).toThrow(
      /holes\[1\]\.line.*begins on a green.*from the tee to the green/,
    );
  });

  test('a line far off, of no length, or with exchanged degrees is refused at its key, not at the map', () => {
    const from = middle('t30');
    const lineOf = (...points: readonly (readonly number[])[]) =>
      `line: ${JSON.stringify([from, ...points])}`;
    const at = /course\.yaml.*holes\[1\]\.line/;
    const refused = (points: string, why: RegExp): void => {
      expect(() => loaded(points)).toThrow(at);
      expect(() => loaded(points)).toThrow(why);
    };
    refused(lineOf([from[0], from[1] + 0.108]), /line\[1\].* lies 1[12] km from all that is on/);
    refused(lineOf([from[1], from[0]]), /latitude and longitude are exchanged/);
    refused(lineOf([from[0], 120]), /has no latitude/);
    refused(lineOf(from), /the line is 0 m long/);
    const back = middle('g3');
    refused(
      lineOf(...Array.from({ length: 41 }, (_, i) => (i % 2 === 0 ? back : from))),
      /the line is \d+ k?m long/,
    );
  });

  test('a tee by its distance, before the green and by a name that is free', () => {
    const { tees } = third(loaded('add:', '  - { kind: tee, from: green, on: 90, name: Red }'));
    expect(tees.map((tee) => tee.name)).toEqual(['Back', 'Club', 'Short', 'Red']);
    const away = geodesicDistance(middleOf(tees[3]), middle('g3'));
    expect(away).toBeCloseTo(pacesToMetres(90), 0);
    const more = loaded(
      'add:',
      '  - { kind: tee, on: 20, left: 8 }',
      '  - { kind: bunker, from: Tee 4, on: 50 }',
    );
    const figures = holeFigures(more, more.holes[1], linesOfCourse(more.map), null)!;
    const [fourth] = figures.tees.filter((tee) => tee.name === 'Tee 4');
    // 20 yards on from the rearmost tee: so much shorter, but for its step to the left.
    expect(figures.tees[0].length - fourth.length).toBeCloseTo(pacesToMetres(20), 0);
    const bunker = figures.hazards.find((one) => /measured/.test(one.feature.id))!;
    expect(bunker.along).toBeCloseTo(pacesToMetres(70), 0);
    const adding = (tee: string) => () => loaded('add:', `  - { kind: tee, ${tee} }`);
    expect(adding('on: 790')).toThrow(/holes\[1\]\.add\[0\].*past the green/);
    expect(adding('from: green, on: 15')).toThrow(/14 m before the middle of the green/);
    expect(adding('on: 10, name: back')).toThrow(/has a tee "back" already/);
  });

  test('what bears another hole’s number is taken, and told', () => {
    const of = /hole 3: the (green|line of play|tee) that the course file names bears the number 5/;
    expect(told('green: g5').filter((one) => of.test(one))).toHaveLength(1);
    expect(told('line: h5').filter((one) => of.test(one))).toHaveLength(1);
    expect(told('green: g3').filter((one) => of.test(one))).toEqual([]);
  });
});

describe('what was measured on the course', () => {
  const tee = middle('t30');
  const line = truth.features.find((one) => one.tags.uid === 'h3')!.points.map(toDegrees);
  const added = (course: Course, id: RegExp) => course.map.features.find((one) => id.test(one.id))!;

  test('paces on from the rearmost tee and beside the line', () => {
    const course = loaded('add:', '  - { kind: tree, on: 90, left: 20, name: "lone oak" }');
    const oak = added(course, /tree 1 measured on hole 3/);
    expect(oak).toMatchObject({ kind: 'tree', name: 'lone oak', refs: ['3'] });
    const away = geodesicDistance(middleOf(oak), tee);
    expect(away).toBeCloseTo(pacesToMetres(Math.hypot(90, 20)), 0);
    // Hole 3 is played to the north: its left is the west.
    expect(middleOf(oak)[0]).toBeLessThan(tee[0]);
  });

  test('a laser’s distance from a named tee, and back from the green', () => {
    const course = loaded(
      'add:',
      '  - { kind: bunker, from: Club, laser: 80, right: 12, size: 10 }',
      '  - { kind: landmark, from: green, on: 30, right: 5, name: gate }',
      '  - { kind: line, on: 60 }',
    );
    const club = middle('t31');
    const bunker = added(course, /bunker 1/);
    expect(geodesicDistance(middleOf(bunker), club)).toBeCloseTo(pacesToMetres(80), 0);
    expect(middleOf(bunker)[0]).toBeGreaterThan(line[0][0]);
    const gate = added(course, /landmark 2/);
    expect(geodesicDistance(middleOf(gate), middle('g3'))).toBeCloseTo(
      pacesToMetres(Math.hypot(30, 5)),
      0,
    );
    expect(middleOf(gate)[0]).toBeGreaterThan(middle('g3')[0]);
    expect(middleOf(gate)[1]).toBeLessThan(middle('g3')[1]);
    expect(added(course, /line 3/)).toMatchObject({ kind: 'path' });
  });

  test('two numbers that are no place on the hole, and words that say nothing of it', () => {
    const adding = (entry: string) => () => loaded('add:', `  - { ${entry} }`);
    expect(adding('kind: bunker, laser: 10, left: 40')).toThrow(
      /holes\[1\]\.add\[0\]: a straight distance of 10 is shorter than the 40 to the left/,
    );
    expect(adding('kind: bunker, on: 700')).toThrow(
      /add\[0\]: the place lies \d+ paces past the middle of the green/,
    );
    expect(adding('kind: tree, from: green, on: 700')).toThrow(
      /paces behind the start of the line/,
    );
    expect(adding('kind: line, on: 60, to: { on: 790 }')).toThrow(/add\[0\]\.to: the place lies/);
    expect(adding('kind: landmark, on: 700, name: mill')).not.toThrow();
    expect(adding('kind: bunker, on: 60, to: { on: 70 }')).toThrow(
      /add\[0\]\.to: a bunker has no other end; only a line has one/,
    );
    expect(adding('kind: tree, on: 60, date: 2026-02-30')).toThrow(
      /add\[0\]\.date: there is no day 2026-02-30/,
    );
    expect(adding('kind: tree, on: 60, date: "May 2026"')).not.toThrow();
    expect(adding('kind: tree, on: 60, laser: 70')).toThrow(/give one of on .* and laser/);
    expect(adding('kind: tree, on: 60, left: 3, right: 4')).toThrow(
      /at most one of left and right/,
    );
  });

  test('a tee that the hole has not', () => {
    expect(() => loaded('add:', '  - { kind: tree, from: Blue, on: 90 }')).toThrow(
      /holes\[1\]\.add\[0\]\.from.*no tee "Blue"; write tee, green, Back, Club, Short|no tee "Blue"/,
    );
  });

  test('the notes add what was measured on the round, with its date', () => {
    const course = loaded();
    const notes = readNotes(
      [
        'notes:',
        '  - hole: 3',
        '    text: Wind off the lake',
        '    measured:',
        '      - { kind: bunker, on: 100, left: 9, name: new bunker, date: "2026-05-01" }',
        '',
      ].join('\n'),
      'notes.yaml',
      course,
    );
    expect(notes.holes[0].text).toBe('Wind off the lake. new bunker measured 2026-05-01.');
    const drawn = withMeasured(course, notes);
    expect(third(drawn)).toBe(third(course));
    const tee = 'notes: [{ hole: 3, measured: [{ kind: tee, on: 12, name: Winter }] }]';
    const winter = withMeasured(course, readNotes(tee, 'notes.yaml', course));
    expect(third(winter).tees.map((one) => one.name)).toContain('Winter');
    expect(drawn.map.features.length).toBe(course.map.features.length + 1);
    expect(added(drawn, /by the notes/).tags['survey:date']).toBe('2026-05-01');
  });
});
