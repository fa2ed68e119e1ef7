import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import type { Marker, MarkerPlace } from '../../src/putt/marker.js';
import type { PuttSettings } from '../../src/putt/putt.js';
import { rollToRest } from '../../src/putt/roll.js';
import { solvePutt } from '../../src/putt/solve.js';
import { type PracticeStation, practiceStation } from '../../src/putt/station.js';
import { puttGround } from '../../src/putt/workspace.js';
import { HX, HY, JET_SIZE, type Surface } from '../../src/surface/surface.js';
import { feetToMetres, inchesToMetres, METRES_PER_PACE } from '../../src/units.js';
import { atDepth } from '../depth.js';
import { circleRing, plane } from '../surface/analytic.js';
import { mirrored, randomFrom, randomGround, turned, wavySurface } from './grounds.js';

const PAST = inchesToMetres(12);
/** A fifth of its room for error is the least that each keeps; a hole of 108 mm and a disc of 24 mm beside it. */
const LEAST_KEPT = 0.2;
const OUTSIDE_CUP = 0.054 + 0.012;
const even = (grade: number): Surface => plane(circleRing(10), 0, grade);
const at = (stimpFeet: number, past = PAST): PuttSettings => ({
  stimp: feetToMetres(stimpFeet),
  past,
});
const onEven = (stimpFeet: number, grade: number): Marker =>
  practiceStation(even(grade), [0, 0], at(stimpFeet)).marker!;

/** Whether the hole takes a ball sent off so; rolled to rest, with no window or share in between. */
const drops = (
  surface: Surface,
  { hole, settings }: PracticeStation,
  tee: Point,
  velocity: Point,
): boolean => rollToRest(puttGround(surface, settings), tee, velocity, hole).status === 'holed';

const allDrop = (surface: Surface, station: PracticeStation, place: MarkerPlace): boolean =>
  place.putts.every(({ quadrant, velocity }) => {
    const tee = station.tees.find((one) => one.quadrant === quadrant)!.tee;
    return drops(surface, station, tee, velocity);
  });

/** Speeds of level putts, by v^2 = 2 a s, and a ball's deceleration by the reading's own definition. */
const launchSpeedOf = (stimp: number, pace: number): number =>
  Math.sqrt((1.83 ** 2 / stimp) * pace);

describe('what pace and aim ask of one marker on even slopes', () => {
  it('is 3.7 times as far for pace, whatever slope and speed: 2 / (1 - (d / D) ln(1 + D / d))', () => {
    const [d, far] = [PAST, METRES_PER_PACE];
    const ratio = 2 / (1 - (d / far) * Math.log(1 + far / d));
    expect(ratio).toBeCloseTo(3.72, 2);
    for (const [speed, grade] of [
      [8, 0.01],
      [10.5, 0.01],
      [10.5, 0.02],
      [12, 0.015],
    ]) {
      const { asks } = onEven(speed, grade);
      expect(asks.pace / asks.sides / ratio).toBeCloseTo(1, 1.7);
      // q D, with q = (5/7) g S / a0.
      const q = ((5 / 7) * 9.80665 * grade) / (1.83 ** 2 / (2 * feetToMetres(speed)));
      expect(asks.pace / (q * far)).toBeCloseTo(1, 2);
    }
  });

  it('is twice as far where a ball just reaches the hole, and more the faster it comes', () => {
    const asked = (past: number): number => {
      const { asks } = practiceStation(even(0.01), [0, 0], at(10, past)).marker!;
      return asks.pace / asks.sides;
    };
    const [dying, short, firm] = [0.003, 0.1, 0.6].map(asked);
    expect(dying).toBeGreaterThan(2);
    expect(dying).toBeLessThan(2.1);
    expect(short).toBeGreaterThan(dying);
    expect(firm).toBeGreaterThan(short);
  });
});

describe('one marker on even slopes', () => {
  it.each([
    [10.5, 0.015],
    [10.5, 0.02],
    [10.5, 0.03],
    [12, 0.02],
    [12, 0.03],
  ])('serves all four at %f ft and %f', (speed, grade) => {
    const station = practiceStation(even(grade), [0, 0], at(speed));
    const { verdict, best, asks } = station.marker!;
    expect(verdict).toBe('serves');
    expect(best.least).toBeGreaterThanOrEqual(LEAST_KEPT);
    expect(allDrop(even(grade), station, best)).toBe(true);
    // On the fall line, outside the cup, between what the sides and what pace ask for.
    expect(Math.abs(best.right)).toBeLessThan(inchesToMetres(0.15));
    expect(best.uphill).toBeGreaterThanOrEqual(OUTSIDE_CUP - 1e-9);
    expect(best.uphill).toBeGreaterThan(asks.sides);
    expect(best.uphill).toBeLessThan(asks.pace);
    expect(best.at[1]).toBeCloseTo(best.uphill, 9);
  });

  it('has the putts from above and below played as to a hole on the level there', () => {
    const { best } = onEven(10.5, 0.02);
    for (const { quadrant, velocity, pace } of best.putts) {
      const speed = Math.hypot(velocity[0], velocity[1], 0.02 * velocity[1]);
      expect(speed).toBeCloseTo(launchSpeedOf(feetToMetres(10.5), pace), 6);
      if (quadrant === 'below') expect(pace).toBeCloseTo(METRES_PER_PACE + best.uphill + PAST, 3);
      if (quadrant === 'above') expect(pace).toBeCloseTo(METRES_PER_PACE - best.uphill + PAST, 3);
      if (quadrant === 'left')
        expect(velocity[1] / velocity[0]).toBeCloseTo(best.uphill / 0.9144, 2);
    }
  });

  it('serves at no place at 12 ft and 4 %: all four drop on a strip of an inch at most, and by a hair', () => {
    const surface = even(0.04);
    const station = practiceStation(surface, [0, 0], at(12));
    expect(station.marker!.verdict).toBe('none');
    expect(station.marker!.best.least).toBeLessThan(0.1);
    const own = Object.fromEntries(station.tees.map(({ quadrant, putt }) => [quadrant, putt!]));
    // Straight up and down, and over the marker from the left; the right is its mirror image.
    const serves = (uphill: number): boolean => {
      const up = launchSpeedOf(feetToMetres(12), METRES_PER_PACE + uphill + PAST);
      const down = launchSpeedOf(feetToMetres(12), METRES_PER_PACE - uphill + PAST);
      const along = 1 / Math.hypot(1, 0.04);
      const side = own.left.launchSpeed / Math.hypot(METRES_PER_PACE, uphill, 0.04 * uphill);
      return (
        drops(surface, station, own.below.ball, [0, up * along]) &&
        drops(surface, station, own.above.ball, [0, -down * along]) &&
        drops(surface, station, own.left.ball, [side * METRES_PER_PACE, side * uphill])
      );
    };
    const served = Array.from({ length: 301 }, (_, k) => inchesToMetres(k / 10)).filter(serves);
    expect(served.length).toBeGreaterThan(0);
    expect(Math.min(...served)).toBeGreaterThan(inchesToMetres(6.3));
    expect(Math.max(...served)).toBeLessThan(inchesToMetres(7.8));
    expect(served.length).toBeLessThanOrEqual(11);
  });

  it('lies in the cup where the ground is nearly level', () => {
    for (const grade of [0, 0.005, 0.01]) {
      const { verdict, best } = onEven(10, grade);
      expect(verdict).toBe('in the cup');
      expect(best.uphill).toBeLessThan(OUTSIDE_CUP);
    }
  });

  it('keeps what it says: by less than what is left a stroke may err and drop, by more it does not', () => {
    const surface = even(0.03);
    const station = practiceStation(surface, [0, 0], at(10.5));
    const { best } = station.marker!;
    const [below] = best.putts;
    const own = station.tees[0].putt!;
    const rolled = (v: number): boolean =>
      drops(surface, station, own.ball, [0, v / Math.hypot(1, 0.03)]);
    // The slowest that drops, by bisection, of the ball itself: the room of the putt solved and what is left of it.
    let [low, high] = [0.5 * own.launchSpeed, own.launchSpeed];
    for (let i = 0; i < 40; i++) {
      const middle = (low + high) / 2;
      if (rolled(middle)) high = middle;
      else low = middle;
    }
    const marked = Math.hypot(best.putts[0].velocity[1], 0.03 * best.putts[0].velocity[1]);
    expect(below.paceKept).toBeCloseTo((marked - high) / (own.launchSpeed - high), 1.7);
  });

  it('is told of four putts only', () => {
    const near = plane(circleRing(10), 0, 0.02);
    expect(practiceStation(near, [0, -9.5], at(10)).marker).toBeNull();
  });
});

/** A little over the share that is asked, so that the grid's own coarseness contradicts nothing. */
const ASKED = 0.24;

/**
 * Places uphill of the hole over which all four drop, also with a stroke that errs by the share asked of the room that
 * the putt solved by itself has, in aim and in speed, to either side. Balls are rolled to rest; no window about a
 * marker's own stroke is taken.
 */
const placesServing = (surface: Surface, station: PracticeStation): Point[] => {
  const { settings, hole, fall } = station;
  const w = puttGround(surface, settings);
  const putts = station.tees.map(({ quadrant, tee }) => {
    const { aimAngle, aimWindow, launchSpeed, speedWindow } = solvePutt(
      surface,
      tee,
      hole,
      settings,
    );
    const room = (about: number, [low, high]: readonly [number, number]): number =>
      ASKED * Math.min(about - low, high - about);
    return {
      quadrant,
      tee,
      launchSpeed,
      turn: room(aimAngle, aimWindow),
      gain: room(launchSpeed, speedWindow),
    };
  });
  const jet = new Float64Array(JET_SIZE);
  const serves = (place: Point): boolean =>
    putts.every(({ quadrant, tee, launchSpeed, turn, gain }) => {
      const far = Math.hypot(place[0] - tee[0], place[1] - tee[1]);
      const paced = quadrant === 'above' || quadrant === 'below';
      const speed = paced ? launchSpeedOf(settings.stimp, far + settings.past) : launchSpeed;
      const toward = Math.atan2(place[1] - tee[1], place[0] - tee[0]);
      surface.at(tee[0], tee[1], jet);
      return [
        [-turn, 0],
        [turn, 0],
        [0, -gain],
        [0, gain],
      ].every(([dt, dv]) => {
        const [ux, uy] = [Math.cos(toward + dt), Math.sin(toward + dt)];
        const flat = (speed + dv) / Math.hypot(1, jet[HX] * ux + jet[HY] * uy);
        return rollToRest(w, tee, [flat * ux, flat * uy], hole).status === 'holed';
      });
    });
  return Array.from({ length: 48 }, (_, i) => OUTSIDE_CUP + inchesToMetres(0.5 * i)).flatMap((up) =>
    Array.from({ length: 9 }, (_, j) => inchesToMetres(0.75 * (j - 4)))
      .map(
        (right): Point => [
          hole[0] - fall[0] * up - fall[1] * right,
          hole[1] - fall[1] * up + fall[0] * right,
        ],
      )
      .filter(serves),
  );
};

describe('one marker on uneven ground', () => {
  const stationOn = (surface: Surface): PracticeStation => practiceStation(surface, [0, 0], at(10));

  it('turns with the ground, and is seen in a mirror as one', () => {
    const ground = randomGround(randomFrom(117000), 0.03, 0.02);
    const a = stationOn(wavySurface(ground)).marker!;
    const b = stationOn(wavySurface(turned(ground, 1))).marker!;
    const c = stationOn(wavySurface(mirrored(ground))).marker!;
    const near = inchesToMetres(0.2);
    expect(b.verdict).toBe(a.verdict);
    expect(Math.abs(b.best.uphill - a.best.uphill)).toBeLessThan(near);
    expect(Math.abs(b.best.right - a.best.right)).toBeLessThan(near);
    expect(c.verdict).toBe(a.verdict);
    expect(Math.abs(c.best.uphill - a.best.uphill)).toBeLessThan(near);
    expect(Math.abs(c.best.right + a.best.right)).toBeLessThan(near);
  });

  it('serves where it says so: all four drop', { tags: 'deep' }, () => {
    const random = randomFrom(117001);
    let serving = 0;
    for (let k = 0; k < atDepth(6, 60); k++) {
      const surface = wavySurface(randomGround(random, 0.04, 0.03));
      const station = stationOn(surface);
      if (station.marker?.verdict !== 'serves') continue;
      serving++;
      expect(allDrop(surface, station, station.marker.best)).toBe(true);
    }
    expect(serving).toBeGreaterThan(atDepth(2, 20));
  });

  it('serves nowhere where it says none: at no place of a grid do all four drop with the room asked', {
    tags: 'deep',
  }, () => {
    const random = randomFrom(117002);
    let none = 0;
    for (let k = 0; none < atDepth(1, 20) && k < 400; k++) {
      const surface = wavySurface(randomGround(random, 0.05, 0.04));
      const station = practiceStation(surface, [0, 0], at(12));
      if (station.marker?.verdict !== 'none') continue;
      none++;
      expect(placesServing(surface, station)).toEqual([]);
    }
    expect(none).toBe(atDepth(1, 20));
  });
});
