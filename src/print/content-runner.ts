import {
  decodePDFRawStream,
  PDFArray,
  PDFBool,
  type PDFContext,
  PDFDict,
  PDFName,
  PDFNumber,
  PDFRawStream,
} from 'pdf-lib';
import type { Box } from '../geometry.js';
import type { PathStep } from '../page/marks.js';
import { BLACK, type DrawnColour, spaceOf } from './drawn-colour.js';
import { type DrawnFont, readFont } from './drawn-fonts.js';
import { apply, applyToSteps, IDENTITY, type Matrix, multiply } from './matrix.js';
import { pathBox } from './path-geometry.js';
import { type Operand, operationsOf } from './pdf-operators.js';

/** The graphics state that a checker needs (ISO 32000-1, 8.4). */
export interface GraphicsState {
  matrix: Matrix;
  /** Extent of the clipping path, in the page's space. */
  clip: Box;
  fill: DrawnColour;
  stroke: DrawnColour;
  width: number;
  fillOverprint: boolean;
  strokeOverprint: boolean;
  font: DrawnFont | null;
  size: number;
  spacing: number;
  rise: number;
  mode: number;
}

/** What is told of a page's content as it runs; everything in the page's own space, points. */
export interface ContentSink {
  readonly paint: (
    steps: readonly PathStep[],
    painted: { readonly fill: boolean; readonly stroke: boolean },
    state: Readonly<GraphicsState>,
  ) => void;
  readonly text: (
    shown: {
      readonly words: string;
      readonly missing: boolean;
      readonly size: number;
      readonly box: Box;
    },
    state: Readonly<GraphicsState>,
  ) => void;
  readonly image: (columns: number, rows: number, state: Readonly<GraphicsState>) => void;
  /** A form is about to be placed. */
  readonly form: (state: Readonly<GraphicsState>) => void;
  readonly open: (tag: string, properties: ReadonlyMap<string, Operand>) => void;
  readonly close: () => void;
  readonly transparent: (why: string) => void;
}

const EVERYWHERE: Box = { minX: -Infinity, minY: -Infinity, maxX: Infinity, maxY: Infinity };

export const meet = (a: Box, b: Box): Box => ({
  minX: Math.max(a.minX, b.minX),
  minY: Math.max(a.minY, b.minY),
  maxX: Math.min(a.maxX, b.maxX),
  maxY: Math.min(a.maxY, b.maxY),
});

export const numberOf = (operand: Operand | undefined): number =>
  typeof operand === 'number' ? operand : 0;

export const nameOf = (operand: Operand | undefined): string =>
  typeof operand === 'object' && operand !== null && 'name' in operand ? operand.name : '';

export const bytesOf = (operand: Operand | undefined): Uint8Array =>
  typeof operand === 'object' && operand !== null && 'bytes' in operand
    ? operand.bytes
    : new Uint8Array();

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

  const run = (
    bytes: Uint8Array,
    resources: PDFDict,
    start: GraphicsState,
    depth: number,
  ): void => {
    if (depth > MOST_FORMS_DEEP) throw new Error('forms are nested too deep');
    let state = start;
    const stack: GraphicsState[] = [];
    let steps: PathStep[] = [];
    let here: readonly [number, number] = [0, 0];
    let clipNext = false;
    let text: Matrix = IDENTITY;
    let line: Matrix = IDENTITY;

    const resource = (kind: string, name: string): unknown => {
      const dictionary = resources.lookup(PDFName.of(kind));
      return dictionary instanceof PDFDict ? dictionary.lookup(PDFName.of(name)) : undefined;
    };

    const paint = (fill: boolean, stroke: boolean): void => {
      const inPage = applyToSteps(state.matrix, steps);
      if (steps.length > 0) {
        if (fill || stroke) sink.paint(inPage, { fill, stroke }, state);
        if (clipNext) state.clip = meet(pathBox(inPage), state.clip);
      }
      clipNext = false;
      steps = [];
    };

    /** Strings and the numbers between them, which move the next string back. */
    const showText = (parts: readonly Operand[]): void => {
      const { font } = state;
      if (font === null) return;
      let words = '';
      let missing = false;
      let advance = 0;
      for (const part of parts) {
        if (typeof part === 'number') {
          advance -= (part / 1000) * state.size;
          continue;
        }
        const bytes = bytesOf(part);
        for (let i = 0; i + font.codeLength <= bytes.length; i += font.codeLength) {
          const code = font.codeLength === 2 ? bytes[i] * 256 + bytes[i + 1] : bytes[i];
          if (font.codeLength === 2 && code === 0) missing = true;
          words += font.charactersOf(code);
          advance += (font.widthOf(code) / 1000) * state.size + state.spacing;
        }
      }
      const full = multiply(text, state.matrix);
      const foot = state.rise - 0.25 * state.size;
      const head = state.rise + 0.75 * state.size;
      const corners = [
        apply(full, 0, foot),
        apply(full, advance, foot),
        apply(full, 0, head),
        apply(full, advance, head),
      ];
      const box: Box = {
        minX: Math.min(...corners.map(([x]) => x)),
        minY: Math.min(...corners.map(([, y]) => y)),
        maxX: Math.max(...corners.map(([x]) => x)),
        maxY: Math.max(...corners.map(([, y]) => y)),
      };
      const size = state.size * Math.hypot(full[2], full[3]);
      if (state.mode !== 3) sink.text({ words, missing, size, box }, state);
      text = multiply([1, 0, 0, 1, advance, 0], text);
    };

    const setColour = (use: 'fill' | 'stroke', colour: DrawnColour): void => {
      state[use] = colour;
    };
    const device = (use: 'fill' | 'stroke', space: string, operands: readonly Operand[]): void =>
      setColour(use, { space, plate: null, components: operands.map(numberOf) });

    const graphicsState = (name: string): void => {
      const dictionary = resource('ExtGState', name);
      if (!(dictionary instanceof PDFDict)) return;
      const get = (key: string): unknown => dictionary.lookup(PDFName.of(key));
      const truth = (value: unknown): boolean => value instanceof PDFBool && value.asBoolean();
      if (dictionary.has(PDFName.of('OP'))) state.strokeOverprint = truth(get('OP'));
      if (dictionary.has(PDFName.of('op'))) state.fillOverprint = truth(get('op'));
      const width = get('LW');
      if (width instanceof PDFNumber) state.width = width.asNumber();
      for (const key of ['ca', 'CA']) {
        const value = get(key);
        if (value instanceof PDFNumber && value.asNumber() < 1) sink.transparent(`opacity ${key}`);
      }
      const mask = get('SMask');
      if (mask !== undefined && !(mask instanceof PDFName && mask.decodeText() === 'None')) {
        sink.transparent('soft mask');
      }
      const blend = get('BM');
      if (blend instanceof PDFName && !['Normal', 'Compatible'].includes(blend.decodeText())) {
        sink.transparent(`blend mode ${blend.decodeText()}`);
      }
    };

    const place = (name: string): void => {
      const object = resource('XObject', name);
      if (!(object instanceof PDFRawStream)) return;
      const { dict } = object;
      const kind = dict.lookup(PDFName.of('Subtype'));
      if (kind instanceof PDFName && kind.decodeText() === 'Image') {
        if (dict.has(PDFName.of('SMask'))) sink.transparent('image with a soft mask');
        sink.image(
          dict.lookup(PDFName.of('Width'), PDFNumber).asNumber(),
          dict.lookup(PDFName.of('Height'), PDFNumber).asNumber(),
          state,
        );
        return;
      }
      if (dict.has(PDFName.of('Group'))) sink.transparent('transparency group');
      sink.form(state);
      const matrix = multiply(
        (numbersOf(dict, 'Matrix') as unknown as Matrix) ?? IDENTITY,
        state.matrix,
      );
      const bounds = numbersOf(dict, 'BBox');
      const own = dict.lookup(PDFName.of('Resources'));
      const clip =
        bounds === null
          ? state.clip
          : meet(state.clip, pathBox(applyToSteps(matrix, boxSteps(bounds))));
      run(
        decodePDFRawStream(object).decode(),
        own instanceof PDFDict ? own : resources,
        { ...state, matrix, clip },
        depth + 1,
      );
    };

    for (const { operator, operands } of operationsOf(bytes)) {
      const n = (i: number): number => numberOf(operands[i]);
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
        case 'gs':
          graphicsState(nameOf(operands[0]));
          break;
        case 'm':
          steps.push(['M', n(0), n(1)]);
          here = [n(0), n(1)];
          break;
        case 'l':
          steps.push(['L', n(0), n(1)]);
          here = [n(0), n(1)];
          break;
        case 'c':
          steps.push(['C', n(0), n(1), n(2), n(3), n(4), n(5)]);
          here = [n(4), n(5)];
          break;
        case 'v':
          steps.push(['C', here[0], here[1], n(0), n(1), n(2), n(3)]);
          here = [n(2), n(3)];
          break;
        case 'y':
          steps.push(['C', n(0), n(1), n(2), n(3), n(2), n(3)]);
          here = [n(2), n(3)];
          break;
        case 'h':
          steps.push(['Z']);
          break;
        case 're':
          steps.push(
            ['M', n(0), n(1)],
            ['L', n(0) + n(2), n(1)],
            ['L', n(0) + n(2), n(1) + n(3)],
            ['L', n(0), n(1) + n(3)],
            ['Z'],
          );
          break;
        case 'W':
        case 'W*':
          clipNext = true;
          break;
        case 'n':
          paint(false, false);
          break;
        case 'S':
        case 's':
          paint(false, true);
          break;
        case 'f':
        case 'F':
        case 'f*':
          paint(true, false);
          break;
        case 'B':
        case 'B*':
        case 'b':
        case 'b*':
          paint(true, true);
          break;
        case 'g':
          device('fill', 'DeviceGray', operands);
          break;
        case 'G':
          device('stroke', 'DeviceGray', operands);
          break;
        case 'rg':
          device('fill', 'DeviceRGB', operands);
          break;
        case 'RG':
          device('stroke', 'DeviceRGB', operands);
          break;
        case 'k':
          device('fill', 'DeviceCMYK', operands);
          break;
        case 'K':
          device('stroke', 'DeviceCMYK', operands);
          break;
        case 'cs':
        case 'CS':
          setColour(operator === 'cs' ? 'fill' : 'stroke', {
            ...spaceOf(resources, nameOf(operands[0])),
            components: [1],
          });
          break;
        case 'sc':
        case 'scn':
          state.fill = { ...state.fill, components: operands.map(numberOf) };
          break;
        case 'SC':
        case 'SCN':
          state.stroke = { ...state.stroke, components: operands.map(numberOf) };
          break;
        case 'BT':
          text = IDENTITY;
          line = IDENTITY;
          break;
        case 'Tf': {
          const dictionary = resource('Font', nameOf(operands[0]));
          if (dictionary instanceof PDFDict) {
            const known = fonts.get(dictionary) ?? readFont(context, dictionary);
            fonts.set(dictionary, known);
            state.font = known;
          }
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
          showText([operands[0]]);
          break;
        case 'TJ':
          showText((operands[0] as readonly Operand[]) ?? []);
          break;
        case 'Do':
          place(nameOf(operands[0]));
          break;
        case 'BMC':
        case 'BDC': {
          const given = operands[1];
          sink.open(
            nameOf(operands[0]),
            typeof given === 'object' && given !== null && 'dictionary' in given
              ? given.dictionary
              : new Map<string, Operand>(),
          );
          break;
        }
        case 'EMC':
          sink.close();
          break;
      }
    }
  };

  const resources = page.lookup(PDFName.of('Resources'));
  if (page.has(PDFName.of('Group'))) sink.transparent('transparency group of the page');
  run(
    contentBytes(page),
    resources instanceof PDFDict ? resources : context.obj({}),
    {
      matrix: IDENTITY,
      clip: EVERYWHERE,
      fill: BLACK,
      stroke: BLACK,
      width: 1,
      fillOverprint: false,
      strokeOverprint: false,
      font: null,
      size: 0,
      spacing: 0,
      rise: 0,
      mode: 0,
    },
    0,
  );
};
