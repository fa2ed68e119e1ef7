import type { Appraisal } from '../../appraisal/appraise.js';
import { BARE_STEP } from '../../appraisal/spacing.js';
import { boxOf, type Point, type Ring } from '../../geometry.js';
import {
  fitGround,
  type GroundFrame,
  onPaper,
  paperLength,
  polygonSteps,
} from '../green/ground-frame.js';
import {
  circleSteps,
  fillPath,
  hatch,
  lineSteps,
  rectSteps,
  ringSteps,
  rule,
  stroke,
  strokePath,
  text,
} from '../kit/draw.js';
import { fitOrShorten, wrapLines } from '../kit/paragraph.js';
import type { Mark, MeasureText, Mm, Page, PathStep } from '../marks/marks.js';
import { DARK, PAPER, TINT } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';
import { keyMarks } from './appraisal-key.js';

/** Millimetres; an A5 page, so that the picture also prints. */
const WIDTH = 148;
const HEIGHT = 210;
const MARGIN = 8;
const PICTURE = { x: MARGIN, y: 26, width: WIDTH - 2 * MARGIN, height: 138 };
/** The middle of the arrow to the north, beside the title. */
const NORTH: Mm = [WIDTH - MARGIN - 7, 15];
/** Dots past this many are thinned evenly. */
const DOT_LIMIT = 6000;
const LABELLED_OUTLIERS = 8;

export interface AppraisalWords extends Worded {
  readonly title: string;
  readonly subtitle: string;
  /** Lines below the picture. */
  readonly lines: readonly string[];
  /** Shows a small length with its sign: "+12 mm". */
  readonly signed: (metres: number) => string;
  /** A length for the scale bar, and its name. */
  readonly bar: { readonly metres: number; readonly words: string };
  /** How far in height the contours are from each other; null where there are none to tell it. */
  readonly contours: string | null;
  /** Where north lies, of unit length (x, y); null where no map tells. */
  readonly north: Point | null;
}

interface Drawing {
  readonly frame: GroundFrame;
  readonly origin: Point;
}

const at = ({ frame, origin }: Drawing, [x, y]: Point): readonly [number, number] =>
  onPaper(frame, x - origin[0], y - origin[1]);

const ringOnPaper = (drawing: Drawing, ring: Ring): PathStep[] =>
  ringSteps(ring.map((p) => at(drawing, p)));

/** Squares of ground as one path; each a little over its size, so that no seams show. */
const squares = (drawing: Drawing, middles: readonly Point[], side: number): PathStep[] => {
  const size = paperLength(drawing.frame, side) * 1.02;
  return middles.flatMap((middle) => {
    const [x, y] = at(drawing, middle);
    return rectSteps(x - size / 2, y - size / 2, size, size);
  });
};

const dots = (drawing: Drawing, x: Float64Array, y: Float64Array): Mark => {
  const stride = Math.max(1, Math.ceil(x.length / DOT_LIMIT));
  const radius = x.length > 2500 ? 0.14 : 0.2;
  const steps: PathStep[] = [];
  for (let i = 0; i < x.length; i += stride) {
    const [px, py] = at(drawing, [x[i], y[i]]);
    steps.push(...rectSteps(px - radius, py - radius, 2 * radius, 2 * radius));
  }
  return fillPath(steps, { ink: 'dark', tone: 0.55 });
};

const outlierMarks = (drawing: Drawing, appraisal: Appraisal, words: AppraisalWords): Mark[] =>
  appraisal.outliers.flatMap((outlier, k) => {
    const [x, y] = at(drawing, [outlier.x, outlier.y]);
    const ring = strokePath(circleSteps(x, y, 1.5), stroke(0.4));
    return k < LABELLED_OUTLIERS
      ? [ring, text([x + 2, y - 1], words.signed(outlier.residual), 'text-bold', 7, { halo: 0.5 })]
      : [ring];
  });

const hollowMarks = (drawing: Drawing, appraisal: Appraisal): Mark[] =>
  appraisal.hollows.flatMap((hollow) => {
    const [x, y] = at(drawing, hollow.at);
    return [
      fillPath(
        ringSteps([
          [x, y + 1.6],
          [x - 1.5, y - 1.1],
          [x + 1.5, y - 1.1],
        ]),
        PAPER,
        { stroke: stroke(0.4) },
      ),
    ];
  });

/** The place along a line that is farthest from all spots. */
const clearest = (from: Mm, to: Mm, spots: readonly Mm[]): Mm => {
  let best: Mm = from;
  let most = -1;
  for (const t of [0.5, 0.3, 0.7, 0.15, 0.85]) {
    const here: Mm = [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
    const room = Math.min(40, ...spots.map((s) => Math.hypot(s[0] - here[0], s[1] - here[1])));
    if (room > most) {
      best = here;
      most = room;
    }
  }
  return best;
};

const stepMarks = (drawing: Drawing, appraisal: Appraisal, words: AppraisalWords): Mark[] =>
  appraisal.steps.flatMap((step) => {
    const from = at(drawing, step.from);
    const to = at(drawing, step.to);
    const spots = appraisal.outliers
      .slice(0, LABELLED_OUTLIERS)
      .map((o) => at(drawing, [o.x, o.y]));
    const label = clearest(from, to, spots);
    return [
      strokePath(lineSteps([from, to]), stroke(1.6, PAPER)),
      strokePath(lineSteps([from, to]), stroke(0.7, DARK, { dash: [2.4, 1.6], cap: 'butt' })),
      text(
        [label[0] + 1.5, label[1] - 0.5],
        phrase(words, 'survey-picture.step', { height: words.signed(Math.abs(step.height)) }),
        'text-bold',
        8,
        { halo: 0.6 },
      ),
    ];
  });

const contours = (drawing: Drawing, appraisal: Appraisal): Mark[] =>
  (appraisal.reading?.contours ?? []).map((contour) =>
    strokePath(
      contour.lines.flatMap((line) =>
        lineSteps(line.map(([x, y]) => onPaper(drawing.frame, x, y))),
      ),
      stroke(contour.index ? 0.3 : 0.16, { ink: 'dark', tone: 0.8 }),
    ),
  );

/** Hatched as in a book: the direction of fall is not known to 45 degrees at 95 %. */
const doubtful = (drawing: Drawing, appraisal: Appraisal): Mark[] =>
  (appraisal.reading?.doubtful ?? []).map((polygon) =>
    hatch(polygonSteps(drawing.frame, polygon), 45, 0.9, stroke(0.18)),
  );

/** An arrow to the north about a point of the page, and its letter beyond the head. */
const northMarks = ([x, y]: Mm, [east, north]: Point, letter: string): Mark[] => {
  const along = (far: number, aside = 0): Mm => [
    x + east * far + north * aside,
    y - north * far + east * aside,
  ];
  const [lx, ly] = along(6.4);
  return [
    strokePath(lineSteps([along(-4), along(3)]), stroke(0.3)),
    fillPath(ringSteps([along(4.2), along(1.4, 1), along(1.4, -1)]), DARK),
    text([lx, ly + 0.9], letter, 'text-bold', 7.5, { align: 'centre' }),
  ];
};

const REPORT = { full: 8.5, least: 6, line: 4.1 / 8.5 } as const;

/** The lines below the picture, the first in bold; smaller where they would run off the page. */
const reportMarks = (lines: readonly string[], top: number, measure: MeasureText): Mark[] => {
  const setAt = (size: number) =>
    lines.flatMap((one, k) => {
      const face = k === 0 ? ('text-bold' as const) : ('text' as const);
      return wrapLines(one, WIDTH - 2 * MARGIN, face, size, measure).map((line) => ({
        line,
        face,
      }));
    });
  const room = HEIGHT - MARGIN - top;
  let size: number = REPORT.full;
  while (size > REPORT.least && (setAt(size).length - 1) * REPORT.line * size > room) size -= 0.5;
  return setAt(size).map(({ line, face }, i) =>
    text([MARGIN, top + i * REPORT.line * size], line, face, size),
  );
};

/** The picture of a survey's worth: what was measured where, and what does not fit. */
export const composeAppraisal = (
  appraisal: Appraisal,
  survey: { readonly x: Float64Array; readonly y: Float64Array },
  words: AppraisalWords,
  measure: MeasureText,
): Page => {
  const box = boxOf(appraisal.outline);
  const pad = 2;
  const frame = fitGround(
    PICTURE,
    {
      minX: box.minX - appraisal.origin[0] - pad,
      minY: box.minY - appraisal.origin[1] - pad,
      maxX: box.maxX - appraisal.origin[0] + pad,
      maxY: box.maxY - appraisal.origin[1] + pad,
    },
    100,
  );
  const drawing: Drawing = { frame, origin: appraisal.origin };
  const outline = ringOnPaper(drawing, appraisal.outline);
  const window = rectSteps(PICTURE.x, PICTURE.y, PICTURE.width, PICTURE.height);
  const picture: Mark = {
    kind: 'clip',
    steps: window,
    marks: [
      {
        kind: 'clip',
        steps: outline,
        marks: [
          ...contours(drawing, appraisal),
          ...doubtful(drawing, appraisal),
          // No line that is guessed from the ground beside it.
          fillPath(squares(drawing, appraisal.spacing.bare, BARE_STEP), { ...TINT, tone: 0.45 }),
        ],
      },
      dots(drawing, survey.x, survey.y),
      strokePath(outline, stroke(0.6)),
      ...stepMarks(drawing, appraisal, words),
      ...hollowMarks(drawing, appraisal),
      ...outlierMarks(drawing, appraisal, words),
    ],
  };
  const bar = paperLength(frame, words.bar.metres);
  const barY = PICTURE.y + PICTURE.height + 5;
  // The signs keep clear of the bar and its words.
  const key = keyMarks(
    appraisal,
    {
      words: words.words,
      contours: words.contours,
      left: MARGIN,
      right: WIDTH - MARGIN - bar - measure(words.bar.words, 'text', 7.5) - 1.5,
      top: barY + 1,
    },
    measure,
  );
  const title = fitOrShorten(
    words.title,
    WIDTH - 2 * MARGIN,
    { face: 'title-bold', size: 15, least: 9 },
    measure,
  );
  const subtitle = fitOrShorten(
    words.subtitle,
    NORTH[0] - 9 - MARGIN,
    { face: 'text', size: 9, least: 7 },
    measure,
  );
  return {
    id: 'survey',
    title: words.title,
    label: '1',
    width: WIDTH,
    height: HEIGHT,
    marks: [
      text([MARGIN, 14], title.text, 'title-bold', title.size),
      text([MARGIN, 20], subtitle.text, 'text', subtitle.size),
      { kind: 'group', role: 'figure', alt: words.lines[0] ?? words.title, marks: [picture] },
      rule(WIDTH - MARGIN - bar, barY, WIDTH - MARGIN, barY, stroke(0.5)),
      rule(WIDTH - MARGIN - bar, barY - 1, WIDTH - MARGIN - bar, barY + 1, stroke(0.5)),
      rule(WIDTH - MARGIN, barY - 1, WIDTH - MARGIN, barY + 1, stroke(0.5)),
      text([WIDTH - MARGIN - bar - 1.5, barY + 0.9], words.bar.words, 'text', 7.5, {
        align: 'right',
      }),
      ...(words.north === null
        ? []
        : northMarks(NORTH, words.north, phrase(words, 'survey-picture.north'))),
      ...key.marks,
      ...reportMarks(words.lines, Math.max(barY + 13, key.end + 6), measure),
    ],
  };
};
