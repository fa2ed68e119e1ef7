import { PDFBool, type PDFDict, PDFName, PDFNumber } from 'pdf-lib';
import type { Box } from '../geometry.js';
import { BLACK, type DrawnColour } from './drawn-colour.js';
import type { DrawnFont } from './drawn-fonts.js';
import type { Matrix } from './matrix.js';

/** The graphics state that a checker needs (ISO 32000-1, 8.4). */
export interface GraphicsState {
  matrix: Matrix;
  /** Extent of the clipping path, in the page's space. */
  clip: Box;
  fill: DrawnColour;
  stroke: DrawnColour;
  width: number;
  /** Lengths on and off in user space, empty for none; ends and corners by their numbers (ISO 32000-1, tables 54 and 55). */
  dash: readonly number[];
  cap: number;
  join: number;
  fillOverprint: boolean;
  strokeOverprint: boolean;
  font: DrawnFont | null;
  size: number;
  spacing: number;
  rise: number;
  /** From a line of text to the next, in text space. */
  leading: number;
  mode: number;
}

const EVERYWHERE: Box = { minX: -Infinity, minY: -Infinity, maxX: Infinity, maxY: Infinity };

/** As a page begins (ISO 32000-1, table 52), its unit so many points (its UserUnit). */
export const pageStart = (unit: number): GraphicsState => ({
  matrix: [unit, 0, 0, unit, 0, 0],
  clip: EVERYWHERE,
  fill: BLACK,
  stroke: BLACK,
  width: 1,
  dash: [],
  cap: 0,
  join: 0,
  fillOverprint: false,
  strokeOverprint: false,
  font: null,
  size: 0,
  spacing: 0,
  rise: 0,
  leading: 0,
  mode: 0,
});

/** Whether a page has set nothing yet but where it draws. */
export const isAsStarted = ({ dash, ...state }: Readonly<GraphicsState>): boolean => {
  const { matrix: _, dash: __, ...start } = pageStart(1);
  const keys = Object.keys(start) as (keyof typeof start)[];
  return dash.length === 0 && keys.every((key) => state[key] === start[key]);
};

export const meet = (a: Box, b: Box): Box => ({
  minX: Math.max(a.minX, b.minX),
  minY: Math.max(a.minY, b.minY),
  maxX: Math.min(a.maxX, b.maxX),
  maxY: Math.min(a.maxY, b.maxY),
});

/** Takes over what a graphics state dictionary sets, and tells what of it makes the page transparent. */
export const setFromDictionary = (
  state: GraphicsState,
  dictionary: PDFDict,
  transparent: (why: string) => void,
): void => {
  const get = (key: string): unknown => dictionary.lookup(PDFName.of(key));
  const truth = (value: unknown): boolean => value instanceof PDFBool && value.asBoolean();
  // Where only OP is given it holds for fills too (ISO 32000-1, table 58).
  if (get('OP') !== undefined) state.strokeOverprint = state.fillOverprint = truth(get('OP'));
  if (get('op') !== undefined) state.fillOverprint = truth(get('op'));
  const width = get('LW');
  if (width instanceof PDFNumber) state.width = width.asNumber();
  for (const key of ['ca', 'CA']) {
    const value = get(key);
    if (value instanceof PDFNumber && value.asNumber() < 1) transparent(`opacity ${key}`);
  }
  const mask = get('SMask');
  if (mask !== undefined && !(mask instanceof PDFName && mask.decodeText() === 'None')) {
    transparent('soft mask');
  }
  const blend = get('BM');
  if (blend instanceof PDFName && !['Normal', 'Compatible'].includes(blend.decodeText())) {
    transparent(`blend mode ${blend.decodeText()}`);
  }
};
