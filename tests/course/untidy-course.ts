/**
 * Courses laid out by seed, in another manner than the demo's, for maps with the faults that real maps have.
 * Every feature carries its own name in the tag `uid`, which nothing reads but the tests.
 */
export type Place = readonly [x: number, y: number];

export interface DrawnFeature {
  readonly shape: 'point' | 'line' | 'area';
  /** Metres east and north of the clubhouse; areas not closed. */
  readonly points: readonly Place[];
  readonly tags: Readonly<Record<string, string>>;
  /** Drawn as a multipolygon relation. */
  readonly relation?: boolean;
}

/** What a hole is in truth. */
export interface TrueHole {
  /** As the book should name it. */
  readonly id: string;
  readonly green: string | null;
  readonly tees: readonly string[];
  /** Where it is teed off, metres. */
  readonly start: Place;
}

export interface UntidyMap {
  readonly features: readonly DrawnFeature[];
  readonly holes: readonly TrueHole[];
}

/** A generator of numbers in [0, 1) by seed (mulberry32). */
export const randomBy = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

/** An egg of some radius. */
const egg = (random: () => number, [x, y]: Place, radius: number): Place[] => {
  const lean = 6.28 * random();
  return Array.from({ length: 22 }, (_, i): Place => {
    const angle = (i / 22) * 2 * Math.PI;
    const r = radius * (1 + 0.18 * Math.cos(2 * (angle - lean)) + 0.05 * (random() - 0.5));
    return [x + r * Math.cos(angle), y + r * Math.sin(angle)];
  });
};

const box = ([x, y]: Place, half: number): Place[] => [
  [x - half, y - half],
  [x + half, y - half],
  [x + half, y + half],
  [x - half, y + half],
];

/** A band along a line, of some half width. */
const band = (line: readonly Place[], half: number): Place[] => {
  const side = (sign: 1 | -1): Place[] =>
    line.map(([x, y], i): Place => {
      const [ax, ay] = line[Math.max(0, i - 1)];
      const [bx, by] = line[Math.min(line.length - 1, i + 1)];
      const reach = Math.hypot(bx - ax, by - ay) || 1;
      return [x + (sign * half * (by - ay)) / reach, y - (sign * half * (bx - ax)) / reach];
    });
  return [...side(1), ...side(-1).reverse()];
};

export interface Layout {
  readonly seed: number;
  readonly holes: number;
  /** Where the first tee is. */
  readonly from?: Place;
  /** To the east (1) or to the west (-1). */
  readonly toward?: 1 | -1;
  /** Before the number in the names of features. */
  readonly mark?: string;
  /** A dog-leg bends by so much beside the straight line, metres. */
  readonly bend?: number;
}

const TEE_NAMES = ['Back', 'Club', 'Short'];

/** A tidy course: holes side by side, up and down in turn, the next tee near the last green. */
export const tidyCourse = (layout: Layout): UntidyMap => {
  const random = randomBy(layout.seed);
  const { holes: count, from = [0, 0], toward = 1, mark = '', bend = 0 } = layout;
  const features: DrawnFeature[] = [];
  const holes: TrueHole[] = [];
  let tee: Place = from;
  for (let n = 1; n <= count; n++) {
    const up = n % 2 === 1 ? 1 : -1;
    const par = 3 + Math.floor(3 * random());
    const length = [130, 320, 455][par - 3] + 60 * random();
    const green: Place = [tee[0] + toward * 12 * (random() - 0.5), tee[1] + up * length];
    const corner: Place = [
      (tee[0] + green[0]) / 2 + toward * (par > 3 ? bend : 0),
      (tee[1] + green[1]) / 2,
    ];
    const line = bend > 0 && par > 3 ? [tee, corner, green] : [tee, green];
    const ref = `${n}`;
    const name = `${mark}${n}`;
    features.push({
      shape: 'line',
      points: line,
      tags: { golf: 'hole', ref, par: `${par}`, handicap: ref, uid: `h${name}` },
    });
    const tees = TEE_NAMES.map((called, k) => {
      const at: Place = [tee[0] + 3 * (random() - 0.5), tee[1] + up * 0.07 * k * length];
      features.push({
        shape: 'area',
        points: box(at, 4),
        tags: { golf: 'tee', ref, name: called, uid: `t${name}${k}` },
      });
      return `t${name}${k}`;
    });
    features.push({
      shape: 'area',
      points: egg(random, green, 11 + 4 * random()),
      tags: { golf: 'green', ref, uid: `g${name}` },
    });
    if (par > 3) {
      const way: Place[] =
        line.length === 3
          ? [[tee[0], tee[1] + up * 120], corner, [green[0], green[1] - up * 20]]
          : [
              [tee[0], tee[1] + up * 120],
              [green[0], green[1] - up * 20],
            ];
      features.push({
        shape: 'area',
        points: band(way, 16),
        tags: { golf: 'fairway', uid: `f${name}` },
      });
    }
    features.push({
      shape: 'area',
      points: egg(random, [green[0] + 19, green[1] - up * 4], 4),
      tags: { golf: 'bunker', uid: `b${name}` },
    });
    holes.push({ id: ref, green: `g${name}`, tees, start: tee });
    tee = [green[0] + toward * (34 + 30 * random() + 1.1 * bend), green[1] + up * 20 * random()];
  }
  return { features, holes };
};

/** All maps on one sheet. */
export const together = (...maps: readonly UntidyMap[]): UntidyMap => ({
  features: maps.flatMap((one) => one.features),
  holes: maps.flatMap((one) => one.holes),
});

/** The area round a map's features, as a course's boundary. */
export const boundaryOf = (map: UntidyMap, name: string, margin = 25): DrawnFeature => {
  const points = map.features.flatMap((one) => one.points);
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const [west, east] = [Math.min(...xs) - margin, Math.max(...xs) + margin];
  const [south, north] = [Math.min(...ys) - margin, Math.max(...ys) + margin];
  return {
    shape: 'area',
    points: [
      [west, south],
      [east, south],
      [east, north],
      [west, north],
    ],
    tags: { leisure: 'golf_course', name, uid: `c${name}` },
  };
};

/** The same map with each feature changed; null takes it out. */
export const changed = (
  map: UntidyMap,
  change: (feature: DrawnFeature) => DrawnFeature | readonly DrawnFeature[] | null,
): UntidyMap => ({
  ...map,
  features: map.features.flatMap((one) => change(one) ?? []),
});

export const without = (feature: DrawnFeature, ...keys: readonly string[]): DrawnFeature => ({
  ...feature,
  tags: Object.fromEntries(Object.entries(feature.tags).filter(([key]) => !keys.includes(key))),
});

export const tagged = (feature: DrawnFeature, tags: Record<string, string>): DrawnFeature => ({
  ...feature,
  tags: { ...feature.tags, ...tags },
});
