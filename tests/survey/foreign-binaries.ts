import { deflateRawSync, gzipSync } from 'node:zlib';
import { type Foreign, type Spot, TRUTH } from './foreign-texts.js';
import { writeLas, writeLaz } from './las-writer.js';

/**
 * Files other than points as text, in the manner of the programs that write them, each with the answer
 * expected. All are written here from the published descriptions of their formats.
 */

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);
const f3 = (value: number): string => value.toFixed(3);
const FEET = 0.3048;
const US = 1200 / 3937;

export const one = (
  name: string,
  bytes: Uint8Array | string,
  expected: Foreign['expected'] = TRUTH,
  options?: object,
): Foreign => ({
  name,
  bytes: typeof bytes === 'string' ? encode(bytes) : bytes,
  expected,
  ...(options === undefined ? {} : { options }),
});

/** CRC 32 of ZIP and PNG. */
const crc = (bytes: Uint8Array): number => {
  let c = 0xffffffff;
  for (const byte of bytes) {
    c ^= byte;
    for (let k = 0; k < 8; k++) c = (c & 1) === 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1;
  }
  return (c ^ 0xffffffff) >>> 0;
};

/** A ZIP archive, packed or stored (APPNOTE 6.3). */
export const zip = (
  files: Readonly<Record<string, Uint8Array | string>>,
  packs = true,
): Uint8Array => {
  const local: Buffer[] = [];
  const central: Buffer[] = [];
  let offset = 0;
  for (const [name, content] of Object.entries(files)) {
    const raw = typeof content === 'string' ? encode(content) : content;
    const body = packs ? deflateRawSync(raw) : raw;
    const head = Buffer.alloc(30 + name.length);
    head.writeUInt32LE(0x04034b50, 0);
    head.writeUInt16LE(20, 4);
    head.writeUInt16LE(packs ? 8 : 0, 8);
    head.writeUInt32LE(crc(raw), 14);
    head.writeUInt32LE(body.length, 18);
    head.writeUInt32LE(raw.length, 22);
    head.writeUInt16LE(name.length, 26);
    head.write(name, 30, 'latin1');
    const entry = Buffer.alloc(46 + name.length);
    entry.writeUInt32LE(0x02014b50, 0);
    head.copy(entry, 6, 4, 30);
    entry.writeUInt32LE(offset, 42);
    entry.writeUInt16LE(0, 32);
    entry.write(name, 46, 'latin1');
    local.push(head, Buffer.from(body));
    central.push(entry);
    offset += head.length + body.length;
  }
  const directory = Buffer.concat(central);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(central.length, 8);
  end.writeUInt16LE(central.length, 10);
  end.writeUInt32LE(directory.length, 12);
  end.writeUInt32LE(offset, 16);
  return new Uint8Array(Buffer.concat([...local, directory, end]));
};

export const csv = `Point,Northing,Easting,Elevation\n${TRUTH.map((p, k) => `${k},${f3(p.n)},${f3(p.e)},${f3(p.z)}`).join('\n')}\n`;

export type Cell = string | number;
const letter = (k: number): string => String.fromCharCode(65 + k);

/** A workbook (ECMA-376): text shared or in the cell. */
export const workbook = (
  sheets: Readonly<Record<string, readonly (readonly Cell[])[]>>,
  isShared = true,
): Uint8Array => {
  const strings: string[] = [];
  const cell = (value: Cell, at: string): string => {
    if (typeof value === 'number') return `<c r="${at}"><v>${value}</v></c>`;
    if (!isShared) return `<c r="${at}" t="inlineStr"><is><t>${value}</t></is></c>`;
    strings.push(value);
    return `<c r="${at}" t="s"><v>${strings.length - 1}</v></c>`;
  };
  const names = Object.keys(sheets);
  const parts = Object.fromEntries(
    names.map((name, k) => [
      `xl/worksheets/sheet${k + 1}.xml`,
      `<worksheet><sheetData>${sheets[name]
        .map((row, r) =>
          row.length === 0
            ? ''
            : `<row r="${r + 1}">${row.map((v, c) => (v === '' ? '' : cell(v, `${letter(c)}${r + 1}`))).join('')}</row>`,
        )
        .join('')}</sheetData></worksheet>`,
    ]),
  );
  return zip({
    'xl/workbook.xml': `<workbook xmlns:r="r"><sheets>${names.map((name, k) => `<sheet name="${name}" sheetId="${k + 1}" r:id="rId${k + 1}"/>`).join('')}</sheets></workbook>`,
    'xl/_rels/workbook.xml.rels': `<Relationships>${names.map((_, k) => `<Relationship Id="rId${k + 1}" Target="worksheets/sheet${k + 1}.xml"/>`).join('')}</Relationships>`,
    'xl/sharedStrings.xml': `<sst>${strings.map((s) => `<si><t>${s}</t></si>`).join('')}</sst>`,
    ...parts,
  });
};

export const sheetRows = (
  head: readonly string[] = ['Point', 'Northing', 'Easting', 'Elevation'],
  scale = 1,
): Cell[][] => [
  [...head],
  ...TRUTH.map((p, k): Cell[] => [k + 1, p.n / scale, p.e / scale, p.z / scale]),
];

const workbooks = (): Foreign[] => [
  one('workbook', workbook({ Points: sheetRows() })),
  one('workbook, text in cells', workbook({ Points: sheetRows() }, false)),
  one(
    'workbook in feet',
    workbook({ Points: sheetRows(['Point', 'N (ft)', 'E (ft)', 'Z (ft)'], FEET) }),
  ),
  one(
    'workbook, German names',
    workbook({ Punkte: sheetRows(['Nr', 'Hochwert', 'Rechtswert', 'Höhe']) }),
  ),
  one('workbook behind a title', workbook({ A: [['Green 7'], [], ...sheetRows()] })),
  one('workbook with an empty second sheet', workbook({ A: sheetRows(), B: [] })),
  one(
    'workbook of two sheets',
    workbook({ A: sheetRows(), B: sheetRows() }),
    /2 sheets hold cells; name one by --sheet/,
  ),
  one(
    'workbook of two sheets, one named',
    workbook({
      A: [
        ['x', 'y', 'z'],
        [1, 2, 3],
      ],
      B: sheetRows(),
    }),
    TRUTH,
    { sheet: 'B' },
  ),
  one(
    'workbook, no such sheet',
    workbook({ A: sheetRows() }),
    /no sheet "C" with cells; name one by --sheet/,
    { sheet: 'C' },
  ),
  one('empty workbook', workbook({ A: [] }), /holds no cells/),
  one(
    'workbook, numbers without names',
    workbook({ A: sheetRows().slice(1) }),
    /nothing says which/,
  ),
  one('workbook, numbers without names, as asked', workbook({ A: sheetRows().slice(1) }), TRUTH, {
    columns: ['PNEZ'],
  }),
];

export const pairs = (...list: (string | number)[]): string => {
  const out: string[] = [];
  for (let k = 0; k < list.length; k += 2)
    out.push(`${String(list[k]).padStart(3)}\n${list[k + 1]}`);
  return out.join('\n');
};
export const drawing = (entities: readonly string[], unit: number | null = null): string =>
  [
    ...(unit === null
      ? []
      : [pairs(0, 'SECTION', 2, 'HEADER', 9, '$INSUNITS', 70, unit, 0, 'ENDSEC')]),
    pairs(0, 'SECTION', 2, 'ENTITIES'),
    ...entities,
    pairs(0, 'ENDSEC', 0, 'EOF'),
    '',
  ].join('\n');
export const pointsIn = (layer: string, scale = 1): string[] =>
  TRUTH.map((p) => pairs(0, 'POINT', 8, layer, 10, p.e / scale, 20, p.n / scale, 30, p.z / scale));
const faceIn = (layer: string, spots: readonly Spot[]): string =>
  pairs(0, '3DFACE', 8, layer, ...spots.flatMap((p, k) => [10 + k, p.e, 20 + k, p.n, 30 + k, p.z]));
const FACES = [0, 4, 8].map((k) => TRUTH.slice(k, k + 4));

const drawings = (): Foreign[] => [
  one('drawing of points', drawing(pointsIn('G'))),
  one('drawing in metres', drawing(pointsIn('G'), 6)),
  one('drawing in feet', drawing(pointsIn('G', FEET), 2)),
  one('drawing in survey feet', drawing(pointsIn('G', US), 21)),
  one('drawing in millimetres', drawing(pointsIn('G', 0.001), 4)),
  one('drawing with CR LF', drawing(pointsIn('G')).replaceAll('\n', '\r\n')),
  one('drawing of faces', drawing(FACES.map((face) => faceIn('TIN', face)))),
  one(
    'drawing of two surfaces',
    drawing([...FACES.map((f) => faceIn('OLD', f)), ...FACES.map((f) => faceIn('NEW', f))]),
    /faces lie on 2 layers.*--layer.*OLD, NEW/,
  ),
  one(
    'drawing of two surfaces, one named',
    drawing([faceIn('OLD', TRUTH.slice(0, 3)), ...FACES.map((f) => faceIn('NEW', f))]),
    TRUTH,
    { layer: 'NEW' },
  ),
  one(
    'drawing of a line in space',
    drawing([
      pairs(0, 'POLYLINE', 8, 'B', 66, 1, 70, 8),
      ...TRUTH.map((p) => pairs(0, 'VERTEX', 8, 'B', 10, p.e, 20, p.n, 30, p.z, 70, 32)),
      pairs(0, 'SEQEND', 8, 'B'),
    ]),
  ),
  one(
    'drawing of straight lines',
    drawing(
      [0, 2, 4, 6, 8, 10].map((k) =>
        pairs(
          0,
          'LINE',
          8,
          'B',
          10,
          TRUTH[k].e,
          20,
          TRUTH[k].n,
          30,
          TRUTH[k].z,
          11,
          TRUTH[k + 1].e,
          21,
          TRUTH[k + 1].n,
          31,
          TRUTH[k + 1].z,
        ),
      ),
    ),
  ),
  one(
    'drawing with texts and circles',
    drawing([
      pairs(0, 'TEXT', 8, 'T', 10, 1, 20, 2, 30, 0, 1, 'A'),
      ...pointsIn('G'),
      pairs(0, 'CIRCLE', 8, 'T', 10, 1, 20, 2, 40, 3),
    ]),
  ),
  one(
    'drawing with a flat frame',
    drawing([...pointsIn('G'), pairs(0, 'LINE', 8, 'F', 10, 1, 20, 2, 11, 3, 21, 4)]),
  ),
  one(
    'drawing of flat points',
    drawing(TRUTH.map((p) => pairs(0, 'POINT', 8, 'G', 10, p.e, 20, p.n))),
    /height 0; export/,
  ),
  one(
    'drawing without ground',
    drawing([pairs(0, 'TEXT', 8, 'T', 10, 1, 20, 2, 1, 'A')]),
    /no points, faces or lines; export/,
  ),
  one('drawing, no such layer', drawing(pointsIn('G')), /its layers with ground: G/, {
    layer: 'X',
  }),
  one(
    'drawing in binary',
    new Uint8Array(Buffer.from('4175746f4341442042696e617279204458460d0a1a00', 'hex')),
    /binary DXF.*save it as DXF text/,
  ),
];

/** A shapefile's main file (ESRI, 1998): one record a point, or all in one. */
export const shapes = (type: number, points = TRUTH): Uint8Array => {
  const record = (content: Buffer, k: number): Buffer => {
    const head = Buffer.alloc(8);
    head.writeInt32BE(k + 1, 0);
    head.writeInt32BE(content.length / 2, 4);
    return Buffer.concat([head, content]);
  };
  const single = (p: Spot): Buffer => {
    const b = Buffer.alloc(type === 11 ? 36 : 20);
    b.writeInt32LE(type, 0);
    b.writeDoubleLE(p.e, 4);
    b.writeDoubleLE(p.n, 12);
    if (type === 11) b.writeDoubleLE(p.z, 20);
    return b;
  };
  const many = (): Buffer => {
    const start = type === 18 ? 40 : 48;
    const b = Buffer.alloc(start + points.length * 16 + 16 + points.length * 8);
    b.writeInt32LE(type, 0);
    if (type === 18) b.writeInt32LE(points.length, 36);
    else {
      b.writeInt32LE(1, 36);
      b.writeInt32LE(points.length, 40);
    }
    points.forEach((p, k) => {
      b.writeDoubleLE(p.e, start + 16 * k);
      b.writeDoubleLE(p.n, start + 16 * k + 8);
      b.writeDoubleLE(p.z, start + 16 * points.length + 16 + 8 * k);
    });
    return b;
  };
  const records = [13, 15, 18].includes(type)
    ? [record(many(), 0)]
    : points.map((p, k) => record(single(p), k));
  const head = Buffer.alloc(100);
  head.writeInt32BE(9994, 0);
  head.writeInt32BE((100 + records.reduce((sum, r) => sum + r.length, 0)) / 2, 24);
  head.writeInt32LE(1000, 28);
  head.writeInt32LE(type, 32);
  return new Uint8Array(Buffer.concat([head, ...records]));
};

export const UTM_30 =
  'PROJCS["UTM",GEOGCS["G",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-3.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]';

const shapefiles = (): Foreign[] => [
  ...[11, 13, 15, 18].map((type) => one(`shapefile of type ${type}`, shapes(type))),
  ...[1, 3, 5, 8, 21].map((type) =>
    one(`shapefile of type ${type}`, shapes(type), /have no heights; export them with heights/),
  ),
  one('shapefile of patches', shapes(31), /type 31 are not read/),
  one('shapefile, cut off', shapes(11).slice(0, 300), /reaches past the end.*fetch it again/),
  one('shapefile with its system', shapes(11), TRUTH, { beside: { prj: UTM_30 } }),
  one(
    'shapefile in an archive',
    zip({ 'g/green.shp': shapes(11), 'g/green.prj': UTM_30, 'g/green.dbf': 'x' }),
  ),
  one(
    'shapefile alone of its kind in an archive',
    zip({ 'green.shp': shapes(1) }),
    /have no heights/,
  ),
];

export const inSystem = (features: object[]): string =>
  JSON.stringify({
    type: 'FeatureCollection',
    crs: { type: 'name', properties: { name: 'urn:ogc:def:crs:EPSG::32630' } },
    features,
  });
export const feature = (geometry: object, properties: object = {}): object => ({
  type: 'Feature',
  properties,
  geometry,
});
export const at3 = (p: Spot): number[] => [p.e, p.n, p.z];

const geojson = (): Foreign[] => [
  one(
    'features of points',
    inSystem(TRUTH.map((p) => feature({ type: 'Point', coordinates: at3(p) }))),
  ),
  one(
    'features, heights as properties',
    inSystem(
      TRUTH.map((p) =>
        feature({ type: 'Point', coordinates: at3(p).slice(0, 2) }, { name: 'a', elevation: p.z }),
      ),
    ),
  ),
  one(
    'features, heights as texts',
    inSystem(
      TRUTH.map((p) =>
        feature({ type: 'Point', coordinates: at3(p).slice(0, 2) }, { Höhe: String(p.z) }),
      ),
    ),
  ),
  one(
    'features, a height that is none',
    inSystem(
      TRUTH.map((p, k) =>
        feature(
          { type: 'Point', coordinates: at3(p).slice(0, 2) },
          { Höhe: k === 8 ? '51.9;66' : String(p.z) },
        ),
      ),
    ),
    /feature 9: "51\.9;66" in "Höhe" is no height; write a number/,
  ),
  one(
    'one feature of many points',
    inSystem([feature({ type: 'MultiPoint', coordinates: TRUTH.map(at3) })]),
  ),
  one('a line in space', inSystem([feature({ type: 'LineString', coordinates: TRUTH.map(at3) })])),
  one(
    'points without heights',
    inSystem(TRUTH.map((p) => feature({ type: 'Point', coordinates: at3(p).slice(0, 2) }))),
    /no heights; a survey gives/,
  ),
  one('no features', inSystem([]), /no positions/),
  one(
    'features, cut off',
    inSystem(TRUTH.map((p) => feature({ type: 'Point', coordinates: at3(p) }))).slice(0, 300),
    /begins like JSON and is not sound; export it again/,
  ),
  one('other JSON', '{"points":[1,2,3]}', /JSON and not GeoJSON; export/),
  one('a list in JSON', '[[1,2,3],[4,5,6]]', /JSON and not GeoJSON; export/),
];

const plyHead = (format: string, rest = ''): string =>
  `ply\nformat ${format} 1.0\ncomment by hand\nelement vertex ${TRUTH.length}\nproperty double x\nproperty double y\nproperty double z\n${rest}element face 1\nproperty list uchar int vertex_indices\nend_header\n`;
const plyBinary = (isLittle: boolean, hasColour: boolean): Uint8Array => {
  const stride = 24 + (hasColour ? 3 : 0);
  const body = Buffer.alloc(stride * TRUTH.length + 13);
  TRUTH.forEach((p, k) => {
    at3(p).forEach((v, j) => {
      if (isLittle) body.writeDoubleLE(v, k * stride + 8 * j);
      else body.writeDoubleBE(v, k * stride + 8 * j);
    });
  });
  const colour = hasColour ? 'property uchar red\nproperty uchar green\nproperty uchar blue\n' : '';
  return new Uint8Array(
    Buffer.concat([encode(plyHead(`binary_${isLittle ? 'little' : 'big'}_endian`, colour)), body]),
  );
};
const plyText = (end = '\n'): string =>
  `${plyHead('ascii')}${TRUTH.map((p) => at3(p).join(' ')).join('\n')}\n3 0 1 2\n`.replaceAll(
    '\n',
    end,
  );

const scans = (): Foreign[] => [
  one('scan as text', plyText()),
  one('scan as text, CR LF', plyText('\r\n')),
  ...[true, false].flatMap((little) =>
    [true, false].map((colour) => one(`scan, ${little}, ${colour}`, plyBinary(little, colour))),
  ),
  one(
    'scan without heights',
    plyText().replace('property double z\n', ''),
    /no x, y and z; export/,
  ),
  one('scan, cut off', plyText().slice(0, 420), /vertices are promised/),
  one('scan in binary, cut off', plyBinary(true, false).slice(0, 400), /vertices are promised/),
  one('scan of another format', plyText().replace('ascii', 'packed'), /the format "packed"/),
  one('scan without a header end', 'ply\nformat ascii 1.0\n1 2 3\n', /header does not end/),
];

const cloudOf = (group: number): { x: number; y: number; z: number; group: number }[] =>
  TRUTH.map((p) => ({ x: p.e, y: p.n, z: p.z, group }));
const clouds = (): Foreign[] => {
  const noise = { x: 512_345, y: 5_712_310, z: 58, group: 5 };
  return [
    one('cloud', writeLas(cloudOf(2))),
    one('cloud in a system', writeLas(cloudOf(2), 32630)),
    one('cloud with trees', writeLas([...cloudOf(2), noise])),
    one(
      'cloud without classes',
      writeLas(cloudOf(0)),
      /no point is of the ground classes 2; the classes here are 0 .*--classes or the key classes/,
    ),
    one('cloud without classes, its class named', writeLas(cloudOf(0)), TRUTH, { classes: [0] }),
    one('cloud of two classes', writeLas([...cloudOf(8), noise]), TRUTH, { classes: [2, 8] }),
    one('packed cloud', writeLaz(cloudOf(2), 5)),
    one('packed cloud without classes', writeLaz(cloudOf(1), 5), /classes here are 1/),
    one('cloud, cut off', writeLas(cloudOf(2)).slice(0, 300), /promised.*fetch it again/),
    one('packed cloud, cut off', writeLaz(cloudOf(2), 5).slice(0, 400), /fetch it again/),
  ];
};

/** A grid of 4 by 3 cells of 2 m. */
export const CELLS: readonly Spot[] = Array.from({ length: 12 }, (_, k) => ({
  e: 512_341 + 2 * (k % 4),
  n: 5_712_305 - 2 * Math.floor(k / 4),
  z: 51.125 + k / 8,
}));
const without = (...left: number[]): Spot[] => CELLS.filter((_, k) => !left.includes(k));

const asciiGrids = (): Foreign[] => {
  const grid = (head: string, values = CELLS.map((p) => String(p.z))): string =>
    `${head}\n${values.join(' ')}\n`;
  const corner = 'ncols 4\nnrows 3\nxllcorner 512340\nyllcorner 5712300\ncellsize 2';
  const holed = (mark: string): string[] => CELLS.map((p, k) => (k === 5 ? mark : String(p.z)));
  return [
    one('grid', grid(`${corner}\nNODATA_value -9999`)),
    one(
      'grid by centres',
      grid('ncols 4\nnrows 3\nxllcenter 512341\nyllcenter 5712301\ncellsize 2'),
    ),
    one(
      'grid, rows first',
      grid('nrows 3\nncols 4\nxllcorner 512340\nyllcorner 5712300\ncellsize 2'),
    ),
    one('grid in capitals', grid(corner.toUpperCase())),
    one(
      'grid with decimal commas',
      grid(
        corner,
        CELLS.map((p) => String(p.z).replace('.', ',')),
      ),
    ),
    one(
      'grid, one value a line',
      grid(corner).replaceAll(' ', (_, at: number) => (at > 70 ? '\n' : ' ')),
    ),
    one('grid with a hole', grid(`${corner}\nNODATA_value -99`, holed('-99')), without(5)),
    ...['-9999', '-32768', '-99999', '-3.4028234663852886e+38', '3.4028235e38', 'nan'].map((mark) =>
      one(`grid with an undeclared hole ${mark}`, grid(corner, holed(mark)), without(5)),
    ),
    one(
      'grid with its system in feet',
      grid(corner),
      CELLS.map((p) => ({ e: p.e * US, n: p.n * US, z: p.z * US })),
      {
        beside: { prj: 'LOCAL_CS["site",UNIT["Foot_US",0.3048006096]]' },
      },
    ),
    one(
      'grid, cut off',
      grid(
        corner,
        CELLS.slice(0, 7).map((p) => String(p.z)),
      ),
      /the header promises|the values end after 7 of 12/,
    ),
    one('grid without a corner', grid('ncols 4\nnrows 3\ncellsize 2'), /no xllcorner/),
  ];
};

interface TiffOptions {
  readonly keys?: readonly number[];
  readonly nodata?: string;
  readonly metadata?: string;
  readonly bits?: number;
  readonly bands?: number;
  readonly isTied?: boolean;
  readonly values?: readonly number[];
}

/** A GeoTIFF of one strip (TIFF 6.0, OGC GeoTIFF 1.1). */
export const tiff = ({
  keys = [],
  nodata,
  metadata,
  bits = 32,
  bands = 1,
  isTied = true,
  values = CELLS.map((p) => p.z),
}: TiffOptions): Uint8Array => {
  const data = Buffer.alloc((bits / 8) * bands * values.length);
  values.forEach((v, k) => {
    for (let b = 0; b < bands; b++) {
      const value = b === bands - 1 ? v : 7;
      if (bits === 8) data.writeUInt8(Math.round(v) & 255, k * bands + b);
      else if (bits === 64) data.writeDoubleLE(value, 8 * (k * bands + b));
      else data.writeFloatLE(value, 4 * (k * bands + b));
    }
  });
  const entries: [number, number, number[] | string][] = [
    [256, 3, [4]],
    [257, 3, [3]],
    [258, 3, Array.from({ length: bands }, () => bits)],
    [259, 3, [1]],
    [262, 3, [1]],
    [273, 4, [8]],
    [277, 3, [bands]],
    [278, 3, [3]],
    [279, 4, [data.length]],
    [284, 3, [1]],
    [339, 3, Array.from({ length: bands }, () => (bits === 8 ? 1 : 3))],
    ...(isTied
      ? ([
          [33550, 12, [2, 2, 0]],
          [33922, 12, [0, 0, 0, 512_340, 5_712_306, 0]],
        ] as [number, number, number[]][])
      : []),
    ...(keys.length === 0
      ? []
      : [[34735, 3, [1, 1, 0, keys.length / 4, ...keys]] as [number, number, number[]]]),
    ...(metadata === undefined ? [] : [[42112, 2, metadata] as [number, number, string]]),
    ...(nodata === undefined ? [] : [[42113, 2, nodata] as [number, number, string]]),
  ];
  const size = { 2: 1, 3: 2, 4: 4, 12: 8 } as Record<number, number>;
  const directory = Buffer.alloc(2 + 12 * entries.length + 4);
  directory.writeUInt16LE(entries.length, 0);
  const extra: Buffer[] = [];
  let place = 8 + data.length + directory.length;
  entries.forEach(([tag, type, value], k) => {
    const list = typeof value === 'string' ? [...encode(`${value}\0`)] : value;
    const body = Buffer.alloc(Math.max(4, size[type] * list.length));
    list.forEach((v, j) => {
      if (type === 12) body.writeDoubleLE(v, 8 * j);
      else if (type === 4) body.writeUInt32LE(v, 4 * j);
      else if (type === 3) body.writeUInt16LE(v, 2 * j);
      else body.writeUInt8(v, j);
    });
    const at = 2 + 12 * k;
    directory.writeUInt16LE(tag, at);
    directory.writeUInt16LE(type, at + 2);
    directory.writeUInt32LE(list.length, at + 4);
    if (size[type] * list.length <= 4) body.copy(directory, at + 8, 0, 4);
    else {
      directory.writeUInt32LE(place, at + 8);
      extra.push(body);
      place += body.length;
    }
  });
  const head = Buffer.alloc(8);
  head.write('II', 0);
  head.writeUInt16LE(42, 2);
  head.writeUInt32LE(8 + data.length, 4);
  return new Uint8Array(Buffer.concat([head, data, directory, ...extra]));
};

const scaled = (across: number, up: number): Spot[] =>
  CELLS.map((p) => ({ e: p.e * across, n: p.n * across, z: p.z * up }));

const geotiffs = (): Foreign[] => [
  one('raster', tiff({}), CELLS),
  one('raster of doubles', tiff({ bits: 64 }), CELLS),
  one(
    'raster in a system',
    tiff({ keys: [1024, 0, 1, 1, 1025, 0, 1, 1, 3072, 0, 1, 32630] }),
    CELLS,
  ),
  one('raster in survey feet', tiff({ keys: [3076, 0, 1, 9003] }), scaled(US, US)),
  one(
    'raster, heights in feet',
    tiff({ keys: [3072, 0, 1, 32630, 4099, 0, 1, 9002] }),
    scaled(1, FEET),
  ),
  one(
    'raster, heights by their system',
    tiff({ keys: [3072, 0, 1, 32630, 4096, 0, 1, 6360] }),
    scaled(1, US),
  ),
  one(
    'raster, heights by their unit type',
    tiff({
      metadata:
        '<GDALMetadata><Item name="UNITTYPE" sample="0" role="unittype">US survey foot</Item></GDALMetadata>',
    }),
    scaled(1, US),
  ),
  one('raster with a declared hole', tiff({ nodata: '51.75' }), without(5)),
  ...[-9999, -32768, -3.4028234663852886e38].map((hole) =>
    one(
      `raster with an undeclared hole ${hole}`,
      tiff({ values: CELLS.map((p, k) => (k === 5 ? hole : p.z)) }),
      without(5),
    ),
  ),
  one('raster of two bands, one named', tiff({ bands: 2 }), CELLS, { band: 2 }),
  one('raster, no such band', tiff({}), /no band 3; the file has one band/, { band: 3 }),
  one('picture of eight bits', tiff({ bits: 8 }), /8 bits are a picture or a hillshade; ask/),
  one('raster not tied', tiff({ isTied: false }), /not tied to the ground.*world file/),
  one('raster with a world file', tiff({ isTied: false }), CELLS, {
    beside: { tfw: '2.0\n0.0\n0.0\n-2.0\n512341.0\n5712305.0\n' },
  }),
  one('raster, cut off', tiff({}).slice(0, 60), /fetch it again/),
];

export const pnts = (points: readonly Spot[], first = 1): string =>
  points.map((p, k) => `<P id="${first + k}">${f3(p.n)} ${f3(p.e)} ${f3(p.z)}</P>`).join('');
export const surface = (name: string, points: readonly Spot[]): string =>
  `<Surface name="${name}"><Definition surfType="TIN"><Pnts>${pnts(points)}</Pnts><Faces>${points
    .slice(2)
    .map((_, k) => `<F>${k + 1} ${k + 2} ${k + 3}</F>`)
    .join('')}</Faces></Definition></Surface>`;
export const landxml = (body: string, units = '<Metric linearUnit="meter"/>'): string =>
  `<?xml version="1.0"?><LandXML version="1.2"><Units>${units}</Units><Surfaces>${body}</Surfaces></LandXML>`;
const inFeet = (unit: number): Spot[] =>
  TRUTH.map((p) => ({ e: p.e / unit, n: p.n / unit, z: p.z / unit }));
const rounded = (unit: number, up = unit): Spot[] =>
  inFeet(unit).map((p, k) => ({
    e: Number(f3(p.e)) * unit,
    n: Number(f3(p.n)) * unit,
    z: Number(f3(up === unit ? p.z : TRUTH[k].z)) * (up === unit ? unit : up),
  }));

const surfaces = (): Foreign[] => {
  const low = TRUTH.map((p) => ({ ...p, z: p.z - 1 }));
  const two = landxml(surface('Existing', low) + surface('Finished', TRUTH));
  return [
    one('surface', landxml(surface('G', TRUTH))),
    one(
      'surface in feet',
      landxml(surface('G', inFeet(FEET)), '<Imperial linearUnit="foot"/>'),
      rounded(FEET),
    ),
    one(
      'surface in survey feet',
      landxml(surface('G', inFeet(US)), '<Imperial linearUnit="USSurveyFoot"/>'),
      rounded(US),
    ),
    one(
      'surface in feet, heights in metres',
      landxml(
        surface(
          'G',
          inFeet(FEET).map((p, k) => ({ ...p, z: TRUTH[k].z })),
        ),
        '<Imperial linearUnit="foot" elevationUnit="meter"/>',
      ),
      rounded(FEET, 1),
    ),
    one(
      'surface in metres, heights in feet',
      landxml(
        surface(
          'G',
          TRUTH.map((p) => ({ ...p, z: p.z / FEET })),
        ),
        '<Metric linearUnit="meter" elevationUnit="feet"/>',
      ),
      TRUTH.map((p) => ({ ...p, z: Number(f3(p.z / FEET)) * FEET })),
    ),
    one(
      'two surfaces',
      two,
      /holds 2 surfaces; name one by --surface or the key surface: "Existing", "Finished"/,
    ),
    one('two surfaces, the finished named', two, TRUTH, { surface: 'Finished' }),
    one('two surfaces, the existing named', two, low, { surface: 'Existing' }),
    one('two surfaces, another named', two, /no surface "Design".*"Existing", "Finished"/, {
      surface: 'Design',
    }),
    one(
      'surface in an unknown unit',
      landxml(surface('G', TRUTH), '<Metric linearUnit="furlong"/>'),
      /"furlong" is not read/,
    ),
    one(
      'surface, cut off',
      landxml(surface('G', TRUTH)).slice(0, 400),
      /not well formed.*export it again/,
    ),
    one('surface without points', landxml(''), /no surface with points/),
  ];
};

const packed = (): Foreign[] => [
  one('points, gzip', new Uint8Array(gzipSync(csv))),
  one('drawing, gzip', new Uint8Array(gzipSync(drawing(pointsIn('G'))))),
  one('cloud, gzip', new Uint8Array(gzipSync(writeLas(cloudOf(2))))),
  one('points in an archive', zip({ 'green.csv': csv })),
  one('points in an archive, stored', zip({ 'green.csv': csv }, false)),
  one('points beside a note in an archive', zip({ 'a/green.csv': csv, 'a/readme.pdf': 'x' })),
  one(
    'two surveys in an archive',
    zip({ 'a.csv': csv, 'b.csv': csv }),
    /holds 2 surveys; name one by --sheet.*a\.csv, b\.csv/,
  ),
  one('two surveys in an archive, one named', zip({ 'a.csv': '1,2,3', 'b.csv': csv }), TRUTH, {
    sheet: 'b.csv',
  }),
  one('no survey in an archive', zip({ 'readme.pdf': 'x' }), /holds no survey/),
  one(
    'archive, cut off',
    zip({ 'green.csv': csv }).slice(0, 200),
    /directory of the archive is missing.*fetch it again/,
  ),
  one('gzip, cut off', new Uint8Array(gzipSync(csv)).slice(0, 5), /cannot be unpacked|empty/),
];

/** First bytes of files that are not read, with the words that must name them. */
const MARKS: readonly (readonly [string, RegExp])[] = [
  ['25504446', /PDF.*; ask/],
  ['89504e470d0a1a0a', /PNG.*; ask/],
  ['ffd8ffe0', /JPEG.*; ask/],
  ['47494638', /GIF.*; ask/],
  ['424d0000', /BMP.*; ask/],
  ['414331303332', /DWG.*save it as DXF/],
  ['d0cf11e0a1b11ae1', /compound file.*; save/],
  ['53514c69746520666f726d6174203300', /GeoPackage.*; export/],
  ['44534242', /DSBB.*; export/],
  ['44535242', /DSRB.*; export/],
  ['4153544d2d453537', /E57.*; export/],
  ['377abcaf271c', /7z.*; unpack/],
  ['526172211a07', /RAR.*; unpack/],
  ['425a6839', /bzip2.*; unpack/],
  ['fd377a585a00', /xz.*; unpack/],
  ['28b52ffd', /Zstandard.*; unpack/],
  ['894844460d0a1a0a', /HDF.*; export/],
  ['43444601', /NetCDF.*; export/],
  ['50415231', /Parquet.*; export/],
  ['03007a0101', /unknown kind.*; export/],
];

const refused = (): Foreign[] => [
  ...MARKS.map(([mark, expected], k) =>
    one(
      `mark ${k}`,
      new Uint8Array(Buffer.concat([Buffer.from(mark, 'hex'), Buffer.alloc(200)])),
      expected,
    ),
  ),
  one(
    'open sheet',
    zip({ mimetype: 'application/vnd.oasis.opendocument.spreadsheet', 'content.xml': '<x/>' }),
    /ODS.*; save the sheet as XLSX/,
  ),
  one('packed places of the earth', zip({ 'doc.kml': '<kml/>' }), /KMZ.*; ask/),
  one('empty file', new Uint8Array(0), /the file is empty/),
];

export const foreignBinaries = (): Foreign[] => [
  ...workbooks(),
  ...drawings(),
  ...shapefiles(),
  ...geojson(),
  ...scans(),
  ...clouds(),
  ...asciiGrids().map((file) => (file.expected === TRUTH ? { ...file, expected: CELLS } : file)),
  ...geotiffs(),
  ...surfaces(),
  ...packed(),
  ...refused(),
];
