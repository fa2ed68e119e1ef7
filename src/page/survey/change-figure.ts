import type { Point, Polygon, Ring } from '../../geometry.js';
import { boxOf, growBox } from '../../geometry.js';
import { LARGEST_PAGE, LARGEST_SCALE } from '../../layout/rules-limits.js';
import { metresToInches, pointsToMm, type UnitSystem, yardsToMetres } from '../../units.js';
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
import { fitOrShorten, setParagraph } from '../kit/paragraph.js';
import type { Mark, MeasureText, Page } from '../marks/marks.js';
import { DARK, PAPER, TINT } from '../marks/marks.js';

/** Ground that moved, with its mean change of height, metres. */
export interface MovedGround {
  readonly polygon: Polygon;
  readonly meanChange: number;
  readonly middle: Point;
}

export interface ChangeFigure {
  readonly title: string;
  readonly outline: Ring;
  readonly regions: readonly MovedGround[];
  readonly locations: readonly { readonly name: string; readonly at: Point }[];
  /** Sentences below the picture. */
  readonly words: readonly string[];
  readonly units: UnitSystem;
}

const { width: WIDTH, height: HEIGHT } = LARGEST_PAGE;
const MARGIN = 7;
/** Not over the scale of the Rules, though the figure is for those who keep the green. */
const SCALE = LARGEST_SCALE;

const changeText = (metres: number, units: UnitSystem): string => {
  const size = Math.abs(metres);
  const sign = metres > 0 ? '+' : '−';
  return units === 'metric'
    ? `${sign}${Math.round(size * 1000)} mm`
    : `${sign}${metresToInches(size).toFixed(1)} in`;
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
    return text([x, y + 1], changeText(meanChange, units), 'text-bold', 8.5, {
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
  const alt = regions.length === 0 ? 'nothing moved' : `${regions.length} regions moved`;
  const image: Mark = {
    kind: 'group',
    role: 'figure',
    alt: `${figure.title}: ${alt}`,
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
  const swatch = (y: number, rose: boolean): Mark[] =>
    groundMarks(rectSteps(MARGIN, y - 2.6, 9, 3.4), rose);
  const marks: Mark[] = [
    ...swatch(top, true),
    text([MARGIN + 11, top], 'rose: tinted, strokes upright', 'text', 8),
    ...swatch(top + 5, false),
    text([MARGIN + 11, top + 5], 'sank: bare, strokes level', 'text', 8),
    rule(
      WIDTH - MARGIN - bar,
      top - 1,
      WIDTH - MARGIN,
      top - 1,
      stroke(0.5, DARK, { cap: 'butt' }),
    ),
    text(
      [WIDTH - MARGIN, top + line - 0.6],
      figure.units === 'metric' ? '5 m' : '5 yd',
      'text',
      8,
      { align: 'right' },
    ),
  ];
  let y = top + 10;
  for (const words of figure.words) {
    const set = setParagraph(
      words,
      { x: MARGIN, y, width: WIDTH - 2 * MARGIN, height: 0 },
      { face: 'text', size: 8.5, leading: 10.6 },
      measure,
    );
    marks.push(...set.marks);
    y += set.height + 1;
  }
  return marks;
};
