import type { Scheme, SheetPlan } from '../../src/layout/layout.js';
import type { Imposition, Sheet, Slot } from '../../src/print/impose.js';

/**
 * Paper in the hand: finds what is printed on both faces of each piece of a sheet from where the printer
 * put it, then cuts, piles, folds and nests the pieces as the instructions say, and reads them.
 * It knows nothing of how the pages were laid out.
 */

interface Size {
  readonly width: number;
  readonly height: number;
}

export interface Face {
  readonly page: number | null;
  /** The page's top points up the sheet, as the sheet's front is held. */
  readonly upright: boolean;
  /** How far the print is moved from its place, along x of the front. */
  readonly moved: number;
}

/** A piece of paper of the size of a page: what stands on its front, and behind it on its back. */
export interface Leaf {
  readonly x: number;
  readonly y: number;
  readonly front: Face;
  readonly back: Face;
}

/** Millimetres: how near to its place a piece must lie. */
const EXACT = 1e-9;

const BLANK: Face = { page: null, upright: true, moved: 0 };

/** A printer turns a sheet over about the named edge. */
const turnsUprightAxis = (sheet: Size, duplex: SheetPlan['duplex']): boolean =>
  sheet.height >= sheet.width ? duplex === 'long edge' : duplex === 'short edge';

const slotAt = (slots: readonly Slot[], page: Size, x: number, y: number): Slot | null =>
  slots.find((s) => x > s.x && x < s.x + page.width && y > s.y && y < s.y + page.height) ?? null;

export const leavesOf = (
  sheet: Sheet,
  imposition: Size,
  page: Size,
  duplex: SheetPlan['duplex'],
  near = EXACT,
): Leaf[] => {
  const uprightAxis = turnsUprightAxis(imposition, duplex);
  return sheet.front.map((slot): Leaf => {
    const cx = slot.x + page.width / 2;
    const cy = slot.y + page.height / 2;
    const front: Face = { page: slot.page, upright: slot.turn === 0, moved: slot.shift };
    if (sheet.back === null) return { x: slot.x, y: slot.y, front, back: BLANK };
    const behind = uprightAxis
      ? slotAt(sheet.back, page, imposition.width - cx, cy)
      : slotAt(sheet.back, page, cx, imposition.height - cy);
    if (behind === null) throw new Error('nothing is printed behind a page');
    // Exactly behind, not only somewhere behind.
    const bx = uprightAxis ? imposition.width - behind.x - page.width : behind.x;
    const by = uprightAxis ? behind.y : imposition.height - behind.y - page.height;
    if (Math.abs(bx - slot.x) > near || Math.abs(by - slot.y) > near) {
      throw new Error('a page does not lie exactly behind its front');
    }
    return {
      x: slot.x,
      y: slot.y,
      front,
      back: {
        page: behind.page,
        upright: (behind.turn === 0) === uprightAxis,
        moved: uprightAxis ? -behind.shift : behind.shift,
      },
    };
  });
};

/** Left to right, the upper row first. */
const inReadingOrder = (leaves: readonly Leaf[]): Leaf[] =>
  [...leaves].sort((a, b) => (Math.abs(a.y - b.y) > 1 ? b.y - a.y : a.x - b.x));

const mustStandUp = (faces: readonly Face[]): (number | null)[] =>
  faces.map((face) => {
    if (face.page !== null && !face.upright) throw new Error(`page ${face.page} is on its head`);
    return face.page;
  });

const turnLeaves = (leaves: readonly Leaf[], bothSides: boolean): (number | null)[] =>
  mustStandUp(leaves.flatMap(({ front, back }) => (bothSides ? [front, back] : [front])));

export interface Folded {
  readonly left: Leaf;
  readonly right: Leaf;
}

/** Pairs of neighbouring leaves, which stay together and are folded between. */
export const foldedPieces = (leaves: readonly Leaf[], page: Size, near = EXACT): Folded[] => {
  const ordered = inReadingOrder(leaves);
  return Array.from({ length: ordered.length / 2 }, (_, i) => {
    const [left, right] = [ordered[2 * i], ordered[2 * i + 1]];
    if (Math.abs(left.x + page.width - right.x) > near) throw new Error('a pair does not touch');
    return { left, right };
  });
};

/** A piece with nothing on it is thrown away. */
const isPrinted = ({ left, right }: Folded): boolean =>
  [left.front, left.back, right.front, right.back].some((face) => face.page !== null);

const readNest = (pieces: readonly Folded[]): (number | null)[] =>
  mustStandUp([
    ...pieces.flatMap(({ right }) => [right.front, right.back]),
    ...[...pieces].reverse().flatMap(({ left }) => [left.back, left.front]),
  ]);

/** The strip's face, the strip turned over, then the inside, which is turned like a page of a book. */
const readFoldUp = (leaves: readonly Leaf[], bothSides: boolean): (number | null)[] => {
  const ordered = inReadingOrder(leaves);
  const columns = ordered.length / 2;
  const upper = ordered.slice(0, columns);
  const lower = ordered.slice(columns);
  // The lower half was folded about a level line, so that its top now points down.
  const rear = [...lower].reverse().map(({ front }) => ({ ...front, upright: !front.upright }));
  return mustStandUp([
    ...upper.map(({ front }) => front),
    ...rear,
    ...(bothSides
      ? [
          ...[...upper].reverse().map(({ back }) => back),
          ...[...lower].reverse().map(({ back }) => back),
        ]
      : []),
  ]);
};

/** Pages in the order in which the finished book is read. */
export const readBook = (
  imposition: Pick<Imposition, 'width' | 'height' | 'sheets'>,
  page: Size,
  scheme: Scheme,
  duplex: SheetPlan['duplex'],
  near = EXACT,
): (number | null)[] => {
  const bothSides = duplex !== 'one side';
  const sheets = imposition.sheets.map((sheet) => leavesOf(sheet, imposition, page, duplex, near));
  switch (scheme) {
    case 'leaves':
      return sheets.flatMap((leaves) => turnLeaves(inReadingOrder(leaves), bothSides));
    case 'stack': {
      const piles = sheets.map(inReadingOrder);
      return (piles[0] ?? []).flatMap((_, place) =>
        turnLeaves(
          piles.map((leaves) => leaves[place]),
          bothSides,
        ),
      );
    }
    case 'saddle':
      return readNest(
        sheets.flatMap((leaves) => foldedPieces(leaves, page, near)).filter(isPrinted),
      );
    case 'fold-up':
      return sheets.flatMap((leaves) => readFoldUp(leaves, bothSides));
  }
};
