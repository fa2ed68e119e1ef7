import { boxOf, type Point } from '../../geometry.js';
import type { StationSetting } from '../../putt/station-setting.js';
import { pointsToMm } from '../../units.js';
import { bareMarks } from '../green/bare-ground.js';
import { drainageMarks } from '../green/drainage-line.js';
import { fallArrow } from '../green/fall-arrow.js';
import { greenFrame, showing } from '../green/green-image.js';
import { holeMark } from '../green/green-spots.js';
import { drawnGround, onPaper, polygonSteps } from '../green/ground-frame.js';
import { pacesGrid } from '../green/paces-grid.js';
import { rule, stroke, strokePath, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { GreenPageContext } from '../kit/page-modules.js';
import { setParagraph } from '../kit/paragraph.js';
import type { Mark, Mm } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { settingRows } from './station-words.js';

/** A hole, how it lies, and its words. */
export interface PlacedStation {
  readonly hole: Point;
  readonly fall: Point;
  readonly grade: number;
  readonly setting: StationSetting;
  readonly alt: string;
}

/** Width of the column of names, of the size of their type. */
const NAMES = 4;
/** The line of fall through the hole, millimetres to each side. */
const FALL_LINE = 9;

/** What the figures of the paces take beside and below a green, and room about the words, millimetres. */
const FIGURES = { across: 12, down: 10 };
const BELOW = 6;

/** A thin line from the hole to what it is measured to, with a cross-stroke at its end. */
const measured = (hole: Mm, to: Mm): Mark[] => {
  const long = Math.hypot(to[0] - hole[0], to[1] - hole[1]);
  if (long < 2) return [];
  const [ux, uy] = [(to[0] - hole[0]) / long, (to[1] - hole[1]) / long];
  const line = stroke(0.16, DARK, { dash: [0.9, 0.5], cap: 'butt' });
  return [
    rule(hole[0] + ux * 1.3, hole[1] + uy * 1.3, to[0], to[1], line),
    rule(to[0] - uy, to[1] + ux, to[0] + uy, to[1] - ux, stroke(0.25)),
  ];
};

/** The line of fall through the hole, with its dart downhill. */
const fallThrough = ([x, y]: Mm, fall: Point, grade: number): Mark[] => {
  const down: Mm = [fall[0], -fall[1]];
  const at = (along: number): Mm => [x + down[0] * along, y + down[1] * along];
  const [from, to] = [at(-FALL_LINE), at(FALL_LINE)];
  return [
    rule(from[0], from[1], to[0], to[1], stroke(0.6, PAPER)),
    rule(from[0], from[1], to[0], to[1], stroke(0.18)),
    fallArrow(to, down, Math.max(grade, 0.03)),
  ];
};

/** The green with its stream, the hole, the line of fall, and the nearest edge and stream; rows of words below. */
export const stationSetup = (
  placed: PlacedStation,
  { green, layout, book, measure }: GreenPageContext,
  cell: Cell,
): Mark[] => {
  const size = layout.type.small;
  const head = pointsToMm(size) * 1.5;
  const rows = settingRows(placed.setting, placed.grade, book);
  const names = pointsToMm(size) * NAMES;
  const set = (top: number): { readonly marks: Mark[]; readonly height: number } => {
    let used = 0;
    const marks = rows.flatMap(([name, words]) => {
      const y = top + used;
      const told = setParagraph(
        words,
        { x: cell.x + names, y, width: cell.width - names, height: 0 },
        { face: 'text', size, leading: size * 1.2 },
        measure,
      );
      used += told.height + 0.6;
      return [text([cell.x, y + pointsToMm(size) * 0.8], name, 'text-italic', size), ...told.marks];
    });
    return { marks, height: used };
  };
  const { height } = set(0);
  const box = boxOf(green.outline);
  const shape = (box.maxY - box.minY) / (box.maxX - box.minX);
  // As high as the green needs at the cell's width, so that the words stand close below it.
  const needed = (cell.width - FIGURES.across) * shape + FIGURES.down;
  const most = cell.height - head - height - BELOW;
  const image: Cell = { ...cell, y: cell.y + head, height: Math.min(most, needed) };
  const frame = greenFrame(green, image, layout.green.scale);
  const edge = polygonSteps(frame, [green.outline]);
  const grid = pacesGrid(frame, green.outline, size);
  const hole = onPaper(frame, placed.hole[0], placed.hole[1]);
  const { setting } = placed;
  const to = ([x, y]: Point): Mm => onPaper(frame, x, y);
  return [
    text([cell.x, cell.y + pointsToMm(size)], phrase(book, 'station.setup'), 'text-italic', size),
    ...grid.figures,
    {
      kind: 'group',
      role: 'green-image',
      alt: placed.alt,
      ground: drawnGround(green.holeId, edge, box),
      marks: [
        {
          kind: 'clip',
          steps: edge,
          marks: [
            showing('slope', bareMarks(frame, green.worth.bare)),
            showing('paces-grid', grid.lines),
          ],
        },
        strokePath(edge, stroke(0.5)),
        showing('drainage', drainageMarks(frame, green.reading.streams)),
        showing('fall', fallThrough(hole, placed.fall, placed.grade)),
        showing('hole-locations', [
          ...measured(hole, to(setting.edge.at)),
          ...(setting.stream === null ? [] : measured(hole, to(setting.stream.at))),
          ...holeMark(hole),
        ]),
      ],
    },
    ...set(image.y + image.height + BELOW / 2).marks,
  ];
};
