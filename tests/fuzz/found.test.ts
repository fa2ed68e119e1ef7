import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deflateSync } from 'node:zlib';
import { PDFDocument, PDFName, PDFRawStream } from 'pdf-lib';
import { describe, expect, it, vi } from 'vitest';
import { appraise } from '../../src/appraisal/appraise.js';
import { readEarlierEdition } from '../../src/book/earlier-edition.js';
import { transformOf } from '../../src/book/logo/svg-transform.js';
import { requireOwnFolder } from '../../src/book/made-sets.js';
import { sweep } from '../../src/book/write-beside.js';
import { contentBytes } from '../../src/check/content-bytes.js';
import { parseJson } from '../../src/checked-json.js';
import { lengthArgument } from '../../src/cli/lengths.js';
import { say } from '../../src/cli/output.js';
import { readMap } from '../../src/course/read-map.js';
import { readDayFile } from '../../src/event/day-file.js';
import { InputFault } from '../../src/fault.js';
import { INPUT_LIMITS } from '../../src/input-limits.js';
import { parseWords } from '../../src/page/words/read-words.js';
import { heightsOfFalls } from '../../src/survey/heights-of-falls.js';
import { readSurvey } from '../../src/survey/read-survey.js';
import { runCaptured } from '../cli/run-captured.js';
import { writeTinyCourse } from '../cli/tiny-course.js';
import { LIMITS, uncleanIn } from './judge.js';

/** What the fuzzer has found, each as small as it may be. */

const found = (name: string): URL => new URL(`found/${name}`, import.meta.url);

/** What is told of a refusal, and milliseconds of work until then. */
const refusal = async (read: () => unknown): Promise<{ words: string; work: number }> => {
  const start = process.cpuUsage();
  const words = await Promise.resolve()
    .then(read)
    .then(
      () => 'read',
      (error: unknown) => (error instanceof InputFault ? error.message : `ours: ${error}`),
    );
  const { user, system } = process.cpuUsage(start);
  return { words, work: (user + system) / 1000 };
};

describe('what the fuzzer has found', () => {
  it('refuses a line of a sheet that is far too long at once', async () => {
    const long = `1  12 on  5 lef ${' '.repeat(85_000)}\n2, 7, 4R\n`;
    for (const text of [long, `${'1 2 '.repeat(20_000)}\n`]) {
      const { words, work } = await refusal(() => readDayFile(text, 'days.csv', { day: 1 }));
      expect(words).toMatch(/days\.csv, line 1: \d+ characters; a line names one hole location/);
      expect(work).toBeLessThan(1000);
    }
  });

  it("tells a line of a sheet with a mark of its own as the user's words", async () => {
    const sheet = '1: 12 on 5 left\n2: 7 on 4 right\n3: 4 from ", 3 m {} NaN\n';
    const { words } = await refusal(() => readDayFile(sheet, 'days.csv', { day: 1 }));
    expect(words).toContain(`"3: 4 from ', 3 m {} NaN" is no hole location`);
    expect(uncleanIn(words)).toBeNull();
  });

  it('refuses packed points of records that no survey has before it unpacks them', async () => {
    const bytes = new Uint8Array(readFileSync(found('long-records.laz')));
    const { words, work } = await refusal(() => readSurvey(bytes, { source: 'x.laz' }));
    expect(words).toMatch(
      /x\.laz, compressed points: a point of 32532 bytes;.*the file is damaged/,
    );
    expect(work).toBeLessThan(2500);
  });

  it('reads damaged packed points alike wherever the program lies', async () => {
    // Its decoder keeps the program's path before the points, and read on past them into its memory.
    const bytes = new Uint8Array(readFileSync(found('past-its-end.laz')));
    const own = process.argv[1];
    const told: string[] = [];
    for (const path of ['a', `/${'long/'.repeat(30)}path`, own]) {
      process.argv[1] = path;
      told.push((await refusal(() => readSurvey(bytes, { source: 'x.laz', unit: 'm' }))).words);
    }
    expect(new Set(told).size).toBe(1);
    expect(told[0]).toMatch(/x\.laz, point \d+: the position .* lies far outside the box/);
  });

  it('refuses XML of a declaration that goes on and on at once', async () => {
    const long = `<!${'\n'.repeat(60_000)}-- a note --><`;
    const [land, map] = [`${long}LandXML/>`, `<?xml version="1.0"?>${long}osm/>`];
    const bytes = new TextEncoder().encode(land);
    for (const read of [
      () => readSurvey(bytes, { source: 'x.xml' }),
      () => readMap(map, 'x.osm'),
    ]) {
      const { words, work } = await refusal(read);
      expect(words).toMatch(/^x\.\w+, line \d+: the XML is not well formed;.*damaged/);
      expect(work).toBeLessThan(1000);
    }
  });

  it('judges a strip too narrow to hold a place that is looked at', async () => {
    const rows = Array.from({ length: 120 }, (_, k) => {
      const [x, y] = [0.25 * (k % 40), 0.15 * Math.floor(k / 40)];
      return `${x.toFixed(2)},${y.toFixed(2)},${(0.02 * x + 0.004 * Math.sin(7 * k)).toFixed(3)}`;
    });
    const bytes = new TextEncoder().encode(`x,y,z\n${rows.join('\n')}\n`);
    const survey = await readSurvey(bytes, { source: 'strip.csv', unit: 'm' });
    const words = (value: number): string => `${value.toFixed(3)} m`;
    const { verdict } = appraise(survey, {
      outline: null,
      drains: [],
      length: words,
      small: words,
    });
    expect(verdict.use).toBe('outline');
    const told = JSON.stringify(verdict);
    expect(told).toContain('0 %');
    expect(told).not.toMatch(/NaN|Infinity/);
  });

  it('quotes a key of several words that stands in the place of a fault', () => {
    const read = (): unknown => parseWords('words:NaN a.b: x\n', 'words.yaml');
    expect(read).toThrow(/^words\.yaml, line 1, "words:NaN a\.b": unknown key/);
  });

  it('says what an image lacks in words of its own', async () => {
    const bytes = new Uint8Array(readFileSync(found('no-bits.tif')));
    const { words } = await refusal(() => readSurvey(bytes, { source: 'x.tif', unit: 'm' }));
    expect(words).toContain('does not say of how many bits');
    const other = new Uint8Array(readFileSync(found('no-format.tif')));
    const said = await refusal(() => readSurvey(other, { source: 'x.tif', unit: 'm' }));
    expect(said.words).toContain('samples of 32 bits in an unknown format are not read');
    const packed = new Uint8Array(readFileSync(found('no-compression.tif')));
    const third = await refusal(() => readSurvey(packed, { source: 'x.tif', unit: 'm' }));
    expect(third.words).toContain('its compression is no number');
  });

  it('says nothing in the words of the PDF library', async () => {
    const warn = vi.spyOn(console, 'warn');
    const path = decodeURIComponent(found('large-number.pdf').pathname);
    const { words } = await refusal(() =>
      readEarlierEdition(path, { folder: 'bound', layout: 'a6' }),
    );
    expect(uncleanIn(words)).toBeNull();
    expect(warn).not.toHaveBeenCalled();
    warn.mockRestore();
  });

  it('quotes of a list what holds quotation marks so that it stays one quotation', async () => {
    const cut = '{"pages":[["cove\u001b[31m","NaN","x"]]}';
    const { words } = await refusal(() => parseJson(cut, 'books.json'));
    expect(words).toMatch(/: "[^"]+" stands where /);
    expect(uncleanIn(words)).toBeNull();
  });

  it('carries heights between places by hand that no pace tells apart', () => {
    const at = (y: number) => ({ at: [1, y] as const, gradient: [0.01, 0.02] as const });
    const { heights, sigma } = heightsOfFalls([at(2), at(6), at(6.00000016), at(10)], 0.004);
    [0, 0.08, 0.08, 0.16].forEach((height, i) => {
      expect(heights[i]).toBeCloseTo(height, 4);
    });
    expect(sigma).toBeGreaterThan(0.001);
    expect(sigma).toBeLessThan(0.1);
  });

  it('keeps a message short where file, place, problem and cure are all long', () => {
    const long = 'words '.repeat(100);
    const { message } = new InputFault({ file: long, place: long }, long, long);
    expect(message.length).toBeLessThanOrEqual(LIMITS.message);
    expect(message).toMatch(/^words .*; words/);
  });

  it('takes a full stop in an option for what it is, and quotes a hole that is no number', async () => {
    const dotted = await runCaptured(['holes', 'course-data/vellamoor', '--locations.x', 'y']);
    expect([dotted.code, uncleanIn(dotted.stderr.trim())]).toEqual([2, null]);
    expect(dotted.stderr).toContain('not known: "locations.x"');
    const none = await runCaptured(['green', 'course-data/vellamoor', 'NaN', '--out', 'none']);
    expect(none.code).toBe(2);
    expect(none.stderr).toContain('has no hole "NaN"');
  });

  it('quotes a word that holds a quotation mark so that it stays one quotation', async () => {
    const grid = 'ncols 2\nnrows 2\nxllcorner 0\nyllcorner "[NaN\ncellsize 1\n1 2\n3 4\n';
    const { words } = await refusal(() =>
      readSurvey(new TextEncoder().encode(grid), { source: 'x.asc', unit: 'm' }),
    );
    expect(words).toContain('yllcorner "\'[NaN" is not a number');
    expect(uncleanIn(words)).toBeNull();
  });

  it('quotes a hole of the course file that is no number and not on the map', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'runnel-found-'));
    writeTinyCourse(folder, '10 ft');
    const file = join(folder, 'course.yaml');
    writeFileSync(file, readFileSync(file, 'utf8').replace('hole: 12', 'hole: NaN'));
    const { code, stderr } = await runCaptured(['holes', folder]);
    rmSync(folder, { recursive: true });
    expect(code).toBe(2);
    expect(stderr).toContain('a green for hole "NaN"; give');
    expect(uncleanIn(stderr.trim())).toBeNull();
  });

  it('reads or refuses at once what a pattern would take the square or the cube of', async () => {
    const spaces = ' '.repeat(60_000);
    const feature = (properties: object) => ({
      ...{ type: 'Feature', properties },
      geometry: {
        type: 'LineString',
        coordinates: [
          [0, 50],
          [0.004, 50],
        ],
      },
    });
    const map = (properties: object): string =>
      JSON.stringify({ type: 'FeatureCollection', features: [feature(properties)] });
    const packed = `"golf"=>"hole","${'\\"'.repeat(60_000)}`;
    const cases: readonly [RegExp, () => unknown][] = [
      [
        /is no transform/,
        () => {
          if (transformOf(`translate(1,1)${spaces}x`) === null)
            throw new InputFault({}, 'is no transform');
        },
      ],
      [/not a length over zero/, () => lengthArgument('--past', `12${spaces}!`, 'ft')],
      [
        /begins like JSON/,
        () =>
          readSurvey(new TextEncoder().encode(`{"a":1}${'\n'.repeat(60_000)}!`), { source: 'x' }),
      ],
      [
        /its name has 60007 characters; .* 255 at most/,
        () => readMap(map({ golf: 'hole', name: `Hole 7${spaces}!` }), 'x'),
      ],
      [/^read$/, () => readMap(map({ other_tags: packed }), 'x')],
    ];
    for (const [expected, read] of cases) {
      const { words, work } = await refusal(read);
      expect(words).toMatch(expected);
      expect(work).toBeLessThan(1500);
    }
    const said = await runCaptured(['speed', '--up', 'x'.repeat(5_000), '--down', '1']);
    expect([said.code, said.stderr]).toEqual([
      2,
      expect.stringContaining('a word of 5000 characters'),
    ]);
  });

  it('tells the fault of a JSON text of twenty million letters', async () => {
    const { words } = await refusal(() => parseJson(`["${'a'.repeat(20_000_000)}`, 'x.json'));
    expect(words).toMatch(/x\.json, line 1, column 2: not valid JSON/);
  });

  it('refuses places that are none and relations in a circle in an Overpass answer', async () => {
    const answer = (...elements: object[]): string => JSON.stringify({ elements });
    const way = { type: 'way', id: 2, tags: { golf: 'hole', ref: '1' } };
    const green = { type: 'relation', id: 3, tags: { golf: 'green', type: 'multipolygon' } };
    const own = { type: 'relation', ref: 3, role: 'outer' };
    const chain = Array.from({ length: 20_000 }, (_, i) => ({
      ...{ ...green, id: 3 + i },
      members: [{ ...own, ref: 4 + i }],
    }));
    const cases: readonly [string, RegExp][] = [
      [
        answer({ ...way, geometry: [null, { lat: 50, lon: 0 }] }),
        /place 1 of its geometry has no lat/,
      ],
      [
        answer({ ...green, members: [{ type: 'way', ref: 2, role: 'outer', geometry: {} }] }),
        /geometry of member 1 is no list/,
      ],
      [answer({ ...green, members: [own] }), /relation\/3: relations stand in a circle/],
      [answer(...chain), /relations stand in a circle, or more than 64 deep/],
    ];
    for (const [text, expected] of cases) {
      expect((await refusal(() => readMap(text, 'x.json'))).words).toMatch(expected);
    }
  });

  it('unpacks of a stream of a PDF no more than a page may hold', { tags: 'long' }, async () => {
    const document = await PDFDocument.create();
    const page = document.addPage([200, 100]);
    const much = deflateSync(Buffer.alloc(INPUT_LIMITS.pdfStream + 1, ' '));
    for (const [bytes, filter] of [
      [much, ['FlateDecode']],
      [deflateSync(much), ['FlateDecode', 'FlateDecode']],
    ] as const) {
      const stream = PDFRawStream.of(document.context.obj({ Filter: [...filter] }), bytes);
      page.node.set(PDFName.of('Contents'), document.context.register(stream));
      expect(() => contentBytes(page.node)).toThrow(/a stream holds over \d+ bytes/);
    }
  });

  it('waits for no pipe where a folder of products keeps its own files, and says names on one line', () => {
    const folder = mkdtempSync(join(tmpdir(), 'runnel-pipe-'));
    for (const name of ['.runnel-made', '.4194305.runnel-set']) {
      expect(spawnSync('mkfifo', [join(folder, name)]).status).toBe(0);
    }
    requireOwnFolder(folder, { title: 'Links', at: null, outlines: [] });
    sweep(folder);
    expect(readdirSync(folder)).toEqual(['.runnel-made']);
    rmSync(folder, { recursive: true });
    const write = vi.spyOn(process.stderr, 'write').mockReturnValue(true);
    say('wrote \u0007bad\nname\u202e');
    expect(write.mock.lastCall?.[0]).toBe('wrote \ufffdbad\ufffdname\ufffd\n');
    write.mockRestore();
  });
});
