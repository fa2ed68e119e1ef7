import { FACE_NAMES, PAGE_KINDS } from './layout.js';

/** The published schema of layout files; `runnel layouts --schema` prints it. JSON Schema draft 2020-12. */

const positive = { type: 'number', exclusiveMinimum: 0 };
const notNegative = { type: 'number', minimum: 0 };
const share = { type: 'number', minimum: 0, maximum: 1 };
const cells = {
  type: 'array',
  items: { type: 'integer', minimum: 1 },
  minItems: 2,
  maxItems: 2,
};
const cmyk = { type: 'array', items: share, minItems: 4, maxItems: 4 };
const record = (
  properties: Record<string, unknown>,
  required: readonly string[] = [],
  description?: string,
): Record<string, unknown> => ({
  type: 'object',
  additionalProperties: false,
  ...(description === undefined ? {} : { description }),
  properties,
  ...(required.length > 0 ? { required } : {}),
});
const ink = record(
  {
    name: { type: 'string', minLength: 1, description: 'name of the ink on its plate' },
    cmyk: { ...cmyk, description: 'the solid ink: cyan, magenta, yellow, black, each 0 to 1' },
  },
  ['name', 'cmyk'],
);
const placements = {
  type: 'array',
  items: record(
    {
      module: { type: 'string', minLength: 1 },
      columns: { ...cells, description: 'first and last column, counted from 1' },
      rows: { ...cells, description: 'first and last row, counted from 1' },
    },
    ['module', 'columns', 'rows'],
  ),
};
/** Thickness as a figure, or by what the maker publishes of the paper. */
const stock = (maximum: number) => ({
  description:
    'thickness of one leaf, millimetres; or the paper’s name with its grammage (g/m2) and volume (cm3/g, ISO 534) as its maker publishes them',
  type: ['number', 'object'],
  exclusiveMinimum: 0,
  maximum,
  additionalProperties: false,
  properties: {
    name: { type: 'string', minLength: 1, maxLength: 80 },
    grammage: { ...positive, maximum: 1000, description: 'grams to a square metre' },
    volume: { ...positive, maximum: 5, description: 'cubic centimetres to a gram' },
  },
  required: ['name', 'grammage', 'volume'],
});
const TABLES_IN_UNIT = {
  lengths: { type: 'array', items: positive, minItems: 1, maxItems: 12 },
  past: { ...positive, description: 'inches (with ft) or metres past the hole' },
  speeds: {
    type: 'array',
    items: positive,
    maxItems: 6,
    description: 'stimp readings, ft or m, beside the green’s own',
  },
  speedSteps: {
    type: 'array',
    items: { type: 'number', minimum: -6, maximum: 6 },
    maxItems: 6,
    description: 'further green speeds as more or less than the green’s own, ft or m',
  },
};
const inks = record({ model: { enum: ['spot', 'cmyk', 'grey'] }, dark: ink, tint: ink });
const condition = {
  type: 'string',
  minLength: 1,
  description: 'registered printing condition, for example FOGRA47',
};

export const LAYOUT_SCHEMA = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  title: 'Layout of a yardage book',
  ...record(
    {
      name: {
        type: 'string',
        pattern: '^[a-z0-9][a-z0-9-]*$',
        description: 'short name; it ends up in file names',
      },
      title: { type: 'string', minLength: 1 },
      use: {
        enum: ['practice', 'play', 'committee'],
        default: 'practice',
        description: 'the condition of use that the layout is made for',
      },
      words: {
        type: 'string',
        minLength: 1,
        description: 'a file beside this one with the words of the pages in another language',
      },
      units: {
        enum: ['imperial', 'metric'],
        description: 'units of the pages, where the command line names none',
      },
      faces: record(
        Object.fromEntries(FACE_NAMES.map((face) => [face, { type: 'string', minLength: 1 }])),
        [],
        'font files (TrueType) beside this one in place of the program’s own',
      ),
      page: record(
        {
          width: { ...positive, maximum: 500, description: 'trimmed page, millimetres' },
          height: { ...positive, maximum: 500 },
          margins: record(
            {
              top: notNegative,
              bottom: notNegative,
              inner: { ...notNegative, description: 'at the binding edge' },
              outer: notNegative,
            },
            ['top', 'bottom', 'inner', 'outer'],
            'millimetres',
          ),
        },
        ['width', 'height', 'margins'],
      ),
      grid: record(
        {
          columns: { type: 'integer', minimum: 1, maximum: 24 },
          rows: { type: 'integer', minimum: 1, maximum: 120 },
          gutter: { ...notNegative, description: 'millimetres between columns' },
          baseline: { ...positive, description: 'points' },
        },
        ['columns', 'rows'],
        'the print grid inside the margins',
      ),
      type: record(
        { small: positive, text: positive, table: positive, heading: positive, title: positive },
        [],
        'type sizes, points',
      ),
      inks,
      green: record(
        {
          scale: {
            ...positive,
            description: 'metres of ground to a metre of paper: 480 is 1:480',
          },
          oneScale: {
            type: 'boolean',
            description:
              'greens of a book at one scale, smaller than `scale` where most would not fit',
          },
          contourInterval: { ...positive, description: 'metres of height' },
          bandThresholds: {
            type: 'array',
            items: { type: 'number', exclusiveMinimum: 0, exclusiveMaximum: 1 },
            minItems: 1,
            maxItems: 8,
            description: 'grades between the slope bands; 0.02 is 2 %',
          },
        },
        [],
        'how greens are drawn',
      ),
      tables: record(
        {
          ...TABLES_IN_UNIT,
          unit: { enum: ['ft', 'm'], default: 'ft', description: 'unit of the lengths' },
          pace: {
            enum: ['level', 'change'],
            default: 'level',
            description:
              'how pace is told: as the length of the level putt, or as more (+) or less (-) than the own length',
          },
          imperial: record(
            TABLES_IN_UNIT,
            [],
            'instead, in books that show yards and feet; ft, and inches past the hole',
          ),
          metric: record(TABLES_IN_UNIT, [], 'instead, in books that show metres; metres'),
        },
        [],
        'lengths and pace of the break tables',
      ),
      binding: record(
        {
          method: { enum: ['loose', 'saddle stitch', 'perfect', 'wire-o', 'fold-up'] },
          paper: stock(1),
          clear: {
            ...notNegative,
            description: 'strip at the binding edge that stays free of print, millimetres',
          },
        },
        ['method'],
      ),
      facing: {
        enum: ['hole and green', 'green and tables'],
        description:
          'which two pages of a hole lie open side by side; pages for notes, or blank ones, are put before them where it needs them',
      },
      press: record({
        bleed: { ...notNegative, maximum: 10, description: 'millimetres' },
        condition,
      }),
      cover: record(
        {
          paper: stock(2),
          bleed: { ...notNegative, maximum: 10, description: 'millimetres' },
          wrap: {
            ...notNegative,
            maximum: 40,
            description: 'millimetres turned in round the edges; 0: cut flush with the book',
          },
          inks,
          condition,
          front: placements,
          back: placements,
        },
        ['paper', 'front', 'back'],
        'a cover printed on its own, with a spine, for a glued book; its inks and condition are the book’s where it names none',
      ),
      sheets: {
        type: 'array',
        items: record(
          {
            name: { type: 'string', pattern: '^[a-z0-9][a-z0-9-]*$' },
            paper: { enum: ['letter', 'a4', 'legal', 'sra3'] },
            scheme: { enum: ['leaves', 'stack', 'saddle', 'fold-up'] },
            up: { type: 'integer', minimum: 1, maximum: 32 },
            duplex: { enum: ['long edge', 'short edge', 'one side'] },
            gutter: { ...notNegative, maximum: 30, description: 'millimetres between pages' },
            inks: { enum: ['press', 'home'] },
            marks: { type: 'boolean' },
          },
          ['name', 'paper', 'scheme', 'up'],
        ),
      },
      pages: {
        ...record(Object.fromEntries(PAGE_KINDS.map((kind) => [kind, placements]))),
        minProperties: 1,
        description: 'which modules stand where on each kind of page',
      },
    },
    ['name', 'title', 'page', 'grid', 'pages'],
  ),
} as const;
