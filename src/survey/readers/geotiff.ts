import { GeoTIFF, type GeoTIFFImage } from 'geotiff';
import { InputFault } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { counted } from '../../wording.js';
import { GEO_KEY, stateOfGeoKeys, stateOfWkt } from '../crs/file-crs.js';
import type { Stated } from '../crs/placement.js';
import { unitOfWord } from './column-vocabulary.js';
import type { FileReader, ReadContext, ReadResult } from './file-reader.js';
import { type CellRanges, cellRanges, type GridShape } from './grid-shape.js';
import { undeclaredNote } from './text-number.js';
import { heightsOf, type PassedOver, stripsOf, takeStrip } from './tiff-cells.js';
import { COMPRESSIONS, registerDecoders } from './tiff-decoders.js';
import { checkTiffDirectory } from './tiff-directory.js';
import { maskOfGrid, sourceOver } from './tiff-mask.js';

/** The library's names of the GeoKeys. */
const GEO_KEY_NAME: Readonly<Record<number, string>> = {
  [GEO_KEY.rasterType]: 'GTRasterTypeGeoKey',
  [GEO_KEY.geographic]: 'GeographicTypeGeoKey',
  [GEO_KEY.projected]: 'ProjectedCSTypeGeoKey',
  [GEO_KEY.linearUnits]: 'ProjLinearUnitsGeoKey',
  [GEO_KEY.vertical]: 'VerticalCSTypeGeoKey',
  [GEO_KEY.verticalUnits]: 'VerticalUnitsGeoKey',
};

const shapeOf = async (
  image: GeoTIFFImage,
  keys: Record<string, unknown>,
  world: readonly number[] | null,
  source: string,
): Promise<GridShape> => {
  const numbers = async (tag: string): Promise<number[] | null> => {
    const value = await image.fileDirectory.loadValue(tag as never);
    return value === undefined || value === null ? null : Array.from(value as ArrayLike<number>);
  };
  const columns = image.getWidth();
  const rows = image.getHeight();
  if (!(columns >= 1 && rows >= 1)) {
    throw new InputFault({ file: source }, `a grid of ${columns} x ${rows} cells`);
  }
  const matrix = await numbers('ModelTransformation');
  const scale = await numbers('ModelPixelScale');
  const tie = await numbers('ModelTiepoint');
  // (a, b, c; d, e, f): x = a column + b row + c of the corner (area) or the centre (point) of a cell.
  let affine: readonly number[];
  if (matrix !== null && matrix.length >= 8) {
    affine = [matrix[0], matrix[1], matrix[3], matrix[4], matrix[5], matrix[7]];
  } else if (scale !== null && scale.length >= 2 && tie !== null && tie.length >= 6) {
    const [i, j, , x, y] = tie;
    affine = [scale[0], 0, x - i * scale[0], 0, -scale[1], y + j * scale[1]];
  } else if (world !== null) {
    // A world file gives the centre of the first cell; the corner is taken here.
    const [a, d, b, e, x, y] = world;
    affine = [a, b, x - (a + b) / 2, d, e, y - (d + e) / 2];
  } else {
    throw new InputFault(
      { file: source },
      'the picture is not tied to the ground (no pixel scale and tie point)',
      'a GeoTIFF of heights states where its cells lie, or a world file (.tfw) beside it does',
    );
  }
  const [a, b, c, d, e, f] = affine;
  if (!affine.every(Number.isFinite) || !(Math.abs(a * e - b * d) > 0)) {
    throw new InputFault({ file: source }, 'the cells have no size', 'check the pixel scale');
  }
  const tied = matrix !== null || (scale !== null && tie !== null);
  const half = tied && keys.GTRasterTypeGeoKey === 2 ? 0 : 0.5;
  return {
    columns,
    rows,
    x0: c + half * (a + b),
    y0: f + half * (d + e),
    xc: a,
    yc: d,
    xr: b,
    yr: e,
  };
};

const checkKind = (image: GeoTIFFImage, source: string): void => {
  const refuse = (problem: string, cure: string): never => {
    throw new InputFault({ file: source }, problem, cure);
  };
  const compression = Number(image.fileDirectory.getValue('Compression') ?? 1);
  if (COMPRESSIONS[compression] === undefined) {
    refuse(
      Number.isNaN(compression)
        ? 'its compression is no number'
        : `compression ${compression} is not read`,
      `write it with one of: ${[...new Set(Object.values(COMPRESSIONS))].join(', ')}`,
    );
  }
  const bits = image.getBitsPerSample();
  const format = image.getSampleFormat();
  const known = format === 3 ? [32, 64] : format === 1 || format === 2 ? [8, 16, 32] : [];
  if (!known.includes(bits)) {
    refuse(
      bits === undefined
        ? 'the file does not say of how many bits its samples are'
        : `samples of ${bits} bits in ${format === undefined ? 'an unknown format' : `format ${format}`} are not read`,
      'heights are whole numbers of 8, 16 or 32 bits or floating-point numbers of 32 or 64',
    );
  }
  const predictor = Number(image.fileDirectory.getValue('Predictor' as never) ?? 1);
  if (!image.littleEndian && predictor === 2 && bits > 8) {
    refuse(
      'a big-endian file with the horizontal predictor is not read',
      'write it little-endian, or without a predictor',
    );
  }
  const samples = image.getSamplesPerPixel();
  const photometric = Number(image.fileDirectory.getValue('PhotometricInterpretation') ?? 1);
  if (samples >= 3 && bits === 8) refuse('this is a colour picture', 'ask for the grid of heights');
  if (photometric === 3) refuse('this is a picture with a palette', 'ask for the grid of heights');
  if (format === 1 && bits <= 8) {
    refuse('whole numbers of 8 bits are a picture or a hillshade', 'ask for the grid of heights');
  }
  if (!(samples >= 1 && samples <= 64)) refuse(`${samples} bands`, 'heights are one band');
  const blockCells = image.getTileWidth() * image.getTileHeight();
  if (!(blockCells > 0) || blockCells * samples * (bits / 8) > SURVEY_LIMITS.tiffBlock) {
    refuse(
      blockCells > 0
        ? `a block of ${image.getTileWidth()} x ${image.getTileHeight()} cells`
        : 'the size of its blocks is not told, or damaged',
      'write the grid in tiles, or in strips of a few rows',
    );
  }
};

/** The six numbers of a world file beside the picture; null without one. */
const worldOf = (beside: Readonly<Record<string, string>>): number[] | null => {
  const text = beside.tfw ?? beside.tifw ?? beside.wld;
  const values =
    text
      ?.trim()
      .split(/\s+/)
      .slice(0, 6)
      .map((v) => Number(v.replace(',', '.'))) ?? [];
  return values.length === 6 && values.every(Number.isFinite) ? values : null;
};

/** What keys, metadata and the files beside say; a text beside stands in for keys that are missing. */
const statedOf = (
  keys: Readonly<Record<string, unknown>>,
  metadata: Readonly<Record<string, unknown>>,
  beside: Readonly<Record<string, string>>,
): Stated => {
  const own = stateOfGeoKeys((number) => keys[GEO_KEY_NAME[number]]);
  const citation = [keys.PCSCitationGeoKey, keys.GTCitationGeoKey].find(
    (text) => typeof text === 'string' && /PROJCS\[/.test(text),
  );
  const aux = /<SRS[^>]*>([^<]{10,8000})<\/SRS>/.exec(
    (beside['aux.xml'] ?? '').slice(0, 1 << 17),
  )?.[1];
  const text =
    typeof citation === 'string'
      ? citation.slice(citation.indexOf('PROJCS['))
      : (beside.prj ?? aux?.replaceAll('&quot;', '"'));
  const other = text === undefined ? null : stateOfWkt(text);
  const unitType =
    metadata.UNITTYPE ?? /<UnitType>([^<]{1,40})</.exec(beside['aux.xml'] ?? '')?.[1];
  const up = typeof unitType === 'string' ? unitOfWord(unitType) : null;
  return {
    crs: own.crs ?? other?.crs ?? null,
    unit: own.unit ?? other?.unit ?? null,
    verticalUnit: up?.factor === 1 ? up.unit : (own.verticalUnit ?? other?.verticalUnit ?? null),
  };
};

/** What the library's error is about, in our words; nothing where that helps nobody. */
const reasonOf = (error: unknown): string => {
  if (error instanceof RangeError) return ': a block is shorter than it should be';
  const message = error instanceof Error ? error.message : '';
  if (/compression/i.test(message)) return ': its compression is not one that is read';
  return /geokey/i.test(message) ? ': the keys of its coordinate system do not fit together' : '';
};

/** The band that is asked for, from 1. */
const bandOf = (image: GeoTIFFImage, asked: number | null, source: string): number => {
  const bands = image.getSamplesPerPixel();
  const band = asked ?? 1;
  if (Number.isInteger(band) && band >= 1 && band <= bands) return band;
  throw new InputFault(
    { file: source },
    `there is no band ${band}`,
    bands === 1 ? 'the file has one band' : `its bands are numbered from 1 to ${bands}`,
  );
};

const checkCount = ({ blocks }: CellRanges, { columns, rows }: GridShape, source: string): void => {
  const wanted = blocks.reduce(
    (sum, block) =>
      sum + (block.lastRow - block.firstRow + 1) * (block.lastColumn - block.firstColumn + 1),
    0,
  );
  if (wanted <= SURVEY_LIMITS.cells) return;
  throw new InputFault(
    { file: source },
    `${columns} x ${rows} cells are more than this program looks at in one go`,
    'give the outline of a green',
  );
};

const readImage = async (
  tiff: GeoTIFF,
  image: GeoTIFFImage,
  context: ReadContext,
): Promise<ReadResult> => {
  const { options } = context;
  const { source } = options;
  checkKind(image, source);
  const bands = image.getSamplesPerPixel();
  const band = bandOf(image, options.band ?? null, source);
  const mask = await maskOfGrid(tiff, image, options);
  const keys = (image.getGeoKeys() ?? {}) as Record<string, unknown>;
  const texts = options.beside ?? {};
  const shape = await shapeOf(image, keys, worldOf(texts), source);
  const metadata = (await image.getGDALMetadata(band - 1)) ?? {};
  const place = context.begin(statedOf(keys, metadata, texts));
  const ranges = cellRanges(shape, context);
  checkCount(ranges, shape, source);
  const heights = heightsOf(image, metadata);
  const passed: PassedOver = { masked: 0, undeclared: 0 };
  const { x0, xc, xr, y0, yc, yr } = shape;
  for await (const strip of stripsOf(image, mask, band, ranges)) {
    takeStrip(strip, ranges, heights, passed, (row, column, height) => {
      const at = (): string => `row ${row + 1}, column ${column + 1}`;
      place(x0 + column * xc + row * xr, y0 + column * yc + row * yr, height, at);
    });
  }
  return {
    kind: 'grid',
    cellSize: ranges.cellSize,
    breaklines: [],
    notes: [
      ...(bands > 1 && (options.band ?? null) === null
        ? [`${bands} bands: the first is taken as the height`]
        : []),
      ...(passed.masked === 0
        ? []
        : [`passed over: ${counted(passed.masked, 'cell')} that the mask leaves out`]),
      ...undeclaredNote(passed.undeclared),
    ],
    how: `GeoTIFF, heights at the centres of cells${bands > 1 ? `, band ${band} of ${bands}` : ''}`,
  };
};

/**
 * GeoTIFF: heights at the centres of cells. Only the blocks that a window touches are read and
 * decoded. Pixel-is-area and pixel-is-point, tiles and strips, scale and offset of the first band, and
 * cells marked as without data are heeded.
 *
 * @throws InputFault for a file that is damaged, not tied to the ground, or not a grid of heights.
 */
export const readGeoTiff: FileReader = async (bytes, context) => {
  const { source } = context.options;
  await checkTiffDirectory(bytes, source);
  registerDecoders();
  try {
    const tiff = await GeoTIFF.fromSource(sourceOver(bytes) as never);
    return await readImage(tiff, await tiff.getImage(0), context);
  } catch (error) {
    if (error instanceof InputFault) throw error;
    throw new InputFault(
      { file: source },
      `the GeoTIFF is damaged or of a kind that is not read${reasonOf(error)}`,
      'fetch it again, or write it as a plain GeoTIFF',
    );
  }
};
