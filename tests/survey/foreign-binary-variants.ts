import { gzipSync } from 'node:zlib';
import {
  at3,
  CELLS,
  csv,
  drawing,
  feature,
  inSystem,
  landxml,
  one,
  pairs,
  pnts,
  pointsIn,
  shapes,
  sheetRows,
  surface,
  tiff,
  UTM_30,
  workbook,
  zip,
} from './foreign-binaries.js';
import { FEET, type Foreign, f3, type Spot, TRUTH } from './foreign-texts.js';
import { writeLas } from './las-writer.js';

/** More files other than points as text, written after the readers were. */

const round9 = (value: number): number => Number(value.toFixed(9));
const encode = (text: string): Uint8Array => new TextEncoder().encode(text);
const joined = (...parts: (Uint8Array | string)[]): Uint8Array =>
  new Uint8Array(Buffer.concat(parts.map((p) => (typeof p === 'string' ? encode(p) : p))));

/** A workbook whose sheet is given as rows of XML. */
const sheetOfXml = (rows: string, shared = '<sst/>', prefix = ''): Uint8Array =>
  zip({
    'xl/workbook.xml': `<workbook xmlns:r="r"><sheets><sheet name="A" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    'xl/_rels/workbook.xml.rels':
      '<Relationships><Relationship Id="rId1" Target="/xl/worksheets/sheet1.xml"/></Relationships>',
    'xl/sharedStrings.xml': shared,
    'xl/worksheets/sheet1.xml': `<${prefix}worksheet><${prefix}sheetData>${rows}</${prefix}sheetData></${prefix}worksheet>`,
  });
const inline = (words: readonly string[]): string =>
  `<row>${words.map((w) => `<c t="inlineStr"><is><t>${w}</t></is></c>`).join('')}</row>`;
const numbers = (p: Spot): string => [p.n, p.e, p.z].map((v) => `<c><v>${v}</v></c>`).join('');

const workbooks = (): Foreign[] => [
  one(
    'workbook with titles, blanks and units',
    workbook({
      Survey: [
        ['', 'Green 7'],
        [],
        ['', 'Point', 'Northing', 'Easting', 'Elevation'],
        ['', '', 'm', 'm', 'm'],
        ...TRUTH.map((p, k): (string | number)[] => ['', k + 1, p.n, p.e, p.z]),
      ],
    }),
  ),
  one(
    'workbook with a sheet of notes',
    workbook({ Notes: [['Made on a dry day'], ['No wind']], Points: sheetRows() }),
    /2 sheets hold cells; name one by --sheet.*Notes, Points/,
  ),
  one(
    'workbook of formulas',
    sheetOfXml(
      `${inline(['N', 'E', 'H'])}${TRUTH.map((p) => `<row>${[p.n, p.e, p.z].map((v) => `<c><f>A1+1</f><v>${v}</v></c>`).join('')}</row>`).join('')}`,
    ),
  ),
  one(
    'workbook with errors for heights',
    sheetOfXml(
      `${inline(['N', 'E', 'H'])}${TRUTH.map((p) => `<row>${numbers(p)}</row>`).join('')}<row><c><v>5712310</v></c><c><v>512350</v></c><c t="e"><v>#N/A</v></c></row>`,
    ),
  ),
  one(
    'workbook of numbers as text',
    workbook({ A: [['N', 'E', 'H'], ...TRUTH.map((p) => [f3(p.n), f3(p.e), f3(p.z)])] }),
  ),
  one(
    'workbook of numbers as text, decimal commas',
    workbook({
      A: [
        ['N', 'E', 'H'],
        ...TRUTH.map((p) => [p.n, p.e, p.z].map((v) => f3(v).replace('.', ','))),
      ],
    }),
  ),
  one(
    'workbook of rich names',
    sheetOfXml(
      `<row><c t="s"><v>0</v></c><c t="s"><v>1</v></c><c t="s"><v>2</v></c></row>${TRUTH.map((p) => `<row>${numbers(p)}</row>`).join('')}`,
      '<sst><si><r><t>North</t></r><r><t>ing</t></r></si><si><t>Easting</t><rPh><t>x</t></rPh></si><si><t>Elev</t></si></sst>',
    ),
  ),
  one(
    'workbook with days as numbers',
    workbook({
      A: [
        ['Date', 'Time', 'N', 'E', 'H'],
        ...TRUTH.map((p, k) => [45_963, 0.4 + k / 1000, p.n, p.e, p.z]),
      ],
    }),
  ),
  one(
    'workbook with prefixed names',
    sheetOfXml(
      `<x:row>${['N', 'E', 'H'].map((w) => `<x:c t="inlineStr"><x:is><x:t>${w}</x:t></x:is></x:c>`).join('')}</x:row>${TRUTH.map((p) => `<x:row>${[p.n, p.e, p.z].map((v) => `<x:c><x:v>${v}</x:v></x:c>`).join('')}</x:row>`).join('')}`,
      '<sst/>',
      'x:',
    ),
  ),
];

const vertex = (p: Spot, flags: number): string =>
  pairs(0, 'VERTEX', 8, 'M', 10, p.e, 20, p.n, 30, p.z, 70, flags);

const drawings = (): Foreign[] => [
  one(
    'drawing of blocks',
    drawing(
      TRUTH.flatMap((p) => [
        pairs(0, 'INSERT', 8, 'P', 2, 'SYM', 10, p.e, 20, p.n, 30, p.z),
        pairs(0, 'ATTRIB', 8, 'P', 10, p.e, 20, p.n, 30, 0, 1, 'x'),
        pairs(0, 'SEQEND', 8, 'P'),
      ]),
    ),
    /no points, faces or lines; export/,
  ),
  one(
    'drawing of contours',
    drawing(
      [0, 4, 8].map((k) =>
        pairs(
          0,
          'LWPOLYLINE',
          8,
          'C',
          90,
          4,
          70,
          0,
          38,
          TRUTH[k].z,
          ...TRUTH.slice(k, k + 4).flatMap((p) => [10, p.e, 20, p.n]),
        ),
      ),
    ),
    TRUTH.map((p, k) => ({ ...p, z: TRUTH[4 * Math.floor(k / 4)].z })),
  ),
  one(
    'drawing with a point in a block',
    `${pairs(0, 'SECTION', 2, 'BLOCKS', 0, 'BLOCK', 2, 'SYM', 10, 0, 20, 0, 30, 0, 0, 'POINT', 8, '0', 10, 0.5, 20, 0.5, 30, 0, 0, 'ENDBLK', 0, 'ENDSEC')}\n${drawing(pointsIn('G'))}`,
  ),
  one(
    'drawing with comments before',
    `${pairs(999, 'written by hand')}\n${drawing(pointsIn('G'))}`,
  ),
  one(
    'drawing of a mesh of faces',
    drawing([
      pairs(0, 'POLYLINE', 8, 'M', 66, 1, 70, 64, 71, 12, 72, 4),
      ...TRUTH.map((p) => vertex(p, 192)),
      ...[0, 1, 2].map((k) =>
        pairs(
          0,
          'VERTEX',
          8,
          'M',
          10,
          0,
          20,
          0,
          30,
          0,
          70,
          128,
          71,
          3 * k + 1,
          72,
          3 * k + 2,
          73,
          3 * k + 3,
        ),
      ),
      pairs(0, 'SEQEND', 8, 'M'),
    ]),
  ),
  one(
    'drawing of a mesh of rows',
    drawing([
      pairs(0, 'POLYLINE', 8, 'M', 66, 1, 70, 16, 71, 3, 72, 4),
      ...TRUTH.map((p) => vertex(p, 64)),
      pairs(0, 'SEQEND', 8, 'M'),
    ]),
  ),
  one('drawing whose inches are the mark of no unit set', drawing(pointsIn('G'), 1)),
  one('drawing in yards', drawing(pointsIn('G', 0.9144), 10)),
  one('drawing in kilometres', drawing(pointsIn('G', 1000), 7)),
  one(
    'drawing of a solid',
    drawing([pairs(0, '3DSOLID', 8, 'S', 1, 'abc')]),
    /no points, faces or lines; export/,
  ),
];

/** A shapefile of single points with heights, one of them with no shape or no height. */
const holedShapes = (how: 'null shape' | 'no height'): Uint8Array => {
  const whole = Buffer.from(shapes(11));
  if (how === 'no height') {
    const last = Buffer.from(whole.subarray(100, 144));
    last.writeInt32BE(13, 0);
    last.writeDoubleLE(-1.7e39, 8 + 20);
    whole.writeInt32BE((whole.length + 44) / 2, 24);
    return new Uint8Array(Buffer.concat([whole, last]));
  }
  const none = Buffer.alloc(12);
  none.writeInt32BE(13, 0);
  none.writeInt32BE(2, 4);
  whole.writeInt32BE((whole.length + 12) / 2, 24);
  return new Uint8Array(Buffer.concat([whole, none]));
};
/** The index of a shapefile: the same first bytes, and offsets for records. */
const shapeIndex = (): Uint8Array => {
  const out = Buffer.alloc(100 + 8 * 12);
  Buffer.from(shapes(11)).copy(out, 0, 0, 100);
  out.writeInt32BE(out.length / 2, 24);
  for (let k = 0; k < 12; k++) {
    out.writeInt32BE(50 + 22 * k, 100 + 8 * k);
    out.writeInt32BE(18, 104 + 8 * k);
  }
  return new Uint8Array(out);
};
const table = (): Uint8Array => {
  const out = Buffer.alloc(65 + 40);
  out.writeUInt8(3, 0);
  out.writeUInt8(125, 1);
  out.writeUInt8(11, 2);
  out.writeUInt8(2, 3);
  out.writeUInt32LE(4, 4);
  out.writeUInt16LE(65, 8);
  out.writeUInt16LE(10, 10);
  out.write('HEIGHT', 32);
  out.write('N', 43);
  out.writeUInt8(13, 64);
  return new Uint8Array(out);
};

const shapefiles = (): Foreign[] => [
  one('shapefile with a null shape', holedShapes('null shape')),
  one('shapefile with a height of no data', holedShapes('no height')),
  one('shapefile without records', shapes(11, []), /no points|no shapes/),
  one('index of a shapefile', shapeIndex(), /index of a shapefile.*; name the \.shp/),
  one('table of a shapefile', table(), /dBASE table.*; name the \.shp/),
  one(
    'two shapefiles in an archive',
    zip({ 'a.shp': shapes(11), 'b.shp': shapes(11), 'a.prj': UTM_30 }),
    /holds 2 surveys; name one/,
  ),
  one(
    'shapefile in an archive of a foreign system',
    zip({
      '__MACOSX/._green.shp': 'Mac OS X',
      'green.shp': shapes(11),
      '__MACOSX/._green.prj': 'x',
      'green.prj': UTM_30,
    }),
  ),
];

const collection = (features: object[]): string =>
  JSON.stringify({ type: 'FeatureCollection', features });
const geojson = (): Foreign[] => [
  one(
    'features after a byte order mark',
    `\ufeff${inSystem(TRUTH.map((p) => feature({ type: 'Point', coordinates: at3(p) })))}`,
  ),
  one(
    'features, some without a place',
    inSystem([
      feature(null as unknown as object),
      ...TRUTH.map((p) => feature({ type: 'Point', coordinates: at3(p) })),
    ]),
  ),
  one(
    'features of triangles',
    inSystem([
      feature({
        type: 'MultiPolygon',
        coordinates: [0, 4, 8].map((k) => [[...TRUTH.slice(k, k + 4), TRUTH[k]].map(at3)]),
      }),
    ]),
    TRUTH,
  ),
  one(
    'a geometry alone, in degrees',
    JSON.stringify({ type: 'MultiPoint', coordinates: TRUTH.map(at3) }),
    /degrees|coordinate|longitude/,
  ),
  one(
    'features of a projected system that is not said',
    collection(TRUTH.map((p) => feature({ type: 'Point', coordinates: at3(p) }))),
    /degrees|coordinate|longitude/,
  ),
  one(
    'a collection of geometries',
    inSystem([
      feature({
        type: 'GeometryCollection',
        geometries: TRUTH.map((p) => ({ type: 'Point', coordinates: at3(p) })),
      }),
    ]),
  ),
  one(
    'features, heights in feet by their name',
    inSystem(
      TRUTH.map((p) =>
        feature(
          { type: 'Point', coordinates: at3(p).slice(0, 2) },
          { elev_ft: round9(p.z / FEET) },
        ),
      ),
    ),
  ),
  one(
    'features, one a line',
    TRUTH.map((p) => JSON.stringify(feature({ type: 'Point', coordinates: at3(p) }))).join('\n'),
    /each line is JSON of its own.*FeatureCollection/,
  ),
  one(
    'features of another make',
    JSON.stringify({
      geometryType: 'esriGeometryPoint',
      features: [{ geometry: { x: 1, y: 2, z: 3 } }],
    }),
    /JSON and not GeoJSON; export/,
  ),
  one(
    'heights nested in text',
    inSystem(
      TRUTH.map((p) =>
        feature({ type: 'Point', coordinates: at3(p).slice(0, 2) }, { z: `${p.z} m` }),
      ),
    ),
    /feature 1: "51.764 m" in "z" is no height; write a number/,
  ),
];

const ply = (elements: string, body: string): string =>
  `ply\nformat ascii 1.0\nobj_info made\ncomment by hand\n${elements}end_header\n${body}`;
const scans = (): Foreign[] => [
  one(
    'scan, faces first',
    ply(
      `element face 2\nproperty list uchar int vertex_indices\nelement vertex 12\nproperty double x\nproperty double y\nproperty double z\n`,
      `3 0 1 2\n3 1 2 3\n${TRUTH.map((p) => at3(p).join(' ')).join('\n')}\n`,
    ),
    /"face" stands before the vertices; export/,
  ),
  one(
    'scan, colours first',
    ply(
      `element vertex 12\nproperty uchar red\nproperty double X\nproperty double Y\nproperty double Z\nproperty float confidence\n`,
      `${TRUTH.map((p) => `9 ${at3(p).join(' ')} 0.5`).join('\n')}\n`,
    ),
  ),
  one(
    'scan with lists at its points',
    ply(
      `element vertex 12\nproperty list uchar int near\nproperty double x\nproperty double y\nproperty double z\n`,
      `${TRUTH.map((p) => `2 1 3 ${at3(p).join(' ')}`).join('\n')}\n`,
    ),
    /property of the type "list"; export/,
  ),
];

const grid = (head: string, values = CELLS.map((p) => String(p.z)).join(' ')): string =>
  `${head}\n${values}\n`;
const grids = (): Foreign[] => [
  one(
    'grid with two sizes of cells',
    grid('ncols 4\nnrows 3\nxllcorner 512340\nyllcorner 5712300\ndx 2\ndy 2'),
    CELLS,
  ),
  one(
    'grid with cells that are not square',
    grid('ncols 4\nnrows 3\nxllcorner 512340\nyllcorner 5712300\ndx 2\ndy 3'),
    CELLS.map((p, k) => ({ ...p, n: 5_712_307.5 - 3 * Math.floor(k / 4) })),
  ),
  one(
    'grid with signs of equality',
    grid('ncols = 4\nnrows = 3\nxllcorner = 512340\nyllcorner = 5712300\ncellsize = 2'),
    CELLS,
  ),
  one(
    'grid under a comment',
    grid('# made by hand\nncols 4\nnrows 3\nxllcorner 512340\nyllcorner 5712300\ncellsize 2'),
    CELLS,
  ),
  one(
    'grid by tabs',
    grid(
      'ncols\t4\nnrows\t3\nxllcorner\t512340\nyllcorner\t5712300\ncellsize\t2',
      CELLS.map((p) => p.z.toExponential(8)).join('\t'),
    ),
    CELLS,
  ),
  one(
    'header of a grid in bytes',
    'ncols 4\nnrows 3\nxllcorner 512340\nyllcorner 5712300\ncellsize 2\nbyteorder LSBFIRST\n',
    /byteorder|no heights|values end|binary/,
  ),
  one(
    'grid with its edges named',
    grid('north: 5712306\nsouth: 5712300\neast: 512348\nwest: 512340\nrows: 3\ncols: 4'),
    /text grid with its edges named, which is not read; export/,
  ),
  one(
    'grid in bytes of text',
    grid('BYTEORDER I\nLAYOUT BIL\nNROWS 3\nNCOLS 4\nNBANDS 1\nNBITS 16'),
    /header of a binary grid, which is not read; export/,
  ),
];

const rasters = (): Foreign[] => [
  one(
    'raster of scaled numbers',
    tiff({
      bits: 64,
      values: CELLS.map((p) => p.z * 100),
      metadata:
        '<GDALMetadata><Item name="OFFSET" sample="0" role="offset">0</Item><Item name="SCALE" sample="0" role="scale">0.01</Item></GDALMetadata>',
    }),
    CELLS,
  ),
  one('raster in an unknown system', tiff({ keys: [1024, 0, 1, 1, 3072, 0, 1, 32767] }), CELLS),
  one(
    'raster in an archive with its world file',
    zip({
      'g.tif': tiff({ isTied: false }),
      'g.tfw': '2.0\n0.0\n0.0\n-2.0\n512341.0\n5712305.0\n',
    }),
    CELLS,
  ),
  one(
    'raster with a turned world file',
    tiff({ isTied: false }),
    CELLS.map((p, k) => ({
      ...p,
      e: 512_341 + 2 * (k % 4) + 0.5 * Math.floor(k / 4),
      n: 5_712_305 + 0.5 * (k % 4) - 2 * Math.floor(k / 4),
    })),
    { beside: { tfw: '2.0\n0.5\n0.5\n-2.0\n512341.0\n5712305.0\n' } },
  ),
  one('raster with a damaged world file', tiff({ isTied: false }), /world file/, {
    beside: { tfw: 'not numbers\n' },
  }),
];

const units = '<Metric linearUnit="meter"/>';
const surfaces = (): Foreign[] => [
  one(
    'surface, units at the end',
    `<?xml version="1.0"?><LandXML><Surfaces>${surface(
      'G',
      TRUTH.map((p) => ({ e: p.e / FEET, n: p.n / FEET, z: p.z / FEET })),
    )}</Surfaces><Units><Imperial linearUnit="foot"/></Units></LandXML>`,
    /units stand behind the surfaces.*--unit/,
  ),
  one(
    'surface with prefixed names',
    `<?xml version="1.0"?><l:LandXML xmlns:l="http://www.landxml.org/schema/LandXML-1.2"><l:Units><l:Metric linearUnit="meter"/></l:Units><l:Surfaces>${surface('G', TRUTH).replace(/<(\/?)(\w)/g, '<$1l:$2')}</l:Surfaces></l:LandXML>`,
  ),
  one(
    'points of a project alone',
    `<?xml version="1.0"?><LandXML><Units>${units}</Units><CgPoints>${TRUTH.map((p, k) => `<CgPoint name="${k}" code="GR">${f3(p.n)} ${f3(p.e)} ${f3(p.z)}</CgPoint>`).join('')}</CgPoints></LandXML>`,
  ),
  one(
    'points from which a surface was made',
    landxml(
      `<Surface name="G"><SourceData><DataPoints><PntList3D>${TRUTH.map((p) => `${f3(p.n)} ${f3(p.e)} ${f3(p.z)}`).join('\n')}</PntList3D></DataPoints></SourceData></Surface>`,
    ),
  ),
  one(
    'two surfaces of one name',
    landxml(
      surface('G', TRUTH) +
        surface(
          'G',
          TRUTH.map((p) => ({ ...p, z: p.z - 1 })),
        ),
    ),
    /holds 2 surfaces; name one/,
  ),
  one(
    'surface with decimal commas',
    landxml(surface('G', TRUTH)).replace(/(\d)\.(\d{3})/g, '$1,$2'),
    /"5712302,631" is not a number; a point is/,
  ),
  one(
    'surface in sixteen bits',
    new Uint8Array(Buffer.from(`\ufeff${landxml(surface('G', TRUTH))}`, 'utf16le')),
  ),
  one(
    'surface without numbers of points',
    landxml(
      `<Surface name="G"><Definition surfType="TIN"><Pnts>${pnts(TRUTH).replace(/ id="\d+"/g, '')}</Pnts></Definition></Surface>`,
    ),
  ),
];

/** An archive with one field of its heads changed. */
const changedArchive = (
  change: (bytes: Buffer, local: number, central: number) => void,
): Uint8Array => {
  const bytes = Buffer.from(zip({ 'green.csv': csv }));
  change(bytes, 0, bytes.indexOf(Buffer.from([0x50, 0x4b, 1, 2])));
  return new Uint8Array(bytes);
};
const packed = (): Foreign[] => [
  one(
    'archive of a foreign system',
    zip({
      'survey/': '',
      'survey/green.csv': csv,
      '__MACOSX/survey/._green.csv': 'Mac OS X        1,2,3',
      'survey/.DS_Store': 'x',
    }),
  ),
  one(
    'archive with a password',
    changedArchive((b, l, c) => {
      b.writeUInt16LE(1, l + 6);
      b.writeUInt16LE(1, c + 8);
    }),
    /password|encrypted/,
  ),
  one(
    'archive with lengths behind',
    changedArchive((b, l, c) => {
      b.writeUInt16LE(8, l + 6);
      b.writeUInt16LE(8, c + 8);
      b.fill(0, l + 14, l + 26);
    }),
  ),
  one(
    'archive packed in another way',
    changedArchive((b, l, c) => {
      b.writeUInt16LE(9, l + 8);
      b.writeUInt16LE(9, c + 10);
    }),
    /packed|method|pack/,
  ),
  one(
    'archive in an archive',
    zip({ 'a.zip': zip({ 'green.csv': csv }) }),
    /holds no survey that is read; put/,
  ),
  one(
    'gzip in gzip',
    new Uint8Array(gzipSync(gzipSync(csv))),
    /gzip archive in another, which is not read; unpack/,
  ),
  one(
    'gzip in an archive',
    zip({ 'green.csv.gz': gzipSync(csv) }),
    /archive holds no survey that is read; put/,
  ),
  one(
    'tape of files',
    joined(
      'green.csv',
      new Uint8Array(91),
      '0000644\0',
      new Uint8Array(149),
      'ustar\u000000',
      new Uint8Array(247),
      csv,
    ),
    /tar|unpack/i,
  ),
  one(
    'tape of files, gzip',
    new Uint8Array(
      gzipSync(
        joined(
          'green.csv',
          new Uint8Array(91),
          '0000644\0',
          new Uint8Array(149),
          'ustar\u000000',
          new Uint8Array(247),
          csv,
        ),
      ),
    ),
    /tar|unpack/i,
  ),
  one(
    'document in an archive',
    zip({ '[Content_Types].xml': '<x/>', 'word/document.xml': '<w/>' }),
    /text document or slides.*; export/,
  ),
];

const others: readonly (readonly [string, Uint8Array | string, RegExp])[] = [
  ['rich text', '{\\rtf1\\ansi 512340 5712300 51}', /RTF|rich text|save/i],
  ['building model', "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((),'2;1');\n", /IFC|STEP|export/],
  [
    'solid of triangles',
    `solid green\nfacet normal 0 0 1\nouter loop\nvertex 1 2 3\nvertex 2 2 3\nvertex 1 3 3\nendloop\nendfacet\nendsolid\n`,
    /STL.*export/,
  ],
  [
    'cloud with a head of words',
    '# .PCD v0.7 - Point Cloud Data\nVERSION 0.7\nFIELDS x y z\nSIZE 4 4 4\nTYPE F F F\nCOUNT 1 1 1\nWIDTH 2\nHEIGHT 1\nPOINTS 2\nDATA ascii\n1 2 3\n2 3 4\n',
    /PCD.*export/,
  ],
  ['scene', joined('glTF', new Uint8Array(60)), /glTF.*export/],
  ['elevations of the old kind', joined('UHL1', ' '.repeat(300)), /DTED.*export/],
  [
    'picture of a phone',
    joined(new Uint8Array([0, 0, 0, 24]), 'ftypheic', new Uint8Array(40)),
    /picture|HEIC|export|ask/,
  ],
  ['film', joined(new Uint8Array([0, 0, 0, 24]), 'ftypmp42', new Uint8Array(40)), /export|ask/],
  [
    'picture of the web',
    joined('RIFF', new Uint8Array(4), 'WEBPVP8 ', new Uint8Array(40)),
    /WebP|picture|ask/,
  ],
  [
    'database',
    joined(new Uint8Array([0, 1, 0, 0]), 'Standard Jet DB', new Uint8Array(100)),
    /export/,
  ],
  [
    'page of a printer',
    '%!PS-Adobe-3.0\n%%BoundingBox: 0 0 100 100\n1 2 3 moveto\n',
    /PostScript|ask/,
  ],
  [
    'workbook in one XML',
    '<?xml version="1.0"?><?mso-application progid="Excel.Sheet"?><Workbook xmlns="urn:schemas-microsoft-com:office:spreadsheet"><Worksheet/></Workbook>',
    /XLSX|CSV/,
  ],
  ['table of a web page', '<html><table><tr><td>N</td><td>E</td></tr></table></html>', /web page/],
  [
    'features in XML',
    '<?xml version="1.0"?><gml:FeatureCollection xmlns:gml="http://www.opengis.net/gml"/>',
    /GML.*not read; /,
  ],
  ['letter', 'From: a\nTo: b\nSubject: survey\nMIME-Version: 1.0\n\nattached\n', /three numbers/],
  ['nothing but zeros', new Uint8Array(3000), /unknown kind|zero|export/],
  [
    'heights of a raw grid',
    new Uint8Array(Buffer.from(Int16Array.from({ length: 1201 }, (_, k) => 100 + (k % 7)).buffer)),
    /unknown kind.*export/,
  ],
];

export const foreignBinaryVariants = (): Foreign[] => [
  ...workbooks(),
  ...drawings(),
  ...shapefiles(),
  ...geojson(),
  ...scans(),
  ...grids(),
  ...rasters(),
  ...surfaces(),
  ...packed(),
  ...others.map(([name, bytes, words]) => one(name, bytes, words)),
  one(
    'cloud in an archive',
    zip({ 'c.las': writeLas(TRUTH.map((p) => ({ x: p.e, y: p.n, z: p.z, group: 2 }))) }),
  ),
];
