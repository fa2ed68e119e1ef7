import { InputFault, quoted } from '../../fault.js';
import type { ByteSource } from './byte-source.js';
import type { ReadContext } from './file-reader.js';
import type { Columns } from './points-columns.js';
import { type Dialect, splitFields } from './points-dialect.js';
import { isComment } from './points-header.js';
import { readLine } from './points-line.js';
import { type Line, linesOf } from './text-lines.js';

/** The same columns with east and north exchanged. */
const exchanged = (columns: Columns): Columns => ({
  ...columns,
  at: { ...columns.at, x: columns.at.y, y: columns.at.x },
});

/** How much more often the one order must land on the green than the other. */
const CLEAR = 10;

const refuseOrder = (line: Line, columns: Columns, dialect: Dialect, source: string): never => {
  const { at } = columns;
  const fields = splitFields(line.text, dialect);
  const [a, b] = [at.x, at.y];
  const names = (north: number, east: number): string =>
    fields
      .map((_, k) =>
        k === north
          ? 'north'
          : k === east
            ? 'east'
            : k === at.z
              ? 'height'
              : k === 0
                ? 'id'
                : 'code',
      )
      .slice(0, Math.min(fields.length, Math.max(at.x, at.y, at.z) + 2))
      .join(' ');
  const named = columns.byLetters
    ? '; some countries call north x and east y'
    : columns.names.length >= 3 && columns.names.some((name) => /\p{L}/u.test(name))
      ? `; the names ${quoted(columns.names.join(', '), 50)} are not known`
      : '';
  throw new InputFault(
    { file: source, place: `line ${line.number}` },
    `columns ${a + 1} and ${b + 1} may be north and east, or east and north: nothing says which${named}`,
    `write --columns ${quoted(names(a, b), 90)} or --columns ${quoted(names(b, a), 90)}, or the key columns in the course file`,
  );
};

/** The letter alone, or as surveyors of central Europe write it: "X", "Y [m]", "X-Koordinate". */
const BARE = /^\W*[xy](?:[\s_.-]?koord\p{L}*)?\s*(?:[([].*)?\W*$/iu;

/** Metres of a northing between 30 and 70 degrees, and of an easting in a zone with its false origin of 500 km. */
const NORTHING = [3.3e6, 7.8e6] as const;
const EASTING = [160e3, 840e3] as const;

const within = (value: number, [low, high]: readonly [number, number]): boolean =>
  value >= low && value <= high;

/**
 * Whether x may as well be north, where no map tells: geodesists of many countries give the letters so. Who writes y
 * before x may mean either, unless only y's numbers can be the northings of a zone; who writes x first means east,
 * unless only x's can.
 */
const lettersAreOpen = (
  { at, names, stated, factor }: Columns,
  [x, y]: readonly [number, number],
): boolean => {
  if (![at.x, at.y].every((k) => BARE.test((names[k] ?? '').slice(0, 40)))) return false;
  const metres = stated.unit === null || (stated.unit === 'm' && factor.x === 1);
  const [first, second] = at.y < at.x ? [y, x] : [x, y];
  const northFirst = metres && within(first, NORTHING) && within(second, EASTING);
  return at.y < at.x ? !northFirst : northFirst;
};

/** Settles an order that the file leaves open by where its points come to lie. */
export const settleOrder = async (
  bytes: ByteSource,
  context: ReadContext,
  columns: Columns,
  dialect: Dialect,
  first: Line,
): Promise<Columns> => {
  if (!columns.ambiguous && !columns.byLetters) return columns;
  const { source } = context.options;
  let straight = 0;
  let turned = 0;
  for await (const lines of linesOf(bytes, source)) {
    const places: [number, number][] = [];
    for (const line of lines) {
      if (line.number < columns.firstLine || isComment(line.text)) continue;
      const read = readLine(splitFields(line.text, dialect), columns, dialect);
      if ('point' in read) places.push([read.point[0], read.point[1]]);
    }
    const one = context.landing(columns.stated, places);
    if (one === null) {
      if (columns.byLetters && places.length > 0 && !lettersAreOpen(columns, places[0])) {
        return columns;
      }
      return refuseOrder(first, columns, dialect, source);
    }
    straight += one;
    turned += context.landing(
      columns.stated,
      places.map(([x, y]) => [y, x]),
    )!;
    // Letters are believed unless the first piece of the file speaks against them.
    if (columns.byLetters) break;
  }
  if (columns.byLetters) {
    return straight > 0 || turned === 0
      ? columns
      : { ...exchanged(columns), whence: 'x is north and y east, by the map' };
  }
  if (straight >= CLEAR * turned) return columns;
  if (turned >= CLEAR * straight) return exchanged(columns);
  return refuseOrder(first, columns, dialect, source);
};
