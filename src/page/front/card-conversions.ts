import {
  degreesToRadians,
  METRES_PER_FOOT,
  METRES_PER_YARD,
  metresToYards,
  pointsToMm,
} from '../../units.js';
import { holeKeyModule } from '../hole/hole-key.js';
import { rule, stroke, text } from '../kit/draw.js';
import { folioModule } from '../kit/folio.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { setParagraph } from '../kit/paragraph.js';
import { captionGroup, cellGroup } from '../kit/read-aloud.js';
import type { Mark, Page } from '../marks/marks.js';
import { decimal, phrase } from '../words/words.js';

type Module = PageModule<PageContext>;

/**
 * How much farther a shot plays uphill (nearer, downhill): a ball that comes down at an angle to the
 * level needs rise / tan(angle) more. Plane geometry; that an iron comes down at about 45 degrees, so that
 * a rise counts once, is common practice, no source.
 */
const playsFarther = (rise: number, descent: number): number =>
  rise / Math.tan(degreesToRadians(descent));

/** Lengths set side by side, one pair of columns a block. */
const lengthRows = (metric: boolean): { readonly from: number; readonly to: number }[] => {
  const rows: { from: number; to: number }[] = [];
  for (let length = 10; length <= 300; length += 10) {
    rows.push({
      from: length,
      to: metric ? metresToYards(length) : length * METRES_PER_YARD,
    });
  }
  return rows;
};

const lengthsModule: Module = ({ layout, book }, cell) => {
  const metric = book.units === 'metric';
  const { table, small } = layout.type;
  const rows = lengthRows(metric);
  const blocks = 3;
  const each = Math.ceil(rows.length / blocks);
  const step = Math.min(pointsToMm(table) * 1.75, cell.height / (each + 1.2));
  const width = cell.width / blocks;
  const heads = metric
    ? [phrase(book, 'unit.m'), phrase(book, 'lengths.yards-head')]
    : [phrase(book, 'lengths.yards-head'), phrase(book, 'unit.m')];
  return Array.from({ length: blocks }, (_, b): Mark => {
    const x = cell.x + b * width;
    const ends = [x + 0.36 * width, x + 0.78 * width];
    const own = rows.slice(b * each, (b + 1) * each);
    const marks: Mark[] = [
      ...ends.map((end, column) =>
        cellGroup(
          { row: 0, column, heads: 'Column' },
          text([end, cell.y + step * 0.7], heads[column], 'text-italic', small, {
            align: 'right',
          }),
        ),
      ),
      rule(x, cell.y + step, ends[1], cell.y + step, stroke(0.15)),
      ...own.flatMap(({ from, to }, r) => {
        const base = cell.y + step * (r + 1.75);
        return [
          cellGroup(
            { row: r + 1, column: 0, heads: 'Row' },
            text([ends[0], base], `${from}`, 'text-bold', table, { align: 'right' }),
          ),
          cellGroup(
            { row: r + 1, column: 1 },
            text([ends[1], base], `${Math.round(to)}`, 'text', table, { align: 'right' }),
          ),
        ];
      }),
    ];
    const alt = phrase(book, 'lengths.alt', {
      from: own[0].from,
      to: own[own.length - 1].from,
    });
    return { kind: 'group', role: 'table', alt, marks };
  });
};

const DESCENTS = [40, 45, 50] as const;

const elevationModule: Module = ({ layout, book }, cell) => {
  const metric = book.units === 'metric';
  const { table, small, text: body } = layout.type;
  const step = Math.min(pointsToMm(table) * 1.7, cell.height / 7.2);
  const rises = metric ? [2, 4, 6, 8, 10] : [5, 10, 15, 20, 30];
  const x = (i: number): number => cell.x + 12 + ((i + 1) * (cell.width - 12)) / DESCENTS.length;
  const head = cell.y + step * 1.7;
  const unit = phrase(book, metric ? 'unit.m' : 'unit.yd');
  const title = phrase(book, 'lengths.plays');
  const risen = phrase(book, 'lengths.rise', { unit: phrase(book, metric ? 'unit.m' : 'unit.ft') });
  const marks: Mark[] = [
    captionGroup(title, [text([cell.x, cell.y + step * 0.7], title, 'text', body)]),
    cellGroup(
      { row: 0, column: 0, heads: 'Column' },
      text([cell.x + 12, head], risen, 'text-italic', small, {
        align: 'right',
      }),
    ),
    ...DESCENTS.map((descent, i) =>
      cellGroup(
        { row: 0, column: i + 1, heads: 'Column' },
        text(
          [x(i), head],
          phrase(book, 'lengths.descent', { descent, unit }),
          'text-italic',
          small,
          {
            align: 'right',
          },
        ),
      ),
    ),
    rule(cell.x, head + step * 0.3, cell.x + cell.width, head + step * 0.3, stroke(0.15)),
    ...rises.flatMap((rise, r): Mark[] => {
      const base = head + step * (r + 1.1);
      const metres = metric ? rise : rise * METRES_PER_FOOT;
      return [
        cellGroup(
          { row: r + 1, column: 0, heads: 'Row' },
          text([cell.x + 12, base], `${rise}`, 'text-bold', table, { align: 'right' }),
        ),
        ...DESCENTS.map((descent, i) => {
          const more = playsFarther(metres, descent);
          const shown = metric ? more : metresToYards(more);
          return cellGroup(
            { row: r + 1, column: i + 1 },
            text([x(i), base], decimal(shown.toFixed(1), book), 'text', table, { align: 'right' }),
          );
        }),
      ];
    }),
  ];
  return [{ kind: 'group', role: 'table', alt: title, marks }];
};

/** Whether any hole tells what a rise makes of a length. */
const tellsRise = ({ holes = [] }: PageContext['book']): boolean =>
  holes.some(({ tees }) => tees.some(({ rise }) => rise !== null));

const wordsModule: Module = ({ layout, measure, book }, cell) => {
  const size = Math.max(6.5, layout.type.small);
  let y = cell.y + 1.2;
  const keys = ['lengths.ellipsoid', 'lengths.plays-words'] as const;
  return keys.slice(0, tellsRise(book) ? 2 : 1).flatMap((key) => {
    const set = setParagraph(
      phrase(book, key),
      { ...cell, y },
      { face: 'text', size, leading: size * 1.3 },
      measure,
    );
    y += set.height + 0.8;
    return set.marks;
  });
};

/** The wind is left to the player: lines to write what was learnt. */
const windModule: Module = ({ layout, book }, cell) => {
  const step = pointsToMm(layout.grid.baseline) * 1.45;
  const count = Math.max(0, Math.floor((cell.height - 4) / step));
  return [
    text([cell.x, cell.y + 2.6], phrase(book, 'lengths.wind'), 'text-italic', layout.type.text),
    ...Array.from({ length: count }, (_, i) => {
      const y = cell.y + 4 + (i + 1) * step;
      return rule(cell.x, y, cell.x + cell.width, y, stroke(0.1, { ink: 'dark', tone: 0.6 }));
    }),
  ];
};

const headingModule: Module = ({ layout, book }, cell) => {
  const { title } = layout.type;
  const base = cell.y + pointsToMm(title) * 0.9;
  return [
    text([cell.x, base], phrase(book, 'lengths.title'), 'title-bold', title),
    rule(cell.x, base + 2, cell.x + cell.width, base + 2, stroke(0.3)),
  ];
};

const CONVERSION_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  lengths: lengthsModule,
  elevation: elevationModule,
  words: wordsModule,
  'hole-signs': holeKeyModule,
  wind: windModule,
  foot: folioModule,
};

export const composeConversionsPage = (context: PageContext): Page =>
  composePage(
    'conversions',
    { id: 'conversions', title: phrase(context.book, 'lengths.title') },
    CONVERSION_MODULES,
    context,
  );
