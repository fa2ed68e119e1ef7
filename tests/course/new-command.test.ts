import { spawnSync } from 'node:child_process';
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
import { afterAll, describe, expect, test } from 'vitest';
import { loadCourse } from '../../src/course/load-course.js';
import { runCaptured } from '../cli/run-captured.js';
import { asOsmXml } from './osm-writer.js';

const demoMap = new URL('../../course-data/vellamoor/map.geojson', import.meta.url).pathname;
const root = mkdtempSync(join(tmpdir(), 'new-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const geoJson = readFileSync(demoMap, 'utf8');

describe('runnel new', () => {
  test('makes a course folder that loads, and lists what is missing per hole', async () => {
    const folder = join(root, 'fresh');
    const { code, stdout } = await runCaptured(['new', folder, '--map', demoMap]);
    expect(code).toBe(0);
    expect(stdout).toMatch(
      /^ {2}1 {2}Ferry Bell, par 4, 3 tees; missing: survey, hole locations$/m,
    );
    expect(stdout).toMatch(
      /^practice {2}Practice green; missing: bearing of the approach, survey, hole locations$/m,
    );
    const course = loadCourse(folder);
    expect(course.title).toBe('fresh');
    expect(course.holes.length).toBe(19);
    expect(course.holes[2].name).toBe('Salt Cup');
    expect(course.holes[2].par).toBe(3);
    expect(course.holes[2].strokeIndex).toBe(15);
    expect(course.holes.every((hole) => hole.green === null)).toBe(true);
    expect(readFileSync(join(folder, 'map.geojson'), 'utf8')).toBe(geoJson);
    const [first] = readFileSync(join(folder, 'course.yaml'), 'utf8').split('\n');
    const schema = first.replace(/.*\$schema=/, '');
    expect(existsSync(join(folder, schema))).toBe(true);
  });

  test('ends what a killed run left in the folder, and leaves nothing of its own', async () => {
    const folder = join(root, 'killed');
    mkdirSync(folder);
    const dead = spawnSync(process.execPath, ['-e', '']).pid;
    writeFileSync(join(folder, `map.geojson.${dead}.runnel-part`), '{"type":');
    // Killed as it renamed: its map has its place, picture and course are written beside theirs.
    writeFileSync(join(folder, 'map.geojson'), geoJson);
    writeFileSync(join(folder, `course.svg.${dead}.runnel-part`), '<svg/>');
    writeFileSync(join(folder, `course.yaml.${dead}.runnel-part`), 'title: half\n');
    const list = ['map.geojson', 'course.svg', 'course.yaml'];
    writeFileSync(join(folder, `.${dead}.runnel-set`), JSON.stringify(list));
    const again = await runCaptured(['new', folder, '--map', demoMap]);
    expect(again.code).toBe(2);
    expect(again.stderr).toContain('is there already');
    expect(readdirSync(folder).sort()).toEqual([...list].sort());
    expect(readFileSync(join(folder, 'course.yaml'), 'utf8')).toBe('title: half\n');
    for (const name of list) rmSync(join(folder, name));
    writeFileSync(join(folder, `course.yaml.${dead}.runnel-part`), 'title:');
    expect((await runCaptured(['new', folder, '--map', demoMap])).code).toBe(0);
    expect(readdirSync(folder).sort()).toEqual([...list].sort());
  });

  test('an OpenStreetMap extract, as JSON for a program', async () => {
    const osm = join(root, 'extract.osm');
    writeFileSync(osm, asOsmXml(geoJson));
    const folder = join(root, 'from-osm');
    const { code, stdout } = await runCaptured([
      'new',
      folder,
      '--map',
      osm,
      '--title',
      'Ærø "Links": 9',
      '--json',
    ]);
    expect(code).toBe(0);
    const said = JSON.parse(stdout) as { holes: { hole: string; tees: number }[]; findings: [] };
    expect(said.holes[0]).toMatchObject({ hole: '1', name: 'Ferry Bell', par: 4, tees: 3 });
    expect(said.findings).toEqual([]);
    expect(readdirSync(folder).sort()).toEqual(['course.svg', 'course.yaml', 'map.osm']);
    expect(loadCourse(folder).title).toBe('Ærø "Links": 9');
  });

  test('a map with gaps: each hole says what it lacks', async () => {
    const features = (
      JSON.parse(geoJson) as { features: { properties: Record<string, string> }[] }
    ).features.filter(
      ({ properties: p }) =>
        !(p.ref === '4' && p.golf === 'tee') && !(p.ref === '6' && p.golf === 'green'),
    );
    for (const { properties } of features) {
      if (properties.golf === 'hole' && properties.ref === '9') delete properties.par;
    }
    const file = join(root, 'gaps.geojson');
    writeFileSync(file, JSON.stringify({ type: 'FeatureCollection', features }));
    const { code, stdout } = await runCaptured(['new', join(root, 'gaps'), '--map', file]);
    expect(code).toBe(0);
    expect(stdout).toMatch(/^ {2}4 {2}Long Ebb, par 5, 0 tees; missing: tees, survey, hole/m);
    expect(stdout).toMatch(
      /^ {2}6 {2}Thrift Bank, par 4, 3 tees, doubtful; missing: green, survey, hole/m,
    );
    expect(stdout).toMatch(/^ {2}9 {2}Far Lantern, 3 tees; missing: par, survey, hole/m);
    expect(stdout).toMatch(
      /^hole\/4\/1: hole 4 has no tees and is measured from the start of its line; draw golf=tee at its start/m,
    );
    expect(stdout).toMatch(/^hole\/6\/1: hole 6 does not reach a green; end its line/m);
  });

  test('never overwrites', async () => {
    const folder = join(root, 'kept');
    expect((await runCaptured(['new', folder, '--map', demoMap])).code).toBe(0);
    writeFileSync(join(folder, 'course.yaml'), 'mine');
    const again = await runCaptured(['new', folder, '--map', demoMap]);
    expect(again.code).toBe(2);
    expect(again.stderr).toMatch(
      /^runnel: .*course\.yaml: is there already; nothing is overwritten.*\n$/,
    );
    expect(readFileSync(join(folder, 'course.yaml'), 'utf8')).toBe('mine');
    rmSync(join(folder, 'course.yaml'));
    writeFileSync(join(folder, 'map.geojson'), 'mine too');
    expect((await runCaptured(['new', folder, '--map', demoMap])).code).toBe(2);
    expect(readFileSync(join(folder, 'map.geojson'), 'utf8')).toBe('mine too');
    expect(existsSync(join(folder, 'course.yaml'))).toBe(false);
  });

  test('a map already in the folder is used where it lies', async () => {
    const folder = join(root, 'in-place');
    expect((await runCaptured(['new', folder, '--map', demoMap])).code).toBe(0);
    rmSync(join(folder, 'course.yaml'));
    rmSync(join(folder, 'course.svg'));
    const { code } = await runCaptured(['new', folder, '--map', join(folder, 'map.geojson')]);
    expect(code).toBe(0);
    expect(loadCourse(folder).holes.length).toBe(19);
  });

  test('a folder that is a file', async () => {
    const file = join(root, 'plain');
    writeFileSync(file, 'x');
    const { code, stderr } = await runCaptured(['new', file, '--map', demoMap]);
    expect(code).toBe(2);
    expect(stderr).toMatch(/plain: is a file; name a folder to make/);
    expect(readFileSync(file, 'utf8')).toBe('x');
  });

  test.each([
    ['a file that is not there', () => join(root, 'nowhere.geojson'), /there is no such file/],
    ['a folder', () => root, /is a folder/],
    [
      'a text that is no map',
      () => {
        const file = join(root, 'text.txt');
        writeFileSync(file, 'hello');
        return file;
      },
      /text\.txt, line 1, column 1: not valid JSON/,
    ],
  ])('%s: one line, exit 2, nothing made', async (_name, file, expected) => {
    const folder = join(root, 'none');
    const { code, stderr } = await runCaptured(['new', folder, '--map', file()]);
    expect(code).toBe(2);
    expect(stderr).toMatch(expected);
    expect(stderr.trim()).not.toContain('\n');
    expect(existsSync(folder)).toBe(false);
  });
});
