import type { HoleFigures } from '../../course/hole-figures.js';
import { phrase, type Telling, type WordKey } from '../words/words.js';
import {
  gapLines,
  hazardLines,
  type LabelLines,
  landingLines,
  landmarkLines,
  runOutLines,
  teeColumns,
} from './hole-words.js';

/** A hole's figures in words, for those who do not see its picture: what its labels say, and what each is beside. */

const inOneLine = (lines: LabelLines): string =>
  lines.map((runs) => runs.map(({ text }) => text).join('')).join(', ');

const told = (lines: LabelLines, say: (figures: string) => string): string[] =>
  lines.length === 0 ? [] : [say(inOneLine(lines))];

const hazardWords = (figures: HoleFigures, tees: readonly number[], tell: Telling): string[] =>
  figures.hazards.flatMap((hazard) => {
    const side = hazard.crosses ? 'across' : hazard.off < 0 ? 'left' : 'right';
    const key: WordKey = `hole.alt-${side}`;
    const what = phrase(tell, hazard.kind === 'water' ? 'hole.alt-water' : 'hole.alt-bunker');
    return told(hazardLines(hazard, tees, tell), (lengths) => phrase(tell, key, { what, lengths }));
  });

const landmarkWords = (figures: HoleFigures, tell: Telling): string[] =>
  figures.landmarks.map((landmark) => {
    const [, ...lines] = landmarkLines(landmark, tell);
    const { name, front, back } = landmark;
    const key = front === null || back === null ? 'hole.alt-to-middle' : 'hole.alt-landmark';
    return phrase(tell, key, { name, lengths: inOneLine(lines) });
  });

export const holeInWords = (figures: HoleFigures, tell: Telling): string => {
  const tees = teeColumns(Math.max(1, figures.tees.length));
  const names = tees.flatMap((i) => figures.tees[i]?.name ?? []);
  const sentences = [
    phrase(tell, 'hole.alt', { number: figures.id, name: figures.name }),
    ...(names.length === 0 ? [] : [phrase(tell, 'hole.alt-tees', { tees: names.join(', ') })]),
    ...hazardWords(figures, tees, tell),
    ...told(landingLines(figures, tees, tell), (lengths) =>
      phrase(tell, 'hole.alt-landing', { lengths }),
    ),
    ...told(runOutLines(figures, tees, tell), (lengths) =>
      phrase(tell, 'hole.alt-runs-out', { lengths }),
    ),
    ...figures.gaps.flatMap((gap) =>
      told(gapLines(gap, tell), (lengths) => phrase(tell, 'hole.alt-clear', { lengths })),
    ),
    ...landmarkWords(figures, tell),
  ];
  return `${sentences.join('. ')}.`;
};
