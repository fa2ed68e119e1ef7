import { type PDFContext, type PDFDict, PDFName, type PDFRawStream } from 'pdf-lib';
import type { Box } from '../geometry.js';
import { pathBox } from '../print/path-geometry.js';
import { type DrawnFonts, runContent, runForm } from './content-runner.js';
import { type DrawnPage, startDrawing } from './drawn-page.js';
import { type GraphicsState, isAsStarted } from './graphics-state.js';
import { applyToSteps, type Matrix } from './matrix.js';

/** What forms draw that were read before; `read` reads one that was not. Null for one that cannot be held. */
export type FormDrawings = (form: PDFRawStream, read: () => DrawnPage | null) => DrawnPage | null;

const movedBox = (matrix: Matrix, { minX, minY, maxX, maxY }: Box): Box =>
  pathBox(
    applyToSteps(matrix, [
      ['M', minX, minY],
      ['L', maxX, maxY],
    ]),
  );

const overlap = (a: Box, b: Box): boolean =>
  Math.min(a.maxX, b.maxX) > Math.max(a.minX, b.minX) &&
  Math.min(a.maxY, b.maxY) > Math.max(a.minY, b.minY);

/** Around all texts of a drawing; from plus to minus infinity where it has none. */
const aroundTexts = ({ texts }: DrawnPage): Box => ({
  minX: Math.min(...texts.map(({ box }) => box.minX)),
  minY: Math.min(...texts.map(({ box }) => box.minY)),
  maxX: Math.max(...texts.map(({ box }) => box.maxX)),
  maxY: Math.max(...texts.map(({ box }) => box.maxY)),
});

/** Moved on, or turned by half besides: whatever is drawn stays as large as it is. */
const keepsSizes = ([a, b, c, d]: Matrix): boolean =>
  b === 0 && c === 0 && a === d && Math.abs(a) === 1;

/** A drawing at another place, as that of one of the pages there; `matrix` keeps sizes. */
const placedDrawing = (drawn: DrawnPage, matrix: Matrix, on: number): DrawnPage => {
  const at = <T extends { readonly box: Box }>(one: T): T => ({
    ...one,
    box: movedBox(matrix, one.box),
    on,
  });
  return {
    ...drawn,
    texts: drawn.texts.map(at),
    strokes: drawn.strokes.map(at),
    paints: drawn.paints.map(at),
    grounds: drawn.grounds.map((one) => ({
      ...one,
      outline: one.outline === null ? null : movedBox(matrix, one.outline),
      on,
    })),
    shows: drawn.shows.map((one) => ({ ...one, on })),
  };
};

/** What a form draws by itself; null where it looks at what is outside of it, or draws what only a page draws. */
const readForm = (context: PDFContext, form: PDFRawStream, fonts: DrawnFonts): DrawnPage | null => {
  if (!form.dict.has(PDFName.of('Resources'))) return null;
  const { sink, give } = startDrawing();
  runForm(context, form, sink, fonts);
  const drawn = give();
  return drawn.placed.length === 0 && drawn.crops.length === 0 ? drawn : null;
};

/**
 * A page of forms side by side, each read once for all pages that place it; null where the page is not so, and has to be read as it
 * runs.
 */
const drawnOfForms = (
  context: PDFContext,
  page: PDFDict,
  fonts: DrawnFonts,
  drawingOf: FormDrawings,
): DrawnPage | null => {
  const { sink, on: openOn, add, give } = startDrawing();
  const words: Box[] = [];
  let [isSo, count] = [true, 0];
  const take = (form: PDFRawStream, state: Readonly<GraphicsState>): boolean => {
    const on = openOn();
    if (on === null || !keepsSizes(state.matrix) || !isAsStarted(state)) return false;
    const drawn = drawingOf(form, () => readForm(context, form, fonts));
    if (drawn === null) return false;
    const placed = placedDrawing(drawn, state.matrix, on);
    const around = aroundTexts(placed);
    // Words of one that reach those of another would have to be looked at with these, one by one.
    if (words.some((one) => overlap(one, around))) return false;
    words.push(around);
    add(placed);
    count += 1;
    return true;
  };
  const whole = {
    ...sink,
    // So would words beside the forms.
    text: () => {
      isSo = false;
    },
    isTold: (form: PDFRawStream, state: Readonly<GraphicsState>) => {
      isSo &&= take(form, state);
      return true;
    },
  };
  runContent(context, page, whole, fonts);
  return isSo && count > 0 ? { ...give(), touching: [] } : null;
};

/** Runs the content of a page, forms included, and notes what it draws; `forms`: what is known of those that it places. */
export const readDrawnPage = (
  context: PDFContext,
  page: PDFDict,
  fonts: DrawnFonts = new Map(),
  forms?: FormDrawings,
): DrawnPage => {
  const known = forms === undefined ? null : drawnOfForms(context, page, fonts, forms);
  if (known !== null) return known;
  const { sink, give } = startDrawing();
  runContent(context, page, sink, fonts);
  return give();
};
