import { describe, expect, it } from 'vitest';
import { landingOf, runOutOf } from '../../src/course/landing.js';
import type { Point, Ring } from '../../src/geometry.js';
import { localPlane } from '../../src/survey/crs/plane.js';

/** Where tee shots end and run out, on lines laid out in metres. */

const plane = localPlane(-3, 55);
const straight = (length: number): Point[] => [
  [0, 0],
  [0, length],
];
const box = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

describe('the landing place', () => {
  const along = (line: readonly Point[], par: number | null): number | null =>
    landingOf(plane, line, par, [], [])?.along ?? null;

  it('is 250 yards from the tee, on a short hole two thirds of the way or so', () => {
    expect(along(straight(400), 4)).toBeCloseTo(250 * 0.9144, 9);
    expect(along(straight(300), 4)).toBeCloseTo(0.68 * 300, 9);
  });

  it('is none on a par 3, however long, nor on a hole too short for one', () => {
    expect(along(straight(240), 3)).toBeNull();
    expect(along(straight(195), 4)).toBeNull();
    expect(along(straight(225), null)).toBeNull();
    expect(along(straight(240), null)).not.toBeNull();
  });

  it('is the corner of the line from 140 to 310 m', () => {
    const corner = (at: number): Point[] => [
      [0, 0],
      [0, at],
      [150, at + 120],
    ];
    expect(along(corner(200), 4)).toBeCloseTo(200, 6);
    expect(along(corner(305), 5)).toBeCloseTo(305, 6);
    expect(along(corner(120), 4)).toBeCloseTo(
      Math.min(228.6, 0.68 * (120 + Math.hypot(150, 120))),
      6,
    );
    expect(along(corner(330), 5)).toBeCloseTo(228.6, 6);
  });

  it('has the width of the fairway across it', () => {
    const found = landingOf(plane, straight(400), 4, [box(-14, 120, 22, 380)], [])!;
    expect(found.width).toBeCloseTo(36, 2);
    expect(landingOf(plane, straight(400), 4, [box(10, 120, 22, 380)], [])!.width).toBeNull();
  });

  it('is laid up short of water and sand on the line, and is as wide as these leave the fairway', () => {
    const fairway = [box(-20, 100, 20, 380)];
    const among = (...hazards: readonly Ring[]) =>
      landingOf(plane, straight(400), 4, fairway, hazards);
    expect(among(box(-40, 210, 40, 250))).toMatchObject({ laidUp: true });
    expect(among(box(-40, 300, 40, 330))).toMatchObject({ laidUp: false });
    expect(among(box(-40, 210, 40, 250))!.along).toBeCloseTo(200, 6);
    // A second one lies where the first would have it laid up.
    expect(among(box(-40, 210, 40, 250), box(-5, 190, 5, 205))!.along).toBeCloseTo(180, 6);
    expect(among(box(-40, 145, 40, 250))).toBeNull();
    const beside = among(box(-40, 200, -8, 260), box(12, 220, 30, 240))!;
    expect(beside.along).toBeCloseTo(250 * 0.9144, 9);
    expect(beside.width).toBeCloseTo(20, 2);
    expect(beside.across![0][0]).toBeCloseTo(-8, 6);
    expect(among(box(-40, 300, 40, 330))!.width).toBeCloseTo(40, 2);
  });
});

describe('a tee shot', () => {
  const tee: Point = [0, 0];
  const landing: Point = [0, 220];

  it('runs out of the fairway that it lands on, within its length', () => {
    const runs = (...fairways: readonly Ring[]) => runOutOf(plane, tee, landing, fairways)?.length;
    expect(runs(box(-20, 120, 20, 260))).toBeCloseTo(260, 2);
    // Another piece before it, or behind it, is not where it lands.
    expect(runs(box(-20, 60, 20, 110), box(-20, 120, 20, 260))).toBeCloseTo(260, 2);
    expect(runs(box(-20, 60, 20, 110))).toBeUndefined();
    expect(runs(box(-20, 240, 20, 270))).toBeUndefined();
    expect(runs(box(-20, 120, 20, 300))).toBeUndefined();
  });
});
