import { boxOf, type Point } from '../../geometry.js';
import type { BreakTable, TableCell } from '../../putt/putt.js';
import { lengthReading } from '../../putt/rounding.js';
import { pointsToMm } from '../../units.js';
import type { LocationContent } from '../book-content.js';
import { bareMarks } from '../green/bare-ground.js';
import { drainageMarks } from '../green/drainage-line.js';
import { fallArrow } from '../green/fall-arrow.js';
import { greenFrame, showing } from '../green/green-image.js';
import { footModule, headingModule } from '../green/green-page.js';
import { holeMark } from '../green/green-spots.js';
import { drawnGround, onPaper, polygonSteps } from '../green/ground-frame.js';
import { circleSteps, rectSteps, rule, stroke, strokePath, text } from '../kit/draw.js';
import { cellOf } from '../kit/grid.js';
import { locationTag } from '../kit/location-tag.js';
import { locationWords } from '../kit/location-words.js';
import { composePage, type GreenPageContext, type PageModule } from '../kit/page-modules.js';
import { fitWording, setParagraph, wrapLines } from '../kit/paragraph.js';
import { cellGroup } from '../kit/read-aloud.js';
import { teePeg } from '../kit/tee-peg.js';
import { withUnit } from '../kit/unit-words.js';
import type { Mark, Mm, Page } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { isDoubtfulAim } from '../putts/table-figures.js';
import { decimal, phrase } from '../words/words.js';
import { rowWords } from './drill-rows.js';
import { ruledWord } from './ruled-word.js';

/** A drill to one hole location, with its table. */
export interface DrillContext extends GreenPageContext {
  readonly location: LocationContent;
  readonly table: BreakTable;
}

type Module = PageModule<DrillContext>;

/** Putts from each place. */
const PUTTS = 5;

/** The cells that a ball can be putted from. */
const playable = ({ cells }: BreakTable): TableCell[] =>
  cells.filter(({ outcome, putt }) => outcome === 'solved' && putt !== null);

/** Least pitch of rows, of the size of their type. */
const LEAST_PITCH = 1.3;
/** The head of the table, its sum and the room below that, in rows. */
const BESIDES = 2.45;

/** The shortest lengths that the table has room for, and their playable cells. */
const roomy = (
  table: BreakTable,
  size: number,
  height: number,
): { readonly lengths: readonly number[]; readonly rows: readonly TableCell[] } => {
  const most = Math.max(4, Math.floor(height / (pointsToMm(size) * LEAST_PITCH) - BESIDES));
  const lengths = [...table.lengths];
  const rowsOf = (): TableCell[] =>
    playable(table).filter(({ length }) => lengths.includes(length));
  while (lengths.length > 1 && rowsOf().length > most) lengths.pop();
  return { lengths, rows: rowsOf() };
};

/** The same, by the room that the layout gives to the table. */
const drilled = ({ table, layout, side }: DrillContext): ReturnType<typeof roomy> => {
  const placement = (layout.pages.drill ?? []).find(({ module }) => module === 'drill-table');
  const height = placement === undefined ? Infinity : cellOf(layout, side, placement).height;
  return roomy(table, layout.type.table, height);
};

/** Whether a drill to a location has places enough to be one. */
export const isDrill = (table: BreakTable | null): table is BreakTable =>
  table !== null && playable(table).length >= 4;

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

const PEG = { bar: 0.85, stem: 0.3, top: 0.7, shoulder: 0.1, tip: 1 };

/** A peg with paper round it. */
const peg = (at: Mm): Mark => teePeg(at, PEG, { stroke: stroke(0.25, PAPER) });

/** Where the hole lies on the green, with its stream. */
const onGreen: Module = ({ green, layout, location, book }, cell) => {
  const frame = greenFrame(green, cell, layout.green.scale);
  const edge = polygonSteps(frame, [green.outline]);
  return [
    {
      kind: 'group',
      role: 'green-image',
      alt: phrase(book, 'drill.alt-green', {
        number: green.holeId,
        name: green.name,
        location: location.name,
      }),
      ground: drawnGround(green.holeId, edge, boxOf(green.outline)),
      marks: [
        {
          kind: 'clip',
          steps: edge,
          marks: [showing('slope', bareMarks(frame, green.worth.bare))],
        },
        strokePath(edge, stroke(0.5)),
        showing('drainage', drainageMarks(frame, green.reading.streams)),
        showing('hole-locations', holeMark(onPaper(frame, location.at[0], location.at[1]))),
      ],
    },
  ];
};

/** The pegs about the hole, turned as the green beside it is, with rings that tell their lengths. */
const aboutHole: Module = (context, cell) => {
  const { layout, table, book, measure } = context;
  const size = layout.type.small;
  const { hole, fall, grade } = table;
  const { lengths, rows } = drilled(context);
  const told = (length: number): string => withUnit(lengthReading(length, book.units), book);
  const longest = Math.max(...lengths);
  const radius = Math.min(cell.width, cell.height) / 2 - 1.6;
  const middle: Mm = [cell.x + radius + 1.6, cell.y + cell.height / 2];
  const put = ([x, y]: Point): Mm => [
    middle[0] + ((x - hole[0]) * radius) / longest,
    middle[1] - ((y - hole[1]) * radius) / longest,
  ];
  const down: Mm = [fall[0], -fall[1]];
  // Figures stand between two sides, off the pegs.
  const between = Math.SQRT1_2;
  const aside: Mm = [(down[0] - down[1]) * between, (down[1] + down[0]) * between];
  const words: Mm = [middle[0] + radius + 3.5, cell.y + cell.height / 2];
  const beside = cell.x + cell.width - words[0];
  return [
    {
      kind: 'group',
      role: 'figure',
      alt: phrase(book, 'drill.alt-pegs', { list: lengths.map(told).join(', ') }),
      marks: [
        ...lengths.map((length) =>
          strokePath(
            circleSteps(middle[0], middle[1], (length / longest) * radius),
            stroke(0.1, DARK, { dash: [0.4, 0.6] }),
          ),
        ),
        ...holeMark(middle),
        fallArrow([words[0] + 2.5, words[1] - 5], down, grade),
        ...lengths.flatMap((length, i) => {
          const far = (length / longest) * radius;
          const next = i + 1 < lengths.length ? (lengths[i + 1] / longest) * radius : Infinity;
          const [here, after] = [lengths[i], lengths[i + 1] ?? lengths[i]].map((one) =>
            measure(told(one), 'text', size),
          );
          // A ring whose figure would touch the next goes without.
          if (
            Math.abs(aside[0]) * (next - far) < (here + after) / 2 + 0.4 &&
            Math.abs(aside[1]) * (next - far) < pointsToMm(size) * 1.1
          ) {
            return [];
          }
          return [
            text(
              [middle[0] + aside[0] * far, middle[1] + aside[1] * far + pointsToMm(size) * 0.3],
              told(length),
              'text',
              size,
              { align: 'centre', halo: 0.5 },
            ),
          ];
        }),
        ...rows.map(({ ball }) => peg(put(ball))),
        ...[
          phrase(book, 'drill.falls'),
          decimal(`${(grade * 100).toFixed(1)} %`, book),
          phrase(book, 'drill.as-arrow'),
        ]
          .flatMap((line) => wrapLines(line, beside, 'text', size, measure))
          .map((line, i) =>
            text([words[0], words[1] + (i - 0.6) * pointsToMm(size) * 1.2], line, 'text', size),
          ),
      ],
    },
  ];
};

/** The green on the left, the pegs about its hole on the right. */
const imageModule: Module = (context, cell) => {
  const half = cell.width * 0.45;
  return [
    ...onGreen(context, { ...cell, width: half }),
    ...aboutHole(context, { ...cell, x: cell.x + half, width: cell.width - half }),
  ];
};

/** A row for each place: where, aim, pace, a box for each putt, and what dropped. */
const tableModule: Module = (context, cell) => {
  const { layout, book } = context;
  const { table: size, small } = layout.type;
  const { rows } = drilled(context);
  const { columns, head: heads, rows: words } = rowWords(context, rows, cell.width);
  const step = Math.min(pointsToMm(size) * 1.9, cell.height / (rows.length + BESIDES));
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
  'drill-image': imageModule,
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
