import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deserialize } from 'node:v8';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  cacheLimit,
  clearCache,
  keep,
  keptFiles,
  openCache,
  recall,
} from '../../src/book/cache.js';
import { pack, unpack } from '../../src/book/packed-value.js';
import { runCaptured } from '../cli/run-captured.js';
import { writeTinyCourse } from '../cli/tiny-course.js';
import { writeTinyLayout } from '../cli/tiny-layout.js';
import { atDepth } from '../depth.js';

const KEY = 'a'.repeat(64);

/** Easting and northing of the point that lies nearest to the middle of a survey. */
const middleOfSurvey = (path: string): readonly [string, string] => {
  const [head, ...rows] = readFileSync(path, 'utf8')
    .split('\n')
    .filter((line) => line !== '' && !line.startsWith('#'))
    .map((line) => line.split(','));
  const columns = ['easting', 'northing'].map((name) => head.indexOf(name));
  const middle = columns.map(
    (c) => rows.reduce((sum, row) => sum + Number(row[c]), 0) / rows.length,
  );
  const off = (row: readonly string[]): number =>
    Math.hypot(...columns.map((c, i) => Number(row[c]) - middle[i]));
  const best = rows.reduce((a, b) => (off(b) < off(a) ? b : a));
  return [best[columns[0]], best[columns[1]]];
};

describe('a file of the cache', () => {
  const value = {
    numbers: Float64Array.of(0.1, -0, Number.MIN_VALUE, Infinity),
    bands: [{ from: 0.04, to: Infinity, text: 'Gull’s' }],
    none: null,
  };
  const bytes = Buffer.concat(pack(value, KEY));

  it('gives back what was put in, to the last bit', () => {
    const back = unpack(bytes, KEY) as typeof value;
    expect(back).toEqual(value);
    expect(new BigInt64Array(back.numbers.slice().buffer)).toEqual(
      new BigInt64Array(value.numbers.buffer),
    );
  });

  it('counts for nothing under another key', () => {
    expect(unpack(bytes, `b${KEY.slice(1)}`)).toBeNull();
  });

  it('counts for nothing with any one bit flipped', () => {
    for (let at = 0; at < bytes.length; at++) {
      const flipped = Buffer.from(bytes);
      flipped[at] ^= 1 << (at % 8);
      expect(unpack(flipped, KEY), `byte ${at}`).toBeNull();
    }
  });

  it('counts for nothing when cut short anywhere, or followed by more', () => {
    for (let length = 0; length < bytes.length; length++) {
      expect(unpack(bytes.subarray(0, length), KEY), `${length} bytes`).toBeNull();
    }
    expect(unpack(Buffer.concat([bytes, Buffer.of(0)]), KEY)).toBeNull();
  });

  it('counts for nothing when it is anything else', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (other) => {
        expect(unpack(Buffer.from(other), KEY)).toBeNull();
      }),
      { numRuns: 500, seed: 8 },
    );
  });
});

describe('a cache', () => {
  const folder = mkdtempSync(join(tmpdir(), 'runnel-cache-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('clears the parts of runs that were killed, and nothing else', () => {
    const dead = 2 ** 22 + 1;
    writeFileSync(join(folder, `1.fit.${dead}.runnel-part`), 'half');
    writeFileSync(join(folder, `2.fit.${process.pid}.runnel-part`), 'being written');
    writeFileSync(join(folder, 'a user’s file.part'), 'theirs');
    const cache = openCache(folder);
    expect(readdirSync(folder).sort().reverse()).toEqual([
      'a user’s file.part',
      `2.fit.${process.pid}.runnel-part`,
    ]);
    keep(cache, 'fit', KEY, [1, 2]);
    expect(recall(cache, 'fit', KEY)).toEqual([1, 2]);
    expect(recall(cache, 'putts', KEY)).toBeNull();
    expect(recall(cache, 'fit', `b${KEY.slice(1)}`)).toBeNull();
  });

  it('lets go of what is used least lately once it is over its bound, and of nothing that is not its own', () => {
    const own = mkdtempSync(join(folder, 'bound-'));
    const cache = openCache(own);
    const keys = ['1', '2', '3', '4'].map((digit) => digit.repeat(64));
    keys.forEach((key, i) => {
      keep(cache, 'reading', key, new Uint8Array(1000).fill(i));
      const used = new Date(1_700_000_000_000 + 1000 * i);
      utimesSync(
        keptFiles(own).find(({ path }) => path.includes(key.slice(0, 40)))!.path,
        used,
        used,
      );
    });
    mkdirSync(join(own, 'links'));
    writeFileSync(join(own, 'links', 'green-1.fit'), 'of an earlier program');
    utimesSync(
      join(own, 'links', 'green-1.fit'),
      new Date(1_600_000_000_000),
      new Date(1_600_000_000_000),
    );
    writeFileSync(join(own, 'notes.txt'), 'theirs'.repeat(1000));
    // The first is used again; what it holds is the newest then.
    expect(recall(cache, 'reading', keys[0])).not.toBeNull();
    const held = keptFiles(own).reduce((sum, { bytes }) => sum + bytes, 0);
    openCache(own, held);
    expect(keptFiles(own).length).toBe(5);
    openCache(own, 3000);
    const left = keys.filter((key) => recall(cache, 'reading', key) !== null);
    expect(left).toEqual([keys[0], keys[3]]);
    expect(keptFiles(own).reduce((sum, { bytes }) => sum + bytes, 0)).toBeLessThanOrEqual(2400);
    expect(readFileSync(join(own, 'notes.txt'), 'utf8')).toMatch(/^theirs/);
    clearCache(own);
    expect(readdirSync(own)).toEqual(['notes.txt']);
  });

  it('holds what the environment says, in megabytes', () => {
    expect(cacheLimit('64')).toBe(64 * 1024 ** 2);
    expect(cacheLimit(undefined)).toBe(cacheLimit(''));
    expect(() => cacheLimit('much')).toThrow('RUNNEL_CACHE_MB: "much" is no number of megabytes');
  });
});

describe('the cache of a course', () => {
  const root = mkdtempSync(join(tmpdir(), 'runnel-cached-'));
  const course = { root, folder: join(root, 'links'), out: join(root, 'out') };
  let layout: string;
  let fresh: Record<string, string>;
  const kept = (): string => join(course.out, '.cache');
  const productsIn = (out: string): Record<string, string> =>
    Object.fromEntries(
      readdirSync(join(out, 'links'))
        .filter((name) => name.endsWith('.pdf'))
        .map((name) => [name, readFileSync(join(out, 'links', name)).toString('base64')]),
    );
  /** A file that is written again is another on the disk. */
  const cacheFiles = (): Map<string, { readonly bytes: Buffer; readonly file: number }> =>
    new Map(
      readdirSync(kept()).map((name) => {
        const path = join(kept(), name);
        return [name, { bytes: readFileSync(path), file: statSync(path).ino }];
      }),
    );
  const kindsOf = (names: Iterable<string>): string[] =>
    [...names].map((name) => name.replace(/^.*\./, '')).sort();
  /** Kinds of the files that are there now and were not before. */
  const newSince = (before: ReadonlyMap<string, unknown>): string[] =>
    kindsOf([...cacheFiles().keys()].filter((name) => !before.has(name)));
  /** Under its own key; the same values may be written in other bytes. */
  const contentOf = (bytes: Buffer): unknown => {
    const content = unpack(bytes, bytes.toString('latin1').split('\n', 2)[1]);
    expect(content).not.toBeNull();
    // Packed pages hold the same numbers as whole ones or as fractions, as the engine had them.
    return content instanceof Map
      ? new Map(
          [...content].map(([key, value]) => [
            key,
            value instanceof Uint8Array && value[0] === 0xff ? deserialize(value) : value,
          ]),
        )
      : content;
  };
  const book = async (out: string): Promise<void> => {
    const { code, stderr } = await runCaptured([
      'book',
      course.folder,
      '--out',
      out,
      '--layout',
      layout,
    ]);
    expect(code, stderr).toBe(0);
  };

  beforeAll(async () => {
    writeTinyCourse(course.folder, '10ft');
    layout = writeTinyLayout(course.root);
    await book(course.out);
    fresh = productsIn(course.out);
  });
  afterAll(() => rmSync(root, { recursive: true, force: true }));

  it('holds a fit, a reading, a judgement and putts, and is not written again when nothing changed', async () => {
    const before = cacheFiles();
    expect(kindsOf(before.keys())).toEqual([
      'course',
      'drawn',
      'figures',
      'fit',
      'ground',
      'made',
      'pages',
      'putts',
      'reading',
      'settled',
      'shapes',
      'streams',
      // That early pages have passed, and what the run told.
      'told',
      'told',
      'worth',
    ]);
    await book(course.out);
    expect(cacheFiles()).toEqual(before);
    expect(productsIn(course.out)).toEqual(fresh);
  });

  it.each(['flipped', 'cut short', 'empty'])(
    'is made again when it is %s',
    { tags: 'long' },
    async (how) => {
      const before = cacheFiles();
      for (const [name, { bytes }] of before) {
        const damaged = Buffer.from(bytes);
        damaged[Math.floor(bytes.length * 0.6)] ^= 4;
        const written =
          how === 'flipped' ? damaged : bytes.subarray(0, how === 'empty' ? 0 : bytes.length >> 1);
        writeFileSync(join(kept(), name), written);
      }
      await book(course.out);
      expect(productsIn(course.out)).toEqual(fresh);
      for (const [name, { bytes }] of cacheFiles()) {
        expect(contentOf(bytes), name).toEqual(contentOf(before.get(name)!.bytes));
      }
    },
  );

  it('is stale when heights of the survey change, and the book is that of a first run', {
    tags: 'long',
  }, async () => {
    const survey = join(course.folder, 'surveys/green-12.csv');
    const text = readFileSync(survey, 'utf8');
    const lines = text.split('\n').map((line, k) => {
      const cells = line.split(',');
      if (k % 10 === 5) cells[3] = `${Number(cells[3]) + 0.04}`;
      return cells.join(',');
    });
    writeFileSync(survey, lines.join('\n'));
    const before = cacheFiles();
    await book(course.out);
    const other = join(course.root, 'other');
    await book(other);
    expect(productsIn(course.out)).toEqual(productsIn(other));
    expect(productsIn(course.out)).not.toEqual(fresh);
    expect(newSince(before)).toEqual([
      'course',
      'fit',
      'ground',
      'made',
      'putts',
      'reading',
      'told',
      'worth',
    ]);
    writeFileSync(survey, text);
  });

  // Four books; the keys of both have quick tests of their own.
  it.skipIf(atDepth(true, false))(
    'is stale when the course file tells a drain or the accuracy, and the book is that of a first run',
    { tags: 'deep' },
    async () => {
      const file = join(course.folder, 'course.yaml');
      const text = readFileSync(file, 'utf8');
      const [x, y] = middleOfSurvey(join(course.folder, 'surveys/green-12.csv'));
      for (const [told, madeAgain] of [
        [
          text.replace('    locations:', `    drains: [[${x}, ${y}]]\n    locations:`),
          ['course', 'made', 'reading', 'told'],
        ],
        [
          text.replace('unit: m }', 'unit: m, sigma: 0.05 }'),
          ['course', 'fit', 'ground', 'made', 'putts', 'reading', 'told', 'told', 'worth'],
        ],
      ] as const) {
        await book(course.out);
        const before = cacheFiles();
        writeFileSync(file, told);
        await book(course.out);
        const other = mkdtempSync(join(course.root, 'other-'));
        await book(other);
        writeFileSync(file, text);
        expect(productsIn(course.out)).toEqual(productsIn(other));
        expect(productsIn(course.out)).not.toEqual(fresh);
        expect(newSince(before)).toEqual(madeAgain);
      }
    },
  );

  it.each([
    ['a hole location', '{ on: 5, left: 4 }', '{ on: 6, left: 4 }', []],
    ['the green speed', 'greenSpeed: 10ft', 'greenSpeed: 11ft', ['putts']],
    ['what is printed against the judgement', 'printAs: tables', 'printAs: arrows', ['putts']],
  ])('is stale for the putts alone when the course file changes %s', async (_, was, is, putts) => {
    await book(course.out);
    const before = cacheFiles();
    const file = join(course.folder, 'course.yaml');
    const text = readFileSync(file, 'utf8');
    expect(text).toContain(was);
    writeFileSync(file, text.replace(was, is));
    await book(course.out);
    writeFileSync(file, text);
    expect(productsIn(course.out)).not.toEqual(fresh);
    expect(newSince(before)).toEqual(['course', 'made', ...putts, 'told']);
    await book(course.out);
    expect(productsIn(course.out)).toEqual(fresh);
  });

  it('is stale for the reading alone when the layout reads otherwise', async () => {
    await book(course.out);
    const before = cacheFiles();
    const text = readFileSync(layout, 'utf8');
    writeFileSync(layout, `${text}green: { contourInterval: 0.1 }\n`);
    await book(course.out);
    writeFileSync(layout, text);
    const after = cacheFiles();
    for (const [name, { bytes, file }] of before) {
      // What is set and what has passed is kept beside what was before.
      if (/\.(shapes|pages|streams|drawn)$/.test(name)) continue;
      const now = after.get(name);
      expect([now?.bytes.equals(bytes), now?.file], name).toEqual([true, file]);
    }
    expect(newSince(before)).toEqual(['course', 'made', 'reading', 'told']);
  });

  it('is shared by a copy of the course under another name', async () => {
    await book(course.out);
    const before = cacheFiles();
    const copy = join(course.root, 'a-copy');
    cpSync(course.folder, copy, { recursive: true });
    const { code } = await runCaptured(['book', copy, '--out', course.out, '--layout', layout]);
    expect(code).toBe(0);
    expect(newSince(before)).toEqual(['told']);
  });

  it('answers a putt as before while no file of the course changes, and no longer then', async () => {
    const [x, y] = middleOfSurvey(join(course.folder, 'surveys/green-12.csv')).map(Number);
    const putt = () =>
      runCaptured(
        `putt --course ${course.folder} --green 12 --out ${course.out} --stimp 10ft --json`
          .split(' ')
          .concat(['--hole', `${x},${y}`, '--from', `${x + 1.2},${y - 0.8}`]),
      );
    const first = await putt();
    expect(first.code, first.stderr).toBe(0);
    const before = cacheFiles();
    expect(await putt()).toEqual(first);
    expect(newSince(before)).toEqual([]);
    const file = join(course.folder, 'course.yaml');
    const text = readFileSync(file, 'utf8');
    writeFileSync(file, text.replace('printAs: tables', 'printAs: outline'));
    const refused = await putt();
    writeFileSync(file, text);
    expect([refused.code, refused.stdout]).toEqual([2, '']);
    // A green of that name is gone.
    writeFileSync(file, text.replace('- hole: 12', '- hole: 13'));
    expect((await putt()).code).toBe(2);
    writeFileSync(file, text);
    expect(await putt()).toEqual(first);
  });

  it('is told and cleared by a command', async () => {
    const asked = (...more: string[]) =>
      runCaptured(['cache', '--out', course.out, '--json', ...more]);
    const told = JSON.parse((await asked()).stdout);
    expect(told.files).toBe(cacheFiles().size);
    expect(told.kinds.fit.files).toBeGreaterThan(0);
    const cleared = JSON.parse((await asked('--clear')).stdout);
    expect(cleared.removed).toBe(told.files);
    expect(existsSync(kept())).toBe(false);
    expect(JSON.parse((await asked()).stdout).files).toBe(0);
    expect(productsIn(course.out)).toEqual(fresh);
  });
});
