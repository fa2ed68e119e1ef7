import { InputFault } from '../fault.js';
import type { Box } from '../geometry.js';
import { likelyCause } from './crs/likely-cause.js';
import { checkPlace, type FilePlacement, placementOf, type Stated } from './crs/placement.js';
import { heeded, withPrj } from './heeded-statements.js';
import {
  type ByteSource,
  bytesInMemory,
  maskBeside,
  textsBeside,
  withFile,
} from './readers/byte-source.js';
import type {
  FileReader,
  ReadContext,
  ReadOptions,
  ReadPoint,
  ReadResult,
} from './readers/file-reader.js';
import { takeOutLoneZeros, zerosNote } from './readers/lone-zeros.js';
import { unpacked } from './readers/packed-files.js';
import { keepPoint, newStore, type PointStore, settled } from './readers/point-store.js';
import { type SurveyFormat, sniffFormat } from './readers/sniff.js';
import { readingLine } from './reading-line.js';
import type { Survey } from './survey.js';

/** Each is loaded when the first file of its format is read. */
const READERS: Readonly<Record<SurveyFormat, () => Promise<FileReader>>> = {
  points: async () => (await import('./readers/points-text.js')).readPointsText,
  'ascii-grid': async () => (await import('./readers/ascii-grid.js')).readAsciiGrid,
  geotiff: async () => (await import('./readers/geotiff.js')).readGeoTiff,
  landxml: async () => (await import('./readers/landxml.js')).readLandXml,
  las: async () => (await import('./readers/las.js')).readLas,
  xlsx: async () => (await import('./readers/xlsx.js')).readXlsx,
  dxf: async () => (await import('./readers/dxf.js')).readDxf,
  shapefile: async () => (await import('./readers/shapefile.js')).readShapefile,
  geojson: async () => (await import('./readers/geojson-points.js')).readGeoJson,
  ply: async () => (await import('./readers/ply.js')).readPly,
};

/** What one reading gathers beside what the reader gives. */
interface Gathered {
  readonly stores: readonly PointStore[];
  readonly notes: string[];
  /** What the file states, and what counts of it and of the asker's word. */
  file: Stated;
  used: Stated;
  /** In the file's own numbers; null before the first point. */
  first: readonly [number, number, number] | null;
  readonly extent: { -readonly [K in keyof Box]: Box[K] };
}

const NOTHING_STATED: Stated = { crs: null, unit: null, verticalUnit: null };

const inBox = ({ minX, minY, maxX, maxY }: Box, x: number, y: number): boolean =>
  x >= minX && x <= maxX && y >= minY && y <= maxY;

/** Takes points into the stores of the windows that they lie in. */
const pointTaker = (gathered: Gathered, placement: FilePlacement, source: string): ReadPoint => {
  const { stores, extent } = gathered;
  const out = new Float64Array(2);
  return (x, y, z, place, detail) => {
    if (!(Math.abs(x) < FAR_NUMBER && Math.abs(y) < FAR_NUMBER)) {
      checkPlace(x, y, z, source, place);
    }
    gathered.first ??= [x, y, z];
    placement.place(x, y, out);
    const height = z * placement.vertical;
    if (x < extent.minX) extent.minX = x;
    if (x > extent.maxX) extent.maxX = x;
    if (y < extent.minY) extent.minY = y;
    if (y > extent.maxY) extent.maxY = y;
    let inside = false;
    for (const store of stores) {
      if (store.window !== null && !inBox(store.window, out[0], out[1])) continue;
      keepPoint(store, [out[0], out[1], height], source, detail);
      inside = true;
    }
    if (!inside) {
      // NaN and infinities lie in no window; they are faults all the same.
      if (!(Math.abs(out[0]) < 1e8 && Math.abs(out[1]) < 1e8)) {
        checkPlace(out[0], out[1], height, source, place);
      }
      return null;
    }
    checkPlace(out[0], out[1], height, source, place);
    return [out[0], out[1], height];
  };
};

/** What a reader of `format` is given; see `ReadContext`. */
const contextOf = (
  gathered: Gathered,
  options: ReadOptions,
  format: SurveyFormat,
  windows: readonly (Box | null)[],
): ReadContext => {
  const { source } = options;
  const frame = options.plane ?? null;
  const asked = windows.every((window) => window !== null) ? windows : null;
  let placement: FilePlacement | null = null;
  const placed = (): FilePlacement => {
    if (placement === null) throw new Error('a reader placed a point before it began');
    return placement;
  };
  return {
    options,
    begin: (own) => {
      gathered.file = withPrj(own, format, options);
      const { known, doubts } = heeded(options, gathered.file);
      gathered.notes.push(...doubts);
      gathered.used = known;
      placement = placementOf(known, frame, source);
      return pointTaker(gathered, placement, source);
    },
    landing: (own, positions) => {
      if (asked === null) return null;
      // Where one green's points tell the order of a file, those of another must not have a say in it.
      if (asked.length > 1)
        throw new Error('a file of open order is read for one window at a time');
      const p = placementOf(heeded(options, withPrj(own, format, options)).known, frame, source);
      const at = new Float64Array(2);
      return positions.filter(([x, y]) => {
        p.place(x, y, at);
        return inBox(asked[0], at[0], at[1]);
      }).length;
    },
    windowsInFile: () => asked?.map((window) => placed().windowInFile(window)) ?? null,
    scaleAt: (x, y) => placed().scaleAt(x, y),
    reaches: ({ minX, minY, maxX, maxY }) => {
      const { extent } = gathered;
      extent.minX = Math.min(extent.minX, minX);
      extent.minY = Math.min(extent.minY, minY);
      extent.maxX = Math.max(extent.maxX, maxX);
      extent.maxY = Math.max(extent.maxY, maxY);
    },
    place: (x, y, z) => {
      const out = new Float64Array(2);
      placed().place(x, y, out);
      return [out[0], out[1], z * placed().vertical];
    },
  };
};

/** No green is as small, metres: what is closer together is in degrees. */
const DOT = 0.05;

/** Degrees that nothing calls so would be read as a green of a millimetre. */
const checkSize = ({ stores, extent, used, first }: Gathered, source: string): void => {
  const { minX, maxX, minY, maxY } = extent;
  if (used.crs !== null || first === null || stores[0].count < 4) return;
  if (!(maxX > minX && maxY > minY) || maxX - minX > DOT || maxY - minY > DOT) return;
  const size = Math.max(Math.abs(first[0]), Math.abs(first[1]));
  if (size > 180 || size < 1) return;
  throw new InputFault(
    { file: source },
    `all positions lie within ${Number((maxX - minX).toPrecision(2))} by ${Number((maxY - minY).toPrecision(2))} of each other and look like degrees`,
    'write --crs EPSG:4326 (crs: EPSG:4326 in the course file), and which column is north and which east',
  );
};

/** Refuses a reading that has no point in one of its windows, and says why as far as that can be told. */
const checkStores = ({ stores, extent, used }: Gathered, { source, plane }: ReadOptions): void => {
  const empty = stores.find((store) => store.count === 0);
  if (empty === undefined) return;
  if (empty.window === null || !(extent.minX <= extent.maxX)) {
    throw new InputFault(
      { file: source },
      'the file holds no points',
      'a survey has a position and a height for each point',
    );
  }
  const cause = likelyCause(extent, empty.window, used, plane ?? null);
  throw new InputFault({ file: source }, cause.problem, cause.cure);
};

/**
 * Reads a survey once and cuts it to several windows (boxes in metres of `options.plane`, or of the
 * survey's own frame): one `Survey` a window, in the same order. A window of null keeps everything.
 *
 * @throws InputFault when the file is not a survey, is damaged, or has no point in a window; Error where the windows
 *   would have to settle which column is east, and there are several.
 */
export const readSurveys = async (
  input: ByteSource | Uint8Array,
  asked: ReadOptions,
  windows: readonly (Box | null)[],
): Promise<Survey[]> => {
  const { source } = asked;
  const packed = await unpacked(
    input instanceof Uint8Array ? bytesInMemory(input) : input,
    source,
    asked.sheet ?? null,
  );
  const { bytes } = packed;
  const options: ReadOptions = { ...asked, beside: { ...asked.beside, ...packed.beside } };
  if (options.format === 'by-hand') {
    throw new InputFault(
      { file: source },
      'a survey by hand, whose paces start from the edge of a green',
      'name the course and the hole that it is of',
    );
  }
  const format = options.format ?? (await sniffFormat(bytes, source));
  const stores = windows.map((window) => newStore(window));
  const gathered: Gathered = {
    stores,
    notes: [],
    file: NOTHING_STATED,
    used: NOTHING_STATED,
    first: null,
    extent: { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity },
  };
  const read = await READERS[format]();
  const result = await read(bytes, contextOf(gathered, options, format, windows));
  checkStores(gathered, options);
  checkSize(gathered, source);
  const { file, used, first, notes } = gathered;
  const how = readingLine({ format, result, options, file, used, first });
  return stores.map((store) => {
    const zeros = takeOutLoneZeros(store);
    return surveyOf(
      store,
      {
        ...result,
        how,
        notes: [...notes, ...result.notes, ...zerosNote(zeros)],
        breaklines:
          zeros === null
            ? result.breaklines
            : result.breaklines
                .map((line) => line.filter(([, , z]) => z !== 0))
                .filter((line) => line.length > 1),
      },
      options,
      used.crs,
    );
  });
};

/** No position in any unit is as large; what is beyond it is not given to a projection. */
const FAR_NUMBER = 1e9;

const surveyOf = (
  store: PointStore,
  result: ReadResult,
  options: ReadOptions,
  crs: string | null,
): Survey => {
  const { window } = store;
  return {
    source: options.source,
    kind: result.kind,
    ...settled(store),
    statedSigma: options.sigma ?? null,
    breaklines:
      window === null
        ? result.breaklines
        : result.breaklines.filter((line) => line.some(([x, y]) => inBox(window, x, y))),
    cellSize: result.cellSize,
    crs,
    ...(result.how === undefined ? {} : { how: result.how }),
    notes: result.notes,
  };
};

/** Reads a survey, cut to a window when one is given; see `readSurveys`. */
export const readSurvey = async (
  input: ByteSource | Uint8Array,
  options: ReadOptions,
  window: Box | null = null,
): Promise<Survey> => (await readSurveys(input, options, [window]))[0];

/** Opens a file and reads it; see `readSurvey`. */
export const readSurveyFile = (
  path: string,
  options: ReadOptions,
  window: Box | null = null,
): Promise<Survey> => readSurveysFile(path, options, [window]).then(([survey]) => survey);

/** Opens a file, looks at what lies beside it, and cuts several greens out of it in one pass; see `readSurveys`. */
export const readSurveysFile = (
  path: string,
  options: ReadOptions,
  windows: readonly (Box | null)[],
): Promise<Survey[]> =>
  withFile(path, options.source, async (bytes) =>
    readSurveys(
      bytes,
      {
        ...options,
        beside: await textsBeside(path),
        mask: await maskBeside(path, options.source),
      },
      windows,
    ),
  );
