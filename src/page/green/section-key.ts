import { lengthOf, type Point, type Ring, signedDistanceToRing } from '../../geometry.js';
import type { Section } from '../../terrain/reading.js';
import { pointsToMm } from '../../units.js';
import type { GreenContent } from '../book-content.js';
import { hatch, lineSteps, rectSteps, stroke, strokePath, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { PageContext } from '../kit/page-modules.js';
import { fitOrShorten } from '../kit/paragraph.js';
import { DARK, type Mark, type PathStep } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { kindWord } from './section-words.js';

/** Sections that are hatched: ground that is steep all over. The edges of the others are broken lines. */
const isHatched = ({ kind }: Pick<Section, 'kind'>): boolean =>
  kind === 'face' || kind === 'false front' || kind === 'false edge';

/** How a section is drawn on the green. */
export const sectionStyle = (section: Pick<Section, 'kind'>, steps: readonly PathStep[]): Mark[] =>
  isHatched(section)
    ? [hatch(steps, 90, 1.2, stroke(0.12)), strokePath(steps, stroke(0.18))]
    : [brokenEdge(steps)];

const brokenEdge = (steps: readonly PathStep[]): Mark =>
  strokePath(steps, stroke(0.18, DARK, { dash: [1, 0.8] }));

const SAMPLE = 7;
const GAP = 1.5;
/** Smallest type, points. */
const LEAST = 6;

/** A broken line this near to a whole one cannot be told from it, metres. */
const HIDDEN_WITHIN = 0.25;
/** Of a broken edge so much must be seen, metres. */
const LEAST_SEEN = 1;

/**
 * Whether a section's sign is seen. A tier that faces and the green's own edge bound is no broken line anywhere: a
 * key that told of one would have the reader look for it.
 */
const isSeen = (section: Section, { outline, reading }: Ground): boolean => {
  if (isHatched(section)) return true;
  const whole: readonly Ring[] = [
    outline,
    ...reading.sections.filter(isHatched).flatMap(({ polygons }) => polygons.flat()),
  ];
  const stands = ([a, b]: readonly [Point, Point]): boolean => {
    const [x, y] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    return whole.every((ring) => Math.abs(signedDistanceToRing(ring, x, y)) > HIDDEN_WITHIN);
  };
  const pieces = section.polygons
    .flat()
    .flatMap((ring) => ring.map((a, i) => [a, ring[(i + 1) % ring.length]] as const));
  return pieces.filter(stands).reduce((sum, piece) => sum + lengthOf(piece), 0) > LEAST_SEEN;
};

/** What the key looks at of a green. */
type Ground = Pick<GreenContent, 'outline'> & {
  readonly reading: Pick<GreenContent['reading'], 'sections'>;
};

/** What the broken lines and the hatched pieces of a green are: the kinds of section that it shows, in one line. */
export const sectionKeyMarks = (
  { layout, book, measure }: PageContext,
  ground: Ground,
  cell: Cell,
): Mark[] => {
  const sections = ground.reading.sections.filter((one) => isSeen(one, ground));
  const groups = [false, true]
    .map((hatched) => sections.filter((one) => isHatched(one) === hatched))
    .filter((some) => some.length > 0);
  const room = cell.width / 2;
  const size = layout.type.small;
  const base = cell.y + cell.height / 2 + pointsToMm(size) * 0.34;
  return groups.flatMap((some, i) => {
    const x = cell.x + i * room;
    const middle = cell.y + cell.height / 2;
    const steps = isHatched(some[0])
      ? rectSteps(x, middle - 1.2, SAMPLE, 2.4)
      : lineSteps([
          [x, middle],
          [x + SAMPLE, middle],
        ]);
    const words = [...new Set(some.map(({ kind }) => phrase(book, kindWord(kind))))].join(', ');
    const sizes = { face: 'text', size, least: LEAST } as const;
    const set = fitOrShorten(words, room - SAMPLE - 2 * GAP, sizes, measure);
    return [
      ...sectionStyle(some[0], steps),
      text([x + SAMPLE + GAP, base], set.text, 'text', set.size),
    ];
  });
};
