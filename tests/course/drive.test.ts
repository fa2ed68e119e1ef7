import { expect, it } from 'vitest';
import { landingOf } from '../../src/course/landing.js';
import { localPlane } from '../../src/survey/crs/plane.js';

it.each([
  // 250 yd; on a short hole 0.68 of it, so that something is left to play.
  [400, 228.6],
  [300, 204],
])('a straight hole of %f m is driven to %f m', (length, drive) => {
  const landing = landingOf(
    localPlane(0, 50),
    [
      [0, 0],
      [0, length],
    ],
    4,
    [],
    [],
  )!;
  expect(landing.along).toBeCloseTo(drive, 6);
  expect(landing.at[1]).toBeCloseTo(drive, 6);
  expect(landing.width).toBeNull();
});
