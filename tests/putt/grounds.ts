import fc from 'fast-check';
import type { Ring } from '../../src/geometry.js';
import type { Surface } from '../../src/surface/surface.js';
import { H, HX, HXX, HXXX, HXXY, HXY, HXYY, HY, HYY, HYYY } from '../../src/surface/surface.js';
import { analyticSurface, circleRing } from '../surface/analytic.js';

/** One wave of height on a green: amplitude (m), wave vector (rad/m) and phase. */
export interface Wave {
  readonly amplitude: number;
  readonly kx: number;
  readonly ky: number;
  readonly phase: number;
}

export interface WavyGround {
  readonly tiltX: number;
  readonly tiltY: number;
  readonly waves: readonly Wave[];
}

/** A tilted plane with waves on it: smooth, never level for long, all derivatives exact. */
export const wavySurface = (ground: WavyGround, outline: Ring = circleRing(13)): Surface =>
  analyticSurface(outline, (x, y, jet) => {
    let h = ground.tiltX * x + ground.tiltY * y;
    let hx = ground.tiltX;
    let hy = ground.tiltY;
    let [hxx, hxy, hyy, hxxx, hxxy, hxyy, hyyy] = [0, 0, 0, 0, 0, 0, 0];
    for (const { amplitude, kx, ky, phase } of ground.waves) {
      const s = amplitude * Math.sin(kx * x + ky * y + phase);
      const c = amplitude * Math.cos(kx * x + ky * y + phase);
      h += s;
      hx += kx * c;
      hy += ky * c;
      hxx -= kx * kx * s;
      hxy -= kx * ky * s;
      hyy -= ky * ky * s;
      hxxx -= kx * kx * kx * c;
      hxxy -= kx * kx * ky * c;
      hxyy -= kx * ky * ky * c;
      hyyy -= ky * ky * ky * c;
    }
    jet[H] = h;
    jet[HX] = hx;
    jet[HY] = hy;
    jet[HXX] = hxx;
    jet[HXY] = hxy;
    jet[HYY] = hyy;
    jet[HXXX] = hxxx;
    jet[HXXY] = hxxy;
    jet[HXYY] = hxyy;
    jet[HYYY] = hyyy;
  });

/** Numbers in [0, 1), the same for the same seed. Source: Steele et al., OOPSLA 2014 (SplitMix), in 32 bits. */
export const randomFrom = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b);
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
    return ((z ^ (z >>> 16)) >>> 0) / 2 ** 32;
  };
};

/** Greens of a mean tilt up to `tilt` and three waves 9 to 25 m long that add grades up to `roughness`. */
export const randomGround = (random: () => number, tilt: number, roughness: number): WavyGround => {
  const fall = 2 * Math.PI * random();
  const grade = tilt * random();
  return {
    tiltX: grade * Math.cos(fall),
    tiltY: grade * Math.sin(fall),
    waves: [0, 1, 2].map(() => {
      const length = 9 + 16 * random();
      const direction = 2 * Math.PI * random();
      const k = (2 * Math.PI) / length;
      return {
        amplitude: (roughness * random()) / (3 * k),
        kx: k * Math.cos(direction),
        ky: k * Math.sin(direction),
        phase: 2 * Math.PI * random(),
      };
    }),
  };
};

/** The same for property tests. */
export const anyGround: fc.Arbitrary<WavyGround> = fc
  .integer({ min: 0, max: 2 ** 31 - 1 })
  .map((seed) => randomGround(randomFrom(seed), 0.04, 0.05));

/** The ground turned by an angle (counter-clockwise). */
export const turned = (ground: WavyGround, angle: number): WavyGround => {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return {
    tiltX: c * ground.tiltX - s * ground.tiltY,
    tiltY: s * ground.tiltX + c * ground.tiltY,
    waves: ground.waves.map((wave) => ({
      ...wave,
      kx: c * wave.kx - s * wave.ky,
      ky: s * wave.kx + c * wave.ky,
    })),
  };
};

/** The ground seen in a mirror: x becomes -x. */
export const mirrored = (ground: WavyGround): WavyGround => ({
  tiltX: -ground.tiltX,
  tiltY: ground.tiltY,
  waves: ground.waves.map((wave) => ({ ...wave, kx: -wave.kx })),
});
