import type { Appraisal } from '../../appraisal/appraise.js';
import {
  circleSteps,
  fillPath,
  hatch,
  rectSteps,
  ringSteps,
  rule,
  stroke,
  strokePath,
  text,
} from '../kit/draw.js';
import type { Mark, MeasureText } from '../marks/marks.js';
import { DARK, TINT } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';

interface Sign {
  readonly words: string;
  readonly draw: (x: number, y: number) => Mark[];
}

interface KeyWords extends Worded {
  readonly contours: string | null;
}

/** Only the signs that stand on the picture. */
const signsOf = (appraisal: Appraisal, tell: KeyWords): Sign[] => {
  const signs: Sign[] = [
    {
      words: phrase(tell, 'survey-picture.point'),
      draw: (x, y) => [
        fillPath(rectSteps(x + 2.3, y - 1.2, 0.4, 0.4), { ink: 'dark', tone: 0.55 }),
      ],
    },
  ];
  if (tell.contours !== null) {
    signs.push({
      words: tell.contours,
      draw: (x, y) => [
        rule(x, y - 1.7, x + 5, y - 1.7, stroke(0.3, { ink: 'dark', tone: 0.8 })),
        rule(x, y - 0.4, x + 5, y - 0.4, stroke(0.16, { ink: 'dark', tone: 0.8 })),
      ],
    });
  }
  if (appraisal.outliers.length > 0) {
    signs.push({
      words: phrase(tell, 'survey-picture.outlier'),
      draw: (x, y) => [strokePath(circleSteps(x + 2.5, y - 1, 1.3), stroke(0.4))],
    });
  }
  if ((appraisal.reading?.doubtful.length ?? 0) > 0) {
    signs.push({
      words: phrase(tell, 'survey-picture.doubtful'),
      draw: (x, y) => [hatch(rectSteps(x, y - 2.4, 5, 2.8), 45, 0.9, stroke(0.18))],
    });
  }
  if (appraisal.spacing.bare.length > 0) {
    signs.push({
      words: phrase(tell, 'survey-picture.bare'),
      draw: (x, y) => [fillPath(rectSteps(x, y - 2.4, 5, 2.8), { ...TINT, tone: 0.45 })],
    });
  }
  if (appraisal.hollows.length > 0) {
    signs.push({
      words: phrase(tell, 'survey-picture.hollow'),
      draw: (x, y) => [
        strokePath(
          ringSteps([
            [x + 2.5, y + 0.4],
            [x + 1.1, y - 2],
            [x + 3.9, y - 2],
          ]),
          stroke(0.4),
        ),
      ],
    });
  }
  if (appraisal.steps.length > 0) {
    signs.push({
      words: phrase(tell, 'survey-picture.step-key'),
      draw: (x, y) => [rule(x, y - 1, x + 5, y - 1, stroke(0.7, DARK, { dash: [1.6, 1] }))],
    });
  }
  return signs;
};

/** The signs in rows, each with its words, and where the last row stands. Millimetres. */
export const keyMarks = (
  appraisal: Appraisal,
  room: KeyWords & { readonly left: number; readonly right: number; readonly top: number },
  measure: MeasureText,
): { readonly marks: readonly Mark[]; readonly end: number } => {
  const marks: Mark[] = [];
  let x = room.left;
  let line = room.top;
  for (const sign of signsOf(appraisal, room)) {
    const width = 7 + measure(sign.words, 'text', 7.5) + 4;
    if (x + width > room.right) {
      x = room.left;
      line += 4.6;
    }
    marks.push(...sign.draw(x, line), text([x + 6.5, line], sign.words, 'text', 7.5));
    x += width;
  }
  return { marks, end: line };
};
