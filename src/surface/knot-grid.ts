import type { Box, Ring } from '../geometry.js';
import { signedDistanceToRing } from '../geometry.js';
import type { Envelope } from './envelope.js';
import { envelopeOf } from './envelope.js';
import { type Stencil, stencilOf } from './stencil.js';

/**
 * Square cells of side `step` over the box of a green, and the bicubic B-splines that reach the
 * ground to be fitted (outline and collar). Cell (i, j) spans x0 + i step .. x0 + (i+1) step; the
 * basis function (i, j), 0 <= i < nx + 3, is non-zero on the cells i-3..i, j-3..j.
 */
export interface KnotGrid {
  readonly x0: number;
  readonly y0: number;
  readonly step: number;
  /** Cells across and along. */
  readonly nx: number;
  readonly ny: number;
  /** The cells that outline and collar touch, as j * nx + i, ascending. */
  readonly cells: Int32Array;
  /** 1 for those cells, by j * nx + i. */
  readonly live: Uint8Array;
  /** Unknown of basis function (i, j), at j * (nx + 3) + i; -1 where it does not reach the ground. */
  readonly unknown: Int32Array;
  readonly size: number;
  readonly envelope: Envelope;
  /** How the unknowns that meet on a cell join. */
  readonly stencil: Stencil;
}

/** 1 for each cell of the grid that outline and collar touch, by j * nx + i. */
const liveCells = (
  outline: Ring,
  collar: number,
  { x0, y0, step, nx, ny }: Pick<KnotGrid, 'x0' | 'y0' | 'step' | 'nx' | 'ny'>,
): Uint8Array => {
  const live = new Uint8Array(nx * ny);
  const reach = collar + step * Math.SQRT1_2;
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const distance = signedDistanceToRing(outline, x0 + (i + 0.5) * step, y0 + (j + 0.5) * step);
      if (distance <= reach) live[j * nx + i] = 1;
    }
  }
  return live;
};

/** @param known the live cells, where they are known from an earlier grid of the same ground. */
export const knotGrid = (
  outline: Ring,
  collar: number,
  box: Box,
  step: number,
  known: Uint8Array | null = null,
): KnotGrid => {
  const width = box.maxX - box.minX;
  const depth = box.maxY - box.minY;
  const nx = Math.max(1, Math.ceil(width / step - 1e-9));
  const ny = Math.max(1, Math.ceil(depth / step - 1e-9));
  const x0 = box.minX - (nx * step - width) / 2;
  const y0 = box.minY - (ny * step - depth) / 2;
  const live = known ?? liveCells(outline, collar, { x0, y0, step, nx, ny });
  if (live.length !== nx * ny) throw new RangeError('the live cells do not fit the grid');
  const cells = Int32Array.from(live.keys()).filter((cell) => live[cell] === 1);
  const mx = nx + 3;
  const my = ny + 3;
  const used = new Uint8Array(mx * my);
  for (const cell of cells) {
    const i = cell % nx;
    const j = (cell - i) / nx;
    for (let b = 0; b < 4; b++) for (let a = 0; a < 4; a++) used[(j + b) * mx + i + a] = 1;
  }
  // The shorter side runs fastest, which keeps the band narrow.
  const unknown = new Int32Array(mx * my).fill(-1);
  const alongX = mx <= my;
  let size = 0;
  for (let q = 0; q < (alongX ? my : mx); q++) {
    for (let p = 0; p < (alongX ? mx : my); p++) {
      const at = alongX ? q * mx + p : p * mx + q;
      if (used[at] === 1) unknown[at] = size++;
    }
  }
  const first = Int32Array.from({ length: size }, (_, k) => k);
  const ids = new Int32Array(16);
  const eachCell = (take: (unknowns: Int32Array) => void): void => {
    for (const cell of cells) {
      const i = cell % nx;
      unknownsOfCell({ nx, unknown }, i, (cell - i) / nx, ids);
      take(ids);
    }
  };
  eachCell((unknowns) => {
    let least = size;
    for (const k of unknowns) least = Math.min(least, k);
    for (const k of unknowns) first[k] = Math.min(first[k], least);
  });
  const envelope = envelopeOf(first);
  const stencil = stencilOf(envelope, alongX, eachCell);
  return { x0, y0, step, nx, ny, cells, live, unknown, size, envelope, stencil };
};

/** What is to be fitted, and the points by which it is. */
interface BoundedGround {
  readonly outline: Ring;
  readonly collar: number;
  readonly box: Box;
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
}

/** More unknowns than this are not worth their time; the knots then stand wider. */
const MOST_UNKNOWNS = 3600;
/** Nor more than these for each point, beside as many as any green of common size has. */
const [UNKNOWNS_A_POINT, UNKNOWNS_ANYHOW] = [5, 1600];
/** Ground without points is guessed from the ground beside it: where more than half is bare, so many are enough to do it. */
const UNKNOWNS_OF_BARE = 800;
/** Side of the squares by which it is told whether ground has points, metres. */
const NEAR = 2.5;

/** Share of the grid's ground, up to 1, that the squares with points on them make. */
const coveredShare = ({ x, y }: BoundedGround, { x0, y0, step, nx, live }: KnotGrid): number => {
  const across = Math.ceil((nx * step) / NEAR);
  const squares = new Set<number>();
  for (let p = 0; p < x.length; p++) {
    const i = Math.floor((x[p] - x0) / step);
    const cell = Math.floor((y[p] - y0) / step) * nx + i;
    if (i < 0 || i >= nx || live[cell] !== 1) continue;
    squares.add(Math.floor((y[p] - y0) / NEAR) * across + Math.floor((x[p] - x0) / NEAR));
  }
  const all = live.reduce((sum, one) => sum + one, 0) * step * step;
  return Math.min(1, (squares.size * NEAR * NEAR) / all);
};

/** Knots at the step wished for, or so much wider that there are not too many for so many points and so much bare ground. */
const boundedGrid = (ground: BoundedGround, wish: number): KnotGrid => {
  const { outline, collar, box, x } = ground;
  const byPoints = Math.min(MOST_UNKNOWNS, Math.max(UNKNOWNS_ANYHOW, UNKNOWNS_A_POINT * x.length));
  const grid = knotGrid(outline, collar, box, wish);
  if (grid.size <= UNKNOWNS_OF_BARE) return grid;
  const most = Math.max(UNKNOWNS_OF_BARE, byPoints * Math.min(1, 2 * coveredShare(ground, grid)));
  if (grid.size <= most) return grid;
  return knotGrid(outline, collar, box, wish * Math.sqrt(grid.size / most) * 1.02);
};

/** By the points: one green's ground is fitted several times, and searched for errors, on the same knots. */
const made = new WeakMap<
  BoundedGround['x'],
  readonly (Omit<BoundedGround, 'x'> & { readonly wish: number; readonly grid: KnotGrid })[]
>();

/** `boundedGrid`, made once for a survey's points on a ground. */
export const boundedKnotGrid = (ground: BoundedGround, wish: number): KnotGrid => {
  const { outline, collar, box, x, y } = ground;
  const all = made.get(x) ?? [];
  const known = all.find(
    (one) =>
      one.wish === wish &&
      one.outline === outline &&
      one.collar === collar &&
      one.y === y &&
      one.box === box,
  );
  if (known !== undefined) return known.grid;
  const grid = boundedGrid(ground, wish);
  made.set(x, [...all, { outline, collar, box, y, wish, grid }]);
  return grid;
};

/** Writes the 16 unknowns that act on cell (i, j), b * 4 + a for basis function (i + a, j + b). */
export const unknownsOfCell = (
  grid: Pick<KnotGrid, 'nx' | 'unknown'>,
  i: number,
  j: number,
  out: Int32Array,
): void => {
  const mx = grid.nx + 3;
  for (let b = 0; b < 4; b++) {
    const at = (j + b) * mx + i;
    for (let a = 0; a < 4; a++) out[b * 4 + a] = grid.unknown[at + a];
  }
};
