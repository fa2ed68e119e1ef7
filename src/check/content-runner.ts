import { type PDFContext, PDFDict, PDFName, PDFNumber, PDFRawStream } from 'pdf-lib';
import { INPUT_LIMITS } from '../input-limits.js';
import type { PathStep } from '../page/marks/marks.js';
import { pathBox } from '../print/path-geometry.js';
import { contentBytes, streamBytes } from './content-bytes.js';
import type { ContentSink } from './content-sink.js';
import { colourSetBy } from './drawn-colour.js';
import { type DrawnFont, readFont } from './drawn-fonts.js';
import { startPath } from './drawn-path.js';
import { type GraphicsState, meet, pageStart, setFromDictionary } from './graphics-state.js';
import { applyToSteps, IDENTITY, type Matrix, multiply } from './matrix.js';
import { numbersOf, unitOfPage } from './page-numbers.js';
import { entriesOf, nameOf, numberOf, type Operand, operationsOf } from './pdf-operators.js';
import { readShown } from './shown-text.js';

/** Painting operators, and whether they fill and stroke (ISO 32000-1, 8.5.3). */
const PAINTING: ReadonlyMap<string, readonly [fill: boolean, stroke: boolean]> = new Map([
  ['n', [false, false]],
  ['S', [false, true]],
  ['s', [false, true]],
  ['f', [true, false]],
  ['F', [true, false]],
  ['f*', [true, false]],
  ['B', [true, true]],
  ['B*', [true, true]],
  ['b', [true, true]],
  ['b*', [true, true]],
]);

const boxSteps = ([left, bottom, right, top]: readonly number[]): PathStep[] => [
  ['M', left, bottom],
  ['L', right, bottom],
  ['L', right, top],
  ['L', left, top],
];

/** One content stream as it runs: a page's, or a form's. */
interface Run {
  readonly sink: ContentSink;
  readonly fontOf: (dictionary: PDFDict) => DrawnFont;
  readonly resources: PDFDict;
  readonly depth: number;
  readonly stack: GraphicsState[];
  readonly path: ReturnType<typeof startPath>;
  state: GraphicsState;
  clipNext: boolean;
  text: Matrix;
  line: Matrix;
}

/** The fonts of a file that have been read. */
export type DrawnFonts = Map<PDFDict, DrawnFont>;

const fontsOf =
  (context: PDFContext, fonts: DrawnFonts): Run['fontOf'] =>
  (dictionary) => {
    const font = fonts.get(dictionary) ?? readFont(context, dictionary);
    fonts.set(dictionary, font);
    return font;
  };

/** Runs the content of a page, forms included. */
export const runContent = (
  context: PDFContext,
  page: PDFDict,
  sink: ContentSink,
  fonts: DrawnFonts = new Map(),
): void => {
  const fontOf = fontsOf(context, fonts);
  const held = page.lookup(PDFName.of('Resources'));
  const resources = held instanceof PDFDict ? held : context.obj({});
  if (page.has(PDFName.of('Group'))) sink.transparent('transparency group of the page');
  runStream({ sink, fontOf, resources, depth: 0 }, contentBytes(page), pageStart(unitOfPage(page)));
};

const runStream = (
  of: Pick<Run, 'sink' | 'fontOf' | 'resources' | 'depth'>,
  bytes: Uint8Array,
  state: GraphicsState,
): void => {
  if (of.depth > INPUT_LIMITS.pdfForms) throw new Error('forms are nested too deep');
  const run: Run = {
    ...of,
    stack: [],
    path: startPath(),
    state,
    clipNext: false,
    text: IDENTITY,
    line: IDENTITY,
  };
  for (const { operator, operands } of operationsOf(bytes)) {
    const n = (i: number): number => numberOf(operands[i]);
    if (run.path.take(operator, n)) continue;
    const painted = PAINTING.get(operator);
    if (painted !== undefined) {
      paint(run, ...painted, operator.endsWith('*'));
      continue;
    }
    const set = colourSetBy(operator, operands, run.state, run.resources);
    if (set === null) ACTS.get(operator)?.(run, operands, n);
    else run.state[set.use] = set.colour;
  }
};

type Act = (run: Run, operands: readonly Operand[], n: (i: number) => number) => void;

const moveBy = (run: Run, x: number, y: number): void => {
  run.line = multiply([1, 0, 0, 1, x, y], run.line);
  run.text = run.line;
};

const nextLine = (run: Run): void => moveBy(run, 0, -run.state.leading);

const clip: Act = (run) => {
  run.clipNext = true;
};

const open: Act = ({ sink }, operands) => sink.open(nameOf(operands[0]), entriesOf(operands[1]));

/** What operators of text, of the state, of forms and of marked content do (ISO 32000-1, annex A). */
const ACTS: ReadonlyMap<string, Act> = new Map(
  Object.entries<Act>({
    q: (run) => {
      run.stack.push({ ...run.state });
    },
    Q: (run) => {
      run.state = run.stack.pop() ?? run.state;
    },
    cm: ({ state }, _, n) => {
      state.matrix = multiply([n(0), n(1), n(2), n(3), n(4), n(5)], state.matrix);
    },
    w: ({ state }, _, n) => {
      state.width = n(0);
    },
    d: ({ state }, operands) => {
      state.dash = ((operands[0] as readonly Operand[]) ?? []).map(numberOf);
    },
    J: ({ state }, _, n) => {
      state.cap = n(0);
    },
    j: ({ state }, _, n) => {
      state.join = n(0);
    },
    gs: (run, operands) => {
      const dictionary = resource(run, 'ExtGState', nameOf(operands[0]));
      if (dictionary instanceof PDFDict) {
        setFromDictionary(run.state, dictionary, run.sink.transparent);
      }
    },
    W: clip,
    'W*': clip,
    BT: (run) => {
      run.text = IDENTITY;
      run.line = IDENTITY;
    },
    Tf: (run, operands, n) => {
      const dictionary = resource(run, 'Font', nameOf(operands[0]));
      if (dictionary instanceof PDFDict) run.state.font = run.fontOf(dictionary);
      run.state.size = n(1);
    },
    Tc: ({ state }, _, n) => {
      state.spacing = n(0);
    },
    Ts: ({ state }, _, n) => {
      state.rise = n(0);
    },
    Tr: ({ state }, _, n) => {
      state.mode = n(0);
    },
    TL: ({ state }, _, n) => {
      state.leading = n(0);
    },
    Td: (run, _, n) => moveBy(run, n(0), n(1)),
    TD: (run, _, n) => {
      run.state.leading = -n(1);
      moveBy(run, n(0), n(1));
    },
    'T*': nextLine,
    Tm: (run, _, n) => {
      run.line = [n(0), n(1), n(2), n(3), n(4), n(5)];
      run.text = run.line;
    },
    Tj: (run, operands) => show(run, [operands[0]]),
    "'": (run, operands) => {
      nextLine(run);
      show(run, [operands[0]]);
    },
    '"': (run, operands, n) => {
      run.state.spacing = n(1);
      nextLine(run);
      show(run, [operands[2]]);
    },
    TJ: (run, operands) => show(run, (operands[0] as readonly Operand[]) ?? []),
    Do: (run, operands) => place(run, nameOf(operands[0])),
    ID: (run, operands) => placeInline(run, operands),
    BMC: open,
    BDC: open,
    EMC: ({ sink }) => sink.close(),
  }),
);

const resource = ({ resources }: Run, kind: string, name: string): unknown => {
  const dictionary = resources.lookup(PDFName.of(kind));
  return dictionary instanceof PDFDict ? dictionary.lookup(PDFName.of(name)) : undefined;
};

const paint = (run: Run, fill: boolean, stroke: boolean, evenOdd: boolean): void => {
  const { state, sink } = run;
  const steps = applyToSteps(state.matrix, run.path.finish());
  if (steps.length > 0) {
    if (fill || stroke) sink.paint(steps, { fill, stroke, evenOdd }, state);
    if (run.clipNext) state.clip = meet(pathBox(steps), state.clip);
  }
  run.clipNext = false;
};

const show = (run: Run, parts: readonly Operand[]): void => {
  const read = readShown(parts, run.text, run.state);
  if (read === null) return;
  // Mode 3 is invisible (ISO 32000-1, table 106).
  if (run.state.mode !== 3) run.sink.text(read.shown, run.state);
  run.text = multiply([1, 0, 0, 1, read.advance, 0], run.text);
};

/** Runs a form by itself, as it is drawn where a page begins. */
export const runForm = (
  context: PDFContext,
  form: PDFRawStream,
  sink: ContentSink,
  fonts: DrawnFonts,
): void => {
  const fontOf = fontsOf(context, fonts);
  const resources = context.obj({});
  placeForm({ sink, fontOf, resources, depth: 0, state: pageStart(1) }, form);
};

/** Places an image or a form. */
const place = (run: Run, name: string): void => {
  const object = resource(run, 'XObject', name);
  if (!(object instanceof PDFRawStream)) return;
  const { dict } = object;
  const kind = dict.lookup(PDFName.of('Subtype'));
  if (!(kind instanceof PDFName) || kind.decodeText() !== 'Image') {
    placeForm(run, object);
    return;
  }
  if (dict.has(PDFName.of('SMask'))) run.sink.transparent('image with a soft mask');
  run.sink.image(
    dict.lookup(PDFName.of('Width'), PDFNumber).asNumber(),
    dict.lookup(PDFName.of('Height'), PDFNumber).asNumber(),
    run.state,
  );
};

/** A picture in the content itself: its dictionary stands before the data, keys short or long (ISO 32000-1, table 93). */
const placeInline = ({ sink, state }: Run, operands: readonly Operand[]): void => {
  const size = (...keys: readonly string[]): number =>
    numberOf(
      operands[operands.findIndex((one, i) => i % 2 === 0 && keys.includes(nameOf(one))) + 1],
    );
  sink.image(size('W', 'Width'), size('H', 'Height'), state);
};

const placeForm = (
  {
    sink,
    fontOf,
    resources,
    depth,
    state,
  }: Pick<Run, 'sink' | 'fontOf' | 'resources' | 'depth' | 'state'>,
  form: PDFRawStream,
): void => {
  const { dict } = form;
  if (dict.has(PDFName.of('Group'))) sink.transparent('transparency group');
  sink.form(state);
  if (depth === 0 && sink.isTold?.(form, state) === true) return;
  const own = numbersOf(dict, 'Matrix') as unknown as Matrix | null;
  const matrix = multiply(own ?? IDENTITY, state.matrix);
  const bounds = numbersOf(dict, 'BBox');
  const inside = bounds === null ? null : pathBox(applyToSteps(matrix, boxSteps(bounds)));
  const held = dict.lookup(PDFName.of('Resources'));
  runStream(
    {
      sink,
      fontOf,
      resources: held instanceof PDFDict ? held : resources,
      depth: depth + 1,
    },
    streamBytes(form),
    { ...state, matrix, clip: inside === null ? state.clip : meet(state.clip, inside) },
  );
};
