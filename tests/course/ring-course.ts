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
 * Courses in rings round a clubhouse, an outer nine one way and an inner nine the other, or loops side by side, mapped
 * with habits that neither the corpus nor the wandering courses have.
 */

const around = ([x, y]: Place, angle: number, radius: number): Place => [
  x + radius * Math.cos(angle),
  y + radius * Math.sin(angle),
];

const PARS = [4, 3, 5, 4, 4, 4, 3, 5, 4];
const LENGTHS: Readonly<Record<number, number>> = { 3: 150, 4: 365, 5: 480 };
const WALK = 52;

export interface Ring {
  readonly middle: Place;
  readonly radius: number;
  /** 1 against the clock. */
  readonly way: 1 | -1;
  readonly from: number;
}

const turned = (list: readonly number[], by: number): number[] => [
  ...list.slice(by),
  ...list.slice(0, by),
];

const blob = (random: () => number, at: Place, wide: number, high: number): Place[] => {
  const lean = 3.14 * random();
  return Array.from({ length: 17 }, (_, i): Place => {
    const t = (i / 17) * 2 * Math.PI;
    const [a, b] = [wide * Math.cos(t), high * Math.sin(t)];
    const r = 0.94 + 0.12 * random();
    return [
      at[0] + r * (a * Math.cos(lean) - b * Math.sin(lean)),
      at[1] + r * (a * Math.sin(lean) + b * Math.cos(lean)),
    ];
  });
};

export interface RingHole extends TrueHole {
  readonly par: number;
  readonly index: number;
}

export interface RingMap extends UntidyMap {
  readonly holes: readonly RingHole[];
}

/** Nine holes round a ring; `mark` goes before the names of their features, `first` is the first number. */
export const ringNine = (random: () => number, ring: Ring, mark: string, first = 1): RingMap => {
  const pars = turned(PARS, Math.floor(9 * random()));
  const indexes = turned([1, 7, 3, 9, 5, 2, 8, 4, 6], Math.floor(9 * random()));
  const wanted = pars.map((par) => LENGTHS[par] * (0.94 + 0.12 * random()));
  const room = 2 * Math.PI * ring.radius - 9 * WALK - 60;
  const scale = Math.min(1, room / wanted.reduce((sum, one) => sum + one, 0));
  const spare = (room - scale * wanted.reduce((sum, one) => sum + one, 0)) / 9;
  const features: DrawnFeature[] = [];
  const holes: RingHole[] = [];
  let walked = 0;
  pars.forEach((par, i) => {
    const n = first + i;
    const uid = `${mark}${n}`;
    const length = wanted[i] * scale;
    const swing = 14 * (random() - 0.5);
    const place = (along: number, off = 0): Place => {
      const angle = ring.from + (ring.way * (walked + along)) / ring.radius;
      return around(ring.middle, angle, ring.radius + swing + off);
    };
    const ref = `${n}`;
    const bends = par > 3 && random() < 0.6;
    const middle = [0.35, 0.65].map((t) => place(t * length));
    const [tee, green] = [place(0), place(length)];
    features.push({
      shape: 'line',
      points: bends ? [tee, ...middle, green] : [tee, green],
      tags: { golf: 'hole', ref, par: `${par}`, handicap: `${indexes[i]}`, uid: `h${uid}` },
    });
    features.push({
      shape: 'area',
      points: blob(random, green, 9 + 5 * random(), 9 + 7 * random()),
      tags: { golf: 'green', ref, uid: `g${uid}` },
    });
    const tees = ['white', 'yellow', 'red'].map((colour, k) => {
      const at = place((par > 3 ? 22 : 9) * k, 8 * (random() - 0.5));
      const [dx, dy] = [3 + 2 * random(), 3 + random()];
      features.push({
        shape: 'area',
        points: [
          [at[0] - dx, at[1] - dy],
          [at[0] + dx, at[1] - dy],
          [at[0] + dx, at[1] + dy],
          [at[0] - dx, at[1] + dy],
        ],
        tags: { golf: 'tee', ref, 'tee:colour': colour, uid: `t${uid}${k}` },
      });
      return `t${uid}${k}`;
    });
    if (par > 3) {
      const stops = [0.3, 0.45, 0.6, 0.75, 0.93].map((t) => t * length);
      features.push({
        shape: 'area',
        points: [
          ...stops.map((along) => place(along, 15)),
          ...[...stops].reverse().map((along) => place(along, -15)),
        ],
        tags: { golf: 'fairway', uid: `f${uid}` },
      });
    }
    if (random() < 0.8) {
      const sand = around(green, 6.283 * random(), 21);
      features.push({
        shape: 'area',
        points: blob(random, sand, 3 + 3 * random(), 4),
        tags: { golf: 'bunker', uid: `b${uid}` },
      });
    }
    holes.push({ id: ref, green: `g${uid}`, tees, start: tee, par, index: indexes[i] });
    walked += length + WALK + spare;
  });
  return { features, holes };
};

const both = (...maps: readonly RingMap[]): RingMap => ({
  features: maps.flatMap((one) => one.features),
  holes: maps.flatMap((one) => one.holes),
});

const alter = (
  map: RingMap,
  change: (feature: DrawnFeature) => DrawnFeature | readonly DrawnFeature[] | null,
): RingMap => ({ ...map, features: changed(map, change).features });

const is = (feature: DrawnFeature, kind: string): boolean => feature.tags.golf === kind;

/** How many holes, and how they lie and are numbered. */
export type Grounds =
  | 'nine'
  | 'eighteen in two rings'
  | 'nine from two sets of tees'
  | 'twenty-seven by letters'
  | 'twenty-seven by colours in the name'
  | 'twenty-seven in a row'
  | 'twenty-seven by a tag'
  | 'twenty-seven without a word'
  | 'thirty-six by a tag'
  | 'thirty-six by boundaries'
  | 'thirty-six without a word';

export const GROUNDS: readonly Grounds[] = [
  'nine',
  'eighteen in two rings',
  'nine from two sets of tees',
  'twenty-seven by letters',
  'twenty-seven by colours in the name',
  'twenty-seven in a row',
  'twenty-seven by a tag',
  'twenty-seven without a word',
  'thirty-six by a tag',
  'thirty-six by boundaries',
  'thirty-six without a word',
];

const OUTER = 585;
const INNER = 470;

const eighteen = (random: () => number, middle: Place, mark: string): RingMap => {
  const from = 6.283 * random();
  const way = random() < 0.5 ? 1 : -1;
  return both(
    ringNine(random, { middle, radius: OUTER, way, from }, mark),
    ringNine(
      random,
      { middle, radius: INNER, way: way === 1 ? -1 : 1, from: from + 0.2 },
      mark,
      10,
    ),
  );
};

const COLOURS = ['Red', 'Blue', 'Gold'];

const threeLoops = (
  random: () => number,
  named: (one: DrawnFeature, n: number, k: number) => DrawnFeature,
  idOf: (n: number, k: number) => string,
): RingMap =>
  both(
    ...COLOURS.map((_, k) => {
      // Side by side, all near one clubhouse.
      const angle = (2 * Math.PI * k) / 3 + 0.3 * random();
      const middle = around([0, 0], angle, OUTER + 120);
      const ring: Ring = { middle, radius: OUTER, way: 1, from: angle + Math.PI };
      const nine = ringNine(random, ring, `${k}-`);
      return {
        features: nine.features.map((one) => named(one, Number(one.tags.ref), k)),
        holes: nine.holes.map((hole) => ({ ...hole, id: idOf(Number(hole.id), k) })),
      };
    }),
  );

const groundsOf = (grounds: Grounds, random: () => number): RingMap => {
  const nine = (): RingMap =>
    ringNine(random, { middle: [0, 0], radius: OUTER, way: 1, from: 6.283 * random() }, '');
  const onlyHoles = (one: DrawnFeature, tags: Record<string, string>): DrawnFeature =>
    one.tags.ref === undefined ? one : tagged(one, tags);
  switch (grounds) {
    case 'nine':
      return nine();
    case 'eighteen in two rings':
      return eighteen(random, [0, 0], '');
    case 'nine from two sets of tees': {
      const once = nine();
      return {
        features: once.features.map((one) => {
          if (is(one, 'hole'))
            return tagged(one, { ref: `${one.tags.ref};${Number(one.tags.ref) + 9}` });
          if (is(one, 'green')) return without(one, 'ref');
          if (!is(one, 'tee')) return one;
          // White and yellow the first time round, red the second.
          return one.tags['tee:colour'] === 'red'
            ? tagged(one, { ref: `${Number(one.tags.ref) + 9}` })
            : one;
        }),
        holes: [
          ...once.holes.map((hole) => ({ ...hole, tees: hole.tees.slice(0, 2) })),
          ...once.holes.map((hole) => ({
            ...hole,
            id: `${Number(hole.id) + 9}`,
            tees: hole.tees.slice(2),
          })),
        ],
      };
    }
    case 'twenty-seven by letters':
      return threeLoops(
        random,
        (one, n, k) => onlyHoles(one, { ref: `${'ABC'[k]}${n}` }),
        (n, k) => `${'ABC'[k]}${n}`,
      );
    case 'twenty-seven by colours in the name':
      return threeLoops(
        random,
        (one, n, k) =>
          is(one, 'hole') ? tagged(one, { name: `${COLOURS[k]} ${n}` }) : without(one, 'ref'),
        (n, k) => `${COLOURS[k][0]}${n}`,
      );
    case 'twenty-seven in a row':
      return threeLoops(
        random,
        (one, n, k) => onlyHoles(one, { ref: `${n + 9 * k}` }),
        (n, k) => `${n + 9 * k}`,
      );
    case 'twenty-seven by a tag':
      return threeLoops(
        random,
        (one, _, k) =>
          is(one, 'hole') ? tagged(one, { 'golf:course': COLOURS[k] }) : without(one, 'ref'),
        (n, k) => `${COLOURS[k][0]}${n}`,
      );
    case 'twenty-seven without a word':
      return threeLoops(
        random,
        (one) => one,
        (n, k) => `?${k}:${n}`,
      );
    default: {
      const marks = ['Old', 'New'];
      const courses = marks.map((mark, k) => {
        const one = eighteen(random, [k * 1320, 40 * random()], `${mark[0]}-`);
        if (grounds === 'thirty-six by boundaries') {
          const border: DrawnFeature = {
            shape: 'area',
            points: Array.from({ length: 40 }, (_, i) =>
              around([k * 1320, 20], (i / 40) * 6.283, OUTER + 62),
            ),
            tags: { leisure: 'golf_course', name: `${mark} Ring`, uid: `c${mark}` },
          };
          return { ...one, features: [border, ...one.features] };
        }
        if (grounds === 'thirty-six without a word') {
          return { ...one, holes: one.holes.map((hole) => ({ ...hole, id: `?${k}:${hole.id}` })) };
        }
        return {
          features: one.features.map((each) =>
            is(each, 'hole') ? tagged(each, { course: `${mark} Course` }) : each,
          ),
          holes: one.holes.map((hole) => ({ ...hole, id: `${mark[0]}${hole.id}` })),
        };
      });
      if (grounds !== 'thirty-six by boundaries') return both(...courses);
      return { features: courses.flatMap((one) => one.features), holes: courses[0].holes };
    }
  }
};

/** A way in which maps are drawn; `says` is what must be told of it. */
export interface Habit {
  readonly name: string;
  readonly drawn: (map: RingMap, random: () => number) => RingMap;
}

const REF_STYLES: readonly ((n: string) => string)[] = [
  (n) => `Hole ${n}`,
  (n) => `${n}.`,
  (n) => `#${n}`,
  (n) => `No. ${n}`,
  (n) => n.padStart(2, '0'),
];

const restyled = (map: RingMap, style: (n: string) => string, ...kinds: string[]): RingMap =>
  alter(map, (one) =>
    kinds.includes(one.tags.golf) && /^\d+$/.test(one.tags.ref ?? '')
      ? tagged(one, { ref: style(one.tags.ref) })
      : one,
  );

const away = ([x, y]: Place, [bx, by]: Place, metres: number): Place => {
  const long = Math.hypot(bx - x, by - y) || 1;
  return [x + (metres * (bx - x)) / long, y + (metres * (by - y)) / long];
};

const noRefs = (map: RingMap, ...kinds: string[]): RingMap =>
  alter(map, (one) => (kinds.includes(one.tags.golf) ? without(one, 'ref') : one));

export const HABITS: readonly Habit[] = [
  { name: 'plainly', drawn: (map) => map },
  {
    name: 'with numbers in words',
    drawn: (map, random) => {
      const style = REF_STYLES[Math.floor(REF_STYLES.length * random())];
      return restyled(noRefs(map, 'green', 'tee'), style, 'hole');
    },
  },
  {
    name: 'with numbers in names only',
    drawn: (map) =>
      alter(noRefs(map, 'green', 'tee'), (one) =>
        is(one, 'hole') && /^\d+$/.test(one.tags.ref ?? '')
          ? tagged(without(one, 'ref'), { name: one.tags.name ?? `Hole ${one.tags.ref}` })
          : one,
      ),
  },
  {
    name: 'with one pad for all tees',
    drawn: (map) => ({
      features: map.features.flatMap((one): DrawnFeature[] => {
        if (!is(one, 'tee')) return [one];
        if (one.tags['tee:colour'] !== 'white') return [];
        return [without(one, 'tee:colour', 'ref')];
      }),
      holes: map.holes.map((hole) => ({
        ...hole,
        tees: hole.tees.filter((tee) => /0$/.test(tee)),
      })),
    }),
  },
  {
    name: 'with lines from a forward tee to the front edge',
    drawn: (map) =>
      alter(noRefs(map, 'green', 'tee'), (one) => {
        if (!is(one, 'hole')) return one;
        const points = [...one.points];
        const last = points.length - 1;
        points[0] = away(points[0], points[1], 18);
        points[last] = away(points[last], points[last - 1], 13);
        return { ...one, points };
      }),
  },
  {
    name: 'with lines past the green to the next tee',
    drawn: (map, random) =>
      alter(noRefs(map, 'green'), (one) => {
        if (!is(one, 'hole') || random() < 0.5) return one;
        const points = [...one.points];
        const last = points.length - 1;
        points[last] = away(points[last], points[last - 1], -22);
        return { ...one, points };
      }),
  },
  {
    name: 'with winter greens before some greens',
    drawn: (map, random) => {
      const bare = noRefs(map, 'green', 'tee');
      const more = map.features.flatMap((one): DrawnFeature[] => {
        if (!is(one, 'hole') || random() < 0.6) return [];
        const [before, last] = one.points.slice(-2);
        const at = away(last, before, 46);
        return [
          {
            shape: 'area',
            points: blob(random, at, 5, 5),
            tags: { golf: 'green', name: `Winter green`, uid: `w${one.tags.uid}` },
          },
        ];
      });
      return { ...bare, features: [...more, ...bare.features] };
    },
  },
  {
    name: 'with a double green for the last of both rings',
    drawn: (map, random) => {
      const [nine, last] = ['9', '18'].map((id) => map.holes.find((one) => one.id === id));
      if (nine === undefined || last === undefined || nine.green === last.green) return map;
      const own = map.features.find((one) => one.tags.uid === nine.green)!;
      const line = map.features.find((one) => one.tags.uid === last.green!.replace('g', 'h'))!;
      const at = own.points[0];
      const told = random() < 0.5;
      return {
        features: map.features.flatMap((one): DrawnFeature[] => {
          if (one.tags.uid === last.green) return [];
          if (one === line) return [{ ...one, points: [...one.points.slice(0, -1), at] }];
          if (one !== own) return is(one, 'green') ? [without(one, 'ref')] : [one];
          return [told ? tagged(one, { ref: '9;18' }) : without(one, 'ref')];
        }),
        holes: map.holes.map((hole) => (hole === last ? { ...hole, green: nine.green } : hole)),
      };
    },
  },
  {
    name: 'turned about and without numbers of greens and tees',
    drawn: (map, random) =>
      alter(noRefs(map, 'green', 'tee'), (one) =>
        is(one, 'hole') && random() < 0.4 ? { ...one, points: [...one.points].reverse() } : one,
      ),
  },
  {
    name: 'with tees named by number and colour',
    drawn: (map) =>
      alter(noRefs(map, 'green'), (one) => {
        if (!is(one, 'tee')) return one;
        const colour = one.tags['tee:colour'];
        return tagged(without(one, 'ref', 'tee:colour'), {
          name: `${one.tags.ref} ${colour[0].toUpperCase()}${colour.slice(1)}`,
        });
      }),
  },
  {
    name: 'with tees as points, several colours to one',
    drawn: (map) => ({
      features: map.features.flatMap((one): DrawnFeature[] => {
        if (!is(one, 'tee')) return [one];
        const [a, , c] = one.points;
        const at: Place = [(a[0] + c[0]) / 2, (a[1] + c[1]) / 2];
        const colour = one.tags['tee:colour'];
        if (colour === 'yellow') return [];
        const tags = { ...one.tags, 'tee:colour': colour === 'white' ? 'white;yellow' : colour };
        return [{ shape: 'point', points: [at], tags: without({ ...one, tags }, 'ref').tags }];
      }),
      holes: map.holes.map((hole) => ({
        ...hole,
        tees: hole.tees.filter((tee) => !/1$/.test(tee)),
      })),
    }),
  },
  {
    name: 'with putting and chipping greens by the clubhouse',
    drawn: (map, random) => {
      const [first] = map.features.filter((one) => is(one, 'hole'));
      const at = away(first.points[0], first.points[1], -34);
      const extra = (name: string, k: number): DrawnFeature => ({
        shape: 'area',
        points: blob(random, [at[0] + 30 * k, at[1] - 12 * k], 8, 7),
        tags: { golf: 'green', name, uid: `p${k}` },
      });
      const bare = noRefs(map, 'green', 'tee');
      return {
        ...bare,
        features: [extra('Putting Green', 0), extra('Chipping Green', 1), ...bare.features],
      };
    },
  },
];

export const ringCourse = (grounds: Grounds, habit: Habit, seed: number): RingMap => {
  const random = randomBy(seed);
  const map = habit.drawn(groundsOf(grounds, random), random);
  if (
    map.features.some(
      (one) => is(one, 'tee') && (one.tags.ref !== undefined || /^\d/.test(one.tags.name ?? '')),
    )
  )
    return map;
  // No tee says which of two rounds it is for: both have them all.
  const teesAt = (start: Place): string[] => [
    ...new Set(map.holes.flatMap((one) => (one.start === start ? one.tees : []))),
  ];
  return { ...map, holes: map.holes.map((one) => ({ ...one, tees: teesAt(one.start) })) };
};
