import type { CourseMap, LonLat, MapFeature } from '../../course/course-map.js';
import { flatRound } from '../../course/flat.js';
import type { SettledHole } from '../../course/settled-hole.js';
import { type Box, boxOf, distance, type Point } from '../../geometry.js';
import { METRES_PER_YARD, pointsToMm } from '../../units.js';
import {
  circleSteps,
  fillPath,
  hatch,
  lineSteps,
  rectSteps,
  ringSteps,
  stroke,
  strokePath,
  text,
} from '../kit/draw.js';
import { wrapLines } from '../kit/paragraph.js';
import { DARK, type Mark, type MeasureText, type Mm, PAPER, type Page } from '../marks/marks.js';
import { phrase, type Telling, type Worded } from '../words/words.js';

/** A3 across: the map to the left, what was decided and what to look at in words to the right. */
const SHEET = { width: 420, height: 297, margin: 10, words: 118, gutter: 8 };
const NUMBER = 8;
const TITLE = 18;
const WORDS = { full: 9, least: 6 };

/** A course as its map was settled. */
export interface PicturedCourse {
  readonly title: string;
  readonly map: CourseMap;
  readonly holes: readonly SettledHole[];
  /** Words about no hole in particular. */
  readonly notes: readonly string[];
  readonly tell: Telling;
}

interface Placed {
  readonly toPage: (at: LonLat) => Mm;
  /** Metres of ground in a millimetre. */
  readonly scale: number;
}

const pointsOf = ({ shape }: MapFeature): readonly LonLat[] =>
  shape.kind === 'point' ? [shape.at] : shape.kind === 'line' ? shape.points : shape.rings.flat();

/** North up, as large as the sheet allows, about the lines, greens and tees. */
const placed = (map: CourseMap): Placed => {
  const played = map.features.filter((one) =>
    ['hole', 'green', 'tee', 'fairway'].includes(one.kind),
  );
  const home = pointsOf(played[0] ?? map.features[0])[0];
  const flat = flatRound(home);
  const box = boxOf((played.length > 0 ? played : map.features).flatMap(pointsOf).map(flat.toFlat));
  const top = SHEET.margin + 14;
  const room: Box = {
    minX: SHEET.margin + 6,
    minY: top,
    maxX: SHEET.width - SHEET.margin - SHEET.words - SHEET.gutter,
    maxY: SHEET.height - SHEET.margin - 12,
  };
  const scale = Math.max(
    (box.maxX - box.minX) / (room.maxX - room.minX),
    (box.maxY - box.minY) / (room.maxY - room.minY),
    0.2,
  );
  const middle = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  return {
    scale,
    toPage: (at) => {
      const [x, y] = flat.toFlat(at);
      return [
        (room.minX + room.maxX) / 2 + (x - middle[0]) / scale,
        (room.minY + room.maxY) / 2 - (y - middle[1]) / scale,
      ];
    },
  };
};

const AREA_ORDER: readonly MapFeature['kind'][] = [
  'wood',
  'rough',
  'fairway',
  'water',
  'green',
  'bunker',
  'tee',
];

const areaMarks = (kind: MapFeature['kind'], rings: readonly (readonly Mm[])[]): Mark[] => {
  const steps = rings.flatMap(ringSteps);
  const edge = (width: number): Mark => strokePath(steps, stroke(width));
  const tint = (tone: number): Mark => fillPath(steps, { ink: 'tint', tone }, { rule: 'evenodd' });
  switch (kind) {
    case 'wood':
      return [hatch(steps, 60, 2.2, stroke(0.1)), edge(0.1)];
    case 'water':
      return [hatch(steps, 0, 0.9, stroke(0.12)), edge(0.2)];
    case 'rough':
      return [];
    case 'fairway':
      return [tint(0.16)];
    case 'green':
      return [tint(0.6), edge(0.3)];
    case 'bunker':
      return [fillPath(steps, PAPER), edge(0.18)];
    default:
      return [fillPath(steps, PAPER), edge(0.25)];
  }
};

const featureMarks = (map: CourseMap, { toPage }: Placed): Mark[] => {
  const areas = AREA_ORDER.flatMap((kind) =>
    map.features
      .filter((one) => one.kind === kind)
      .flatMap(({ shape }) =>
        shape.kind === 'area'
          ? areaMarks(
              kind,
              shape.rings.map((ring) => ring.map(toPage)),
            )
          : shape.kind === 'line'
            ? [strokePath(lineSteps(shape.points.map(toPage)), stroke(0.25))]
            : [strokePath(circleSteps(...toPage(shape.at), 0.6), stroke(0.25))],
      ),
  );
  const points = map.features.flatMap((one): Mark[] => {
    if (one.shape.kind !== 'point') return [];
    const [x, y] = toPage(one.shape.at);
    if (one.kind === 'tree') return [strokePath(circleSteps(x, y, 0.5), stroke(0.1))];
    if (one.kind === 'landmark') return [fillPath(rectSteps(x - 0.4, y - 0.4, 0.8, 0.8), DARK)];
    return [];
  });
  return [...areas, ...points];
};

/** The line of play with an arrow at its end, and the hole's number where it begins; ringed when it is to be looked at. */
const holeMarks = (
  feature: MapFeature,
  looked: ReadonlySet<string>,
  { toPage }: Placed,
): Mark[] => {
  if (feature.shape.kind !== 'line') return [];
  const line = feature.shape.points.map(toPage);
  const [start, end] = [line[0], line[line.length - 1]];
  const before = line[line.length - 2];
  const reach = distance(before, end) || 1;
  const ahead: Point = [(end[0] - before[0]) / reach, (end[1] - before[1]) / reach];
  const wing = (side: 1 | -1): Mm => [
    end[0] - 2.4 * ahead[0] + side * 0.9 * ahead[1],
    end[1] - 2.4 * ahead[1] - side * 0.9 * ahead[0],
  ];
  const words = feature.refs.length === 0 ? '?' : feature.refs.join(', ');
  const isLooked = feature.refs.length === 0 || feature.refs.some((ref) => looked.has(ref));
  const second = line[1];
  const toSecond = distance(start, second) || 1;
  const at: Mm = [
    start[0] - (3.4 * (second[0] - start[0])) / toSecond,
    start[1] - (3.4 * (second[1] - start[1])) / toSecond,
  ];
  return [
    strokePath(lineSteps(line), stroke(isLooked ? 0.55 : 0.3)),
    fillPath(ringSteps([end, wing(1), wing(-1)]), DARK),
    ...(isLooked ? [strokePath(circleSteps(at[0], at[1], 3), stroke(0.5))] : []),
    text([at[0], at[1] + pointsToMm(NUMBER) * 0.34], words, 'text-bold', NUMBER, {
      align: 'centre',
      halo: 0.8,
    }),
  ];
};

/** The words beside the map, in order: what to look at first. */
const wordsOf = (
  holes: readonly SettledHole[],
  notes: readonly string[],
  tell: Worded,
): { readonly bold: boolean; readonly words: string }[] => {
  const ofHole = (number: string, sentences: readonly string[]) => ({
    bold: false,
    words: phrase(tell, 'course-picture.hole', { number, words: sentences.join('; ') }),
  });
  const look = holes.filter((hole) => hole.look.length > 0);
  const decided = holes.filter((hole) => hole.decided.length > 0);
  return [
    ...(look.length + notes.length === 0
      ? [{ bold: true, words: phrase(tell, 'course-picture.nothing') }]
      : [{ bold: true, words: phrase(tell, 'course-picture.look') }]),
    ...look.map((hole) => ofHole(hole.id, hole.look)),
    ...notes.map((words) => ({ bold: false, words })),
    ...(decided.length === 0
      ? []
      : [{ bold: true, words: phrase(tell, 'course-picture.decided') }]),
    ...decided.map((hole) => ofHole(hole.id, hole.decided)),
  ];
};

const wordMarks = (
  paragraphs: ReturnType<typeof wordsOf>,
  measure: MeasureText,
  tell: Worded,
): Mark[] => {
  const x = SHEET.width - SHEET.margin - SHEET.words;
  const room = SHEET.height - 2 * SHEET.margin - 14;
  const setAt = (size: number) =>
    paragraphs.flatMap(({ bold, words }) => {
      const face = bold ? ('text-bold' as const) : ('text' as const);
      const lines = wrapLines(words, SHEET.words, face, size, measure);
      return lines.map((line, i) => ({ line, face, gap: i === 0 ? (bold ? 2.6 : 0.8) : 0 }));
    });
  const heightOf = (lines: ReturnType<typeof setAt>, size: number): number =>
    lines.reduce((sum, { gap }) => sum + gap + pointsToMm(size) * 1.22, 0);
  let size = WORDS.full;
  while (size > WORDS.least && heightOf(setAt(size), size) > room) size -= 0.5;
  const marks: Mark[] = [];
  let y = SHEET.margin + 14;
  const lines = setAt(size);
  for (const [i, { line, face, gap }] of lines.entries()) {
    y += gap + pointsToMm(size) * 1.22;
    if (y > SHEET.height - SHEET.margin - 5 && i < lines.length - 1) {
      marks.push(
        text(
          [x, y],
          phrase(tell, 'course-picture.more', { count: lines.length - i }),
          'text-italic',
          size,
        ),
      );
      break;
    }
    marks.push(text([x, y], line, face, size));
  }
  return marks;
};

/** A bar of a hundred yards or metres, or of the round length that is drawn 20 to 60 mm long. */
const scaleMarks = (scale: number, tell: Telling): Mark[] => {
  const unit = tell.units === 'metric' ? 1 : METRES_PER_YARD;
  const shown = [50, 100, 200, 500, 1000].find((n) => (n * unit) / scale >= 18) ?? 1000;
  const length = (shown * unit) / scale;
  const y = SHEET.height - SHEET.margin;
  return [
    strokePath(
      [
        ['M', SHEET.margin, y - 1.5],
        ['L', SHEET.margin, y],
        ['L', SHEET.margin + length, y],
        ['L', SHEET.margin + length, y - 1.5],
      ],
      stroke(0.3),
    ),
    text(
      [SHEET.margin + length + 2, y],
      phrase(tell, `course-picture.scale-${tell.units}`, { length: shown }),
      'text',
      8,
    ),
  ];
};

/**
 * One picture of a whole course, as it was settled: every hole with its line, tees, green and hazards, and in
 * words what was decided and what to look at, in the sentences of who settled it, which are English.
 */
export const composeCoursePicture = (
  { title, map, holes, notes, tell }: PicturedCourse,
  measure: MeasureText,
): Page => {
  const place = placed(map);
  const looked = new Set(holes.filter((hole) => hole.look.length > 0).map((hole) => hole.id));
  const practice = map.features.filter(
    (one) => one.kind === 'green' && one.refs.some((ref) => !/\d$/.test(ref) || ref.includes(' ')),
  );
  return {
    id: 'course',
    title,
    label: '',
    width: SHEET.width,
    height: SHEET.height,
    marks: [
      text([SHEET.margin, SHEET.margin + 6], title, 'title-bold', TITLE),
      {
        kind: 'group',
        role: 'figure',
        alt: phrase(tell, 'course-picture.alt', { title }),
        marks: [
          {
            kind: 'clip',
            steps: rectSteps(
              0,
              SHEET.margin + 9,
              SHEET.width - SHEET.margin - SHEET.words - SHEET.gutter / 2,
              SHEET.height - SHEET.margin - 14,
            ),
            marks: featureMarks(map, place),
          },
          ...map.features
            .filter((one) => one.kind === 'hole')
            .flatMap((one) => holeMarks(one, looked, place)),
          ...practice.map((one) => {
            const ring = pointsOf(one).map(place.toPage);
            const box = boxOf(ring);
            return text([(box.minX + box.maxX) / 2, box.minY - 1], one.refs[0], 'text-italic', 7, {
              align: 'centre',
              halo: 0.6,
            });
          }),
        ],
      },
      ...scaleMarks(place.scale, tell),
      ...wordMarks(wordsOf(holes, notes, tell), measure, tell),
    ],
  };
};
