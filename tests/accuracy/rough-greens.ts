import { type Random, seeded } from '../../course-data/vellamoor/random.js';
import type { Ring } from '../../src/geometry.js';
import { H, HX, HXX, HXXX, HXXY, HXY, HXYY, HY, HYY, HYYY } from '../../src/surface/surface.js';

/**
 * Greens that are no one's design, made otherwise than the demo's: a tilted plane under a random field of
 * Gaussian covariance sd^2 exp(-(r / length)^2), two in ten with a tier, in a wavy outline. Metres.
 */
export interface RoughGreen {
  readonly name: string;
  readonly outline: Ring;
  readonly tier: boolean;
  readonly at: (x: number, y: number, jet: Float64Array) => void;
}

/** Cosines that make up one random field (Rahimi & Recht 2007: the spectrum sampled). */
const WAVES = 80;
/** Radius of the face of a tier: the rise follows tanh(v / FACE). */
const FACE = 1.2;

interface Wave {
  readonly kx: number;
  readonly ky: number;
  readonly phase: number;
  readonly size: number;
}

const wavesOf = (random: Random, sd: number, length: number): Wave[] =>
  Array.from({ length: WAVES }, () => ({
    kx: (Math.SQRT2 / length) * random.normal(),
    ky: (Math.SQRT2 / length) * random.normal(),
    phase: 2 * Math.PI * random.uniform(),
    size: sd * Math.sqrt(2 / WAVES),
  }));

const addWave = (jet: Float64Array, { kx, ky, phase, size }: Wave, x: number, y: number): void => {
  const c = size * Math.cos(kx * x + ky * y + phase);
  const s = size * Math.sin(kx * x + ky * y + phase);
  jet[H] += c;
  jet[HX] -= kx * s;
  jet[HY] -= ky * s;
  jet[HXX] -= kx * kx * c;
  jet[HXY] -= kx * ky * c;
  jet[HYY] -= ky * ky * c;
  jet[HXXX] += kx * kx * kx * s;
  jet[HXXY] += kx * kx * ky * s;
  jet[HXYY] += kx * ky * ky * s;
  jet[HYYY] += ky * ky * ky * s;
};

/** A wavy oval round (0, radius). */
const outlineOf = (random: Random): Ring => {
  const radius = random.between(8.5, 11);
  const bumps = [2, 3, 4].map((order) => ({
    order,
    size: random.between(0, 0.24 / order),
    phase: 2 * Math.PI * random.uniform(),
  }));
  return Array.from({ length: 90 }, (_, k) => {
    const a = (2 * Math.PI * k) / 90;
    const r = bumps.reduce((sum, b) => sum + b.size * Math.cos(b.order * a + b.phase), 1) * radius;
    return [r * Math.cos(a), radius + r * Math.sin(a)] as const;
  });
};

/** The k-th green of a seed: of each ten the third and the eighth have a tier. */
export const roughGreen = (seed: number, k: number): RoughGreen => {
  const random = seeded(1000 * seed + k);
  const outline = outlineOf(random);
  const length = random.between(4, 12);
  const sd = random.between(0.02, 0.1);
  const tilt = random.between(0.005, 0.035);
  const toward = 2 * Math.PI * random.uniform();
  const waves = wavesOf(random, sd, length);
  const [gx, gy] = [tilt * Math.cos(toward), tilt * Math.sin(toward)];
  const tier = k % 10 === 2 || k % 10 === 7;
  const rise = tier ? random.between(0.25, 0.5) : 0;
  const turn = toward + random.between(-0.6, 0.6);
  const [nx, ny] = [Math.cos(turn), Math.sin(turn)];
  const at = (x: number, y: number, jet: Float64Array): void => {
    jet.fill(0);
    for (const wave of waves) addWave(jet, wave, x, y);
    jet[H] += 100 + gx * x + gy * y;
    jet[HX] += gx;
    jet[HY] += gy;
    if (!tier) return;
    const t = Math.tanh((nx * x + ny * (y - 10)) / FACE);
    const s = 1 - t * t;
    const [f, f1, f2, f3] = [
      t,
      s / FACE,
      (-2 * t * s) / FACE ** 2,
      (s * (6 * t * t - 2)) / FACE ** 3,
    ];
    const half = rise / 2;
    jet[H] += half * f;
    jet[HX] += half * f1 * nx;
    jet[HY] += half * f1 * ny;
    jet[HXX] += half * f2 * nx * nx;
    jet[HXY] += half * f2 * nx * ny;
    jet[HYY] += half * f2 * ny * ny;
    jet[HXXX] += half * f3 * nx * nx * nx;
    jet[HXXY] += half * f3 * nx * nx * ny;
    jet[HXYY] += half * f3 * nx * ny * ny;
    jet[HYYY] += half * f3 * ny * ny * ny;
  };
  return { name: `${seed}/${k}`, outline, tier, at };
};
