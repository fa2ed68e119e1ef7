import { InputFault, quoted } from '../../fault.js';
import { counted } from '../../wording.js';
import { namedColumn } from './column-names.js';
import { foldedWord, unreadUnit } from './column-vocabulary.js';
import type { Dialect } from './points-dialect.js';
import type { Header } from './points-header.js';
import type { Shape } from './points-order.js';

/** Files of points that would read, and read wrong. Each is refused by its cause. */

interface Doubtful {
  readonly header: Header | null;
  /** The words over the columns, a header or not. */
  readonly names: readonly string[] | null;
  readonly shape: Shape;
  readonly dialect: Dialect;
  readonly source: string;
  readonly line: number;
}

const PLACE = new Set(['x', 'y', 'z']);

const unreadUnits = ({ header }: Doubtful): readonly [string, string] | null => {
  const at = (header?.columns ?? []).findIndex(
    ({ column }, k) => PLACE.has(column) && unreadUnit(header!.names[k]) !== null,
  );
  return at < 0
    ? null
    : [
        `the column ${quoted(header!.names[at], 30)} is in a unit that is not read`,
        'export lengths in metres or feet, angles in degrees',
      ];
};

/** Names of parts of an angle: "Lat D", "Lat Min", "Longitude Sec". */
const PART = /(?:^|[^a-z])lat(?:itude)?[\s_.-]*(?:m|min|minutes?|s|sec|seconds?)[.)]?$/i;

const degreesInParts = ({ header }: Doubtful): readonly [string, string] | null =>
  header?.names.some((name) => name.length < 40 && PART.test(name.trim()))
    ? [
        'degrees, minutes and seconds stand in columns of their own',
        'write an angle in one column: 51 30 12.3 N, or decimal degrees',
      ]
    : null;

/** "DDMM.mmmm" and "DDDMM.mm": minutes packed behind the degrees, with a letter in a column of its own. */
const minutesPacked = ({ header, names }: Doubtful): readonly [string, string] | null =>
  (header?.names ?? names ?? []).some((name) => name.length < 40 && /d{2,3}mm(?!\W?ss)/i.test(name))
    ? [
        'degrees and minutes are packed into one number',
        'export decimal degrees, or degrees with their signs: 51 30.2050 N',
      ]
    : null;

/** "West Longitude" counts to the west; its numbers may be positive where longitudes are not. */
const countedWest = ({ header }: Doubtful): readonly [string, string] | null => {
  const at = (header?.columns ?? []).findIndex(
    ({ geographic }, k) =>
      geographic && /west|ouest|oeste|ovest|south|sud|sur\b/i.test(header!.names[k].slice(0, 40)),
  );
  return at < 0
    ? null
    : [
        `the column ${quoted(header!.names[at], 30)} counts degrees to the west or south`,
        'name it Longitude or Latitude, with a minus before what is west or south',
      ];
};

/** Letters of the hemisphere in a column of their own, of which one turns the sign. */
const hemispheres = ({ header, shape }: Doubtful): readonly [string, string] | null =>
  header?.columns.some(({ geographic }) => geographic) && shape.turned
    ? [
        'the letters W and S stand in columns of their own',
        'write each into its angle: 2.8212345 W, or -2.8212345',
      ]
    : null;

/** 1000,123,2000,456: as many fields again as there are names, all of them whole numbers. */
const splitDecimals = ({ header, shape, dialect }: Doubtful): readonly [string, string] | null => {
  if (header === null || dialect.delimiter !== ',') return null;
  const spare = shape.width - header.names.length;
  const wholes = shape.whole.filter(Boolean).length;
  return spare >= 3 && wholes >= 6 && wholes >= shape.width - 2
    ? [
        `${shape.width} fields stand under ${counted(header.names.length, 'name')}: the commas seem to part fields and decimals alike`,
        'export with semicolons or tabs between the fields',
      ]
    : null;
};

/** Two columns that are the same by their names, and as good as each other. */
const sameTwice = ({ header }: Doubtful): readonly [string, string] | null => {
  // A name that the others of the header make mean something else is not the same: R, H and Z.
  const found = (header?.names ?? []).map((name, k) => {
    const one = namedColumn(name);
    const { column } = header!.columns[k];
    return PLACE.has(column) ? { ...one, column } : one;
  });
  for (const column of PLACE) {
    const ranks = found.filter((one) => one.column === column).map(({ rank }) => rank);
    const best = Math.min(...ranks);
    if (ranks.filter((rank) => rank === best).length < 2) continue;
    const names = header!.names.filter(
      (_, k) => found[k].column === column && found[k].rank === best,
    );
    return [
      `the columns ${names
        .slice(0, 3)
        .map((name) => quoted(name, 24))
        .join(' and ')} are the same by their names`,
      'name the columns in order: --columns "id north east other height", or the key columns in the course file',
    ];
  }
  return null;
};

const OBSERVED =
  /(?:^|[^a-z])(?:angle|azimuth|bearing|dist|distance|chainage|offset|hz|hd|sd|slope|backsight|foresight|bs|fs|richtung|strecke|station)(?:$|[^a-z])/i;

const observations = ({ header, names }: Doubtful): readonly [string, string] | null => {
  if (header !== null || names === null) return null;
  const known = names.filter((name) => name.length < 40 && OBSERVED.test(foldedWord(name)));
  return known.length < 2
    ? null
    : [
        `the columns ${quoted(names.join(', '), 60)} are observations or lengths along a line, not coordinates`,
        'export the computed coordinates: north, east, height; or name them by --columns "id north east height"',
      ];
};

/** @throws InputFault when what the names or the fields say speaks against reading the points by them. */
export const refuseDoubtful = (doubtful: Doubtful): void => {
  for (const look of [
    unreadUnits,
    degreesInParts,
    minutesPacked,
    countedWest,
    hemispheres,
    splitDecimals,
    sameTwice,
    observations,
  ]) {
    const found = look(doubtful);
    if (found !== null) {
      throw new InputFault(
        { file: doubtful.source, place: `line ${doubtful.line}` },
        found[0],
        found[1],
      );
    }
  }
};
