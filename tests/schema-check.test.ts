import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { ErrorObject } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { schemasOfReaders } from '../src/checked-yaml.js';
import { buildSchemaChecks, schemaCheck } from '../src/schema-check.js';
import '../src/course/course-file.js';
import '../src/event/notes-file.js';
import '../src/event/rolls-file.js';
import '../src/layout/load-layout.js';
import '../src/page/words/read-words.js';

const folder = mkdtempSync(join(tmpdir(), 'runnel-schemas-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Values of many shapes, most of them wrong for most schemas. */
const VALUES: readonly unknown[] = [
  ...[null, 1, 'text', [], {}, { title: 3 }, { title: 'Links', map: 'map.geojson' }],
  { title: 'Links', map: 'map.geojson', holes: [{ hole: 1, par: 2.5 }, { hole: {} }, {}] },
  {
    title: 'Links',
    map: 'm',
    holes: [{ hole: 1, locations: { A: { on: 'x', left: 1, right: 2 } } }],
  },
  { name: 'own', page: { width: -1 }, use: 'sale', unknown: true },
  { holes: [{ hole: 1, putts: [{ from: [1] }], felt: 'much' }] },
  { rolls: [{ from: [0, 0], to: ['a', 1] }] },
  { publisher: 4, isbn: ['1'] },
];

const told = (errors: readonly ErrorObject[] | null | undefined): unknown =>
  (errors ?? []).map(({ keyword, instancePath, params, message, data, parentSchema }) => [
    ...[keyword, instancePath, params, message, data],
    parentSchema?.description,
  ]);

describe('schemas compiled ahead', () => {
  beforeAll(() => buildSchemaChecks(schemasOfReaders(), folder));

  it('has one for each reader of files', () => {
    expect(schemasOfReaders().length).toBeGreaterThanOrEqual(6);
    expect(readdirSync(folder)).toHaveLength(schemasOfReaders().length);
  });

  it('find what the schemas find that are compiled when they are asked for', () => {
    let faults = 0;
    for (const schema of schemasOfReaders()) {
      const [ahead, now] = [folder, join(folder, 'none')].map((at) => schemaCheck(schema, at));
      for (const value of VALUES) {
        expect(ahead(value)).toBe(now(value));
        expect(told(ahead.errors)).toEqual(told(now.errors));
        faults += now.errors?.length ?? 0;
      }
    }
    expect(faults).toBeGreaterThan(100);
  });

  it('are what is run, each for its own schema alone', () => {
    const [name] = readdirSync(folder);
    const own = readFileSync(join(folder, name), 'utf8');
    const other = mkdtempSync(join(folder, 'other-'));
    writeFileSync(join(other, name), 'module.exports = () => { throw new Error("run"); };');
    const isRun = (schema: object): boolean => {
      try {
        schemaCheck(schema, other)({});
        return false;
      } catch {
        return true;
      }
    };
    const found = schemasOfReaders().filter(isRun);
    expect(own).toContain('validate');
    expect(found).toHaveLength(1);
  });
});
