import { type CheckedYaml, yamlReader } from '../checked-yaml.js';
import { quoted } from '../fault.js';
import { firstUnits, type UnitSystem } from '../units.js';
import { facingProblem } from './facing.js';
import type {
  Binding,
  CoverPlan,
  Inks,
  Layout,
  Placement,
  PrintGrid,
  SheetPlan,
  TypeSizes,
} from './layout.js';
import { LAYOUT_SCHEMA } from './layout-schema.js';
import { type TablesOfFile, tablesOf, toldTables } from './layout-tables.js';
import { tableProblem } from './table-sense.js';

/** The thickness of a leaf, or what tells it. */
type Stock = number | { readonly name: string; readonly grammage: number; readonly volume: number };

/** Millimetres: grammage by specific volume (ISO 534). */
const thicknessOf = (stock: Stock): number =>
  typeof stock === 'number' ? stock : Number(((stock.grammage * stock.volume) / 1000).toFixed(6));

const stockName = (stock: Stock): string | null =>
  typeof stock === 'number'
    ? null
    : `${stock.name}, ${stock.grammage} g/m², volume ${stock.volume}`;

/** A layout file as it is written, after the schema has passed it. */
interface LayoutFile {
  readonly name: string;
  readonly title: string;
  readonly use?: Layout['use'];
  readonly words?: string;
  readonly units?: NonNullable<Layout['units']>;
  readonly faces?: NonNullable<Layout['faces']>;
  readonly page: Layout['page'];
  readonly grid: Pick<PrintGrid, 'columns' | 'rows'> & Partial<PrintGrid>;
  readonly type?: Partial<TypeSizes>;
  readonly inks?: Partial<Inks>;
  readonly green?: Partial<Layout['green']>;
  readonly tables?: TablesOfFile;
  readonly facing?: NonNullable<Layout['facing']>;
  readonly binding?: Pick<Binding, 'method'> & { readonly paper?: Stock; readonly clear?: number };
  readonly press?: Partial<Layout['press']>;
  readonly cover?: {
    readonly paper: Stock;
    readonly bleed?: number;
    readonly wrap?: number;
    readonly inks?: Partial<Inks>;
    readonly condition?: string;
    readonly front: readonly Placement[];
    readonly back: readonly Placement[];
  };
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
const checkSense = (
  layout: Layout,
  told: TablesOfFile,
  faultAt: CheckedYaml<LayoutFile>['fault'],
): void => {
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
  for (const { path, tables, unit } of toldTables(told)) {
    const wrong = tableProblem(tables, unit);
    if (wrong !== null) fault(['tables', ...path, ...wrong[0]], wrong[1], wrong[2]);
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
  if (layout.cover !== null && binding.method !== 'perfect') {
    fault(
      ['cover'],
      `a cover of its own is glued round the book; its binding is ${binding.method}`,
      "set the binding's method to perfect, or leave out the cover",
    );
  }
  const unfaced = facingProblem(layout);
  if (unfaced !== null) fault(['facing'], ...unfaced);
  const { cover } = layout;
  const placed: readonly (readonly [readonly string[], readonly Placement[]])[] = [
    ...Object.entries(layout.pages).map(([kind, all]) => [['pages', kind], all] as const),
    ...(cover === null
      ? []
      : ([
          [['cover', 'front'], cover.front],
          [['cover', 'back'], cover.back],
        ] as const)),
  ];
  for (const [path, placements] of placed) {
    placements.forEach((placement: Placement, i) => {
      const check = (axis: 'columns' | 'rows', count: number): void => {
        const [first, last] = placement[axis];
        if (first > last || last > count) {
          fault(
            [...path, i, axis],
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
      fault(
        ['sheets', i, 'name'],
        `${quoted(name)} is there twice`,
        'give each sheet its own name',
      );
    }
  });
};

const bindingOf = ({ binding }: LayoutFile): Binding => {
  const method = binding?.method ?? 'loose';
  const paper = binding?.paper ?? 0.12;
  const name = stockName(paper);
  return {
    method,
    clear: binding?.clear ?? CLEAR[method],
    paper: thicknessOf(paper),
    ...(name === null ? {} : { stock: name }),
  };
};

const coverOf = ({ cover, inks, press }: LayoutFile): CoverPlan | null =>
  cover === undefined
    ? null
    : {
        board: thicknessOf(cover.paper),
        stock: stockName(cover.paper),
        bleed: cover.bleed ?? press?.bleed ?? 3,
        wrap: cover.wrap ?? 0,
        inks: { ...DEFAULT_INKS, ...inks, ...cover.inks },
        condition: cover.condition ?? press?.condition ?? 'FOGRA47',
        front: cover.front,
        back: cover.back,
      };

/** Which units a book is shown in: those that are asked for, or else the layout's, or else the course's. */
export interface ShownUnits {
  readonly asked?: UnitSystem | undefined;
  readonly course?: UnitSystem | undefined;
}

/**
 * Reads a layout file (YAML), checks it and fills in what it leaves out; its tables are those of the units shown.
 * Throws InputFault with the line and key.
 */
export const parseLayout = (text: string, file: string, shown: ShownUnits = {}): Layout => {
  const { value: given, fault } = readLayoutFile(text, file);
  const told = given.tables ?? {};
  const layout: Layout = {
    name: given.name,
    title: given.title,
    use: given.use ?? 'practice',
    ...(given.words === undefined ? {} : { words: given.words }),
    ...(given.units === undefined ? {} : { units: given.units }),
    ...(given.faces === undefined ? {} : { faces: given.faces }),
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
    tables: tablesOf(told, firstUnits(shown.asked, given.units, shown.course)),
    ...(given.facing === undefined ? {} : { facing: given.facing }),
    binding: bindingOf(given),
    press: { bleed: 3, condition: 'FOGRA47', ...given.press },
    cover: coverOf(given),
    sheets: (given.sheets ?? []).map((sheet) => ({
      duplex: 'long edge' as const,
      gutter: 0,
      inks: sheet.paper === 'sra3' ? ('press' as const) : ('home' as const),
      marks: true,
      ...sheet,
    })),
    pages: given.pages,
  };
  checkSense(layout, told, fault);
  return layout;
};
