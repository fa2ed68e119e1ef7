import { describe, expect, it } from 'vitest';
import {
  BALL_RADIUS,
  CAPTURE_REACH,
  captureReach,
  HOLE_RADIUS,
  holmesSpeed,
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

describe('the hole', () => {
  it('has the size of the Rules of Golf (Equipment Rules; definition of Hole)', () => {
    expect(2 * BALL_RADIUS).toBeCloseTo(inchesToMetres(1.68), 5);
    expect(Math.abs(2 * HOLE_RADIUS - inchesToMetres(4.25))).toBeLessThan(1e-4);
  });

  it("holds up to Holmes's 1.31 m/s on the centre line (Am. J. Phys. 59 (1991) 129-136)", () => {
    expect(MAX_CAPTURE_SPEED).toBeCloseTo(1.31, 2);
    expect(holmesSpeed(0)).toBe(MAX_CAPTURE_SPEED);
  });

  it('holds less beside it, and nothing beyond the reach of the formula', () => {
    for (let d = 0.001; d <= CAPTURE_REACH; d += 0.001) {
      expect(holmesSpeed(d)).toBeLessThan(holmesSpeed(d - 0.001));
    }
    expect(holmesSpeed(CAPTURE_REACH + 1e-9)).toBe(0);
  });

  it('turns the bound round: the reach of a speed is where that speed is the bound', () => {
    for (let d = 0; d < CAPTURE_REACH; d += 0.0007) {
      expect(captureReach(holmesSpeed(d))).toBeCloseTo(d, 6);
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
