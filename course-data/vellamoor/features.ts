import type { Point, Ring } from '../../src/geometry.js';
import { lengthOf, signedDistanceToRing } from '../../src/geometry.js';
import { fromGreenFrame } from '../../src/survey/survey.js';
import { holeDesigns } from './hole-designs.js';
import { along, band, beside, blob, type Half, rectangle, rounded } from './map-shapes.js';
import type { Random } from './random.js';
import type { Route } from './routing.js';
import type { TrueGreen } from './truth.js';

/** One feature of the map in EPSG:32625, with the open tags that describe it. */
export interface MapFeature {
  readonly id: string;
  readonly tags: Readonly<Record<string, string>>;
  readonly shape:
    | { readonly kind: 'point'; readonly at: Point }
    | { readonly kind: 'line'; readonly points: readonly Point[] }
    | { readonly kind: 'area'; readonly ring: Ring };
}

/** The tee blocks: their names, and how far each lies in front of the rearmost, metres. */
const TEES = [
  { name: 'Cliff', forward: 0, short: 0 },
  { name: 'Moor', forward: 26, short: 14 },
  { name: 'Shore', forward: 62, short: 30 },
] as const;

const fairwayHalf =
  (narrow: number, wide: number, phase: number): Half =>
  (d, side) =>
    narrow +
    (wide - narrow) * (0.5 + 0.35 * Math.sin(d / 38 + phase + 0.8 * side)) +
    1.2 * Math.sin(d / 17 + 2.3 * phase * side);

/** Rough that swells and narrows; the ground outside it is not played. */
const roughHalf =
  (phase: number): Half =>
  (d, side) =>
    31 + 3.5 * Math.sin(d / 52 + phase + 1.7 * side) + 1.6 * Math.sin(d / 19 + phase * side);

/** Everything of one hole: ids are `kind/hole/number`. */
export const holeFeatures = (route: Route, green: TrueGreen, random: Random): MapFeature[] => {
  const ref = route.id;
  const design = holeDesigns[ref];
  const line = rounded(route.line);
  const length = lengthOf(line);
  const features: MapFeature[] = [];
  const add = (
    kind: string,
    tags: Readonly<Record<string, string>>,
    shape: MapFeature['shape'],
  ): void => {
    const number = features.filter((one) => one.id.startsWith(`${kind}/${ref}/`)).length + 1;
    features.push({ id: `${kind}/${ref}/${number}`, tags, shape });
  };
  add(
    'hole',
    {
      golf: 'hole',
      ref,
      name: green.name,
      par: String(route.par),
      handicap: String(route.index),
    },
    { kind: 'line', points: route.line },
  );
  for (const tee of TEES) {
    const { at, toward } = along(line, route.par === 3 ? tee.short : tee.forward);
    add(
      'tee',
      { golf: 'tee', ref, name: tee.name },
      { kind: 'area', ring: rectangle(at, toward, 8, 11) },
    );
  }
  const ring = green.outline.map(([x, y]) => fromGreenFrame(green.frame, x, y));
  add('green', { golf: 'green', ref }, { kind: 'area', ring });
  add(
    'rough',
    { golf: 'rough', ref },
    {
      kind: 'area',
      ring: band(line, -4, length + 18, roughHalf(Number(ref))),
    },
  );
  for (const [from, to, narrow, wide] of design.fairways) {
    add(
      'fairway',
      { golf: 'fairway', ref },
      {
        kind: 'area',
        ring: band(line, from, to < 0 ? length + to : to, fairwayHalf(narrow, wide, Number(ref))),
      },
    );
  }
  for (const [d, off, radius, stretch] of design.bunkers) {
    const { toward } = along(line, d < 0 ? length + d : d);
    const at = beside(line, d < 0 ? length + d : d, off);
    add(
      'bunker',
      { golf: 'bunker', ref },
      {
        kind: 'area',
        ring: blob(at, radius, stretch, Math.atan2(toward[1], toward[0]) + 0.3, random),
      },
    );
  }
  for (const [angle, radius] of design.greenside) {
    // Beside the green, three metres off its edge, in the direction `angle` (0: right, 90: behind).
    const middle = fromGreenFrame(
      green.frame,
      0,
      green.outline.reduce((s, p) => s + p[1], 0) / green.outline.length,
    );
    const turned = (angle * Math.PI) / 180;
    const [fx, fy] = green.frame.forward;
    const way: Point = [
      Math.cos(turned) * fy + Math.sin(turned) * fx,
      -Math.cos(turned) * fx + Math.sin(turned) * fy,
    ];
    let reach = 0;
    const clear = radius * 1.25 + 3;
    while (
      signedDistanceToRing(ring, middle[0] + reach * way[0], middle[1] + reach * way[1]) < clear
    ) {
      reach += 0.25;
    }
    const at: Point = [middle[0] + reach * way[0], middle[1] + reach * way[1]];
    add(
      'bunker',
      { golf: 'bunker', ref },
      {
        kind: 'area',
        ring: blob(at, radius, 1.2, Math.atan2(way[1], way[0]) + Math.PI / 2, random),
      },
    );
  }
  for (const pond of design.ponds) {
    const [d, off, radius, stretch] = pond;
    const { toward } = along(line, d);
    add(
      'water',
      { golf: 'water_hazard', natural: 'water', ref },
      {
        kind: 'area',
        ring: blob(beside(line, d, off), radius, stretch, Math.atan2(toward[1], toward[0]), random),
      },
    );
  }
  for (const [d, half] of design.burns) {
    // A burn that crosses the hole, a little askew and winding.
    const middle: Point[] = [];
    for (let off = -44; off <= 44; off += 4) {
      middle.push(beside(line, d + 0.16 * off + 3 * Math.sin(off / 13 + d), off));
    }
    add(
      'water',
      { golf: 'water_hazard', waterway: 'stream', ref },
      {
        kind: 'area',
        ring: band(middle, 0, lengthOf(middle), () => half),
      },
    );
  }
  for (const [d, off, radius] of design.woods) {
    const { toward } = along(line, d);
    add(
      'wood',
      { natural: 'wood', ref },
      {
        kind: 'area',
        ring: blob(beside(line, d, off), radius, 1.5, Math.atan2(toward[1], toward[0]), random),
      },
    );
  }
  for (const [d, off, name] of design.trees) {
    add(
      'tree',
      { natural: 'tree', ref, ...(name === '' ? {} : { name }) },
      {
        kind: 'point',
        at: beside(line, d, off),
      },
    );
  }
  // Trees stand in loose rows outside the rough's middle, not beside a bunker or in water.
  const inTheWay = [...design.bunkers, ...design.ponds, ...design.woods];
  for (let d = 40; d < length - 30; d += random.between(9, 34)) {
    const off = (random.uniform() < 0.5 ? -1 : 1) * random.between(25, 33);
    const free = inTheWay.every(
      ([at, beside, radius]) => Math.hypot(at - d, beside - off) > 1.7 * radius + 5,
    );
    if (free && design.burns.every(([at]) => Math.abs(at - d) > 14)) {
      add('tree', { natural: 'tree', ref }, { kind: 'point', at: beside(line, d, off) });
    }
  }
  const path: Point[] = [];
  for (let d = 4; d < length - 8; d += 18) {
    path.push(beside(line, d, design.path * (26 + 2 * Math.sin(d / 45))));
  }
  add('path', { golf: 'cartpath', highway: 'service', ref }, { kind: 'line', points: path });
  for (const [d, off, kind, name] of design.landmarks) {
    add(
      'landmark',
      { landmark: kind, name, ref },
      {
        kind: 'point',
        at: beside(line, d < 0 ? length + d : d, off),
      },
    );
  }
  return features;
};

export const pinFeature = (ref: string, at: Point): MapFeature => ({
  id: `pin/${ref}/1`,
  tags: { golf: 'pin', ref },
  shape: { kind: 'point', at },
});
