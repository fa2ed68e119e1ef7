import { sidesAt } from '../../course/frame.js';
import type { OutlineGreen } from '../../course/outline-green.js';
import { boxOf, insideRing, type Point } from '../../geometry.js';
import { isKept, type Stream } from '../../terrain/reading.js';
import type { GreenContent } from '../book-content.js';
import { bareMarks } from '../green/bare-ground.js';
import { fallArrow } from '../green/fall-arrow.js';
import { locationInWords, outlineInWords } from '../green/green-in-words.js';
import {
  areaSteps,
  drawnGround,
  fitGround,
  type GroundFrame,
  linePoints,
  onPaper,
  polygonSteps,
} from '../green/ground-frame.js';
import { laneMarks } from '../green/lane-marks.js';
import { bandStyle } from '../green/slope-bands.js';
import { circleSteps, fillPath, lineSteps, rule, stroke, strokePath } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { locationWords } from '../kit/location-words.js';
import type { Mark, Mm } from '../marks/marks.js';
import { DARK, PAPER, TINT } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';

const EDGE = 0.35;
const STREAM = 0.5;
/** The tint inside a line that is one of many alike. */
const STREAM_INSIDE = 0.3;
/** The fall arrow stands this far down the slope from the hole, millimetres. */
const ARROW_AWAY = 3.1;
const HOLE_RADIUS = 0.95;

/** A green on the sheet: surveyed, or known by its outline in the map. */
export type SheetGreen = GreenContent | OutlineGreen;

/** The same green as it was surveyed; null where it was not. */
export const surveyedOf = (green: SheetGreen): GreenContent | null =>
  'worth' in green ? green : null;

/** The scale at which the largest of the greens fits a cell: no larger than asked, in steps of 20. */
export const commonScale = (
  greens: readonly SheetGreen[],
  cell: Pick<Cell, 'width' | 'height'>,
  scale: number,
): number =>
  Math.max(
    ...greens.map(({ outline }) => fitGround({ x: 0, y: 0, ...cell }, boxOf(outline), scale).scale),
  );

const bands = (frame: GroundFrame, { reading }: GreenContent): Mark[] =>
  reading.bands.flatMap((band, i) => {
    const { tone } = bandStyle(i, reading.bands.length);
    const steps = band.polygons.flatMap((polygon) => areaSteps(frame, polygon));
    return steps.length === 0 || tone === 0
      ? []
      : [fillPath(steps, { ink: 'tint', tone: tone * 0.9 }, { rule: 'evenodd' })];
  });

/** The main drainage line; one of many alike is tint in a dark edge, as on the page of its green. */
const mainLine = (frame: GroundFrame, stream: Stream): Mark[] => {
  const steps = lineSteps(
    linePoints(
      frame,
      stream.points.map(([x, y]): Point => [x, y]),
    ),
  );
  const line = strokePath(steps, stroke(STREAM));
  return isKept(stream) ? [line] : [line, strokePath(steps, stroke(STREAM_INSIDE, TINT))];
};

/** Where the ground ends beside a hole location, on the side that its paces are counted from. */
const sidePoint = ({ outline, locations: [{ at, side }] }: SheetGreen): Point => {
  const [left, right] = sidesAt(outline, at[1]) ?? [at[0], at[0]];
  return [side === 'left' ? left : right, at[1]];
};

/** How the location is measured: up from the front edge, in from the side. */
const measures = (frame: GroundFrame, green: SheetGreen): Mark[] => {
  const { at } = green.locations[0];
  const hole = onPaper(frame, at[0], at[1]);
  const side = onPaper(frame, ...sidePoint(green));
  const front = onPaper(frame, at[0], 0);
  const line = stroke(0.14, DARK, { dash: [0.7, 0.5], cap: 'butt' });
  const tick = stroke(0.2);
  return [
    rule(hole[0], hole[1], side[0], side[1], line),
    rule(hole[0], hole[1], front[0], front[1], line),
    rule(front[0] - 0.9, front[1], front[0] + 0.9, front[1], tick),
    rule(side[0], side[1] - 0.9, side[0], side[1] + 0.9, tick),
  ];
};

/** The dart stands above the hole, clear of the leave; where the green ends there, below it. */
const holeFall = (frame: GroundFrame, green: GreenContent): Mark[] => {
  const { at, ground } = green.locations[0];
  if (ground === null) return [];
  const { toward: fall, grade } = ground;
  const away = (ARROW_AWAY * frame.scale) / 1000;
  const isOn = (s: number): boolean =>
    insideRing(green.outline, at[0] + 1.25 * s * fall[0], at[1] + 1.25 * s * fall[1]);
  const s = isOn(-away) || !isOn(away) ? -away : away;
  const middle = onPaper(frame, at[0] + s * fall[0], at[1] + s * fall[1]);
  const dart = fallArrow(middle, [fall[0], -fall[1]], Math.min(grade, 0.035));
  return [{ ...dart, stroke: stroke(0.6, PAPER) }, dart];
};

const hole = ([x, y]: Mm): Mark[] => [
  fillPath(circleSteps(x, y, HOLE_RADIUS), PAPER, { stroke: stroke(0.3) }),
  fillPath(circleSteps(x, y, HOLE_RADIUS * 0.48), DARK),
];

/** The hole location of the day, with how the ground falls there where that is drawn. */
const dayLocationWords = (green: SheetGreen, full: GreenContent | null, tell: Worded): string =>
  full === null
    ? phrase(tell, 'picture.location', { place: locationWords(green.locations[0], tell) })
    : locationInWords({ ...full.locations[0], name: '' }, tell);

/**
 * A green on a sheet of the day: its edge, slope bands as tints, the main drainage line, the hole, how it
 * is measured and the fall at it. A committee edition shows no measured detail, nor does a green without a survey.
 */
export const dayGreenMarks = (
  green: SheetGreen,
  cell: Cell,
  scale: number,
  { detail, ...tell }: Worded & { readonly detail: 'full' | 'sections' },
): Mark[] => {
  const box = boxOf(green.outline);
  const frame = fitGround(cell, box, scale);
  const edge = polygonSteps(frame, [green.outline]);
  const { at } = green.locations[0];
  const surveyed = detail === 'full' ? surveyedOf(green) : null;
  const full = surveyed === null || surveyed.worth.worth === 'outline' ? null : surveyed;
  const streams = full === null ? [] : full.reading.streams.filter((stream) => stream.main);
  const regions = full?.locations[0].regions ?? null;
  return [
    {
      kind: 'group',
      role: 'green-image',
      alt: `${outlineInWords(green, tell)}. ${dayLocationWords(green, full, tell)}.`,
      ground: drawnGround(green.holeId, edge, box),
      marks: [
        ...(full === null
          ? []
          : [
              {
                kind: 'clip',
                steps: edge,
                marks: [...bands(frame, full), ...bareMarks(frame, full.worth.bare)],
              } satisfies Mark,
            ]),
        ...streams.flatMap((stream) => mainLine(frame, stream)),
        ...(regions === null ? [] : laneMarks(frame, regions)),
        ...(full === null ? [] : holeFall(frame, full)),
        strokePath(edge, stroke(EDGE)),
        ...measures(frame, green),
        ...hole(onPaper(frame, at[0], at[1])),
      ],
    },
  ];
};
