import { readFileSync } from 'node:fs';
import { deflateSync } from 'node:zlib';
import { expect, it, vi } from 'vitest';
import { InputFault } from '../../src/fault.js';
import { readSurvey } from '../../src/survey/read-survey.js';
import { bytesInMemory } from '../../src/survey/readers/byte-source.js';
import { readLasHeader } from '../../src/survey/readers/las-header.js';
import { tiff as grid, workbook, zip } from './foreign-binaries.js';
import { writeLas, writeLaz } from './las-writer.js';
import { writeLayeredLaz } from './laz14-writer.js';

/** Headers that promise ten billion cells or points must not cost memory or time. */

const tiff = (): { bytes: Uint8Array; view: DataView } => {
  const bytes = new Uint8Array(
    readFileSync(new URL('recorded/strips-float32.tif', import.meta.url)),
  ).slice();
  return { bytes, view: new DataView(bytes.buffer) };
};

/** Sets a field of the first directory to one 32-bit number. */
const setField = (view: DataView, tag: number, value: number, count = 1): void => {
  const at = view.getUint32(4, true);
  for (let k = 0; k < view.getUint16(at, true); k++) {
    const entry = at + 2 + 12 * k;
    if (view.getUint16(entry, true) !== tag) continue;
    view.setUint16(entry + 2, 4, true);
    view.setUint32(entry + 4, count, true);
    view.setUint32(entry + 8, value, true);
    return;
  }
  throw new Error(`no field ${tag}`);
};

const points = Array.from({ length: 50 }, (_, k) => ({ x: k, y: 2 * k, z: 1, group: 2 }));

const cases: [string, () => Uint8Array, RegExp][] = [
  [
    'a GeoTIFF of 100 000 x 100 000 cells',
    () => {
      const { bytes, view } = tiff();
      setField(view, 256, 100_000);
      setField(view, 257, 100_000);
      return bytes;
    },
    /cells are more than this program looks at|damaged/,
  ],
  [
    'a GeoTIFF whose strip holds them all',
    () => {
      const { bytes, view } = tiff();
      setField(view, 256, 100_000);
      setField(view, 257, 100_000);
      setField(view, 278, 100_000);
      return bytes;
    },
    /a block of 100000 x 100000 cells/,
  ],
  [
    'a GeoTIFF with four billion strips',
    () => {
      const { bytes, view } = tiff();
      setField(view, 273, 8, 0xffff_ffff);
      return bytes;
    },
    /field 273 reaches past the end/,
  ],
  [
    'a LAS file of four billion points',
    () => {
      const bytes = writeLas(points);
      new DataView(bytes.buffer).setUint32(107, 0xffff_ffff, true);
      return bytes;
    },
    /4294967295 points of 20 bytes are promised/,
  ],
  [
    'a LAZ file of four billion points',
    () => {
      const bytes = writeLaz(points);
      new DataView(bytes.buffer).setUint32(107, 0xffff_ffff, true);
      return bytes;
    },
    /1 chunk for 4294967295 points/,
  ],
  [
    'an ASCII grid of ten billion cells',
    () =>
      new TextEncoder().encode(
        'ncols 100000\nnrows 100000\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2 3 4\n',
      ),
    /the header promises 100000 x 100000 values/,
  ],
];

it.each(cases)('%s', async (_, make, message) => {
  const before = process.resourceUsage().maxRSS;
  const error = await readSurvey(make(), { source: 'huge' }).catch((e: unknown) => e);
  expect(error).toBeInstanceOf(InputFault);
  expect((error as InputFault).message).toMatch(message);
  expect(process.resourceUsage().maxRSS - before).toBeLessThan(100 * 1024);
});

it.each(['\n', ' ', '9', '"', '0\n', '# \n', '<', '- '])(
  'a text that says %j again and again is told at once',
  async (again) => {
    const row = '1,5712302.631,512368.927,169.83\n';
    for (const at of [0, 45]) {
      const text = row.repeat(4);
      const bytes = new TextEncoder().encode(
        text.slice(0, at) + again.repeat(60_000) + text.slice(at),
      );
      const start = process.cpuUsage();
      await readSurvey(bytes, { source: 'long' }).catch((error: unknown) => {
        expect(error).toBeInstanceOf(InputFault);
      });
      expect(process.cpuUsage(start).user).toBeLessThan(2_000_000);
    }
  },
);

const DIGITS = '1'.repeat(30_000);
const SPACES = ' '.repeat(200_000);
const ROWS = Array.from({ length: 20 }, (_, k) => `${1000 + k},${2000 + k},${k / 10}`).join('\n');
const HEAD = 'element vertex 1\nproperty double x\nproperty double y\nproperty double z\n';

it.each([
  ['digits of a point', `x,y,z\n${DIGITS},2,3\n${ROWS}`],
  ['digits in quotes', `x,y,z\n"${DIGITS}",2,3\n${ROWS}`],
  ['spaces between names', `x${SPACES}y${SPACES}z\n${ROWS}`],
  ['spaces before names', `${SPACES}x,y,z\n${ROWS}`],
  ['spaces before points', `${ROWS}\n${SPACES}1,2,3`],
  ['spaces in a comment', `#${SPACES}\n${ROWS}`],
  ['spaces in a line of units', `Units:${SPACES}m\n${ROWS}`],
  ['marks of quotation', `x,y,z\n${'"'.repeat(9000)}\n${ROWS}`],
  ['names of names', `${'Northing '.repeat(200)},E,Z\n${ROWS}`],
  ['spaces in a grid', `ncols${SPACES}4\nnrows 3\n`],
  ['digits of a grid', `ncols ${DIGITS}\nnrows 3\n`],
  ['comments of a grid', `${'#\n'.repeat(100_000)}ncols 4\n`],
  [
    'digits of a drawing',
    `0\nSECTION\n2\nENTITIES\n0\nPOINT\n8\nA\n10\n${DIGITS}\n20\n2\n30\n3\n0\nEOF\n`,
  ],
  [
    'spaces of a drawing',
    `0\nSECTION\n2\nENTITIES\n0\nPOINT\n8\n${SPACES}\n10\n1\n20\n2\n30\n3\n0\nEOF\n`,
  ],
  ['digits of a feature', `{"type":"Point","coordinates":[${DIGITS},2,3]}`],
  ['brackets of a feature', `{"type":"Point","coordinates":${'['.repeat(50_000)}`],
  ['digits of a scan', `ply\nformat ascii 1.0\n${HEAD}end_header\n1 ${DIGITS} 3\n`],
  ['spaces of a scan', `ply\nformat ascii 1.0${SPACES}\n${HEAD}end_header\n1 2 3\n`],
  ['spaces of a surface', `<LandXML><Surfaces><Surface name="${SPACES}"/></Surfaces></LandXML>`],
  ['comments of a surface', `<?xml version="1.0"?>${SPACES}${'<!--'.repeat(2000)}<LandXML/>`],
])('%s without end are told or passed over at once', async (_, text) => {
  const start = process.cpuUsage();
  await readSurvey(new TextEncoder().encode(text), { source: 'long' }).catch((error: unknown) => {
    expect(error).toBeInstanceOf(InputFault);
    expect((error as InputFault).message).toMatch(/^[^\n\r]{10,320}$/);
  });
  expect(process.cpuUsage(start).user).toBeLessThan(2_000_000);
});

it.each([
  `PROJCS["a",${SPACES}UNIT["m",${DIGITS}]]`,
  `PROJCS[${'"'.repeat(200_000)}`,
  'UNIT['.repeat(40_000),
])('a system beside a survey without end (%#) is passed over at once', async (prj) => {
  const start = process.cpuUsage();
  const bytes = new TextEncoder().encode(`x,y,z\n${ROWS}`);
  await readSurvey(bytes, { source: 'f', beside: { prj } }).catch((error: unknown) => {
    expect(error).toBeInstanceOf(InputFault);
  });
  expect(process.cpuUsage(start).user).toBeLessThan(2_000_000);
});

/** The grid of the tests with its one strip packed: compression 8 is Deflate (TIFF technical note 2). */
const packedGrid = (strip: Uint8Array): Uint8Array => {
  const bytes = Buffer.from(grid({}));
  const at = bytes.readUInt32LE(4);
  for (let k = 0; k < bytes.readUInt16LE(at); k++) {
    const entry = at + 2 + 12 * k;
    const tag = bytes.readUInt16LE(entry);
    if (tag === 259) bytes.writeUInt16LE(8, entry + 8);
    if (tag === 273) bytes.writeUInt32LE(bytes.length, entry + 8);
    if (tag === 279) bytes.writeUInt32LE(strip.length, entry + 8);
  }
  return new Uint8Array(Buffer.concat([bytes, strip]));
};

it.each([
  ['a strip of a GeoTIFF', packedGrid(deflateSync(Buffer.alloc(200 << 20))), /damaged|block/],
  [
    'a sheet of a workbook',
    zip({
      'xl/workbook.xml':
        '<workbook xmlns:r="r"><sheets><sheet name="A" sheetId="1" r:id="rId1"/></sheets></workbook>',
      'xl/_rels/workbook.xml.rels':
        '<Relationships><Relationship Id="rId1" Target="worksheets/sheet1.xml"/></Relationships>',
      'xl/worksheets/sheet1.xml': new Uint8Array(49 << 20),
    }),
    /the workbook is damaged; save it again/,
  ],
])('%s that unpacks without end is refused before it fills the memory', async (_, bytes, words) => {
  const before = process.resourceUsage().maxRSS;
  await expect(readSurvey(bytes, { source: 'bomb' })).rejects.toThrow(words);
  expect(process.resourceUsage().maxRSS - before).toBeLessThan(60 * 1024);
});

it.each([
  ['more than a sheet holds', 0x2000_0000, /longer than 256 MB, unpacked; save the sheet as CSV/],
  [
    'less than is unpacked',
    40,
    /"xl.worksheets.sheet1.xml" has another length than the archive says/,
  ],
])('a workbook whose directory promises %s', async (_, length, words) => {
  const name = 'xl/worksheets/sheet1.xml';
  const bytes = Buffer.from(
    workbook({ A: [['N', 'E', 'Z'], ...points.map((p) => [p.y, p.x, p.z])] }),
  );
  // The name stands at 46 bytes of its entry in the directory, behind all files; the length unpacked at 24.
  bytes.writeUInt32LE(length, bytes.lastIndexOf(name) - 46 + 24);
  await expect(readSurvey(new Uint8Array(bytes), { source: 'x' })).rejects.toThrow(words);
});

it('a damaged packed cloud is told by one line, in little time and memory', {
  tags: 'long',
}, async () => {
  const places = Array.from({ length: 3000 }, (_, k) => ({
    x: k % 60,
    y: k / 60,
    z: Math.sin(k),
    group: 2,
    intensity: k % 500,
    time: k / 1000,
  }));
  const files: readonly (readonly [Uint8Array, number])[] = [
    [writeLaz(places, 1000), 350],
    [writeLayeredLaz({ format: 6, points: places, chunkSize: 1000 }), 475],
    [writeLayeredLaz({ format: 8, points: places, chunkSize: 1000, varied: true }), 475],
  ];
  const before = process.resourceUsage().maxRSS;
  const start = process.cpuUsage();
  let refused = 0;
  for (const [whole, from] of files) {
    for (let k = 0; k < 6; k++) {
      const bytes = whole.slice();
      for (let j = 0; j < 40; j++)
        bytes[from + ((k * 997 + j * 131) % (bytes.length - from - 10))] ^= 0x5a;
      await readSurvey(bytes, { source: 'c.laz' }).catch((error: unknown) => {
        if (!(error instanceof InputFault) || /[\n\r]/.test(error.message)) throw error;
        refused += 1;
      });
    }
  }
  expect(refused).toBeGreaterThan(12);
  expect(process.cpuUsage(start).user / 18).toBeLessThan(5_000_000);
  expect(process.resourceUsage().maxRSS - before).toBeLessThan(300 * 1024);
});

it('a layer that promises a gigabyte costs none, and a wild point is told as damage', async () => {
  const places = Array.from({ length: 90 }, (_, k) => ({ x: k % 9, y: k / 9, z: 2, group: 2 }));
  const whole = writeLayeredLaz({ format: 6, points: places, chunkSize: 90 });
  const at = new DataView(whole.buffer).getUint32(96, true) + 8;
  const huge = whole.slice();
  // Behind the first point and the number of points: the length of the layer of heights.
  new DataView(huge.buffer).setUint32(at + 30 + 4 + 4, 0x3000_0000, true);
  const before = process.resourceUsage().maxRSS;
  await expect(readSurvey(huge, { source: 'c.laz' })).rejects.toThrow(
    /^c\.laz, compressed points: chunk 1 of 1 cannot be decoded; the file is damaged/,
  );
  expect(process.resourceUsage().maxRSS - before).toBeLessThan(60 * 1024);
  const wild = whole.slice();
  new DataView(wild.buffer).setInt32(at + 8, 2_000_000_000, true);
  await expect(readSurvey(wild, { source: 'c.laz' })).rejects.toThrow(
    /^c\.laz, point 1: the position 0, 0, 2000000 lies far outside the box .* is damaged; fetch it again/,
  );
});

it('the decoder of packed clouds has nobody to speak to', async () => {
  type Ears = { print?: (text: string) => void; printErr?: (text: string) => void } | undefined;
  const given: Ears[] = [];
  vi.doMock('laz-perf', async () => {
    const real = await vi.importActual<typeof import('laz-perf')>('laz-perf');
    const create = (options: Parameters<typeof real.create>[0]) => {
      given.push(options as Ears);
      return real.create(options);
    };
    return { ...real, create };
  });
  const said: string[] = [];
  const spies = (['log', 'warn', 'error'] as const).map((name) =>
    vi.spyOn(console, name).mockImplementation((text) => {
      said.push(String(text));
    }),
  );
  try {
    // A copy of the reader of its own, which meets the watched decoder whatever other tests have loaded.
    const copy = '../../src/survey/readers/laz.js?watched';
    const { unpackedRecords } = (await import(
      copy
    )) as typeof import('../../src/survey/readers/laz.js');
    const bytes = bytesInMemory(writeLaz(points));
    const header = await readLasHeader(bytes, 'c.laz');
    for await (const block of unpackedRecords(bytes, header, 'c.laz')) {
      expect(block.length).toBe(points.length * header.recordLength);
    }
    expect(given.length).toBe(1);
    // Where it is given no ears, the decoder takes the console.
    (given[0]?.print ?? console.log)('a line of its own');
    (given[0]?.printErr ?? console.warn)('Aborted()');
  } finally {
    for (const spy of spies) spy.mockRestore();
    vi.doUnmock('laz-perf');
  }
  expect(said).toEqual([]);
});
