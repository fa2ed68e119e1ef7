import { deflateSync } from 'node:zlib';
import { quoted } from '../fault.js';
import type { Inks } from '../layout/layout.js';
import type {
  ClipMark,
  GroupMark,
  HatchMark,
  ImageMark,
  Mark,
  Paint,
  PathMark,
  PathStep,
  ShownGlyphs,
  Stroke,
  TextMark,
} from '../page/marks/marks.js';
import { PAPER } from '../page/marks/marks.js';
import { degreesToRadians, mmToPoints } from '../units.js';
import type { FontBook } from './font-embedding.js';
import type { Fonts } from './fonts.js';
import { glyphOutlines, startOf } from './glyph-outlines.js';
import { ONE_INK } from './ink-values.js';
import { type ColourModel, colourOperator, number, overprints } from './inks.js';
import { IMAGE_TAG, OUTLINE_TAG, SHOWS_TAG } from './marked-content.js';
import { hatchLines, pathBox } from './path-geometry.js';
import { watchedBook } from './shown-glyphs.js';

/** Tags marks as they are drawn: `open` gives the operator that opens a mark's tag, or null for none. */
export interface Tagger {
  readonly open: (mark: Mark) => string | null;
  readonly close: (mark: Mark) => void;
}

export interface ContentSetting {
  readonly fonts: Fonts;
  readonly book: FontBook;
  readonly inks: Inks;
  readonly model: ColourModel;
  /** Height of the trimmed page, millimetres. */
  readonly height: number;
  readonly tagger?: Tagger;
}

/** What the operators so far have set, so that none is said twice. */
interface GraphicsState {
  fill: string;
  stroke: string;
  width: number;
  dash: string;
  cap: number;
  join: number;
  overprint: boolean;
}

const START: GraphicsState = {
  fill: '',
  stroke: '',
  width: -1,
  dash: '',
  cap: 0,
  join: 0,
  overprint: false,
};

const sameSteps = (a: readonly PathStep[], b: readonly PathStep[]): boolean =>
  a === b ||
  (a.length === b.length &&
    a.every((step, i) => step.length === b[i].length && step.every((v, j) => v === b[i][j])));

const hexText = (text: string): string =>
  `<FEFF${Array.from({ length: text.length }, (_, i) =>
    text.charCodeAt(i).toString(16).toUpperCase().padStart(4, '0'),
  ).join('')}>`;

/** What draws a page: where the operators go, and what they have set so far. */
interface Pen {
  readonly setting: ContentSetting;
  readonly out: string[];
  state: GraphicsState;
  /** Outlines of the grounds that are being drawn: a check measures their scale by them. */
  readonly outlines: Set<Mark>;
}

/** A page's content that is the same in every PDF, with the texts that it shows. */
interface DrawnBefore {
  readonly setting: Pick<ContentSetting, 'fonts' | 'inks' | 'model' | 'height'>;
  readonly content: string;
  readonly glyphs: ShownGlyphs;
}

const drawnBefore = new WeakMap<readonly Mark[], DrawnBefore[]>();

const draw = (marks: readonly Mark[], setting: ContentSetting): string => {
  const pen: Pen = { setting, out: [], state: { ...START }, outlines: new Set() };
  drawAll(pen, marks);
  return pen.out.join('\n');
};

/**
 * The operators that draw a page's marks, in points, with the origin at the lower left corner of the
 * trimmed page. Several products hold the same page: without tags it is drawn once.
 */
export const drawnContent = (marks: readonly Mark[], setting: ContentSetting): string => {
  if (setting.tagger !== undefined) return draw(marks, setting);
  const { fonts, inks, model, height, book } = setting;
  const all = drawnBefore.get(marks) ?? [];
  const before = all.find(
    ({ setting: own }) =>
      own.fonts === fonts && own.inks === inks && own.model === model && own.height === height,
  );
  if (before !== undefined && book.take(before.glyphs)) return before.content;
  const watch = watchedBook(book);
  const content = draw(marks, { ...setting, book: watch.book });
  const glyphs = watch.give();
  if (glyphs !== null) {
    all.push({ setting: { fonts, inks, model, height }, content, glyphs });
    drawnBefore.set(marks, all);
  }
  return content;
};

const drawAll = (pen: Pen, marks: readonly Mark[]): void => {
  const { out } = pen;
  const { tagger } = pen.setting;
  // Neighbours with the same bare tag (artifacts) share one.
  let standing: string | null = null;
  const end = (): void => {
    if (standing !== null) out.push('EMC');
    standing = null;
  };
  for (const mark of marks) {
    const tag = tagger?.open(mark) ?? null;
    if (tag === null || tag !== standing) {
      end();
      if (tag !== null) out.push(tag);
      standing = tag;
    }
    drawOne(pen, mark);
    if (tag?.endsWith('BDC')) end();
    tagger?.close(mark);
  }
  end();
};

const drawOne = (pen: Pen, mark: Mark): void => {
  switch (mark.kind) {
    case 'path': {
      const isOutline = pen.outlines.has(mark);
      if (isOutline) pen.out.push(`/${OUTLINE_TAG} BMC`);
      drawPath(pen, mark);
      if (isOutline) pen.out.push('EMC');
      break;
    }
    case 'hatch':
      drawHatch(pen, mark);
      break;
    case 'text':
      drawText(pen, mark);
      break;
    case 'clip':
      drawClip(pen, mark);
      break;
    case 'group':
      drawGroup(pen, mark);
      break;
    case 'image':
      drawImage(pen, mark);
      break;
    case 'link':
      break;
  }
};

const drawPath = (pen: Pen, mark: PathMark): void => {
  if (mark.steps.length === 0 || (mark.fill === undefined && mark.stroke === undefined)) return;
  const { model } = pen.setting;
  const evenOdd = mark.rule === 'evenodd' ? '*' : '';
  setOverprint(
    pen,
    (mark.fill === undefined || overprints(mark.fill, model)) &&
      (mark.stroke === undefined || overprints(mark.stroke.paint, model)),
  );
  if (mark.fill !== undefined) setFill(pen, mark.fill);
  if (mark.stroke !== undefined) setStroke(pen, mark.stroke);
  layPath(pen, mark.steps);
  if (mark.fill === undefined) pen.out.push('S');
  else pen.out.push(mark.stroke === undefined ? `f${evenOdd}` : `B${evenOdd}`);
};

const drawHatch = (pen: Pen, mark: HatchMark): void => {
  if (mark.steps.length === 0) return;
  saved(pen, () => {
    layPath(pen, mark.steps);
    pen.out.push(mark.rule === 'evenodd' ? 'W* n' : 'W n');
    setOverprint(pen, overprints(mark.stroke.paint, pen.setting.model));
    setStroke(pen, mark.stroke);
    for (const [x1, y1, x2, y2] of hatchLines(pathBox(mark.steps), mark.angle, mark.pitch)) {
      pen.out.push(`${point(pen, x1, y1)} m ${point(pen, x2, y2)} l`);
    }
    pen.out.push('S');
  });
};

const drawText = (pen: Pen, mark: TextMark): void => {
  if (mark.text.trim() === '') return;
  const { fonts, book, model } = pen.setting;
  if (mark.halo !== undefined && mark.halo > 0) drawHalo(pen, mark, mark.halo);
  setOverprint(pen, overprints(mark.paint, model));
  setFill(pen, mark.paint, mark.size < ONE_INK.type);
  const { font, operators } = book.show(mark.face, mark.text);
  const start = startOf(fonts, mark);
  const turn = degreesToRadians(mark.turn ?? 0);
  const at = point(pen, mark.at[0] + start * Math.cos(turn), mark.at[1] - start * Math.sin(turn));
  const [cos, sin] = [number(Math.cos(turn)), number(Math.sin(turn))];
  const place =
    turn === 0 ? `${at} Td` : `${cos} ${sin} ${number(-Math.sin(turn))} ${cos} ${at} Tm`;
  pen.out.push(`BT /${font} ${number(mark.size)} Tf ${place} ${operators} ET`);
};

/** The halo is drawn as outlines, not as text, so that each word is in the PDF once. */
const drawHalo = (pen: Pen, mark: TextMark, width: number): void => {
  const steps = glyphOutlines(pen.setting.fonts, mark);
  if (steps.length === 0) return;
  setOverprint(pen, false);
  setStroke(pen, { paint: PAPER, width: 2 * width, cap: 'round', join: 'round' });
  layPath(pen, steps);
  pen.out.push('S');
};

/** A picture in the content itself (ISO 32000-1, 8.9.7): of the dark ink where that has a plate of its own. */
const drawImage = (pen: Pen, { box, columns, rows, shades }: ImageMark): void => {
  const { model } = pen.setting;
  const space = model === 'spot' ? '/CS /InkDark /D [1 0]' : '/CS /G';
  const data = deflateSync(shades, { level: 9 }).toString('hex').toUpperCase();
  saved(pen, () => {
    setOverprint(pen, false);
    const at = point(pen, box.x, box.y + box.height);
    pen.out.push(
      `${length(box.width)} 0 0 ${length(box.height)} ${at} cm`,
      `BI /W ${columns} /H ${rows} /BPC 8 ${space} /F [/AHx /Fl] ID`,
      `${data}>`,
      'EI',
    );
  });
};

const drawClip = (pen: Pen, mark: ClipMark): void => {
  if (mark.steps.length === 0) return;
  saved(pen, () => {
    layPath(pen, mark.steps);
    pen.out.push('W n');
    drawAll(pen, mark.marks);
  });
};

const drawGroup = (pen: Pen, mark: GroupMark): void => {
  const { out } = pen;
  const { ground, names, shows } = mark;
  if (shows !== undefined) out.push(`/${SHOWS_TAG} << /What /${shows} >> BDC`);
  if (names !== undefined) {
    out.push(`/${IMAGE_TAG} << /Kind /${mark.role} /Id ${hexText(names)} >> BDC`);
    drawAll(pen, mark.marks);
    out.push('EMC');
  } else if (ground === undefined) drawAll(pen, mark.marks);
  else {
    const drawn = findPath(mark.marks, ground.outline);
    if (drawn === null) {
      throw new Error(
        `the image of the ground ${quoted(ground.id)} does not draw the outline that it names`,
      );
    }
    out.push(
      `/${IMAGE_TAG} << /Kind /${mark.role} /Id ${hexText(ground.id)} /Width ${ground.width.toFixed(7)} /Height ${ground.height.toFixed(7)} >> BDC`,
    );
    pen.outlines.add(drawn);
    drawAll(pen, mark.marks);
    pen.outlines.delete(drawn);
    out.push('EMC');
  }
  if (shows !== undefined) out.push('EMC');
};

/** Draws with the state as it was before. */
const saved = (pen: Pen, draw: () => void): void => {
  const before = { ...pen.state };
  pen.out.push('q');
  draw();
  pen.out.push('Q');
  pen.state = before;
};

const length = (mm: number): string => number(mmToPoints(mm));

/** A point of the page, from its top left corner, as operands. */
const point = ({ setting }: Pen, x: number, y: number): string =>
  `${length(x)} ${length(setting.height - y)}`;

const stepOperator = (pen: Pen, step: PathStep): string => {
  switch (step[0]) {
    case 'M':
      return `${point(pen, step[1], step[2])} m`;
    case 'L':
      return `${point(pen, step[1], step[2])} l`;
    case 'C':
      return `${point(pen, step[1], step[2])} ${point(pen, step[3], step[4])} ${point(pen, step[5], step[6])} c`;
    case 'Z':
      return 'h';
  }
};

/** Operators of a path by the height of its page: each product of a book draws the same marks. */
const laid = new WeakMap<readonly PathStep[], { readonly height: number; readonly text: string }>();

const layPath = (pen: Pen, steps: readonly PathStep[]): void => {
  const { height } = pen.setting;
  let known = laid.get(steps);
  if (known?.height !== height) {
    known = { height, text: steps.map((step) => stepOperator(pen, step)).join('\n') };
    laid.set(steps, known);
  }
  pen.out.push(known.text);
};

const setOverprint = ({ setting: { model }, state, out }: Pen, on: boolean): void => {
  if (model !== 'spot' && model !== 'cmyk') return;
  if (state.overprint !== on) out.push(on ? '/Overprint gs' : '/Knockout gs');
  state.overprint = on;
};

const setFill = (
  { setting: { inks, model }, state, out }: Pen,
  paint: Paint,
  isFine = false,
): void => {
  const operator = colourOperator(paint, inks, model, 'fill', isFine);
  if (state.fill !== operator) out.push(operator);
  state.fill = operator;
};

const setStroke = ({ setting: { inks, model }, state, out }: Pen, stroke: Stroke): void => {
  const isFine = mmToPoints(stroke.width) < ONE_INK.line;
  const operator = colourOperator(stroke.paint, inks, model, 'stroke', isFine);
  if (state.stroke !== operator) out.push(operator);
  state.stroke = operator;
  if (state.width !== stroke.width) out.push(`${length(stroke.width)} w`);
  state.width = stroke.width;
  const dash = `[${(stroke.dash ?? []).map(length).join(' ')}] 0 d`;
  if (state.dash !== dash && !(state.dash === '' && stroke.dash === undefined)) out.push(dash);
  state.dash = dash;
  const cap = stroke.cap === 'round' ? 1 : 0;
  if (state.cap !== cap) out.push(`${cap} J`);
  state.cap = cap;
  const join = stroke.join === 'round' ? 1 : 0;
  if (state.join !== join) out.push(`${join} j`);
  state.join = join;
};

/** The first drawn path with the given steps. */
const findPath = (marks: readonly Mark[], steps: readonly PathStep[]): PathMark | null => {
  for (const mark of marks) {
    if (mark.kind === 'path' && sameSteps(mark.steps, steps)) return mark;
    if (mark.kind === 'clip' || mark.kind === 'group') {
      const found = findPath(mark.marks, steps);
      if (found !== null) return found;
    }
  }
  return null;
};
