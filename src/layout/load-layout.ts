import { Ajv, type ErrorObject } from 'ajv';
import { type Document, isMap, isScalar, isSeq, LineCounter, type Node, parseDocument } from 'yaml';
import { InputFault } from '../fault.js';
import { feetToMetres, inchesToMetres } from '../units.js';
import type {
  Binding,
  Inks,
  Layout,
  Placement,
  PrintGrid,
  SheetPlan,
  TypeSizes,
} from './layout.js';
import { LAYOUT_SCHEMA } from './layout-schema.js';

/** A layout file as it is written, after the schema has passed it. */
interface LayoutFile {
  readonly name: string;
  readonly title: string;
  readonly use?: Layout['use'];
  readonly page: Layout['page'];
  readonly grid: Pick<PrintGrid, 'columns' | 'rows'> & Partial<PrintGrid>;
  readonly type?: Partial<TypeSizes>;
  readonly inks?: Partial<Inks>;
  readonly green?: Partial<Layout['green']>;
  readonly tables?: {
    readonly lengths?: readonly number[];
    readonly unit?: 'ft' | 'm';
    readonly past?: number;
    readonly speeds?: readonly number[];
  };
  readonly binding?: Pick<Binding, 'method'> & Partial<Binding>;
  readonly press?: Partial<Layout['press']>;
  readonly sheets?: readonly (Pick<SheetPlan, 'name' | 'paper' | 'scheme' | 'up'> &
    Partial<SheetPlan>)[];
  readonly pages: Layout['pages'];
}

export const DEFAULT_TYPE: TypeSizes = { small: 6, text: 8, table: 7.5, heading: 11, title: 22 };
export const DEFAULT_INKS: Inks = {
  model: 'spot',
  dark: { name: 'Runnel Dark', cmyk: [0, 0, 0, 1] },
  tint: { name: 'Runnel Tint', cmyk: [0.55, 0.25, 0.12, 0.25] },
};
/** Smallest type and thinnest line that hold on press, points. Common practice, no source. */
export const MINIMUM_TYPE = 6;
export const MINIMUM_TABLE_TYPE = 7.5;
export const MINIMUM_LINE = 0.25;
/** Clear strip at the binding edge, millimetres. Common practice, no source. */
const CLEAR: Readonly<Record<Binding['method'], number>> = {
  loose: 0,
  'saddle stitch': 3,
  perfect: 6,
  'wire-o': 9,
  'fold-up': 0,
};

const validate = new Ajv({ allErrors: true, verbose: true }).compile(LAYOUT_SCHEMA);

type Path = readonly (string | number)[];

const nodeAt = (document: Document, path: Path): Node | null => {
  for (let length = path.length; length >= 0; length--) {
    const node = length === 0 ? document.contents : document.getIn(path.slice(0, length), true);
    if (isScalar(node) || isMap(node) || isSeq(node)) return node as Node;
  }
  return null;
};

const placeOf = (document: Document, lines: LineCounter, path: Path): string => {
  const last = path[path.length - 1];
  const parent = nodeAt(document, path.slice(0, -1));
  let offset = nodeAt(document, path)?.range?.[0] ?? 0;
  if (isMap(parent)) {
    const pair = parent.items.find((item) => isScalar(item.key) && item.key.value === last);
    if (isScalar(pair?.key)) offset = pair.key.range?.[0] ?? offset;
  }
  const name = path
    .map((key, i) => (typeof key === 'number' ? `[${key + 1}]` : `${i > 0 ? '.' : ''}${key}`))
    .join('');
  const line = `line ${lines.linePos(offset).line}`;
  return name === '' ? line : `${line}, ${name}`;
};

const pathOf = (error: ErrorObject): (string | number)[] => {
  const path: (string | number)[] = error.instancePath
    .split('/')
    .slice(1)
    .map((key) => (/^\d+$/.test(key) ? Number(key) : key));
  if (error.keyword === 'additionalProperties')
    path.push(error.params.additionalProperty as string);
  return path;
};

const wordsOf = (error: ErrorObject): readonly [problem: string, cure: string | undefined] => {
  switch (error.keyword) {
    case 'additionalProperties': {
      const known = Object.keys((error.parentSchema as { properties: object }).properties);
      return [
        `unknown key "${error.params.additionalProperty}"`,
        `known keys: ${known.join(', ')}`,
      ];
    }
    case 'required':
      return [`the key "${error.params.missingProperty}" is missing`, undefined];
    case 'enum':
      return [
        `${JSON.stringify(error.data)} is not known`,
        `use one of: ${(error.params.allowedValues as unknown[]).join(', ')}`,
      ];
    default:
      return [`${JSON.stringify(error.data)?.slice(0, 40)} ${error.message}`, undefined];
  }
};

/** Rules that a schema cannot say. */
const checkSense = (file: string, layout: Layout, place: (path: Path) => string): void => {
  const fault = (path: Path, problem: string, cure?: string): never => {
    throw new InputFault({ file, place: place(path) }, problem, cure);
  };
  const { page, grid, type, binding } = layout;
  const { margins } = page;
  if (
    page.width - margins.inner - margins.outer < 10 ||
    page.height - margins.top - margins.bottom < 10
  ) {
    fault(['page', 'margins'], 'the margins leave less than 10 mm of page', 'make them smaller');
  }
  for (const [size, points] of Object.entries(type)) {
    const least = size === 'table' ? MINIMUM_TABLE_TYPE : MINIMUM_TYPE;
    if (points < least) {
      fault(['type', size], `type of ${points} pt is too small to print`, `${least} pt or more`);
    }
  }
  if (margins.inner < binding.clear) {
    fault(
      ['page', 'margins', 'inner'],
      `${margins.inner} mm lies inside the ${binding.clear} mm that ${binding.method} binding takes`,
      `${binding.clear} mm or more`,
    );
  }
  const bands = layout.green.bandThresholds;
  bands.forEach((grade, i) => {
    if (i > 0 && grade <= bands[i - 1]) {
      fault(
        ['green', 'bandThresholds', i],
        `${grade} does not rise`,
        'list the grades in rising order',
      );
    }
  });
  for (const [kind, placements] of Object.entries(layout.pages)) {
    placements.forEach((placement: Placement, i) => {
      const check = (axis: 'columns' | 'rows', count: number): void => {
        const [first, last] = placement[axis];
        if (first > last || last > count) {
          fault(
            ['pages', kind, i, axis],
            `[${first}, ${last}] does not fit the grid`,
            `first to last within 1 to ${count}`,
          );
        }
      };
      check('columns', grid.columns);
      check('rows', grid.rows);
    });
  }
  const names = layout.sheets.map((sheet) => sheet.name);
  names.forEach((name, i) => {
    if (names.indexOf(name) !== i) {
      fault(['sheets', i, 'name'], `"${name}" is there twice`, 'give each sheet its own name');
    }
  });
};

/**
 * Reads a layout file (YAML), checks it and fills in what it leaves out.
 * Throws InputFault with the line and key.
 */
export const parseLayout = (text: string, file: string): Layout => {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  const broken = document.errors[0];
  if (broken !== undefined) {
    throw new InputFault(
      { file, place: `line ${lines.linePos(broken.pos[0]).line}` },
      `not readable as YAML: ${broken.message.split('\n')[0]}`,
    );
  }
  const data: unknown = document.toJS();
  const place = (path: Path): string => placeOf(document, lines, path);
  if (!validate(data)) {
    // A key that is misspelt is told before the key that it leaves missing.
    const errors = validate.errors!;
    const error = errors.find((e) => e.keyword === 'additionalProperties') ?? errors[0];
    throw new InputFault({ file, place: place(pathOf(error)) }, ...wordsOf(error));
  }
  const given = data as LayoutFile;
  const metric = given.tables?.unit === 'm';
  const length = metric ? (value: number) => value : feetToMetres;
  const method = given.binding?.method ?? 'loose';
  const past = given.tables?.past;
  const layout: Layout = {
    name: given.name,
    title: given.title,
    use: given.use ?? 'practice',
    page: given.page,
    grid: { gutter: 3, baseline: 10, ...given.grid },
    type: { ...DEFAULT_TYPE, ...given.type },
    inks: { ...DEFAULT_INKS, ...given.inks },
    green: {
      scale: 480,
      contourInterval: 0.05,
      bandThresholds: [0.01, 0.02, 0.03, 0.04],
      ...given.green,
    },
    tables: {
      lengths: (
        given.tables?.lengths ?? (metric ? [1, 2, 3, 5, 7, 9] : [3, 6, 10, 15, 20, 30])
      ).map(length),
      past: past === undefined ? inchesToMetres(12) : metric ? past : inchesToMetres(past),
      speeds: (given.tables?.speeds ?? []).map(length),
    },
    binding: { paper: 0.12, clear: CLEAR[method], method, ...given.binding },
    press: { bleed: 3, condition: 'FOGRA47', ...given.press },
    sheets: (given.sheets ?? []).map((sheet) => ({
      duplex: 'long edge' as const,
      gutter: 0,
      inks: sheet.paper === 'sra3' ? ('press' as const) : ('home' as const),
      marks: true,
      ...sheet,
    })),
    pages: given.pages,
  };
  checkSense(file, layout, place);
  return layout;
};
