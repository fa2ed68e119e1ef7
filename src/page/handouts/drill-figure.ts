import { boxOf, type Point } from '../../geometry.js';
import { lengthReading } from '../../putt/rounding.js';
import { pointsToMm } from '../../units.js';
import { bareMarks } from '../green/bare-ground.js';
import { drainageMarks } from '../green/drainage-line.js';
import { fallArrow } from '../green/fall-arrow.js';
import { greenFrame, showing } from '../green/green-image.js';
import { holeMark } from '../green/green-spots.js';
import { drawnGround, onPaper, polygonSteps } from '../green/ground-frame.js';
import { circleSteps, stroke, strokePath, text } from '../kit/draw.js';
import type { PageModule } from '../kit/page-modules.js';
import { wrapLines } from '../kit/paragraph.js';
import { teePeg } from '../kit/tee-peg.js';
import { withUnit } from '../kit/unit-words.js';
import type { Mark, Mm } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { decimal, phrase } from '../words/words.js';
import { type DrillContext, drilled } from './drill-places.js';

type Module = PageModule<DrillContext>;

const PEG = { bar: 0.85, stem: 0.3, top: 0.7, shoulder: 0.1, tip: 1 };

/** A peg with paper round it. */
const peg = (at: Mm): Mark => teePeg(at, PEG, { stroke: stroke(0.25, PAPER) });

/** Where the hole lies on the green, with its stream. */
const onGreen: Module = ({ green, layout, location, book }, cell) => {
  const frame = greenFrame(green, cell, layout.green.scale);
  const edge = polygonSteps(frame, [green.outline]);
  return [
    {
      kind: 'group',
      role: 'green-image',
      alt: phrase(book, 'drill.alt-green', {
        number: green.holeId,
        name: green.name,
        location: location.name,
      }),
      ground: drawnGround(green.holeId, edge, boxOf(green.outline)),
      marks: [
        {
          kind: 'clip',
          steps: edge,
          marks: [showing('slope', bareMarks(frame, green.worth.bare))],
        },
        strokePath(edge, stroke(0.5)),
        showing('drainage', drainageMarks(frame, green.reading.streams)),
        showing('hole-locations', holeMark(onPaper(frame, location.at[0], location.at[1]))),
      ],
    },
  ];
};

/** The pegs about the hole, turned as the green beside it is, with rings that tell their lengths. */
const aboutHole: Module = (context, cell) => {
  const { layout, table, book, measure } = context;
  const size = layout.type.small;
  const { hole, fall, grade } = table;
  const { lengths, rows } = drilled(context);
  const told = (length: number): string => withUnit(lengthReading(length, book.units), book);
  const longest = Math.max(...lengths);
  const radius = Math.min(cell.width, cell.height) / 2 - 1.6;
  const middle: Mm = [cell.x + radius + 1.6, cell.y + cell.height / 2];
  const put = ([x, y]: Point): Mm => [
    middle[0] + ((x - hole[0]) * radius) / longest,
    middle[1] - ((y - hole[1]) * radius) / longest,
  ];
  const down: Mm = [fall[0], -fall[1]];
  // Figures stand between two sides, off the pegs.
  const between = Math.SQRT1_2;
  const aside: Mm = [(down[0] - down[1]) * between, (down[1] + down[0]) * between];
  const words: Mm = [middle[0] + radius + 3.5, cell.y + cell.height / 2];
  const beside = cell.x + cell.width - words[0];
  return [
    {
      kind: 'group',
      role: 'figure',
      alt: phrase(book, 'drill.alt-pegs', { list: lengths.map(told).join(', ') }),
      marks: [
        ...lengths.map((length) =>
          strokePath(
            circleSteps(middle[0], middle[1], (length / longest) * radius),
            stroke(0.1, DARK, { dash: [0.4, 0.6] }),
          ),
        ),
        ...holeMark(middle),
        fallArrow([words[0] + 2.5, words[1] - 5], down, grade),
        ...lengths.flatMap((length, i) => {
          const far = (length / longest) * radius;
          const next = i + 1 < lengths.length ? (lengths[i + 1] / longest) * radius : Infinity;
          const [here, after] = [lengths[i], lengths[i + 1] ?? lengths[i]].map((one) =>
            measure(told(one), 'text', size),
          );
          // A ring whose figure would touch the next goes without.
          if (
            Math.abs(aside[0]) * (next - far) < (here + after) / 2 + 0.4 &&
            Math.abs(aside[1]) * (next - far) < pointsToMm(size) * 1.1
          ) {
            return [];
          }
          return [
            text(
              [middle[0] + aside[0] * far, middle[1] + aside[1] * far + pointsToMm(size) * 0.3],
              told(length),
              'text',
              size,
              { align: 'centre', halo: 0.5 },
            ),
          ];
        }),
        ...rows.map(({ ball }) => peg(put(ball))),
        ...[
          phrase(book, 'drill.falls'),
          decimal(`${(grade * 100).toFixed(1)} %`, book),
          phrase(book, 'drill.as-arrow'),
        ]
          .flatMap((line) => wrapLines(line, beside, 'text', size, measure))
          .map((line, i) =>
            text([words[0], words[1] + (i - 0.6) * pointsToMm(size) * 1.2], line, 'text', size),
          ),
      ],
    },
  ];
};

/** The green on the left, the pegs about its hole on the right. */
export const drillFigure: Module = (context, cell) => {
  const half = cell.width * 0.45;
  return [
    ...onGreen(context, { ...cell, width: half }),
    ...aboutHole(context, { ...cell, x: cell.x + half, width: cell.width - half }),
  ];
};
