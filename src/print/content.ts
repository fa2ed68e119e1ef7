import type { Inks } from '../layout/layout.js';
import type {
  ClipMark,
  GroupMark,
  HatchMark,
  Mark,
  PathMark,
  PathStep,
  Stroke,
  TextMark,
} from '../page/marks/marks.js';
import { PAPER } from '../page/marks/marks.js';
import { degreesToRadians, mmToPoints } from '../units.js';
import type { FontBook } from './font-embedding.js';
import type { Fonts } from './fonts.js';
import { glyphOutlines, startOf } from './glyph-outlines.js';
import { type ColourModel, colourOperator, number, overprints } from './inks.js';
import { IMAGE_TAG, OUTLINE_TAG, SHOWS_TAG } from './marked-content.js';
import { hatchLines, pathBox } from './path-geometry.js';

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

/**
 * The operators that draw a page's marks, in points, with the origin at the lower left corner of the
 * trimmed page.
 */
export const contentOf = (marks: readonly Mark[], setting: ContentSetting): string => {
  const { fonts, book, inks, model, height, tagger } = setting;
  const out: string[] = [];
  let state = { ...START };

  const X = (x: number): string => number(mmToPoints(x));
  const Y = (y: number): string => number(mmToPoints(height - y));

  const path = (steps: readonly PathStep[]): void => {
    const parts: string[] = [];
    for (const step of steps) {
      switch (step[0]) {
        case 'M':
          parts.push(`${X(step[1])} ${Y(step[2])} m`);
          break;
        case 'L':
          parts.push(`${X(step[1])} ${Y(step[2])} l`);
          break;
        case 'C':
          parts.push(
            `${X(step[1])} ${Y(step[2])} ${X(step[3])} ${Y(step[4])} ${X(step[5])} ${Y(step[6])} c`,
          );
          break;
        case 'Z':
          parts.push('h');
          break;
      }
    }
    out.push(parts.join('\n'));
  };

  const overprint = (on: boolean): void => {
    if (model !== 'spot' && model !== 'cmyk') return;
    if (state.overprint !== on) out.push(on ? '/Overprint gs' : '/Knockout gs');
    state.overprint = on;
  };
  const fillWith = (paint: PathMark['fill'] & {}): void => {
    const operator = colourOperator(paint, inks, model, 'fill');
    if (state.fill !== operator) out.push(operator);
    state.fill = operator;
  };
  const strokeWith = (stroke: Stroke): void => {
    const operator = colourOperator(stroke.paint, inks, model, 'stroke');
    if (state.stroke !== operator) out.push(operator);
    state.stroke = operator;
    if (state.width !== stroke.width) out.push(`${X(stroke.width)} w`);
    state.width = stroke.width;
    const dash = `[${(stroke.dash ?? []).map(X).join(' ')}] 0 d`;
    if (state.dash !== dash && !(state.dash === '' && stroke.dash === undefined)) out.push(dash);
    state.dash = dash;
    const cap = stroke.cap === 'round' ? 1 : 0;
    if (state.cap !== cap) out.push(`${cap} J`);
    state.cap = cap;
    const join = stroke.join === 'round' ? 1 : 0;
    if (state.join !== join) out.push(`${join} j`);
    state.join = join;
  };
  const saved = (draw: () => void): void => {
    const before = { ...state };
    out.push('q');
    draw();
    out.push('Q');
    state = before;
  };

  const drawPath = (mark: PathMark): void => {
    if (mark.steps.length === 0 || (mark.fill === undefined && mark.stroke === undefined)) return;
    const evenOdd = mark.rule === 'evenodd' ? '*' : '';
    const oneOverprint =
      (mark.fill === undefined || overprints(mark.fill, model)) &&
      (mark.stroke === undefined || overprints(mark.stroke.paint, model));
    overprint(oneOverprint);
    if (mark.fill !== undefined) fillWith(mark.fill);
    if (mark.stroke !== undefined) strokeWith(mark.stroke);
    path(mark.steps);
    if (mark.fill === undefined) out.push('S');
    else out.push(mark.stroke === undefined ? `f${evenOdd}` : `B${evenOdd}`);
  };

  const drawHatch = (mark: HatchMark): void => {
    if (mark.steps.length === 0) return;
    saved(() => {
      path(mark.steps);
      out.push(mark.rule === 'evenodd' ? 'W* n' : 'W n');
      overprint(overprints(mark.stroke.paint, model));
      strokeWith(mark.stroke);
      for (const [x1, y1, x2, y2] of hatchLines(pathBox(mark.steps), mark.angle, mark.pitch)) {
        out.push(`${X(x1)} ${Y(y1)} m ${X(x2)} ${Y(y2)} l`);
      }
      out.push('S');
    });
  };

  /** The halo is drawn as outlines, not as text, so that each word is in the PDF once. */
  const drawHalo = (mark: TextMark, width: number): void => {
    const steps = glyphOutlines(fonts, mark);
    if (steps.length === 0) return;
    overprint(false);
    strokeWith({ paint: PAPER, width: 2 * width, cap: 'round', join: 'round' });
    path(steps);
    out.push('S');
  };

  const drawText = (mark: TextMark): void => {
    if (mark.text.trim() === '') return;
    if (mark.halo !== undefined && mark.halo > 0) drawHalo(mark, mark.halo);
    overprint(overprints(mark.paint, model));
    fillWith(mark.paint);
    const { font, operators } = book.show(mark.face, mark.text);
    const start = startOf(fonts, mark);
    const turn = degreesToRadians(mark.turn ?? 0);
    const x = mark.at[0] + start * Math.cos(turn);
    const y = mark.at[1] - start * Math.sin(turn);
    const place =
      turn === 0
        ? `${X(x)} ${Y(y)} Td`
        : `${number(Math.cos(turn))} ${number(Math.sin(turn))} ${number(-Math.sin(turn))} ${number(Math.cos(turn))} ${X(x)} ${Y(y)} Tm`;
    out.push(`BT /${font} ${number(mark.size)} Tf ${place} ${operators} ET`);
  };

  const drawClip = (mark: ClipMark): void => {
    if (mark.steps.length === 0) return;
    saved(() => {
      path(mark.steps);
      out.push('W n');
      drawAll(mark.marks);
    });
  };

  const drawGroup = (mark: GroupMark): void => {
    const { ground, shows } = mark;
    if (shows !== undefined) out.push(`/${SHOWS_TAG} << /What /${shows} >> BDC`);
    if (ground === undefined) drawAll(mark.marks);
    else {
      const drawn = findPath(mark.marks, ground.outline);
      if (drawn === null) {
        throw new Error(
          `the image of the ground "${ground.id}" does not draw the outline that it names`,
        );
      }
      out.push(
        `/${IMAGE_TAG} << /Kind /${mark.role} /Id ${hexText(ground.id)} /Width ${ground.width.toFixed(7)} /Height ${ground.height.toFixed(7)} >> BDC`,
      );
      outlines.add(drawn);
      drawAll(mark.marks);
      outlines.delete(drawn);
      out.push('EMC');
    }
    if (shows !== undefined) out.push('EMC');
  };

  const outlines = new Set<Mark>();

  const drawOne = (mark: Mark): void => {
    switch (mark.kind) {
      case 'path':
        if (outlines.has(mark)) out.push(`/${OUTLINE_TAG} BMC`);
        drawPath(mark);
        if (outlines.has(mark)) out.push('EMC');
        break;
      case 'hatch':
        drawHatch(mark);
        break;
      case 'text':
        drawText(mark);
        break;
      case 'clip':
        drawClip(mark);
        break;
      case 'group':
        drawGroup(mark);
        break;
      case 'link':
        break;
    }
  };

  const drawAll = (all: readonly Mark[]): void => {
    // Neighbours with the same bare tag (artifacts) share one.
    let standing: string | null = null;
    const end = (): void => {
      if (standing !== null) out.push('EMC');
      standing = null;
    };
    for (const mark of all) {
      const tag = tagger?.open(mark) ?? null;
      if (tag === null || tag !== standing) {
        end();
        if (tag !== null) out.push(tag);
        standing = tag;
      }
      drawOne(mark);
      if (tag?.endsWith('BDC')) end();
      tagger?.close(mark);
    }
    end();
  };

  drawAll(marks);
  return out.join('\n');
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
