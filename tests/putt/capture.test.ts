import { describe, expect, it } from 'vitest';
import {
  CAPTURE_REACH,
  captureReach,
  HOLE_RADIUS,
  MAX_CAPTURE_SPEED,
} from '../../src/putt/capture.js';
import { inchesToMetres } from '../../src/units.js';

/**
 * Capture speed with rim interaction: 1.63 (1 - (d/R)^2) m/s. For comparison: the windows use
 * Holmes's bound. Source: Penner, Can. J. Phys. 80 (2002) 83-96 (quoted from memory).
 */
const pennerSpeed = (offset: number): number => {
  const ratio = offset / HOLE_RADIUS;
  return Math.max(0, 1.63 * (1 - ratio * ratio));
};

/** Rules of Golf (The R&A and USGA): a hole of 108 mm; a ball of 1.68 in, 42.67 mm. */
const [HOLE, BALL] = [0.054, 0.021335];

/**
 * Speed at which a ball that crosses `offset` beside the middle falls by its radius before the far rim, m/s.
 * Source: Holmes, Am. J. Phys. 59 (1991) 129-136 (quoted from memory).
 */
const holmesSpeed = (offset: number): number =>
  (Math.sqrt(HOLE ** 2 - offset ** 2) + Math.sqrt((HOLE - BALL) ** 2 - offset ** 2)) *
  Math.sqrt(9.80665 / (2 * BALL));

describe('the hole', () => {
  it('has the size of the Rules of Golf (Equipment Rules; definition of Hole)', () => {
    expect(HOLE_RADIUS - CAPTURE_REACH).toBeCloseTo(inchesToMetres(1.68) / 2, 5);
    expect(Math.abs(2 * HOLE_RADIUS - inchesToMetres(4.25))).toBeLessThan(1e-4);
  });

  it("holds up to Holmes's 1.31 m/s on the centre line (Am. J. Phys. 59 (1991) 129-136)", () => {
    expect(MAX_CAPTURE_SPEED).toBeCloseTo(1.31, 2);
    expect(holmesSpeed(0)).toBeCloseTo(MAX_CAPTURE_SPEED, 4);
  });

  it('holds less beside it, and nothing beyond the reach of the formula', () => {
    for (let d = 0.001; d <= CAPTURE_REACH; d += 0.001) {
      const speed = holmesSpeed(d);
      expect(captureReach(speed)).toBeLessThan(captureReach(speed - 0.005));
    }
    expect(captureReach(holmesSpeed(CAPTURE_REACH) - 0.01)).toBe(CAPTURE_REACH);
  });

  it('turns the bound round: the reach of a speed is where that speed is the bound', () => {
    for (let d = 0; d < CAPTURE_REACH; d += 0.0007) {
      expect(captureReach(holmesSpeed(d))).toBeCloseTo(d, 5);
    }
    expect(captureReach(0.2)).toBe(CAPTURE_REACH);
    expect(captureReach(1.4)).toBeLessThan(0);
  });

  it("stays below Penner's bound with rim interaction (Can. J. Phys. 80 (2002): 1.63 m/s)", () => {
    expect(pennerSpeed(0)).toBeCloseTo(1.63, 2);
    expect(pennerSpeed(HOLE_RADIUS)).toBe(0);
    // The cautious bound is the lower one on the lines on which a putt is meant to fall.
    for (let d = 0; d <= HOLE_RADIUS / 2; d += 0.001) {
      expect(holmesSpeed(d)).toBeLessThan(pennerSpeed(d));
    }
  });
});
