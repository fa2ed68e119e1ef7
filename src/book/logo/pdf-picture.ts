import type { PDFContext, PDFPage } from 'pdf-lib';
import { runContent } from '../../check/content-runner.js';
import type { DrawnColour } from '../../check/drawn-colour.js';
import type { GraphicsState } from '../../check/graphics-state.js';
import { loadPdf } from '../../check/load-pdf.js';
import { scaleOf } from '../../check/matrix.js';
import { InputFault } from '../../fault.js';
import type { Paint, PathMark, PathStep, Stroke } from '../../page/marks/marks.js';
import type { LogoPicture } from '../../page/marks/picture.js';
import type { Rgb } from '../../print/ink-values.js';
import { pathBox } from '../../print/path-geometry.js';
import { leavesFrame } from './logo-frame.js';
import { lineStyle, paintOf } from './logo-paint.js';

const PLAIN = 'draw it in shapes of flat colours, its type turned into outlines';
/** Of a path that a clip leaves whole, points. */
const SLACK = 0.05;

const rgbOf = ({ space, components }: DrawnColour): Rgb | null => {
  const [a, b = 0, c = 0, d = 0] = components;
  switch (space) {
    case 'DeviceGray':
      return [a, a, a];
    case 'DeviceRGB':
      return [a, b, c];
    case 'DeviceCMYK':
      return [1 - Math.min(1, a + d), 1 - Math.min(1, b + d), 1 - Math.min(1, c + d)];
    // A plate of its own is a tone of the dark ink.
    case 'Separation':
      return [1 - a, 1 - a, 1 - a];
    default:
      return null;
  }
};

const lineOf = ({ dash, cap, join }: GraphicsState, scale: number): Partial<Stroke> =>
  lineStyle(
    dash.map((one) => one * scale),
    { cap: cap === 1, join: join === 1 },
  );

/** Runs a page's content; what is damaged in it is the file's fault. */
const drawn = (run: () => void, fault: (problem: string, cure: string) => InputFault): void => {
  try {
    run();
  } catch (error) {
    if (error instanceof InputFault) throw error;
    throw fault('its drawing is damaged', 'save it again');
  }
};

/**
 * The first page of a PDF as marks, so many millimetres wide.
 *
 * @throws InputFault for type, pictures, transparency, clips that cut, and colours of no device.
 */
export const pdfPicture = async (
  bytes: Uint8Array,
  file: string,
  width: number,
): Promise<LogoPicture> => {
  const fault = (problem: string, cure = PLAIN): InputFault =>
    new InputFault({ file }, problem, cure);
  let page: PDFPage;
  let context: PDFContext;
  let [angle, frame] = [0, { x: 0, y: 0, width: 0, height: 0 }];
  try {
    const document = await loadPdf(bytes, {});
    const pages = document.getPages();
    if (pages.length !== 1) throw fault(`it has ${pages.length} pages`, 'give a PDF of one page');
    [page] = pages;
    context = document.context;
    [angle, frame] = [page.getRotation().angle, page.getTrimBox()];
  } catch (error) {
    if (error instanceof InputFault) throw error;
    throw fault('the PDF is broken or locked', 'save it again');
  }
  if (angle % 360 !== 0) {
    throw fault(`its page is turned by ${angle} degrees`, 'save it upright');
  }
  const { x, y, width: wide, height: high } = frame;
  const scale = width / wide;
  const moved = (steps: readonly PathStep[]): PathStep[] =>
    steps.map(
      ([letter, ...at]) =>
        [
          letter,
          ...at.map((v, i) => (i % 2 === 0 ? (v - x) * scale : (y + high - v) * scale)),
        ] as unknown as PathStep,
    );
  const paint = (colour: DrawnColour): Paint => {
    const rgb = rgbOf(colour);
    if (rgb === null) throw fault(`it is painted in ${colour.space}`);
    return paintOf(rgb);
  };
  const marks: PathMark[] = [];
  drawn(
    () =>
      runContent(context, page.node, {
        paint: (steps, { fill, stroke, evenOdd }, state) => {
          const [box, { clip }] = [pathBox(steps), state];
          const isCut =
            box.minX < clip.minX - SLACK ||
            box.minY < clip.minY - SLACK ||
            box.maxX > clip.maxX + SLACK ||
            box.maxY > clip.maxY + SLACK;
          if (isCut)
            throw fault('a clip cuts off a part of it', 'draw the shape that is seen, without it');
          const mark: PathMark = {
            kind: 'path',
            steps: moved(steps),
            ...(fill ? { fill: paint(state.fill) } : {}),
            ...(evenOdd ? { rule: 'evenodd' as const } : {}),
            ...(stroke
              ? {
                  stroke: {
                    paint: paint(state.stroke),
                    width: state.width * scaleOf(state.matrix) * scale,
                    ...lineOf(state, scaleOf(state.matrix) * scale),
                  },
                }
              : {}),
          };
          if (leavesFrame(mark, { width, height: high * scale })) {
            throw fault('it draws outside its page', 'save it cut to what is drawn');
          }
          marks.push(mark);
        },
        text: () => {
          throw fault('it holds type');
        },
        image: () => {
          throw fault('it holds a picture of pixels', 'draw it in shapes, or give a PNG in greys');
        },
        form: () => {},
        open: () => {},
        close: () => {},
        transparent: (why) => {
          throw fault(`it is transparent: ${why}`);
        },
      }),
    fault,
  );
  if (marks.length === 0) throw fault('it draws nothing');
  return { width, height: high * scale, marks };
};
