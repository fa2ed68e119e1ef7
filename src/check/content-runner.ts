import {
  decodePDFRawStream,
  PDFArray,
  type PDFContext,
  PDFDict,
  PDFName,
  PDFNumber,
  PDFRawStream,
} from 'pdf-lib';
import type { PathStep } from '../page/marks/marks.js';
import { pathBox } from '../print/path-geometry.js';
import { colourSetBy } from './drawn-colour.js';
import { type DrawnFont, readFont } from './drawn-fonts.js';
import { startPath } from './drawn-path.js';
import { type GraphicsState, meet, pageStart, setFromDictionary } from './graphics-state.js';
import { applyToSteps, IDENTITY, type Matrix, multiply } from './matrix.js';
import { entriesOf, nameOf, numberOf, type Operand, operationsOf } from './pdf-operators.js';
import { readShown, type ShownText } from './shown-text.js';

/** What is told of a page's content as it runs; everything in the page's own space, points. */
export interface ContentSink {
  readonly paint: (
    steps: readonly PathStep[],
    painted: { readonly fill: boolean; readonly stroke: boolean },
    state: Readonly<GraphicsState>,
  ) => void;
  readonly text: (shown: ShownText, state: Readonly<GraphicsState>) => void;
  readonly image: (columns: number, rows: number, state: Readonly<GraphicsState>) => void;
  /** A form is about to be placed. */
  readonly form: (state: Readonly<GraphicsState>) => void;
  readonly open: (tag: string, properties: ReadonlyMap<string, Operand>) => void;
  readonly close: () => void;
  readonly transparent: (why: string) => void;
}

/** Painting operators, and whether they fill and stroke (ISO 32000-1, 8.5.3). */
const PAINTING: Readonly<Record<string, readonly [fill: boolean, stroke: boolean]>> = {
  n: [false, false],
  S: [false, true],
  s: [false, true],
  f: [true, false],
  F: [true, false],
  'f*': [true, false],
  B: [true, true],
  'B*': [true, true],
  b: [true, true],
  'b*': [true, true],
};

/** All bytes of a page's content, whether it is one stream or several. */
export const contentBytes = (page: PDFDict): Uint8Array => {
  const contents = page.lookup(PDFName.of('Contents'));
  const streams =
    contents instanceof PDFArray
      ? Array.from({ length: contents.size() }, (_, i) => contents.lookup(i))
      : [contents];
  return Buffer.concat(
    streams.flatMap((stream) =>
      stream instanceof PDFRawStream
        ? [decodePDFRawStream(stream).decode(), Uint8Array.of(10)]
        : [],
    ),
  );
};

const numbersOf = (dictionary: PDFDict, key: string): number[] | null => {
  const list = dictionary.lookup(PDFName.of(key));
  return list instanceof PDFArray
    ? Array.from({ length: list.size() }, (_, i) => list.lookup(i, PDFNumber).asNumber())
    : null;
};

const boxSteps = ([left, bottom, right, top]: readonly number[]): PathStep[] => [
  ['M', left, bottom],
  ['L', right, bottom],
  ['L', right, top],
  ['L', left, top],
];

const MOST_FORMS_DEEP = 12;

/** Runs the content of a page, forms included. */
export const runContent = (context: PDFContext, page: PDFDict, sink: ContentSink): void => {
  const fonts = new Map<PDFDict, DrawnFont>();
  const fontOf = (dictionary: PDFDict): DrawnFont => {
    const font = fonts.get(dictionary) ?? readFont(context, dictionary);
    fonts.set(dictionary, font);
    return font;
  };

  const run = (
    bytes: Uint8Array,
    resources: PDFDict,
    start: GraphicsState,
    depth: number,
  ): void => {
    if (depth > MOST_FORMS_DEEP) throw new Error('forms are nested too deep');
    let state = start;
    const stack: GraphicsState[] = [];
    const path = startPath();
    let clipNext = false;
    let text: Matrix = IDENTITY;
    let line: Matrix = IDENTITY;

    const resource = (kind: string, name: string): unknown => {
      const dictionary = resources.lookup(PDFName.of(kind));
      return dictionary instanceof PDFDict ? dictionary.lookup(PDFName.of(name)) : undefined;
    };

    const paint = (fill: boolean, stroke: boolean): void => {
      const steps = applyToSteps(state.matrix, path.finish());
      if (steps.length > 0) {
        if (fill || stroke) sink.paint(steps, { fill, stroke }, state);
        if (clipNext) state.clip = meet(pathBox(steps), state.clip);
      }
      clipNext = false;
    };

    const show = (parts: readonly Operand[]): void => {
      const read = readShown(parts, text, state);
      if (read === null) return;
      // Mode 3 is invisible (ISO 32000-1, table 106).
      if (state.mode !== 3) sink.text(read.shown, state);
      text = multiply([1, 0, 0, 1, read.advance, 0], text);
    };

    const placeForm = (form: PDFRawStream): void => {
      const { dict } = form;
      if (dict.has(PDFName.of('Group'))) sink.transparent('transparency group');
      sink.form(state);
      const own = numbersOf(dict, 'Matrix') as unknown as Matrix | null;
      const matrix = multiply(own ?? IDENTITY, state.matrix);
      const bounds = numbersOf(dict, 'BBox');
      const inside = bounds === null ? null : pathBox(applyToSteps(matrix, boxSteps(bounds)));
      const clip = inside === null ? state.clip : meet(state.clip, inside);
      const held = dict.lookup(PDFName.of('Resources'));
      run(
        decodePDFRawStream(form).decode(),
        held instanceof PDFDict ? held : resources,
        { ...state, matrix, clip },
        depth + 1,
      );
    };

    const place = (name: string): void => {
      const object = resource('XObject', name);
      if (!(object instanceof PDFRawStream)) return;
      const { dict } = object;
      const kind = dict.lookup(PDFName.of('Subtype'));
      if (!(kind instanceof PDFName) || kind.decodeText() !== 'Image') {
        placeForm(object);
        return;
      }
      if (dict.has(PDFName.of('SMask'))) sink.transparent('image with a soft mask');
      sink.image(
        dict.lookup(PDFName.of('Width'), PDFNumber).asNumber(),
        dict.lookup(PDFName.of('Height'), PDFNumber).asNumber(),
        state,
      );
    };

    /** Operators of text, of the state, of forms and of marked content. */
    const act = (
      operator: string,
      operands: readonly Operand[],
      n: (i: number) => number,
    ): void => {
      switch (operator) {
        case 'q':
          stack.push({ ...state });
          break;
        case 'Q':
          state = stack.pop() ?? state;
          break;
        case 'cm':
          state.matrix = multiply([n(0), n(1), n(2), n(3), n(4), n(5)], state.matrix);
          break;
        case 'w':
          state.width = n(0);
          break;
        case 'gs': {
          const dictionary = resource('ExtGState', nameOf(operands[0]));
          if (dictionary instanceof PDFDict) {
            setFromDictionary(state, dictionary, sink.transparent);
          }
          break;
        }
        case 'W':
        case 'W*':
          clipNext = true;
          break;
        case 'BT':
          text = IDENTITY;
          line = IDENTITY;
          break;
        case 'Tf': {
          const dictionary = resource('Font', nameOf(operands[0]));
          if (dictionary instanceof PDFDict) state.font = fontOf(dictionary);
          state.size = n(1);
          break;
        }
        case 'Tc':
          state.spacing = n(0);
          break;
        case 'Ts':
          state.rise = n(0);
          break;
        case 'Tr':
          state.mode = n(0);
          break;
        case 'Td':
        case 'TD':
          line = multiply([1, 0, 0, 1, n(0), n(1)], line);
          text = line;
          break;
        case 'Tm':
          line = [n(0), n(1), n(2), n(3), n(4), n(5)];
          text = line;
          break;
        case 'Tj':
          show([operands[0]]);
          break;
        case 'TJ':
          show((operands[0] as readonly Operand[]) ?? []);
          break;
        case 'Do':
          place(nameOf(operands[0]));
          break;
        case 'BMC':
        case 'BDC':
          sink.open(nameOf(operands[0]), entriesOf(operands[1]));
          break;
        case 'EMC':
          sink.close();
          break;
      }
    };

    for (const { operator, operands } of operationsOf(bytes)) {
      const n = (i: number): number => numberOf(operands[i]);
      if (path.take(operator, n)) continue;
      const painted = PAINTING[operator];
      if (painted !== undefined) {
        paint(...painted);
        continue;
      }
      const set = colourSetBy(operator, operands, state, resources);
      if (set === null) act(operator, operands, n);
      else state[set.use] = set.colour;
    }
  };

  const resources = page.lookup(PDFName.of('Resources'));
  if (page.has(PDFName.of('Group'))) sink.transparent('transparency group of the page');
  const start = resources instanceof PDFDict ? resources : context.obj({});
  run(contentBytes(page), start, pageStart(), 0);
};
