import { InputFault } from '../../fault.js';
import { ownValue } from '../../own-value.js';
import type { ByteSource } from './byte-source.js';

export type SurveyFormat =
  | 'points'
  | 'ascii-grid'
  | 'geotiff'
  | 'landxml'
  | 'las'
  | 'xlsx'
  | 'dxf'
  | 'shapefile'
  | 'geojson'
  | 'ply';

/** What a survey may be named as: one by hand can only be read on the green it is of. */
export type SourceFormat = SurveyFormat | 'by-hand';

/** TIFF and BigTIFF, little and big end first. */
const TIFF = ['49492a00', '49492b00', '4d4d002a', '4d4d002b'];

const AS_POINTS = 'export its points as CSV with the names of the columns';
const AS_GRID = 'export the grid as GeoTIFF or ESRI ASCII grid';

/** First bytes (hexadecimal) of files that are often handed over in place of a survey: what, and the cure. */
const BYTES: readonly (readonly [string, string, string])[] = [
  ['25504446', 'a PDF', 'ask for the points behind the drawing'],
  ['89504e47', 'a picture (PNG)', 'ask for the grid of heights behind it'],
  ['ffd8ff', 'a picture (JPEG)', 'ask for the grid of heights behind it'],
  ['47494638', 'a picture (GIF)', 'ask for the grid of heights behind it'],
  ['424d', 'a picture (BMP)', 'ask for the grid of heights behind it'],
  ['41433130', 'a drawing (DWG)', 'save it as DXF, or export the surface as LandXML'],
  ['4175746f4341442042696e61727920445846', 'a binary DXF', 'save it as DXF text'],
  ['d0cf11e0a1b11ae1', 'an old workbook or another compound file', 'save the sheet as XLSX or CSV'],
  ['53514c69746520666f726d6174203300', 'a GeoPackage or another database', AS_POINTS],
  ['44534242', 'a binary grid (DSBB)', AS_GRID],
  ['44534141', 'a text grid (DSAA)', AS_GRID],
  ['44535242', 'a binary grid (DSRB)', AS_GRID],
  ['4153544d2d453537', 'an E57 scan', 'export its points as LAS, LAZ or PLY'],
  ['377abcaf271c', 'a 7z archive', 'unpack it first'],
  ['526172211a07', 'a RAR archive', 'unpack it first'],
  ['425a68', 'a bzip2 archive', 'unpack it first'],
  ['fd377a585a00', 'an xz archive', 'unpack it first'],
  ['28b52ffd', 'a Zstandard archive', 'unpack it first'],
  ['89484446', 'an HDF file', AS_GRID],
  ['43444601', 'a NetCDF file', AS_GRID],
  ['43444602', 'a NetCDF file', AS_GRID],
  ['50415231', 'a Parquet table', AS_POINTS],
  ['7b5c727466', 'a text document (RTF)', AS_POINTS],
  ['676c5446', 'a glTF model', 'export its vertices as PLY or CSV'],
  ['55484c31', 'a DTED grid', AS_GRID],
  ['52494646', 'a picture or a film (RIFF)', 'ask for the survey behind it'],
  ['25215053', 'a page for a printer (PostScript)', 'ask for the points behind the drawing'],
  ['1f8b', 'a gzip archive in another', 'unpack it first'],
];

/** Texts that are no list of points, by their first lines. */
const TEXTS: readonly (readonly [RegExp, string, string])[] = [
  [
    /^\$(?:GP|GN|GL|GA|GB|BD)[A-Z]{3},/m,
    'raw sentences of a receiver (NMEA)',
    'export the averaged points as CSV',
  ],
  [/^\*?(?:11|41)\d{4}[+.]\S+\s+(?:[28]\d|8[1-3])/m, 'instrument records (GSI)', AS_POINTS],
  [/^\*?[48]?1\d{2,5}[+-]\w{8,16} (?:[2-8]\d)/m, 'instrument records (GSI)', AS_POINTS],
  [/^00NM|^13(?:NM|TS|CC|OO)|^02TP|^09F1/m, 'instrument records (SDR)', AS_POINTS],
  [/^(?:JB|MO|BK|OC|LS),\s?(?:NM|AD|OP|SP|HI|HR)/m, 'field records (RW5)', AS_POINTS],
  [
    /^(?:#[^\n]*\n|mtllib[^\n]*\n|o [^\n]*\n|g [^\n]*\n|[ \t\r]*\n)*v\s+-?[\d.]+\s+-?[\d.]+\s+-?[\d.]+[ \t\r]*[\d.]*[ \t\r]*\n[\s\S]*(?:^v |^f )/m,
    'an OBJ model',
    'export its vertices as PLY or CSV',
  ],
  [/^\s*solid\s[\s\S]*facet normal/m, 'an STL model', 'export its vertices as PLY or CSV'],
  [
    /^%?\s*RINEX|RINEX VERSION \/ TYPE/m,
    'raw observations (RINEX)',
    'process them, and export the points as CSV',
  ],
  [/^\s*#VRML/m, 'a VRML model', AS_POINTS],
  [/^# \.PCD|^VERSION [\d.]+\r?\nFIELDS /m, 'a PCD cloud', 'export it as PLY, LAS or CSV'],
  [
    /^(?:north|south|east|west|rows|cols):\s*[-\d.]+\s+(?:north|south|east|west|rows|cols):/im,
    'a text grid with its edges named',
    AS_GRID,
  ],
  [
    /^[ \t]*(?:BYTEORDER|LAYOUT|NBANDS|NBITS|BANDROWBYTES)\s+\S+\s/im,
    'the header of a binary grid',
    AS_GRID,
  ],
  [/^ISO-10303-21/m, 'a STEP or IFC model', AS_POINTS],
];

/** Kinds of XML by their first element. */
const XML: Readonly<Record<string, readonly [string, string]>> = {
  kml: ['a KML file', 'its heights are rarely surveyed: ask for the points as CSV'],
  gpx: ['a GPX track', 'a track is no survey: export the surveyed points as CSV'],
  jobfile: ['a job file of a controller (XML)', AS_POINTS],
  jxl: ['a job file of a controller (XML)', AS_POINTS],
  html: ['a web page', 'download the file itself'],
  svg: ['a picture (SVG)', 'ask for the points behind it'],
  featurecollection: ['a GML file', AS_POINTS],
  collada: ['a COLLADA model', AS_POINTS],
  osm: ['an OpenStreetMap extract', 'it belongs to the key map, not to a survey'],
  workbook: ['a workbook in one XML file', 'save it as XLSX or CSV'],
  x3d: ['an X3D model', AS_POINTS],
};

/** The header of a grid, below lines of comment or not. */
const GRID = /^\s*(?:[#;!][^\n]*\n\s*){0,20}(?:ncols|nrows|xllcorner|xllcenter)\s/i;

/** A dBASE table by its version, the day of its last change and the end of its list of fields. */
const isTable = (head: Buffer): boolean => {
  if (head.length < 65 || ![0x03, 0x83, 0x8b, 0x30, 0xf5].includes(head[0])) return false;
  const [month, day, length] = [head[2], head[3], head.readUInt16LE(8)];
  if (month < 1 || month > 12 || day < 1 || day > 31 || length % 32 !== 1) return false;
  return length > head.length || head[length - 1] === 0x0d;
};

const refuse = (source: string, what: string, cure: string): never => {
  throw new InputFault({ file: source }, `this is ${what}, which is not read`, cure);
};

/**
 * The format of a survey by its first bytes, never by its name. Archives are opened before this
 * (see packed-files.ts).
 *
 * @throws InputFault for an empty file and for a known format that is not read.
 */
export const sniffFormat = async (bytes: ByteSource, source: string): Promise<SurveyFormat> => {
  const head = Buffer.from(await bytes.read(0, 8192));
  if (head.length === 0) throw new InputFault({ file: source }, 'the file is empty');
  const start = head.toString('hex', 0, 32);
  const text = head.toString('latin1');
  if (text.startsWith('LASF')) return 'las';
  if (TIFF.some((mark) => start.startsWith(mark))) return 'geotiff';
  if (start.startsWith('504b0304')) return 'xlsx';
  if (start.startsWith('0000270a')) return 'shapefile';
  if (/^ply\r?\n/.test(text)) return 'ply';
  for (const [mark, what, cure] of BYTES) if (start.startsWith(mark)) refuse(source, what, cure);
  if (text.startsWith('ustar', 257)) refuse(source, 'a tar archive', 'unpack it first');
  if (text.startsWith('ftyp', 4)) {
    refuse(source, 'a picture or a film of a phone', 'ask for the survey behind it');
  }
  if (isTable(head)) {
    refuse(source, 'a dBASE table (.dbf)', 'name the .shp file that it belongs to');
  }
  const wide = /^(?:\u00ff\u00fe|\u00fe\u00ff)/.test(text);
  const plain = (wide ? text.replaceAll('\0', '') : text).replace(
    /^(?:\u00ef\u00bb\u00bf|\u00ff\u00fe|\u00fe\u00ff)/,
    '',
  );
  if (/^\s*(?:999\r?\n[^\n]*\n\s*)*0\r?\n\s*SECTION/.test(plain)) return 'dxf';
  if (/^\s*[{[]/.test(plain)) return 'geojson';
  if (/^\s*</.test(plain)) {
    const element =
      /<\s*(?:[\w-]+:)?([A-Za-z][\w-]*)/.exec(plain.replace(/<[?!][^>]*>/g, ''))?.[1] ?? '';
    const known = ownValue(XML, element.toLowerCase());
    if (known !== undefined) refuse(source, known[0], known[1]);
    return 'landxml';
  }
  if (GRID.test(plain)) return 'ascii-grid';
  if (!wide && plain.includes('\0')) {
    refuse(
      source,
      'a binary file of an unknown kind',
      'export the points as CSV, LAS, GeoTIFF or LandXML',
    );
  }
  for (const [pattern, what, cure] of TEXTS)
    if (pattern.test(plain.slice(0, 2048))) refuse(source, what, cure);
  return 'points';
};
