import { InputFault } from '../fault.js';
import type { Binding, Duplex, Scheme, SheetPlan } from '../layout/layout.js';
import { PAPERS } from '../layout/paper.js';

/**
 * Where pages stand on sheets. Millimetres from the lower left corner of a sheet's side as it is printed,
 * y up; pages are counted from 0 in reading order, `null` is a blank.
 */
export interface Slot {
  readonly page: number | null;
  /** Lower left corner of the place that the page is cut to. */
  readonly x: number;
  readonly y: number;
  /** The page's top points up the sheet, or down. */
  readonly turn: 0 | 180;
  /** How far the print is moved along x within its place, against creep. */
  readonly shift: number;
}

export interface Sheet {
  readonly front: readonly Slot[];
  /** Null when the sheet is printed on one side. */
  readonly back: readonly Slot[] | null;
}

export interface Imposition {
  /** The sheet as it is printed. */
  readonly width: number;
  readonly height: number;
  readonly sheets: readonly Sheet[];
  /** Lines that the front is folded along: x1, y1, x2, y2. */
  readonly folds: readonly (readonly [number, number, number, number])[];
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/** Places of a grid of pieces on a sheet, centred, row by row from the top left. */
interface Pieces extends Size {
  readonly columns: number;
  readonly rows: number;
  readonly places: readonly (readonly [x: number, y: number])[];
}

/** The arrangement of `count` pieces, on the sheet upright or across, that leaves the widest margin. */
const arrange = (
  sheet: Size,
  piece: Size,
  count: number,
  gutter: number,
  columnsWanted?: number,
): Pieces | null => {
  let best: { pieces: Pieces; margin: number } | null = null;
  for (const side of [sheet, { width: sheet.height, height: sheet.width }]) {
    for (let columns = 1; columns <= count; columns++) {
      const rows = count / columns;
      if (!Number.isInteger(rows)) continue;
      if (columnsWanted !== undefined && columns !== columnsWanted) continue;
      const wide = columns * piece.width + (columns - 1) * gutter;
      const high = rows * piece.height + (rows - 1) * gutter;
      const left = (side.width - wide) / 2;
      const bottom = (side.height - high) / 2;
      const margin = Math.min(left, bottom);
      // A tenth of a millimetre over is the rounding of an inch paper.
      if (margin < -0.05 || (best !== null && margin <= best.margin + 1e-9)) continue;
      const places = Array.from(
        { length: count },
        (_, i) =>
          [
            left + (i % columns) * (piece.width + gutter),
            bottom + (rows - 1 - Math.floor(i / columns)) * (piece.height + gutter),
          ] as const,
      );
      best = { pieces: { ...side, columns, rows, places }, margin };
    }
  }
  return best?.pieces ?? null;
};

/** A leaf lies on a sheet: its front at a place, its back behind it. */
interface Leaf {
  readonly x: number;
  readonly y: number;
  readonly front: number | null;
  readonly back: number | null;
  readonly shift: number;
  readonly turn: 0 | 180;
}

/**
 * The back of a sheet, as it must be printed so that each leaf has its back behind it. Turned over about
 * an upright edge a sheet is mirrored left to right; about a level edge the whole back stands on its head.
 */
const backOf = (leaves: readonly Leaf[], sheet: Size, piece: Size, duplex: Duplex): Slot[] => {
  const upright = sheet.height >= sheet.width;
  const onHead = upright === (duplex === 'short edge');
  return leaves.map(({ x, y, back, shift, turn }) => {
    const mirrored = sheet.width - x - piece.width;
    return onHead
      ? {
          page: back,
          x,
          y: sheet.height - y - piece.height,
          turn: turn === 0 ? 180 : 0,
          shift,
        }
      : { page: back, x: mirrored, y, turn, shift: -shift };
  });
};

const sheetOf = (leaves: readonly Leaf[], sheet: Size, piece: Size, duplex: Duplex): Sheet => ({
  front: leaves.map(({ x, y, front, shift, turn }) => ({ page: front, x, y, turn, shift })),
  back: duplex === 'one side' ? null : backOf(leaves, sheet, piece, duplex),
});

const pageOrBlank = (page: number, count: number): number | null => (page < count ? page : null);

/** Loose leaves, in the order of the sheet or in piles; also single pages for perfect or wire-o binding. */
const imposeLeaves = (
  count: number,
  page: Size,
  pieces: Pieces,
  scheme: Scheme,
  duplex: Duplex,
): Sheet[] => {
  const sides = duplex === 'one side' ? 1 : 2;
  const up = pieces.places.length;
  const sheets = Math.ceil(Math.ceil(count / sides) / up);
  return Array.from({ length: sheets }, (_, s) =>
    sheetOf(
      pieces.places.map(([x, y], place) => {
        const leaf = scheme === 'stack' ? place * sheets + s : s * up + place;
        return {
          x,
          y,
          front: pageOrBlank(leaf * sides, count),
          back: pageOrBlank(leaf * sides + 1, count),
          shift: 0,
          turn: 0,
        };
      }),
      pieces,
      page,
      duplex,
    ),
  );
};

/**
 * Folded sheets one inside the other, sewn or stapled through the fold. Each sheet further in stands out
 * by the paper's thickness when folded, so that its print is moved by as much toward the fold.
 */
const imposeSaddle = (
  count: number,
  page: Size,
  pieces: Pieces,
  duplex: Duplex,
  paper: number,
): Sheet[] => {
  const folded = Math.ceil(count / 4);
  const last = folded * 4 - 1;
  const perSheet = pieces.places.length;
  const sheets = Math.ceil(folded / perSheet);
  return Array.from({ length: sheets }, (_, s) =>
    sheetOf(
      pieces.places.flatMap(([x, y], place): Leaf[] => {
        const nest = s * perSheet + place;
        const creep = nest * paper;
        const at = (p: number): number | null => (nest < folded ? pageOrBlank(p, count) : null);
        return [
          {
            x,
            y,
            front: at(last - 2 * nest),
            back: at(last - 2 * nest - 1),
            shift: creep,
            turn: 0,
          },
          {
            x: x + page.width,
            y,
            front: at(2 * nest),
            back: at(2 * nest + 1),
            shift: -creep,
            turn: 0,
          },
        ];
      }),
      pieces,
      page,
      duplex,
    ),
  );
};

/**
 * One sheet of two rows: the lower row is folded back behind the upper one, then the strip is folded to
 * and fro. Read: the strip's face from left to right; the strip turned over, again from left to right
 * (the lower row, which stands on its head in the open sheet); then the inside, row by row.
 */
const imposeFoldUp = (count: number, page: Size, pieces: Pieces, duplex: Duplex): Sheet[] => {
  const { columns, places } = pieces;
  const onOneSide = 2 * columns;
  const onSheet = duplex === 'one side' ? onOneSide : 2 * onOneSide;
  return Array.from({ length: Math.ceil(count / onSheet) }, (_, s) => {
    const first = s * onSheet;
    const leaves = places.map(([x, y], i): Leaf => {
      const column = i % columns;
      const lower = i >= columns;
      // Seen from the back, the sheet's right is left.
      const inside = onOneSide + (lower ? columns : 0) + (columns - 1 - column);
      return {
        x,
        y,
        front: pageOrBlank(first + (lower ? onOneSide - 1 - column : column), count),
        back: pageOrBlank(first + inside, count),
        shift: 0,
        turn: 0,
      };
    });
    const sheet = sheetOf(leaves, pieces, page, duplex);
    return {
      front: sheet.front.map((slot, i) => ({ ...slot, turn: i >= columns ? 180 : slot.turn })),
      back: sheet.back,
    };
  });
};

const foldsOf = (scheme: Scheme, page: Size, pieces: Pieces): Imposition['folds'] => {
  const { places, columns } = pieces;
  if (scheme === 'saddle') {
    return places.map(([x, y]) => [x + page.width, y, x + page.width, y + page.height]);
  }
  if (scheme !== 'fold-up') return [];
  const [left, top] = [places[0][0], places[0][1] + page.height];
  const bottom = places[columns][1];
  const right = left + columns * page.width;
  return [
    [left, places[0][1], right, places[0][1]],
    ...Array.from({ length: columns - 1 }, (_, i) => {
      const x = left + (i + 1) * page.width;
      return [x, bottom, x, top] as const;
    }),
  ];
};

/**
 * Lays `count` pages of one size out on sheets. Throws InputFault when they do not fit the paper or the
 * scheme.
 */
export const impose = (
  count: number,
  page: Size,
  plan: SheetPlan,
  binding: Pick<Binding, 'paper'>,
): Imposition => {
  const paper = PAPERS[plan.paper];
  const fault = (problem: string, cure: string): InputFault =>
    new InputFault({ place: `sheets, ${plan.name}` }, problem, cure);
  const folding = plan.scheme === 'saddle' || plan.scheme === 'fold-up';
  if (folding && plan.up % 2 !== 0) {
    throw fault(`${plan.up} pages on a side cannot be folded in two`, 'give "up" an even number');
  }
  if (plan.scheme === 'saddle' && plan.duplex === 'one side') {
    throw fault('a saddle-stitched book is printed on both sides', 'set "duplex" to an edge');
  }
  const piece = plan.scheme === 'saddle' ? { ...page, width: 2 * page.width } : page;
  const pieces = arrange(
    paper,
    piece,
    plan.scheme === 'saddle' ? plan.up / 2 : plan.up,
    plan.gutter,
    plan.scheme === 'fold-up' ? plan.up / 2 : undefined,
  );
  if (pieces === null) {
    throw fault(
      `${plan.up} pages of ${page.width} x ${page.height} mm do not fit on ${paper.title}`,
      'use a larger paper or fewer pages on a side',
    );
  }
  const sheets =
    plan.scheme === 'saddle'
      ? imposeSaddle(count, page, pieces, plan.duplex, binding.paper)
      : plan.scheme === 'fold-up'
        ? imposeFoldUp(count, page, pieces, plan.duplex)
        : imposeLeaves(count, page, pieces, plan.scheme, plan.duplex);
  return {
    width: pieces.width,
    height: pieces.height,
    sheets,
    folds: foldsOf(plan.scheme, page, pieces),
  };
};
