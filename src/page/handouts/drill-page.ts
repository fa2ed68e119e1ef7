import { pointsToMm } from '../../units.js';
import { footModule, headingModule } from '../green/green-page.js';
import { rectSteps, rule, stroke, strokePath, text } from '../kit/draw.js';
import { locationTag } from '../kit/location-tag.js';
import { locationWords } from '../kit/location-words.js';
import { composePage, type PageModule } from '../kit/page-modules.js';
import { fitWording, setParagraph } from '../kit/paragraph.js';
import { cellGroup } from '../kit/read-aloud.js';
import type { Mark, Page } from '../marks/marks.js';
import { isDoubtfulAim } from '../putts/table-figures.js';
import { phrase } from '../words/words.js';
import { drillFigure } from './drill-figure.js';
import { type DrillContext, drilled, playable, ROWS_BESIDES } from './drill-places.js';
import { rowWords } from './drill-rows.js';
import { ruledWord } from './ruled-word.js';

type Module = PageModule<DrillContext>;

/** Putts from each place. */
const PUTTS = 5;

const titleModule: Module = ({ location, layout, measure, book }, cell) => {
  const place = locationWords(location, book);
  const size = layout.type.text;
  const base = cell.y + 3.3;
  const x = cell.x + 6.4;
  const words = fitWording(
    [
      phrase(book, 'drill.head', { name: location.name, place }),
      phrase(book, 'drill.head-short', { place }),
      place,
    ],
    cell.x + cell.width - x,
    { face: 'text-bold', size, least: 6 },
    measure,
  );
  return [
    ...locationTag(location.name, cell, base, layout.type.table + 1),
    ...(words === null ? [] : [text([x, base], words.text, 'text-bold', words.size)]),
  ];
};

/** A row for each place: where, aim, pace, a box for each putt, and what dropped. */
const tableModule: Module = (context, cell) => {
  const { layout, book } = context;
  const { table: size, small } = layout.type;
  const { rows } = drilled(context);
  const { columns, head: heads, rows: words } = rowWords(context, rows, cell.width);
  const step = Math.min(pointsToMm(size) * 1.9, cell.height / (rows.length + ROWS_BESIDES));
  const at = (share: number): number => cell.x + share * cell.width;
  const right = cell.x + cell.width;
  const box = Math.min(step * 0.66, (at(columns.sum) - at(columns.boxes)) / PUTTS - 0.8);
  const pitch = (at(columns.sum) - at(columns.boxes)) / PUTTS;
  const head = cell.y + step * 0.7;
  const marks: Mark[] = [
    ...[
      text([cell.x, head], heads[0], 'text-italic', small),
      text([at(columns.aim), head], heads[1], 'text-italic', small),
      text([at(columns.pace), head], phrase(book, 'drill.pace'), 'text-italic', small, {
        align: 'right',
      }),
      text([at(columns.boxes), head], phrase(book, 'drill.tick'), 'text-italic', small),
      text([right, head], phrase(book, 'drill.of', { count: PUTTS }), 'text-italic', small, {
        align: 'right',
      }),
    ].map((set, column) => cellGroup({ row: 0, column, heads: 'Column' }, set)),
    rule(cell.x, cell.y + step * 0.95, right, cell.y + step * 0.95, stroke(0.2)),
  ];
  rows.forEach((row, i) => {
    const base = cell.y + step * (i + 1.8);
    const isFirst = i > 0 && rows[i - 1].quadrant !== row.quadrant;
    if (isFirst) {
      const y = cell.y + step * (i + 1.08);
      // The lines to write on stand apart from it.
      marks.push(rule(cell.x, y, at(columns.sum), y, stroke(0.1)));
    }
    marks.push(
      ...[
        text([cell.x, base], words[i][0], 'text', size),
        text([at(columns.aim), base], words[i][1], 'text-bold', size),
        text([at(columns.pace), base], words[i][2], 'text', size, { align: 'right' }),
      ].flatMap((set, column) =>
        set.text === ''
          ? []
          : cellGroup(
              { row: i + 1, column, ...(column === 0 ? { heads: 'Row' as const } : {}) },
              set,
            ),
      ),
      ...Array.from({ length: PUTTS }, (_, k) =>
        strokePath(
          rectSteps(at(columns.boxes) + k * pitch, base - box * 0.9, box, box),
          stroke(0.18),
        ),
      ),
      rule(at(columns.sum) + 1.5, base + 0.3, right, base + 0.3, stroke(0.12)),
    );
  });
  const foot = cell.y + step * (rows.length + 1.95);
  marks.push(
    cellGroup(
      { row: rows.length + 1, column: 3, columns: 2 },
      text(
        [at(columns.boxes), foot],
        phrase(book, 'drill.together', { count: PUTTS * rows.length }),
        'text-bold',
        size,
      ),
    ),
    rule(at(columns.sum) - 4, foot + 0.3, right, foot + 0.3, stroke(0.25)),
  );
  const alt = phrase(book, 'drill.alt', { places: rows.length, putts: PUTTS });
  return [{ kind: 'group', role: 'table', alt, marks }];
};

/** Line pitches of the words, in sizes of their type: the widest that fits. */
const LEADS = [1.2, 1.1, 1] as const;

const wordsModule: Module = (context, cell) => {
  const { layout, measure, green, table, book } = context;
  const { rows } = drilled(context);
  const left = table.cells.length - playable(table).length;
  const noRoom = playable(table).length - rows.length;
  const words = [
    phrase(book, 'drill.how', { putts: PUTTS }),
    ...(left > 0 ? [phrase(book, 'drill.left-out', { left, all: table.cells.length })] : []),
    ...(noRoom > 0 ? [phrase(book, 'drill.no-room', { count: noRoom })] : []),
    ...(rows.some(isDoubtfulAim) ? [phrase(book, 'drill.doubt')] : []),
    ...(green.worth.unsure.length > 0 ? [phrase(book, 'drill.face')] : []),
  ].join(' ');
  const size = layout.type.small;
  const set = (lead: number) =>
    setParagraph(words, cell, { face: 'text-italic', size, leading: size * lead }, measure);
  // Longer words stand closer.
  return (
    LEADS.map(set).find(({ height }) => height <= cell.height) ?? set(LEADS[LEADS.length - 1])
  ).marks;
};

const nameModule: Module = ({ layout, measure, book }, cell) => {
  const size = layout.type.text;
  const base = cell.y + pointsToMm(size);
  return (['handout.name', 'handout.day'] as const).flatMap((key, i) => {
    const x = cell.x + i * cell.width * 0.6;
    const end = i === 0 ? cell.x + cell.width * 0.6 - 3 : cell.x + cell.width;
    const style = { face: 'text-italic', size, gap: 1.2 } as const;
    return ruledWord(phrase(book, key), [x, base], end, style, measure);
  });
};

const DRILL_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  'drill-title': titleModule,
  'drill-name': nameModule,
  'drill-image': drillFigure,
  'drill-table': tableModule,
  'drill-words': wordsModule,
  foot: footModule,
};

/** The card of a drill to one hole location: pegs on its four sides, aim and pace, and boxes for the score. */
export const composeDrillPage = (context: DrillContext): Page =>
  composePage(
    'drill',
    {
      id: `drill-${context.green.holeId}-${context.location.name}`,
      title: phrase(context.book, 'drill.title', {
        number: context.green.holeId,
        name: context.green.name,
        location: context.location.name,
      }),
    },
    DRILL_MODULES,
    context,
  );
