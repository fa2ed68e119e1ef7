import {
  boundaryOf,
  changed,
  type DrawnFeature,
  randomBy,
  tagged,
  tidyCourse,
  together,
  type UntidyMap,
  without,
} from './untidy-course.js';

/** One kind of untidy map; `made` gives it by seed, with the right answer. */
export interface UntidyKind {
  readonly name: string;
  readonly made: (seed: number) => UntidyMap;
  /** The course to choose, when there are several. */
  readonly course?: string;
  /** What must be said about it. */
  readonly says?: RegExp;
}

const golf = (feature: DrawnFeature, kind: string): boolean => feature.tags.golf === kind;
const numberOf = (feature: DrawnFeature): number => Number(feature.tags.ref);
const course = (seed: number, holes = 18, more: object = {}): UntidyMap =>
  tidyCourse({ seed, holes, ...more });

const reversed = (map: UntidyMap, which: (n: number) => boolean): UntidyMap =>
  changed(map, (one) =>
    golf(one, 'hole') && which(numberOf(one)) ? { ...one, points: [...one.points].reverse() } : one,
  );
const bare = (map: UntidyMap, ...kinds: string[]): UntidyMap =>
  changed(map, (one) => (kinds.includes(one.tags.golf ?? '') ? without(one, 'ref') : one));
const nameless = (map: UntidyMap): UntidyMap =>
  changed(map, (one) => (golf(one, 'tee') ? without(one, 'name', 'ref') : one));
const lacking = (map: UntidyMap, kind: string, numbers: readonly number[]): UntidyMap => {
  const gone = changed(map, (one) =>
    golf(one, kind) && numbers.includes(numberOf(one)) ? null : one,
  );
  return {
    ...gone,
    holes: map.holes.map((hole) =>
      !numbers.includes(Number(hole.id.replace(/\D/g, '')))
        ? hole
        : kind === 'green'
          ? { ...hole, green: null }
          : kind === 'tee'
            ? { ...hole, tees: [] }
            : hole,
    ),
  };
};
const asRelations = (map: UntidyMap): UntidyMap =>
  changed(map, (one) => (golf(one, 'green') ? { ...one, relation: true } : one));
const prefixed = (map: UntidyMap, prefix: string): UntidyMap => ({
  ...map,
  holes: map.holes.map((hole) => ({ ...hole, id: `${prefix}${hole.id}` })),
});

const everyThird = (n: number): boolean => n % 3 === 0;

/** Nine holes, each played twice from its own tees to the same green. */
const twiceRound = (seed: number): UntidyMap => {
  const nine = course(seed, 9);
  const again = changed(nine, (one) => {
    if (golf(one, 'hole')) return tagged(one, { ref: `${one.tags.ref};${numberOf(one) + 9}` });
    if (golf(one, 'green')) return without(one, 'ref');
    if (!golf(one, 'tee')) return one;
    // The longest tee of the second loop stands ten metres aside.
    const second: DrawnFeature = {
      ...tagged(one, { ref: `${numberOf(one) + 9}`, uid: `${one.tags.uid}'` }),
      points: one.points.map(([x, y]) => [x - 10, y]),
    };
    return [one, second];
  });
  return {
    features: again.features,
    holes: nine.holes.flatMap((hole) => [
      hole,
      { ...hole, id: `${Number(hole.id) + 9}`, tees: hole.tees.map((tee) => `${tee}'`) },
    ]),
  };
};

/** Two lines a green: a second loop with lines, tees and numbers of its own, and no number on the greens. */
const twoLinesAGreen = (seed: number): UntidyMap => {
  const nine = course(seed, 9);
  const both = changed(nine, (one) => {
    if (golf(one, 'green')) return without(one, 'ref');
    if (!golf(one, 'hole') && !golf(one, 'tee')) return one;
    const aside = golf(one, 'hole') ? [one.points[0], ...one.points.slice(1)] : one.points;
    const moved = aside.map(([x, y], i): [number, number] =>
      golf(one, 'hole') && i > 0 ? [x, y] : [x - 14, y],
    );
    return [
      one,
      { ...tagged(one, { ref: `${numberOf(one) + 9}`, uid: `${one.tags.uid}'` }), points: moved },
    ];
  });
  return {
    features: both.features,
    holes: nine.holes.flatMap((hole) => [
      hole,
      { ...hole, id: `${Number(hole.id) + 9}`, tees: hole.tees.map((tee) => `${tee}'`) },
    ]),
  };
};

const loops = (seed: number, tags: readonly (string | null)[], size = 9): UntidyMap =>
  together(
    ...tags.map((tag, k) => {
      const loop = tidyCourse({
        seed: seed + 97 * k,
        holes: size,
        mark: String.fromCharCode(97 + k),
        from: [
          [-60, 0],
          [60, 0],
          [0, -900],
          [0, 900],
        ][k] as [number, number],
        toward: k % 2 === 0 ? -1 : 1,
      });
      const bareLoop = bare(loop, 'green', 'tee');
      const named =
        tag === null
          ? bareLoop
          : changed(bareLoop, (one) =>
              golf(one, 'hole') ? tagged(one, { 'golf:course:name': tag }) : one,
            );
      return prefixed(named, tag === null ? 'AB'[k] : tag.slice(0, 1));
    }),
  );

const neighbours = (seed: number): UntidyMap => {
  const [ours, theirs] = [
    tidyCourse({ seed, holes: 18, mark: 'o' }),
    tidyCourse({ seed: seed + 31, holes: 18, mark: 'n', from: [-160, 0], toward: -1 }),
  ];
  return {
    features: [
      boundaryOf(theirs, 'Heron Marsh'),
      ...theirs.features,
      boundaryOf(ours, 'Tarn Side'),
      ...ours.features,
    ],
    holes: ours.holes,
  };
};

/** A hole's line of two points across a dog-leg. */
const acrossDogLegs = (seed: number): UntidyMap =>
  changed(course(seed, 18, { bend: 75 }), (one) =>
    golf(one, 'hole')
      ? { ...one, points: [one.points[0], one.points[one.points.length - 1]] }
      : one,
  );

const PRACTICE: readonly Record<string, string>[] = [
  { golf: 'green', ref: 'practice' },
  { golf: 'green', name: 'Putting green' },
  { golf: 'practice_green' },
  { golf: 'green', practice: 'yes' },
];

export const UNTIDY: readonly UntidyKind[] = [
  { name: 'nothing wrong', made: (seed) => course(seed) },
  {
    name: 'every third line drawn from green to tee',
    made: (seed) => reversed(course(seed), everyThird),
    says: /turned round/,
  },
  {
    name: 'lines reversed, greens and tees without numbers',
    made: (seed) => reversed(bare(course(seed), 'green', 'tee'), everyThird),
    says: /turned round/,
  },
  { name: 'no number but the lines’', made: (seed) => bare(course(seed), 'green', 'tee') },
  {
    name: 'every line reversed, nothing numbered',
    made: (seed) => reversed(bare(course(seed), 'green', 'tee'), () => true),
    says: /turned round/,
  },
  {
    name: 'tees missing on some holes',
    made: (seed) => lacking(bare(course(seed), 'green'), 'tee', [2, 7, 12]),
    says: /hole 7 has no tees/,
  },
  {
    name: 'greens missing on some holes',
    made: (seed) => bare(lacking(course(seed), 'green', [4, 9]), 'green', 'tee'),
    says: /hole 9 does not reach a green/,
  },
  {
    name: 'no tees at all, lines reversed',
    made: (seed) =>
      reversed(lacking(bare(course(seed), 'green'), 'tee', [...Array(19).keys()]), everyThird),
  },
  { name: 'greens as relations', made: (seed) => asRelations(bare(course(seed), 'green')) },
  {
    name: 'lines of two points across dog-legs',
    made: acrossDogLegs,
    says: /bent along its fairway/,
  },
  {
    name: 'tees told apart by the colour of their markers',
    made: (seed) =>
      changed(course(seed), (one) =>
        golf(one, 'tee')
          ? tagged(without(one, 'name', 'ref'), {
              colour: { Back: 'white', Club: 'yellow', Short: 'red' }[one.tags.name]!,
            })
          : one,
      ),
  },
  { name: 'tees without names', made: (seed) => nameless(course(seed)) },
  { name: 'nine holes played twice, ref 7;16', made: twiceRound },
  { name: 'two lines and tees to each of nine greens', made: twoLinesAGreen },
  {
    name: 'two loops of nine with the same numbers',
    made: (seed) => loops(seed, [null, null]),
    says: /loops are told apart/,
  },
  { name: 'three loops of nine by name', made: (seed) => loops(seed, ['North', 'South', 'East']) },
  {
    name: 'two courses of eighteen by name, 36 holes',
    made: (seed) => loops(seed, ['Old', 'New'], 18),
  },
  { name: 'twenty-seven holes in a row', made: (seed) => bare(course(seed, 27), 'green', 'tee') },
  { name: 'two courses with boundaries', made: neighbours, course: 'tarn side' },
  {
    name: 'two courses within one estate',
    course: 'Tarn Side',
    made: (seed) => {
      const both = neighbours(seed);
      return { ...both, features: [boundaryOf(both, 'The Estate', 90), ...both.features] };
    },
  },
  {
    name: 'a practice green beside the last green, by any tag',
    made: (seed) => {
      const map = bare(course(seed), 'green', 'tee');
      const last = map.features.find((one) => one.tags.uid === 'g18')!;
      return {
        ...map,
        features: [
          {
            shape: 'area',
            points: last.points.map(([x, y]) => [x + 34, y + 6]),
            tags: { ...PRACTICE[seed % PRACTICE.length], uid: 'gp' },
          },
          ...map.features,
        ],
      };
    },
  },
  {
    name: 'a line without a number',
    made: (seed) =>
      changed(bare(course(seed), 'green'), (one) =>
        golf(one, 'hole') && one.tags.ref === `${2 + (seed % 15)}` ? without(one, 'ref') : one,
      ),
    says: /had no number/,
  },
  {
    name: 'a number that stands twice',
    made: (seed) => {
      const n = 2 + (seed % 15);
      return changed(bare(course(seed), 'green', 'tee'), (one) =>
        golf(one, 'hole') && one.tags.ref === `${n + 1}` ? tagged(one, { ref: `${n}` }) : one,
      );
    },
    says: /was missing/,
  },
  {
    name: 'a line in two pieces',
    made: (seed) =>
      changed(bare(course(seed), 'green', 'tee'), (one) => {
        if (!golf(one, 'hole') || !everyThird(numberOf(one))) return one;
        const [a, b] = one.points;
        const half = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] as const;
        return [
          { ...tagged(one, { uid: `${one.tags.uid}b` }), points: [half, b] },
          { ...one, points: [a, half] },
        ];
      }),
    says: /pieces/,
  },
  {
    name: 'a hole without a line',
    made: (seed) =>
      changed(course(seed), (one) =>
        golf(one, 'hole') && one.tags.ref === `${2 + (seed % 15)}` ? null : one,
      ),
    says: /no line of play for it/,
  },
  {
    name: 'a green with a wrong number',
    made: (seed) =>
      changed(course(seed), (one) =>
        golf(one, 'green') && one.tags.ref === '5' ? tagged(one, { ref: '14' }) : one,
      ),
    says: /bears the number 14/,
  },
  {
    name: 'lines that end short of their greens',
    made: (seed) =>
      changed(bare(course(seed), 'green', 'tee'), (one) => {
        if (!golf(one, 'hole')) return one;
        const [a, b] = one.points;
        const part = 1 - 30 / Math.hypot(b[0] - a[0], b[1] - a[1]);
        return { ...one, points: [a, [a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])]] };
      }),
  },
  {
    name: 'a hole that is not in the map',
    made: (seed) => {
      const map = course(seed);
      const gone = `${2 + (seed % 15)}`;
      return {
        features: map.features.filter((one) => one.tags.ref !== gone),
        holes: map.holes.filter((one) => one.id !== gone),
      };
    },
    says: /the map has no hole \d+/,
  },
  {
    name: 'all of it together',
    course: 'Tarn',
    made: (seed) => {
      const random = randomBy(seed + 5);
      const map = asRelations(nameless(bare(neighbours(seed), 'green')));
      const turned = reversed(map, () => random() < 0.4);
      const lost = 3 + Math.floor(12 * random());
      return changed(turned, (one) =>
        golf(one, 'hole') && one.tags.uid === `ho${lost}` ? without(one, 'ref') : one,
      );
    },
    says: /turned round[\s\S]*had no number|had no number[\s\S]*turned round/,
  },
];
