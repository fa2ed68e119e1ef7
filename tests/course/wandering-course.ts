import {
  changed,
  type DrawnFeature,
  type Place,
  randomBy,
  type TrueHole,
  tagged,
  type UntidyMap,
  without,
} from './untidy-course.js';

/**
 * Courses that wander: each hole sets out from near the last green in any direction that keeps clear of those laid
 * out before, with bends, tees as points, and faults drawn by lot. They judge; nothing was tuned on them.
 */

const away = ([x, y]: Place, angle: number, length: number): Place => [
  x + length * Math.cos(angle),
  y + length * Math.sin(angle),
];

const distanceToLeg = (p: Place, a: Place, b: Place): number => {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy || 1);
  const s = Math.min(1, Math.max(0, t));
  return Math.hypot(p[0] - a[0] - s * dx, p[1] - a[1] - s * dy);
};

interface Laid {
  readonly tee: Place;
  readonly corner: Place;
  readonly green: Place;
  readonly par: number;
}

/** Clear: no green or tee of one hole within so many metres of another's way; of the last hole's, nearer. */
const isClear = (one: Laid, others: readonly Laid[], room: number): boolean =>
  others.every((other, i) => {
    const last = i === others.length - 1;
    const legs = (h: Laid) => [[h.tee, h.corner] as const, [h.corner, h.green] as const];
    const near = (p: Place, h: Laid) =>
      Math.min(...legs(h).map(([a, b]) => distanceToLeg(p, a, b)));
    return (
      near(one.green, other) > room &&
      near(other.green, one) > (last ? 20 : room) &&
      near(other.tee, one) > 0.7 * room &&
      near(one.tee, other) > (last ? 20 : 0.7 * room)
    );
  });

const layOut = (random: () => number, count: number, room: number): Laid[] => {
  for (let attempt = 0; attempt < 400; attempt++) {
    const laid: Laid[] = [];
    for (let n = 0; n < count; n++) {
      const last = laid.at(-1);
      for (let tries = 0; tries < 300 && laid.length === n; tries++) {
        const tee: Place =
          last === undefined ? [0, 0] : away(last.green, 6.283 * random(), 28 + 40 * random());
        const par = [3, 4, 4, 4, 5][Math.floor(5 * random())];
        const length = { 3: 120, 4: 290, 5: 430 }[par as 3 | 4 | 5] + 80 * random();
        const heading = 6.283 * random();
        const green = away(tee, heading, length);
        const middle = away(tee, heading, 0.55 * length);
        const side = par > 3 ? 60 * (random() - 0.5) : 0;
        const corner = away(middle, heading + 1.5708, side);
        const hole = { tee, corner, green, par };
        if (isClear(hole, laid, room)) laid.push(hole);
      }
      if (laid.length === n) break;
    }
    if (laid.length === count) return laid;
  }
  throw new Error('no room for a course');
};

const ragged = (random: () => number, [x, y]: Place, radius: number): Place[] =>
  Array.from({ length: 14 }, (_, i): Place => {
    const r = radius * (0.8 + 0.4 * random());
    return away([x, y], (i / 14) * 6.283, r);
  });

const between = (a: Place, b: Place, t: number): Place => [
  a[0] + t * (b[0] - a[0]),
  a[1] + t * (b[1] - a[1]),
];

const drawn = (random: () => number, { tee, corner, green, par }: Laid, n: number) => {
  const ref = `${n}`;
  const bends = par > 3 && random() < 0.7;
  const features: DrawnFeature[] = [
    {
      shape: 'line',
      points: bends ? [tee, corner, green] : [tee, green],
      tags: { golf: 'hole', ref, par: `${par}`, uid: `h${n}` },
    },
    {
      shape: 'area',
      points: ragged(random, green, 10 + 5 * random()),
      tags: { golf: 'green', ref, uid: `g${n}` },
    },
  ];
  const toward = bends ? corner : green;
  const tees = ['white', 'yellow', 'red'].map((colour, k) => {
    const at = between(tee, toward, (12 * k) / Math.hypot(toward[0] - tee[0], toward[1] - tee[1]));
    features.push({
      shape: random() < 0.5 ? 'point' : 'area',
      points: [at, [at[0] + 4, at[1]], [at[0] + 4, at[1] + 4], [at[0], at[1] + 4]],
      tags: { golf: 'tee', ref, colour, uid: `t${n}${k}` },
    });
    return `t${n}${k}`;
  });
  if (random() < 0.6) {
    const sand = away(green, 6.283 * random(), 20);
    features.push({ shape: 'area', points: ragged(random, sand, 4), tags: { golf: 'bunker' } });
  }
  return { features, hole: { id: ref, green: `g${n}`, tees, start: tee } satisfies TrueHole };
};

/** A wandering course by seed with faults by lot, and the right answer. */
export const wanderingCourse = (seed: number, room = 55): UntidyMap => {
  const random = randomBy(seed);
  const count = random() < 0.5 ? 9 : 18;
  const holes = layOut(random, count, room).map((one, i) => drawn(random, one, i + 1));
  const whole: UntidyMap = {
    features: holes.flatMap((one) => one.features),
    holes: holes.map((one) => one.hole),
  };
  const lot = (share: number): boolean => random() < share;
  const [noGreenRefs, noTeeRefs, relations, turns, nameless] = [0.7, 0.7, 0.3, 0.7, 0.4].map(lot);
  const lostNumber = lot(0.4) ? `${2 + Math.floor((count - 2) * random())}` : '';
  const jitter = lot(0.5) ? 12 : 0;
  const gone = (kind: string, share: number): Set<string> =>
    new Set(
      whole.features
        .flatMap(({ tags }) => (tags.golf === kind ? [tags.ref] : []))
        .filter(() => lot(share)),
    );
  const [noTees, noGreen] = [gone('hole', 0.08), gone('hole', 0.05)];
  const answered = {
    ...whole,
    holes: whole.holes.map((hole) => ({
      ...hole,
      tees: noTees.has(hole.id) ? [] : hole.tees,
      green: noGreen.has(hole.id) ? null : hole.green,
    })),
  };
  return changed(answered, (one) => {
    const kind = one.tags.golf;
    if (kind === 'green') {
      if (noGreen.has(one.tags.ref)) return null;
      const own = noGreenRefs ? without(one, 'ref') : one;
      return relations ? { ...own, relation: true } : own;
    }
    if (kind === 'tee') {
      if (noTees.has(one.tags.ref)) return null;
      const own = noTeeRefs ? without(one, 'ref') : one;
      return nameless ? without(own, 'colour') : own;
    }
    if (kind !== 'hole') return one;
    const rough = {
      ...one,
      points: one.points.map((at) => away(at, 6.283 * random(), jitter * random())),
    };
    const turned = turns && lot(0.35) ? { ...rough, points: [...rough.points].reverse() } : rough;
    return one.tags.ref === lostNumber ? without(turned, 'ref') : tagged(turned, {});
  });
};
