import { hypotenuse, type Point } from '../geometry.js';
import { separation } from './approach.js';
import type { Stepper } from './integrator.js';
import { advance, begin } from './integrator.js';
import { placeAtHole } from './shoot.js';
import type { PuttGround } from './workspace.js';
import { isInBounds, MAX_LAUNCH_SPEED } from './workspace.js';

/**
 * Motions run backward in time from over the hole, all at the same arrival speed, one for each arrival
 * direction: together they pass over every place from which a ball can arrive so. Between two rays and
 * two moments lies a patch; bicubic Hermite interpolation on it gives the launch from any place inside
 * (the motion and its variational equation supply the slopes at its corners).
 */
export interface Fan {
  readonly hole: Point;
  readonly rays: readonly Ray[];
  readonly patches: Patches;
}

/** One backward motion, sampled every `SAMPLE` seconds; `FIELDS` values a sample. */
export interface Ray {
  readonly arrival: number;
  readonly count: number;
  readonly samples: Float64Array;
}

/** Patch k lies between rays ray[k] and ray[k] + 1 and samples sample[k] and sample[k] + 1. */
export interface Patches {
  readonly count: number;
  readonly ray: Int32Array;
  readonly sample: Int32Array;
  /** minX, minY, maxX, maxY of each, grown to hold the bulge between the corners. */
  readonly boxes: Float64Array;
}

/** Seconds between samples of a ray. */
export const SAMPLE = 0.25;

/**
 * Values of a sample: x, y, vx, vy, their derivatives by arrival direction, then the accelerations and
 * their derivatives by arrival direction.
 */
export const FIELDS = 12;

/** Local tolerance of a ray's steps, metres and metres a second. */
const FAN_TOLERANCE = 1e-5;
const FIRST_RAYS = 48;
/** Rays between two of the first ones at most. */
const MAX_BETWEEN = 400;
/** Neighbours farther apart than this at one moment get a ray between them, metres. */
const MAX_GAP = 2;
/** So do neighbours whose tangents foretell each other's place worse than this, metres. */
const MAX_STRAY = 0.3;
/** Where ground scatters the rays, neighbours must lie this near to pass everywhere between. Radians. */
const LEAST_TURN = 1e-13;
const MAX_SAMPLES = 121;

const buffer = new Float64Array(MAX_SAMPLES * FIELDS);

const record = (s: Stepper, at: number): void => {
  const { state, k7 } = s;
  for (let i = 0; i < 8; i++) buffer[at + i] = state[i];
  buffer[at + 8] = k7[2];
  buffer[at + 9] = k7[3];
  buffer[at + 10] = k7[6];
  buffer[at + 11] = k7[7];
};

const castRay = (w: PuttGround, hole: Point, arrival: number, reach: number): Ray => {
  const { back, ground } = w;
  back.tolerance = FAN_TOLERANCE;
  placeAtHole(w, hole, arrival, w.arrivalSpeed, back.state);
  begin(back, ground, -SAMPLE);
  record(back, 0);
  let count = 1;
  while (count < MAX_SAMPLES) {
    const until = count * SAMPLE;
    while (until + back.time > 1e-9) {
      if (Math.abs(back.next) > SAMPLE) back.next = -SAMPLE;
      advance(back, ground, until + back.time);
    }
    record(back, count * FIELDS);
    count += 1;
    if (!isInBounds(w, back.state) || separation(back.state, hole) > reach) break;
    if (hypotenuse(back.state[2], back.state[3]) > MAX_LAUNCH_SPEED) break;
  }
  return { arrival, count, samples: buffer.slice(0, count * FIELDS) };
};

/** Whether two neighbours part, or bend toward each other, more than interpolation bears. */
const needsRayBetween = (a: Ray, b: Ray): boolean => {
  const turn = b.arrival - a.arrival;
  if (turn < LEAST_TURN) return false;
  const count = Math.min(a.count, b.count);
  const p = a.samples;
  const q = b.samples;
  for (let j = 1; j < count; j++) {
    const at = j * FIELDS;
    const dx = q[at] - p[at];
    const dy = q[at + 1] - p[at + 1];
    if (dx * dx + dy * dy > MAX_GAP * MAX_GAP) return true;
    const strayX = dx - turn * p[at + 4];
    const strayY = dy - turn * p[at + 5];
    if (strayX * strayX + strayY * strayY > MAX_STRAY * MAX_STRAY) return true;
  }
  return false;
};

/**
 * The fan of a hole: rays all round, with more where neighbours part. Rays end past the surface's box,
 * or `reach` metres from the hole.
 */
export const fanFrom = (w: PuttGround, hole: Point, reach = Infinity): Fan => {
  const first = castRay(w, hole, 0, reach);
  const rays: Ray[] = [first];
  let budget = 0;
  const fill = (a: Ray, b: Ray): void => {
    if (budget > 0 && needsRayBetween(a, b)) {
      budget -= 1;
      const middle = castRay(w, hole, (a.arrival + b.arrival) / 2, reach);
      fill(a, middle);
      fill(middle, b);
    } else rays.push(b);
  };
  let previous = first;
  for (let i = 1; i <= FIRST_RAYS; i++) {
    const arrival = (2 * Math.PI * i) / FIRST_RAYS;
    const next = i === FIRST_RAYS ? { ...first, arrival } : castRay(w, hole, arrival, reach);
    budget = MAX_BETWEEN;
    fill(previous, next);
    previous = next;
  }
  return { hole, rays, patches: patchesOf(rays) };
};

const patchesOf = (rays: readonly Ray[]): Patches => {
  let count = 0;
  for (let i = 0; i + 1 < rays.length; i++) {
    count += Math.min(rays[i].count, rays[i + 1].count) - 1;
  }
  const ray = new Int32Array(count);
  const sample = new Int32Array(count);
  const boxes = new Float64Array(4 * count);
  let k = 0;
  for (let i = 0; i + 1 < rays.length; i++) {
    const p = rays[i].samples;
    const q = rays[i + 1].samples;
    const most = Math.min(rays[i].count, rays[i + 1].count) - 1;
    for (let j = 0; j < most; j++) {
      ray[k] = i;
      sample[k] = j;
      const a = j * FIELDS;
      const b = a + FIELDS;
      const minX = Math.min(p[a], p[b], q[a], q[b]);
      const maxX = Math.max(p[a], p[b], q[a], q[b]);
      const minY = Math.min(p[a + 1], p[b + 1], q[a + 1], q[b + 1]);
      const maxY = Math.max(p[a + 1], p[b + 1], q[a + 1], q[b + 1]);
      const room = 0.2 * Math.max(maxX - minX, maxY - minY);
      boxes[4 * k] = minX - room;
      boxes[4 * k + 1] = minY - room;
      boxes[4 * k + 2] = maxX + room;
      boxes[4 * k + 3] = maxY + room;
      k += 1;
    }
  }
  return { count, ray, sample, boxes };
};
