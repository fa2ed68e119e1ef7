import { boxOfCoordinates } from '../geometry.js';
import { besideFactor } from './factor.js';
import { kernels } from './kernel-room.js';

/** Waves are looked for from this length, metres or spacings, whichever is more ... */
const SHORTEST = 0.65;
/** ... to this many spacings (of a metre at least): longer ones are ground. */
const LONGEST = 3;
/** Wave numbers tried stand this part of the ground's own resolution apart. */
const PART = 0.6;
/** More points than this are taken evenly. */
const MOST_POINTS = 3000;
/** Peaks that stand out less, in units of noise, or that are not among the highest, are not followed. */
const LEAST_PEAK = 5;
const MOST_PEAKS = 12;
/** Each peak is followed between the wave numbers tried, in halves of their distance. */
const HALVINGS = 2;

interface Residuals {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly off: Float64Array;
}

/** Radians a metre. */
export interface Peak {
  readonly kx: number;
  readonly ky: number;
}

/** Wave numbers tried: columns of kx from 0 on, and rows of ky, as far to each side as the columns go. */
interface Tried {
  readonly step: number;
  readonly rows: number;
  readonly width: number;
}

/** Numbers a point has in the kernels' memory, and bytes a number has. */
const [FOUR, NUMBER] = [4, 8];

/** Cosine and sine of so many times a phase, point by point; `on` goes on to the next multiple. */
const multiples = (phase: Float64Array) => {
  const cos = new Float64Array(phase.length).fill(1);
  const sin = new Float64Array(phase.length);
  const [turnC, turnS] = [phase.map(Math.cos), phase.map(Math.sin)];
  const on = (): void => {
    for (let p = 0; p < cos.length; p++) {
      const own = cos[p];
      cos[p] = own * turnC[p] - sin[p] * turnS[p];
      sin[p] = own * turnS[p] + sin[p] * turnC[p];
    }
  };
  return { cos, sin, on };
};

/** Writes two multiples, each as cosine and sine times a weight, as four columns: four numbers a point. */
const writeTwo = (
  four: Float64Array,
  { cos, sin, on }: ReturnType<typeof multiples>,
  weight: Float64Array | null,
): void => {
  for (let side = 0; side < FOUR; side += 2) {
    for (let p = 0; p < cos.length; p++) {
      const w = weight === null ? 1 : weight[p];
      four[FOUR * p + side] = w * cos[p];
      four[FOUR * p + side + 1] = w * sin[p];
    }
    on();
  }
};

/**
 * The power of residuals at every wave number tried, column after column. With C and S the sums over the points of their
 * products with cosines and sines of kx x and ky y, it is (CC - SS)^2 + (SC + CS)^2 at ky and (CC + SS)^2 + (SC - CS)^2 at
 * -ky: two columns and two rows at a time are one block of a matrix product.
 */
const powersOf = ({ x, y, off }: Residuals, { step, rows, width }: Tried): Float64Array => {
  const out = new Float64Array((rows + 1) * width);
  const blocks = Math.ceil(x.length / FOUR);
  const size = FOUR * FOUR * blocks;
  const pairs = (rows >> 1) + 1;
  const { room, address } = besideFactor((pairs + 1) * size + FOUR * FOUR);
  room.fill(0);
  const own = room.subarray(0, size);
  const sums = room.subarray((pairs + 1) * size);
  const addressOf = (pair: number): number => address + NUMBER * size * (pair + 1);
  const up = multiples(y.map((v) => step * v));
  for (let pair = 0; pair < pairs; pair++) {
    writeTwo(room.subarray((pair + 1) * size, (pair + 2) * size), up, null);
  }
  // Of the rows those within the disc.
  const reachOf = (column: number): number => Math.floor(Math.sqrt(rows * rows - column * column));
  const across = multiples(x.map((v) => step * v));
  for (let first = 0; first <= rows; first += 2) {
    writeTwo(own, across, off);
    const last = Math.min(rows, first + 1);
    for (let pair = 0; 2 * pair <= reachOf(first); pair++) {
      kernels().products(blocks, address, addressOf(pair), addressOf(pairs));
      for (let column = first; column <= last; column++) {
        for (let row = 2 * pair; row <= Math.min(2 * pair + 1, reachOf(column)); row++) {
          const at = 2 * FOUR * (column - first) + 2 * (row - 2 * pair);
          const [cc, cs, sc, ss] = [sums[at], sums[at + 1], sums[at + FOUR], sums[at + FOUR + 1]];
          const middle = column * width + rows;
          out[middle + row] = (cc - ss) ** 2 + (sc + cs) ** 2;
          out[middle - row] = (cc + ss) ** 2 + (sc - cs) ** 2;
        }
      }
    }
  }
  return out;
};

const powerAt = ({ x, y, off }: Residuals, kx: number, ky: number): number => {
  let [c, s] = [0, 0];
  for (let p = 0; p < x.length; p++) {
    const phase = kx * x[p] + ky * y[p];
    c += off[p] * Math.cos(phase);
    s += off[p] * Math.sin(phase);
  }
  return c * c + s * s;
};

const followed = (left: Residuals, peak: Peak, step: number): Peak => {
  let best = { ...peak, power: powerAt(left, peak.kx, peak.ky) };
  for (let half = 1, by = step / 2; half <= HALVINGS; half++, by /= 2) {
    const { kx, ky } = best;
    for (let i = -1; i <= 1; i++) {
      for (let j = -1; j <= 1; j++) {
        const power = powerAt(left, kx + i * by, ky + j * by);
        if (power > best.power) best = { kx: kx + i * by, ky: ky + j * by, power };
      }
    }
  }
  return best;
};

/** Whether no wave number beside is higher. */
const isPeak = (powers: Float64Array, at: number, { rows, width }: Tried): boolean => {
  const column = Math.floor(at / width);
  const row = at % width;
  for (let i = Math.max(0, column - 1); i <= Math.min(rows, column + 1); i++) {
    for (let j = Math.max(0, row - 1); j <= Math.min(width - 1, row + 1); j++) {
      if (powers[i * width + j] > powers[at]) return false;
    }
  }
  return true;
};

/** Wave numbers of the half disc that so many points of this spacing could tell apart, did none pass for another. */
export const wavesTried = (points: number, spacing: number): number => {
  const shortest = SHORTEST * Math.max(1, spacing);
  return ((Math.PI / 2) * points * spacing * spacing) / (shortest * shortest);
};

/**
 * The highest peaks of the periodogram of residuals, over a half disc of wave numbers without its middle. A wave longer
 * than its points are apart shows itself however the points lie; a shorter one only because they do not lie quite evenly.
 *
 * @param spacing of neighbouring points, metres.
 */
export const peaksOf = (all: Residuals, spacing: number): Peak[] => {
  const stride = Math.max(1, Math.ceil(all.off.length / MOST_POINTS));
  const of = (v: Float64Array): Float64Array => v.filter((_, k) => k % stride === 0);
  const left = { x: of(all.x), y: of(all.y), off: of(all.off) };
  const square = left.off.reduce((sum, r) => sum + r * r, 0);
  if (square === 0) return [];
  const box = boxOfCoordinates(left.x, left.y);
  const step = (PART * 2 * Math.PI) / Math.max(1, box.maxX - box.minX, box.maxY - box.minY);
  const most = (2 * Math.PI) / (SHORTEST * Math.max(1, spacing));
  const least = (2 * Math.PI) / (LONGEST * Math.max(1, spacing));
  const rows = Math.floor(most / step);
  const tried = { step, rows, width: 2 * rows + 1 };
  const powers = powersOf(left, tried);
  const peaks: (Peak & { readonly power: number })[] = [];
  powers.forEach((value, k) => {
    if (!(value > LEAST_PEAK * square)) return;
    const [kx, ky] = [Math.floor(k / tried.width) * step, ((k % tried.width) - rows) * step];
    const length = Math.hypot(kx, ky);
    if (length < least || length > most || !isPeak(powers, k, tried)) return;
    peaks.push({ kx, ky, power: value });
  });
  return peaks
    .sort((a, b) => b.power - a.power)
    .slice(0, MOST_PEAKS)
    .map((peak) => followed(left, peak, step))
    .filter(({ kx, ky }) => Math.hypot(kx, ky) >= least);
};
