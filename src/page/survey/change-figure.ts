import type { Point, Polygon, Ring } from '../../geometry.js';
import { boxOf, growBox } from '../../geometry.js';
import { LARGEST_PAGE, LARGEST_SCALE } from '../../layout/rules-limits.js';
import { metresToInches, pointsToMm, yardsToMetres } from '../../units.js';
import { fitGround, onPaper, paperLength, polygonSteps } from '../green/ground-frame.js';
import { pacesGrid } from '../green/paces-grid.js';
import {
  circleSteps,
  fillPath,
  hatch,
  rectSteps,
  rule,
  stroke,
  strokePath,
  text,
} from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { fitOrShorten, setParagraphs } from '../kit/paragraph.js';
import { withUnit } from '../kit/unit-words.js';
import type { Mark, MeasureText, Page } from '../marks/marks.js';
import { DARK, PAPER, TINT } from '../marks/marks.js';
import { phrase, type Telling } from '../words/words.js';

/** Ground that moved, with its mean change of height, metres. */
export interface MovedGround {
  readonly polygon: Polygon;
  readonly meanChange: number;
  readonly middle: Point;
}

export interface ChangeFigure extends Telling {
  readonly title: string;
  readonly outline: Ring;
  readonly regions: readonly MovedGround[];
  readonly locations: readonly { readonly name: string; readonly at: Point }[];
  /** Below the picture. */
  readonly sentences: readonly string[];
}

const { width: WIDTH, height: HEIGHT } = LARGEST_PAGE;
const MARGIN = 7;
/** Below the last line, which its leading counts in. */
const FOOT = 4;
/** Not over the scale of the Rules, though the figure is for those who keep the green. */
const SCALE = LARGEST_SCALE;

const changeText = (metres: number, tell: Telling): string => {
  const size = Math.abs(metres);
  const sign = metres > 0 ? '+' : '−';
  const figure =
    tell.units === 'metric'
      ? `${Math.round(size * 1000)} mm`
      : `${metresToInches(size).toFixed(1)} in`;
  return `${sign}${withUnit(figure, tell)}`;
};

/** Risen ground is tinted and ruled upright, sunk ground is bare and ruled flat: each reads in grey. */
const groundMarks = (steps: ReturnType<typeof polygonSteps>, rose: boolean): Mark[] => [
  rose
    ? fillPath(steps, { ...TINT, tone: 0.45 }, { rule: 'evenodd' })
    : fillPath(steps, PAPER, { rule: 'evenodd' }),
  hatch(steps, rose ? 90 : 0, 1.1, stroke(0.12)),
  strokePath(steps, stroke(0.35)),
];

/**
 * What moved between two surveys of a green: the ground that rose and the ground that sank beyond the
 * uncertainty of both, each with its mean change.
 */
export const composeChangeFigure = (figure: ChangeFigure, measure: MeasureText): Page => {
  const { outline, regions, units, locations } = figure;
  const cell: Cell = { x: MARGIN + 6, y: 18, width: WIDTH - 2 * MARGIN - 12, height: 104 };
  const frame = fitGround(cell, growBox(boxOf(outline), 0.3), SCALE);
  const edge = polygonSteps(frame, [outline]);
  const grid = pacesGrid(frame, outline, 6.5);
  const ground = regions.flatMap(({ polygon, meanChange }) =>
    groundMarks(polygonSteps(frame, polygon), meanChange > 0),
  );
  const labels = regions.map(({ middle, meanChange }) => {
    const [x, y] = onPaper(frame, middle[0], middle[1]);
    return text([x, y + 1], changeText(meanChange, figure), 'text-bold', 8.5, {
      align: 'centre',
      halo: 0.6,
    });
  });
  const holes = locations.flatMap(({ name, at }) => {
    const [x, y] = onPaper(frame, at[0], at[1]);
    return [
      fillPath(circleSteps(x, y, 0.7), PAPER, { stroke: stroke(0.3) }),
      text([x + 1.3, y - 0.9], name, 'text-bold', 8, { halo: 0.45 }),
    ];
  });
  const title = fitOrShorten(
    figure.title,
    WIDTH - 2 * MARGIN,
    { face: 'title-bold', size: 14, least: 9 },
    measure,
  );
  const told = { title: figure.title };
  const image: Mark = {
    kind: 'group',
    role: 'figure',
    alt:
      regions.length === 0
        ? phrase(figure, 'moved.alt-nothing', told)
        : phrase(figure, 'moved.alt', { ...told, count: regions.length }),
    marks: [
      ...grid.figures,
      { kind: 'clip', steps: edge, marks: [...grid.lines, ...ground] },
      strokePath(edge, stroke(0.5)),
      ...holes,
      ...labels,
    ],
  };
  return {
    id: 'change',
    title: figure.title,
    label: '1',
    width: WIDTH,
    height: HEIGHT,
    marks: [
      text([MARGIN, MARGIN + 5], title.text, 'title-bold', title.size),
      image,
      ...keyMarks(figure, measure, paperLength(frame, units === 'metric' ? 5 : yardsToMetres(5))),
    ],
  };
};

const keyMarks = (figure: ChangeFigure, measure: MeasureText, bar: number): Mark[] => {
  const top = 132;
  const line = pointsToMm(8) * 1.3;
  const signs = [true, false].filter((rose) =>
    figure.regions.some(({ meanChange }) => meanChange > 0 === rose),
  );
  const swatch = (y: number, rose: boolean): Mark[] =>
    groundMarks(rectSteps(MARGIN, y - 2.6, 9, 3.4), rose);
  const label = (y: number, words: string): Mark => {
    const room = WIDTH - 2 * MARGIN - 11 - bar - 3;
    const set = fitOrShorten(words, room, { face: 'text', size: 8, least: 6 }, measure);
    return text([MARGIN + 11, y], set.text, 'text', set.size);
  };
  const marks: Mark[] = [
    ...signs.flatMap((rose, i) => [
      ...swatch(top + 5 * i, rose),
      label(top + 5 * i, phrase(figure, rose ? 'moved.key-rose' : 'moved.key-sank')),
    ]),
    rule(
      WIDTH - MARGIN - bar,
      top - 1,
      WIDTH - MARGIN,
      top - 1,
      stroke(0.5, DARK, { cap: 'butt' }),
    ),
    text(
      [WIDTH - MARGIN, top + line - 0.6],
      `5 ${phrase(figure, figure.units === 'metric' ? 'unit.m' : 'unit.yd')}`,
      'text',
      8,
      { align: 'right' },
    ),
  ];
  const y = top + Math.max(5 * signs.length, 2 * line);
  const below = { x: MARGIN, y, width: WIDTH - 2 * MARGIN, height: HEIGHT - FOOT - y };
  const style = { face: 'text', lead: 10.6 / 8.5, gap: 1 } as const;
  const sizes = { full: 8.5, least: 6 };
  return [...marks, ...setParagraphs(figure.sentences, below, style, sizes, measure).marks];
};
