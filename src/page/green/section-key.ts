import type { Section } from '../../terrain/reading.js';
import { pointsToMm } from '../../units.js';
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

/** What the broken lines and the hatched pieces of a green are: the kinds of section that it has, in one line. */
export const sectionKeyMarks = (
  { layout, book, measure }: PageContext,
  sections: readonly Section[],
  cell: Cell,
): Mark[] => {
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
