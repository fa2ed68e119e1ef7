import { H, HX, HXX, HXXX, HXXY, HXY, HXYY, HY, HYY, HYYY, type Trust } from './surface.js';

/** Ground that goes up and down faster than the surface can follow; metres and radians a metre. */
export interface Wave {
  readonly kx: number;
  readonly ky: number;
  /** Half the height from trough to crest. */
  readonly size: number;
}

/** The doubt of ground that also has these waves, where their crests lie not being known. */
export const withWaves = (trust: Trust, waves: readonly Wave[]): Trust => {
  if (waves.length === 0) return trust;
  const height = waves.reduce((sum, { size }) => sum + size ** 2 / 2, 0);
  return {
    widening: trust.widening ?? 1,
    edges: trust.edges ?? null,
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
