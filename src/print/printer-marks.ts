import { mmToPoints } from '../units.js';
import { number } from './inks.js';
import { CROP_TAG, FOLD_TAG, REGISTRATION_TAG } from './marked-content.js';
import type { PdfBox } from './pdf-document.js';

/** Crop marks begin this far outside the trim (or at the bleed's edge) and are this long, millimetres. */
const GAP = 2;
const LENGTH = 5;
/** Room that marks need beyond the bleed, millimetres. */
export const CROP_REACH = 9;
/** Points. */
const MARK_WIDTH = 0.25;

const line = (x1: number, y1: number, x2: number, y2: number): string =>
  `${number(x1)} ${number(y1)} m ${number(x2)} ${number(y2)} l`;

/** All plates at once where the file has plates, else plain black. */
const PLATES = '/AllPlates CS 1 SCN';
const BLACK = '0 G';

const drawn = (tag: string, lines: readonly string[], plates: boolean, dash = ''): string =>
  lines.length === 0
    ? ''
    : `/${tag} BMC\nq ${plates ? PLATES : BLACK} ${number(MARK_WIDTH)} w ${dash}\n${lines.join('\n')}\nS Q\nEMC`;

/** The part of a mark that lies inside the sheet, clear of every other page; null when too short to see. */
const within = (
  from: number,
  to: number,
  limit: readonly [number, number],
): readonly [number, number] | null => {
  const low = Math.max(Math.min(from, to), limit[0]);
  const high = Math.min(Math.max(from, to), limit[1]);
  return high - low >= mmToPoints(1.5) ? [low, high] : null;
};

/** Whether a mark from one point to another would run over a page. */
export const runsOver = ([x1, y1, x2, y2]: PdfBox, trims: readonly PdfBox[]): boolean =>
  trims.some(
    (t) =>
      Math.max(x1, x2) > t[0] - 0.01 &&
      Math.min(x1, x2) < t[2] + 0.01 &&
      Math.max(y1, y2) > t[1] - 0.01 &&
      Math.min(y1, y2) < t[3] + 0.01,
  );

/**
 * Crop marks at the corners of the trimmed pages, outside every page and its bleed. `sheet` bounds
 * them; without it there is room enough.
 */
export const cropMarks = (
  trims: readonly PdfBox[],
  bleed: number,
  sheet: PdfBox = [-Infinity, -Infinity, Infinity, Infinity],
  plates = true,
): string => {
  const gap = Math.max(bleed, mmToPoints(GAP));
  const reach = gap + mmToPoints(LENGTH);
  const lines = new Set<string>();
  const covered = (...mark: PdfBox): boolean => runsOver(mark, trims);
  for (const [left, bottom, right, top] of trims) {
    for (const x of [left, right]) {
      for (const [y, out] of [
        [bottom, -1],
        [top, 1],
      ] as const) {
        if (covered(x, y + out * gap, x, y + out * reach)) continue;
        const part = within(y + out * gap, y + out * reach, [sheet[1], sheet[3]]);
        if (part !== null) lines.add(line(x, part[0], x, part[1]));
      }
    }
    for (const y of [bottom, top]) {
      for (const [x, out] of [
        [left, -1],
        [right, 1],
      ] as const) {
        if (covered(x + out * gap, y, x + out * reach, y)) continue;
        const part = within(x + out * gap, x + out * reach, [sheet[0], sheet[2]]);
        if (part !== null) lines.add(line(part[0], y, part[1], y));
      }
    }
  }
  return drawn(CROP_TAG, [...lines], plates);
};

const KAPPA = (4 / 3) * (Math.SQRT2 - 1);

const circle = (x: number, y: number, r: number): string => {
  const k = KAPPA * r;
  const n = (...v: number[]): string => v.map(number).join(' ');
  return [
    `${n(x + r, y)} m`,
    `${n(x + r, y + k, x + k, y + r, x, y + r)} c`,
    `${n(x - k, y + r, x - r, y + k, x - r, y)} c`,
    `${n(x - r, y - k, x - k, y - r, x, y - r)} c`,
    `${n(x + k, y - r, x + r, y - k, x + r, y)} c`,
  ].join(' ');
};

/** Off the middle of a side, where a gutter's crop marks may stand. Millimetres. */
const BESIDE_MIDDLE = 15;
const ARM = 2.6;

/** A cross in a circle beside the middle of each side of a box, in all plates, where there is room. */
export const registrationMarks = (
  box: PdfBox,
  bleed: number,
  sheet: PdfBox,
  plates = true,
): string => {
  const arm = mmToPoints(ARM);
  const r = mmToPoints(1.5);
  const beside = mmToPoints(BESIDE_MIDDLE);
  const middle = [(box[0] + box[2]) / 2 + beside, (box[1] + box[3]) / 2 + beside];
  /** How far outside a side whose margin is given; null where a mark finds no room. */
  const out = (margin: number): number | null => {
    const far = Math.min(bleed + mmToPoints(5), margin - arm - 1);
    return far < bleed + arm ? null : far;
  };
  const spots = (
    [
      [out(box[0] - sheet[0]), (d: number) => [box[0] - d, middle[1]]],
      [out(sheet[2] - box[2]), (d: number) => [box[2] + d, middle[1]]],
      [out(box[1] - sheet[1]), (d: number) => [middle[0], box[1] - d]],
      [out(sheet[3] - box[3]), (d: number) => [middle[0], box[3] + d]],
    ] as const
  ).flatMap(([distance, place]) => (distance === null ? [] : [place(distance)]));
  return drawn(
    REGISTRATION_TAG,
    spots.flatMap(([x, y]) => [
      circle(x, y, r),
      line(x - arm, y, x + arm, y),
      line(x, y - arm, x, y + arm),
    ]),
    plates,
  );
};

/** Dashed ticks where a sheet folds. */
export const foldMarks = (
  lines: readonly (readonly [x1: number, y1: number, x2: number, y2: number])[],
  plates = true,
): string =>
  drawn(
    FOLD_TAG,
    lines.map(([x1, y1, x2, y2]) => line(x1, y1, x2, y2)),
    plates,
    '[2 1.5] 0 d',
  );
