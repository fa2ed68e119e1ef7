import { type CheckedYaml, yamlReader } from '../checked-yaml.js';
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
    readonly pace?: Layout['tables']['pace'];
    readonly speeds?: readonly number[];
    readonly speedSteps?: readonly number[];
  };
  readonly binding?: Pick<Binding, 'method'> & Partial<Binding>;
  readonly press?: Partial<Layout['press']>;
  readonly sheets?: readonly (Pick<SheetPlan, 'name' | 'paper' | 'scheme' | 'up'> &
    Partial<SheetPlan>)[];
  readonly pages: Layout['pages'];
}

const DEFAULT_TYPE: TypeSizes = { small: 6, text: 8, table: 7.5, heading: 11, title: 22 };
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

const readLayoutFile = yamlReader<LayoutFile>(LAYOUT_SCHEMA);

/** Rules that a schema cannot say. */
const checkSense = (layout: Layout, faultAt: CheckedYaml<LayoutFile>['fault']): void => {
  const fault: (...about: Parameters<typeof faultAt>) => never = (...about) => {
    throw faultAt(...about);
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
  const fallsBackAt = (values: readonly number[]): number =>
    values.findIndex((value, i) => i > 0 && value <= values[i - 1]);
  const length = fallsBackAt(layout.tables.lengths);
  if (length >= 0) {
    fault(
      ['tables', 'lengths', length],
      'this length is no longer than the one before it',
      'list each length once, the shortest first',
    );
  }
  const grades = layout.green.bandThresholds;
  const grade = fallsBackAt(grades);
  if (grade >= 0) {
    fault(
      ['green', 'bandThresholds', grade],
      `${grades[grade]} does not rise`,
      'list the grades in rising order',
    );
  }
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
  const { value: given, fault } = readLayoutFile(text, file);
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
      oneScale: false,
      contourInterval: 0.05,
      bandThresholds: [0.01, 0.02, 0.03, 0.04],
      ...given.green,
    },
    tables: {
      lengths: (
        given.tables?.lengths ?? (metric ? [1, 2, 3, 5, 7, 9] : [3, 6, 10, 15, 20, 30])
      ).map(length),
      past: past === undefined ? inchesToMetres(12) : metric ? past : inchesToMetres(past),
      pace: given.tables?.pace ?? 'level',
      speeds: (given.tables?.speeds ?? []).map(length),
      speedSteps: (given.tables?.speedSteps ?? []).map(length),
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
  checkSense(layout, fault);
  return layout;
};
