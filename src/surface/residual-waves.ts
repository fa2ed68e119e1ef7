import { boxOfCoordinates } from '../geometry.js';
import { H, HX, HXX, HXXX, HXXY, HXY, HXYY, HY, HYY, HYYY, type Trust } from './surface.js';

/** Ground that goes up and down faster than the surface can follow; metres and radians a metre. */
export interface Wave {
  readonly kx: number;
  readonly ky: number;
  /** Half the height from trough to crest. */
  readonly size: number;
}

/** Waves are looked for from this length, metres or spacings, whichever is more ... */
const SHORTEST = 0.8;
/** ... to this many spacings (of a metre at least): longer ones the surface has followed. */
const LONGEST = 3;
/** Wave numbers tried stand this part of the ground's own resolution apart. */
const PART = 0.6;
/**
 * Power against that of noise from which a wave is clear: by chance one survey in a hundred thousand has it,
 * some thousand waves being tried (exponential distribution; Scargle, Astrophys. J. 263 (1982) 835-853).
 */
const CLEAR = 20;
const MOST_WAVES = 2;
/** More points than this are taken evenly. */
const MOST_POINTS = 3000;

interface Residuals {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly off: Float64Array;
}

/** A wave number with the cosine and sine sums of the residuals against it. */
interface Peak {
  readonly kx: number;
  readonly ky: number;
  readonly c: number;
  readonly s: number;
}

/** The highest peak over a half disc of wave numbers without its middle; phases are turned from each to the next. */
const peakOf = ({ x, y, off }: Residuals, spacing: number): Peak => {
  const box = boxOfCoordinates(x, y);
  const step = (PART * 2 * Math.PI) / Math.max(1, box.maxX - box.minX, box.maxY - box.minY);
  const most = (2 * Math.PI) / (SHORTEST * Math.max(1, spacing));
  const least = (2 * Math.PI) / (LONGEST * Math.max(1, spacing));
  const rows = Math.floor(most / step);
  const [turnC, turnS] = [y.map((v) => Math.cos(step * v)), y.map((v) => Math.sin(step * v))];
  const [cos, sin] = [new Float64Array(x.length), new Float64Array(x.length)];
  let best: Peak = { kx: 0, ky: 0, c: 0, s: 0 };
  for (let column = 0; column <= rows; column++) {
    const kx = column * step;
    const reach = Math.floor(Math.sqrt(Math.max(0, most * most - kx * kx)) / step);
    for (let p = 0; p < x.length; p++) {
      const phase = kx * x[p] - reach * step * y[p];
      cos[p] = off[p] * Math.cos(phase);
      sin[p] = off[p] * Math.sin(phase);
    }
    for (let row = -reach; row <= reach; row++) {
      let c = 0;
      let s = 0;
      for (let p = 0; p < x.length; p++) {
        const own = cos[p];
        const side = sin[p];
        const byC = turnC[p];
        const byS = turnS[p];
        c += own;
        s += side;
        cos[p] = own * byC - side * byS;
        sin[p] = own * byS + side * byC;
      }
      const ky = row * step;
      const k = kx * kx + ky * ky;
      if (k < least * least || k > most * most || c * c + s * s <= best.c ** 2 + best.s ** 2)
        continue;
      best = { kx, ky, c, s };
    }
  }
  return best;
};

/**
 * The waves that the residuals of a fit keep, the highest first. A wave longer than its points are apart shows
 * itself however the points lie; a shorter one only because they do not lie quite evenly.
 *
 * @param sound of the points: others are left out.
 * @param spacing of neighbouring points, metres.
 */
export const residualWaves = (
  all: Residuals,
  sound: (p: number) => boolean,
  spacing: number,
): Wave[] => {
  const kept = Array.from(all.off.keys()).filter(sound);
  const stride = Math.max(1, Math.ceil(kept.length / MOST_POINTS));
  const taken = kept.filter((_, k) => k % stride === 0);
  const of = (v: Float64Array): Float64Array => Float64Array.from(taken, (p) => v[p]);
  const left = { x: of(all.x), y: of(all.y), off: of(all.off) };
  const n = taken.length;
  const found: Wave[] = [];
  while (found.length < MOST_WAVES && n > 0) {
    const square = left.off.reduce((sum, r) => sum + r * r, 0);
    const { kx, ky, c, s } = peakOf(left, spacing);
    if (!(c * c + s * s > CLEAR * square)) break;
    found.push({ kx, ky, size: (2 / n) * Math.hypot(c, s) });
    for (let p = 0; p < n; p++) {
      const phase = kx * left.x[p] + ky * left.y[p];
      left.off[p] -= (2 / n) * (c * Math.cos(phase) + s * Math.sin(phase));
    }
  }
  return found.sort((a, b) => b.size - a.size);
};

/** The doubt of ground that also has these waves, where their crests lie not being known. */
export const withWaves = (trust: Trust, waves: readonly Wave[]): Trust => {
  if (waves.length === 0) return trust;
  const height = waves.reduce((sum, { size }) => sum + size ** 2 / 2, 0);
  return {
    heightSd: (x, y) => Math.hypot(trust.heightSd(x, y), Math.sqrt(height)),
    gradientCovariance(x, y, out) {
      trust.gradientCovariance(x, y, out);
      for (const { kx, ky, size } of waves) {
        const half = size ** 2 / 2;
        out[0] += half * kx * kx;
        out[1] += half * kx * ky;
        out[2] += half * ky * ky;
      }
    },
    functionalVariance(quadruples) {
      let variance = trust.functionalVariance(quadruples);
      for (const { kx, ky, size } of waves) {
        let [c, s] = [0, 0];
        for (let k = 0; k + 3 < quadruples.length; k += 4) {
          const phase = kx * quadruples[k] + ky * quadruples[k + 1];
          const weight = kx * quadruples[k + 2] + ky * quadruples[k + 3];
          c += weight * Math.cos(phase);
          s += weight * Math.sin(phase);
        }
        variance += (size ** 2 / 2) * (c * c + s * s);
      }
      return variance;
    },
    heightDraws(points) {
      const draw = trust.heightDraws(points);
      return (normal) => {
        const out = draw(normal);
        for (const { kx, ky, size } of waves) {
          const [a, b] = [(size / Math.SQRT2) * normal(), (size / Math.SQRT2) * normal()];
          for (let p = 0; p < out.length; p++) {
            const phase = kx * points[2 * p] + ky * points[2 * p + 1];
            out[p] += a * Math.cos(phase) + b * Math.sin(phase);
          }
        }
        return out;
      };
    },
  };
};

/** A draw of the waves' own ground, their crests anywhere: adds height and derivatives at a point to a jet. */
export const drawnWaves = (
  waves: readonly Wave[],
  normal: () => number,
): ((x: number, y: number, jet: Float64Array) => void) => {
  const drawn = waves.map(({ kx, ky, size }) => {
    const [a, b] = [(size / Math.SQRT2) * normal(), (size / Math.SQRT2) * normal()];
    return { kx, ky, a, b };
  });
  return (x, y, jet) => {
    for (const { kx, ky, a, b } of drawn) {
      const phase = kx * x + ky * y;
      const [cos, sin] = [Math.cos(phase), Math.sin(phase)];
      // The wave and its derivative by the phase; each further pair of derivatives changes sign.
      const even = a * cos + b * sin;
      const odd = b * cos - a * sin;
      jet[H] += even;
      jet[HX] += kx * odd;
      jet[HY] += ky * odd;
      jet[HXX] -= kx * kx * even;
      jet[HXY] -= kx * ky * even;
      jet[HYY] -= ky * ky * even;
      jet[HXXX] -= kx * kx * kx * odd;
      jet[HXXY] -= kx * kx * ky * odd;
      jet[HXYY] -= kx * ky * ky * odd;
      jet[HYYY] -= ky * ky * ky * odd;
    }
  };
};
