import type { HoleLocation } from '../../course/course.js';
import type { Point } from '../../geometry.js';
import { HOLE_RADIUS } from '../../putt/capture.js';
import type { Quadrant } from '../../putt/putt.js';
import { aimReading, lengthReading, paceReading } from '../../putt/rounding.js';
import type { PracticeStation, StationTee } from '../../putt/station.js';
import { inchesToMetres, METRES_PER_PACE, pointsToMm, type UnitSystem } from '../../units.js';
import { fallArrow } from '../green/fall-arrow.js';
import { footModule, headingModule } from '../green/green-page.js';
import {
  circleSteps,
  fillPath,
  lineSteps,
  ringSteps,
  rule,
  stroke,
  strokePath,
  text,
} from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { locationTag, TAG_WIDTH } from '../kit/location-tag.js';
import { locationWords } from '../kit/location-words.js';
import { composePage, type GreenPageContext, type PageModule } from '../kit/page-modules.js';
import { setParagraph } from '../kit/paragraph.js';
import type { Mark, Mm, Page } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';

/** A practice station's page: the green's context and the station of one of its hole locations. */
export interface StationPageContext extends GreenPageContext {
  readonly location: HoleLocation;
  readonly station: PracticeStation;
}

type Module = PageModule<StationPageContext>;

/** Room round the tees for their figures, millimetres. */
const SIDE_ROOM = 17;
/** Lines of words beyond the tees above and below, and the pitch of lines of a size, millimetres. */
const LINES = 3;
const PEG = 2.2;
const pitchOf = (size: number): number => pointsToMm(size) * 1.2;

interface StationFrame {
  readonly put: (at: Point) => Mm;
  /** Millimetres of paper per metre of ground. */
  readonly mm: number;
}

/** Uphill is up the page, so that "left" and "right" of the fall line are those of the drawing. */
const frameOf = (station: PracticeStation, cell: Cell, size: number): StationFrame => {
  const endRoom = LINES * pitchOf(size) + PEG;
  const radius = Math.min(cell.width / 2 - SIDE_ROOM, cell.height / 2 - endRoom);
  const mm = radius / station.distance;
  const [ux, uy] = [-station.fall[0], -station.fall[1]];
  const cx = cell.x + cell.width / 2;
  const cy = cell.y + cell.height / 2;
  return {
    mm,
    put: ([x, y]) => {
      const dx = x - station.hole[0];
      const dy = y - station.hole[1];
      return [cx + (dx * uy - dy * ux) * mm, cy - (dx * ux + dy * uy) * mm];
    },
  };
};

const NO_AIM: Readonly<Partial<Record<StationTee['outcome'], string>>> = {
  'off-green': 'off the green',
  unsurveyed: 'not surveyed',
};

const aimWords = (tee: StationTee, units: UnitSystem): string => {
  if (tee.putt === null) return NO_AIM[tee.outcome] ?? 'no pace';
  const { figure, side } = aimReading(tee.putt.aimOffset, units);
  return side === 'straight' ? 'straight' : `${figure} ${side}`;
};

const paceWords = (tee: StationTee, units: UnitSystem): string =>
  tee.putt === null ? '' : `pace ${paceReading(tee.putt.pace, units)}`;

/** Where a tee's figures stand: beyond it, or beside it for the tees left and right. */
const LABELS: Readonly<
  Record<
    Quadrant,
    {
      readonly dx: number;
      /** The base of the first line: lines from the tee, and millimetres besides. */
      readonly first: number;
      readonly gap: number;
      readonly align: 'left' | 'centre' | 'right';
    }
  >
> = {
  below: { dx: 0, first: 0.8, gap: PEG, align: 'centre' },
  above: { dx: 0, first: 1 - LINES, gap: -PEG, align: 'centre' },
  left: { dx: -2.6, first: 0, gap: -2.4, align: 'right' },
  right: { dx: 2.6, first: 0, gap: -2.4, align: 'left' },
};

const teeMarks = (
  tee: StationTee,
  frame: StationFrame,
  context: StationPageContext,
): readonly Mark[] => {
  const { layout, book } = context;
  const [x, y] = frame.put(tee.tee);
  const label = LABELS[tee.quadrant];
  const size = layout.type.text;
  const at = (line: number): Mm => [
    x + label.dx,
    y + label.gap + (label.first + line) * pitchOf(size),
  ];
  const { align } = label;
  return [
    // A tee peg seen from the side: a bar on a stem.
    fillPath(
      ringSteps([
        [x - 1.2, y - 1],
        [x + 1.2, y - 1],
        [x + 0.45, y - 0.2],
        [x, y + 1.4],
        [x - 0.45, y - 0.2],
      ]),
      DARK,
    ),
    text(at(0), tee.quadrant, 'text-italic', size, { align }),
    text(at(1), aimWords(tee, book.units), 'text-bold', size, { align, halo: 0.5 }),
    text(at(2), paceWords(tee, book.units), 'text', size, { align }),
  ];
};

const figureModule: Module = (context, cell) => {
  const { station, layout, book } = context;
  const frame = frameOf(station, cell, layout.type.text);
  const hole = frame.put(station.hole);
  const marks: Mark[] = [
    strokePath(
      circleSteps(hole[0], hole[1], station.distance * frame.mm),
      stroke(0.15, DARK, { dash: [0.2, 1.1] }),
    ),
  ];
  const above = station.above;
  if (above !== null && above.distance > HOLE_RADIUS / 4) {
    const point = frame.put(above.at);
    for (const tee of station.tees) {
      if (tee.picture !== 'over the point above') continue;
      const [x, y] = frame.put(tee.tee);
      marks.push(
        rule(x, y, point[0], point[1], stroke(0.15, DARK, { dash: [1, 0.7], cap: 'butt' })),
      );
    }
  }
  for (const tee of station.tees) {
    if (tee.putt === null) continue;
    marks.push(strokePath(lineSteps(tee.putt.path.map(frame.put)), stroke(0.55)));
  }
  marks.push(
    fillPath(circleSteps(hole[0], hole[1], HOLE_RADIUS * frame.mm), PAPER, { stroke: stroke(0.5) }),
    ...station.tees.flatMap((tee) => teeMarks(tee, frame, context)),
  );
  if (above !== null && above.distance > HOLE_RADIUS / 4) {
    const point = frame.put(above.at);
    marks.push(
      rule(point[0] - 1.3, point[1], point[0] + 1.3, point[1], stroke(0.4)),
      rule(point[0], point[1] - 1.3, point[0], point[1] + 1.3, stroke(0.4)),
    );
  }
  const corner: Mm = [cell.x + 4, cell.y + 5];
  marks.push(
    fallArrow(corner, [0, 1], 0.06),
    text([corner[0] + 2.4, corner[1] + 0.9], 'downhill', 'text-italic', layout.type.small),
    text(
      [corner[0] - 3.4, corner[1] + 6.4],
      `falls ${(station.grade * 100).toFixed(1)} %`,
      'text',
      layout.type.small,
    ),
  );
  const alt = station.tees
    .map((tee) => `${tee.quadrant}: ${aimWords(tee, book.units)}, ${paceWords(tee, book.units)}`)
    .join('; ');
  return [{ kind: 'group', role: 'figure', alt: `Practice station. ${alt}.`, marks }];
};

/** So far past or short a stroke would carry on the level, in words. */
const carriesWords = (tee: StationTee, units: UnitSystem): string => {
  if (tee.outcome === 'unsurveyed') return 'its way was not surveyed';
  if (tee.pictured === null) return 'no pace holds this putt';
  const figure = aimReading(Math.abs(tee.pictured), units).figure;
  return tee.pictured >= 0
    ? `picture a hole ${figure} farther on`
    : `picture a hole ${figure} nearer`;
};

const pointWords = (station: PracticeStation, units: UnitSystem): string => {
  const { above } = station;
  if (above === null) {
    return station.tees.some(({ outcome }) => outcome === 'unsurveyed')
      ? 'the way of one was not surveyed'
      : 'no pace holds one of these putts';
  }
  const { figure, side } = aimReading(above.distance, units);
  if (side === 'straight') return 'the point is the hole itself';
  const differs = above.difference > inchesToMetres(1) ? ', as nearly as the ground lets them' : '';
  return `both aim over the point ${figure} above its centre${differs}`;
};

/** What to picture from each tee, with the figures. */
const wordsModule: Module = ({ station, book, layout, measure }, cell) => {
  const { units } = book;
  const [below, above] = station.tees;
  const entries: readonly (readonly [string, string])[] = [
    ['Below', `Putting up, see the ball run past the hole: ${carriesWords(below, units)}.`],
    ['Above', `Putting down, see it stop short of the hole: ${carriesWords(above, units)}.`],
    ['Sides', `From left and right, roll it over one point: ${pointWords(station, units)}.`],
  ];
  const size = layout.type.text;
  const leading = layout.grid.baseline;
  const indent = 12;
  const marks: Mark[] = [];
  let y = cell.y + 1;
  for (const [name, words] of entries) {
    marks.push(text([cell.x, y + pointsToMm(size) * 0.8], name, 'text-bold', size));
    const set = setParagraph(
      words,
      { x: cell.x + indent, y, width: cell.width - indent, height: 0 },
      { face: 'text', size, leading },
      measure,
    );
    marks.push(...set.marks);
    y += set.height + 1.2;
  }
  return [{ kind: 'group', role: 'text', marks }];
};

const distanceWords = ({ distance }: PracticeStation, units: UnitSystem): string =>
  Math.abs(distance - METRES_PER_PACE) < 1e-6 ? 'one pace' : lengthReading(distance, units);

/** The location, and that the page is for practice: its figure is larger than an image for play may be. */
const titleModule: Module = ({ location, station, layout, book }, cell) => {
  const size = layout.type.text;
  const base = cell.y + pointsToMm(layout.type.table + 1) + 0.2;
  const right = cell.x + cell.width;
  return [
    ...locationTag(location.name, cell, base, layout.type.table + 1),
    text(
      [cell.x + TAG_WIDTH + 1.6, base],
      `four tees, ${distanceWords(station, book.units)} out · ${locationWords(location)}`,
      'text-bold',
      size,
    ),
    text([right, base], 'practice only', 'text-italic', size, { align: 'right' }),
  ];
};

const STATION_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  'station-title': titleModule,
  'station-figure': figureModule,
  'station-words': wordsModule,
  // The line at the foot names the use of this page, not that of the book.
  foot: (context, cell) =>
    footModule({ ...context, layout: { ...context.layout, use: 'practice' } }, cell),
};

/**
 * The page of a practice station, from the layout's placements for the kind "station". It is for
 * practice alone, and says so: its figure exceeds the scale of an image for play.
 */
export const composeStationPage = (context: StationPageContext): Page =>
  composePage(
    'station',
    {
      id: `station-${context.green.holeId}-${context.location.name}`,
      title: `${context.green.holeId} ${context.green.name}: practice station ${context.location.name}`,
    },
    STATION_MODULES,
    context,
  );
