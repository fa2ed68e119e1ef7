import sax from 'sax';
import SVGPathCommander from 'svg-path-commander';
import { apply, IDENTITY, type Matrix, multiply, scaleOf } from '../../check/matrix.js';
import { InputFault, quoted } from '../../fault.js';
import { INPUT_LIMITS } from '../../input-limits.js';
import type { Paint, PathMark, PathStep, Stroke } from '../../page/marks/marks.js';
import type { LogoPicture } from '../../page/marks/picture.js';
import type { Rgb } from '../../print/ink-values.js';
import { writeXml } from '../../xml-text.js';
import { leavesFrame } from './logo-frame.js';
import { lineStyle, paintOf } from './logo-paint.js';
import { transformOf } from './svg-transform.js';

/** How a shape is painted, as it is handed down from group to shape. */
interface Style {
  readonly map: Matrix;
  readonly values: Readonly<Record<string, string>>;
}

const NAMED: Readonly<Record<string, Rgb>> = {
  black: [0, 0, 0],
  currentcolor: [0, 0, 0],
  white: [1, 1, 1],
  gray: [0.5, 0.5, 0.5],
  grey: [0.5, 0.5, 0.5],
};

const HANDED_DOWN = [
  'fill',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'stroke-linecap',
  'stroke-linejoin',
  'fill-rule',
  'color',
] as const;
const SHAPES = ['path', 'rect', 'circle', 'ellipse', 'line', 'polyline', 'polygon'];
/** Elements that draw nothing. */
const SILENT = ['svg', 'g', 'title', 'desc', 'metadata', 'defs'];
type Fault = (problem: string, cure?: string) => InputFault;

const colourOf = (text: string, fault: Fault): Rgb => {
  const word = text.trim().toLowerCase();
  const hex = /^#([0-9a-f]{3}|[0-9a-f]{6})$/.exec(word)?.[1];
  if (hex !== undefined) {
    const parts = hex.length === 3 ? [...hex].map((c) => c + c) : hex.match(/../g)!;
    return parts.map((part) => Number.parseInt(part, 16) / 255) as unknown as Rgb;
  }
  const rgb = /^rgb\(\s*(\d{1,3})[\s,]+(\d{1,3})[\s,]+(\d{1,3})\s*\)$/.exec(word);
  if (rgb !== null) return rgb.slice(1).map((part) => Number(part) / 255) as unknown as Rgb;
  if (Object.hasOwn(NAMED, word)) return NAMED[word];
  throw fault(`${quoted(text)} is no flat colour that can be read`, 'write colours as #rrggbb');
};

const paintFrom = (text: string | undefined, fault: Fault): Paint | null =>
  text === undefined || text.trim() === 'none' || text.trim() === 'transparent'
    ? null
    : paintOf(colourOf(text, fault));

const numberIn = (text: string | undefined, otherwise: number, fault: Fault): number => {
  if (text === undefined) return otherwise;
  const value = /^\s*-?[\d.]+(e-?\d+)?(px)?\s*$/.test(text) ? Number.parseFloat(text) : Number.NaN;
  if (Number.isFinite(value)) return value;
  throw fault(`${quoted(text)} is no plain number`, 'write lengths without a unit');
};

type Segments = readonly (readonly [string, ...number[]])[];

/** A shape's path in straight and cubic segments. */
const segmentsOf = (name: string, values: Style['values'], fault: Fault): Segments => {
  try {
    if (name === 'path') {
      return new SVGPathCommander(values.d ?? '').toAbsolute().toCurve().segments as Segments;
    }
    const numbers = Object.fromEntries(
      Object.entries(values).map(([key, value]) => [
        key,
        /^[\s\d.e-]+$/.test(value) ? Number(value) : value,
      ]),
    );
    const shape = SVGPathCommander.shapeToPathArray({ ...numbers, type: name } as never);
    return shape === false ? [] : (SVGPathCommander.pathToCurve(shape) as Segments);
  } catch {
    throw fault(`a ${name} cannot be read`, 'save it again as plain SVG');
  }
};

const stepsOf = (segments: Segments, map: Matrix, fault: Fault): PathStep[] =>
  segments.map(([letter, ...v]): PathStep => {
    const at = [0, 2, 4].flatMap((i) => (i < v.length ? apply(map, v[i], v[i + 1]) : []));
    if (!at.every(Number.isFinite)) throw fault('a path holds what is no number');
    if (letter === 'M' && at.length === 2) return ['M', at[0], at[1]];
    if (letter === 'C' && at.length === 6) return ['C', ...at] as unknown as PathStep;
    if (letter === 'Z') return ['Z'];
    throw fault(`a path holds a segment ${quoted(letter)}`, 'save it again as plain SVG');
  });

const refuseVeils = (values: Style['values'], fault: Fault): void => {
  for (const key of ['opacity', 'fill-opacity', 'stroke-opacity']) {
    if (values[key] !== undefined && Number.parseFloat(values[key]) !== 1) {
      throw fault(`${key} is not 1`, 'a press has no transparency: use flat colours');
    }
  }
  for (const key of ['clip-path', 'mask', 'filter']) {
    if (values[key] !== undefined && values[key] !== 'none') {
      throw fault(`it has a ${key}`, 'draw the shape that is seen, without it');
    }
  }
};

/** Refuses what would be lost without a word: parts that are not shown, colours by names, frames of their own. */
const refuseUnread = (name: string, own: Style['values'], fault: Fault): void => {
  if (name === 'svg') {
    throw fault('it has a drawing inside the drawing', 'save it again as plain SVG');
  }
  if (name === 'style') {
    throw fault(
      'it is painted by a style sheet',
      'save it with its colours on each shape (as "presentation attributes")',
    );
  }
  if (own.visibility !== undefined && own.visibility !== 'visible') {
    throw fault('it has parts that are not shown', 'leave them out');
  }
};

/** Attributes, with what a style attribute says laid over them. */
const valuesOf = (attributes: Readonly<Record<string, unknown>>): Record<string, string> => ({
  ...Object.fromEntries(Object.entries(attributes).map(([key, value]) => [key, String(value)])),
  ...Object.fromEntries(
    String(attributes.style ?? '')
      .split(';')
      .flatMap((one) => {
        const [key, value] = one.split(':');
        return value === undefined ? [] : [[key.trim(), value.trim()]];
      }),
  ),
});

const lineOf = (values: Style['values'], map: Matrix, fault: Fault): Partial<Stroke> => {
  const dashes = (values['stroke-dasharray'] ?? 'none').trim();
  const lengths = dashes === 'none' ? [] : dashes.split(/[\s,]+/);
  return lineStyle(
    lengths.map((one) => numberIn(one, 0, fault) * scaleOf(map)),
    { cap: values['stroke-linecap'] === 'round', join: values['stroke-linejoin'] === 'round' },
  );
};

const shapeMark = (name: string, { map, values }: Style, fault: Fault): PathMark[] => {
  const steps = stepsOf(segmentsOf(name, values, fault), map, fault);
  const fill = name === 'line' ? null : paintFrom(values.fill ?? 'black', fault);
  const line = paintFrom(values.stroke, fault);
  const width = numberIn(values['stroke-width'], 1, fault) * scaleOf(map);
  if (steps.length === 0 || (fill === null && line === null)) return [];
  return [
    {
      kind: 'path',
      steps,
      ...(fill === null ? {} : { fill }),
      ...(values['fill-rule'] === 'evenodd' ? { rule: 'evenodd' as const } : {}),
      ...(line === null ? {} : { stroke: { paint: line, width, ...lineOf(values, map, fault) } }),
    },
  ];
};

/** The frame of the drawing: its viewBox, or its size. */
const frameOf = (values: Style['values'], fault: Fault): readonly number[] => {
  const box = values.viewBox
    ?.trim()
    .split(/[\s,]+/)
    .map(Number);
  const frame = box ?? [
    0,
    0,
    numberIn(values.width, Number.NaN, fault),
    numberIn(values.height, Number.NaN, fault),
  ];
  if (frame.length === 4 && frame.every(Number.isFinite) && frame[2] > 0 && frame[3] > 0)
    return frame;
  throw fault('it has no viewBox of four numbers', 'save it again as plain SVG');
};

/**
 * An SVG drawing of flat shapes as marks, so many millimetres wide.
 *
 * @throws InputFault for what a press would not print as it is shown: type, pictures, gradients, transparency.
 */
export const svgPicture = (text: string, file: string, width: number): LogoPicture => {
  const reader = sax.parser(true);
  const fault: Fault = (problem, cure) =>
    new InputFault({ file, place: `line ${reader.line + 1}` }, problem, cure);
  if (text.length > INPUT_LIMITS.logoText)
    throw fault('it is longer than a million letters', 'draw it with fewer points');
  const marks: PathMark[] = [];
  const open: Style[] = [];
  let hidden = 0;
  let height = 0;
  reader.onerror = () => {
    throw fault('it is not well-formed XML', 'save it again as plain SVG');
  };
  reader.onopentag = ({ name, attributes }) => {
    const own = valuesOf(attributes);
    const above = open.at(-1);
    if (above === undefined && name !== 'svg')
      throw fault('it is no SVG drawing', 'name an SVG, PDF or PNG file');
    if (above !== undefined) refuseUnread(name, own, fault);
    if (name.includes(':') || own.display === 'none') hidden += 1;
    else if (name === 'defs' || name === 'metadata' || hidden > 0) hidden += 1;
    else if (!SHAPES.includes(name) && !SILENT.includes(name)) {
      throw fault(
        `it has an element ${quoted(name)}`,
        'turn type and effects into shapes of flat colours',
      );
    }
    refuseVeils(own, fault);
    let map = above?.map ?? IDENTITY;
    if (above === undefined) {
      const [x, y, wide, high] = frameOf(own, fault);
      const scale = width / wide;
      height = high * scale;
      map = [scale, 0, 0, scale, -x * scale, -y * scale];
    }
    const turn = own.transform === undefined ? IDENTITY : transformOf(own.transform);
    if (turn === null) throw fault(`${quoted(own.transform)} is no transform`);
    const handed = Object.fromEntries(
      HANDED_DOWN.flatMap((key) =>
        above?.values[key] === undefined ? [] : [[key, above.values[key]]],
      ),
    );
    const style: Style = { map: multiply(turn, map), values: { ...handed, ...own } };
    open.push(style);
    if (hidden === 0 && SHAPES.includes(name)) {
      for (const mark of shapeMark(name, style, fault)) {
        if (leavesFrame(mark, { width, height })) {
          throw fault('a shape runs out of the viewBox', 'set the viewBox about all that is drawn');
        }
        marks.push(mark);
      }
    }
  };
  reader.onclosetag = () => {
    open.pop();
    if (hidden > 0) hidden -= 1;
  };
  writeXml(reader, text);
  reader.close();
  if (marks.length === 0) throw fault('it draws nothing');
  return { width, height, marks };
};
