import { InputFault } from '../../fault.js';
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
      .slice(0, Math.max(at.z + 1, Math.min(fields.length, at.z + 2)))
      .join(' ');
  const named =
    columns.names.length >= 3 && columns.names.some((name) => /\p{L}/u.test(name))
      ? `; the names "${columns.names.join(', ').slice(0, 50)}" are not known`
      : '';
  throw new InputFault(
    { file: source, place: `line ${line.number}` },
    `columns ${a + 1} and ${b + 1} may be north and east, or east and north: nothing says which${named}`,
    `write --columns "${names(a, b)}" or --columns "${names(b, a)}", or the key columns in the course file`,
  );
};

/** Who writes y before x may well mean north by x: without a map that is said. */
const toldOfLetters = (columns: Columns): Columns =>
  columns.at.y > columns.at.x
    ? columns
    : {
        ...columns,
        notes: [
          ...columns.notes,
          'x is taken as east and y as north; where x is north, name the columns: --columns',
        ],
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
      return columns.byLetters
        ? toldOfLetters(columns)
        : refuseOrder(first, columns, dialect, source);
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
