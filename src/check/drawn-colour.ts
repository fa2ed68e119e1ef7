import { PDFArray, PDFDict, PDFName } from 'pdf-lib';
import { nameOf, numberOf, type Operand } from './pdf-operators.js';

/** A colour as a content stream sets it. */
export interface DrawnColour {
  readonly space: string;
  /** Name of the plate, for a spot colour. */
  readonly plate: string | null;
  readonly components: readonly number[];
}

export const BLACK: DrawnColour = { space: 'DeviceGray', plate: null, components: [0] };

/** The name of a colour space that a resource dictionary holds. */
const spaceOf = (
  resources: PDFDict,
  name: string,
): { readonly space: string; readonly plate: string | null } => {
  if (name.startsWith('Device') || name === 'Pattern') return { space: name, plate: null };
  const spaces = resources.lookup(PDFName.of('ColorSpace'));
  const value = spaces instanceof PDFDict ? spaces.lookup(PDFName.of(name)) : undefined;
  if (value instanceof PDFName) return { space: value.decodeText(), plate: null };
  if (value instanceof PDFArray) {
    const family = value.lookup(0);
    const plate = value.lookup(1);
    const space = family instanceof PDFName ? family.decodeText() : 'unknown';
    return {
      space,
      plate: space === 'Separation' && plate instanceof PDFName ? plate.decodeText() : null,
    };
  }
  return { space: 'unknown', plate: null };
};

/** Ink on the paper as a sum over the plates, 1 for one solid plate; null where a device decides. */
export const inkOf = ({ space, plate, components }: DrawnColour): number | null => {
  switch (space) {
    case 'DeviceCMYK':
      return components.reduce((sum, part) => sum + part, 0);
    case 'DeviceGray':
      return 1 - components[0];
    case 'Separation':
      return plate === 'None' ? 0 : components[0];
    default:
      return null;
  }
};

/** The plates that print a colour, by the share of each; none where a device decides, or for all of them alike. */
export const platesOf = ({ space, plate, components }: DrawnColour): readonly number[] => {
  switch (space) {
    case 'DeviceCMYK':
      return components.filter((part) => part > 0);
    case 'DeviceGray':
      return components[0] < 1 ? [1 - components[0]] : [];
    case 'Separation':
      return plate === 'None' || plate === 'All' || components[0] === 0 ? [] : [components[0]];
    default:
      return [];
  }
};

/** Whether the colour leaves bare paper. */
export const isPaper = ({ space, components }: DrawnColour): boolean =>
  space === 'DeviceCMYK' || space === 'Separation'
    ? components.every((part) => part === 0)
    : space === 'DeviceGray' || space === 'DeviceRGB'
      ? components.every((part) => part === 1)
      : false;

/** A part of a colour of inks or light: beyond its limits the nearest value counts (ISO 32000-1, 8.6.4 and 8.6.6.4). */
const within = (part: number): number => Math.min(1, Math.max(0, part));

/** Of other spaces, such as those of measured colour, the parts have limits of their own. */
const partsOf = (space: string, parts: readonly number[]): readonly number[] =>
  space === 'Separation' || space.startsWith('Device') ? parts.map(within) : parts;

const DEVICES: Readonly<Record<string, string>> = {
  g: 'DeviceGray',
  rg: 'DeviceRGB',
  k: 'DeviceCMYK',
};

/**
 * The colour that an operator sets, and for what; null when the operator sets none. `now` is the colour
 * so far, whose space the operands of `sc` and `scn` belong to (ISO 32000-1, 8.6.8).
 */
export const colourSetBy = (
  operator: string,
  operands: readonly Operand[],
  now: { readonly fill: DrawnColour; readonly stroke: DrawnColour },
  resources: PDFDict,
): { readonly use: 'fill' | 'stroke'; readonly colour: DrawnColour } | null => {
  const lower = operator.toLowerCase();
  const use = operator === lower ? 'fill' : 'stroke';
  const components = operands.map(numberOf);
  if (Object.hasOwn(DEVICES, lower)) {
    const space = DEVICES[lower];
    return { use, colour: { space, plate: null, components: partsOf(space, components) } };
  }
  if (lower === 'cs') {
    return { use, colour: { ...spaceOf(resources, nameOf(operands[0])), components: [1] } };
  }
  if (lower === 'sc' || lower === 'scn') {
    return {
      use,
      colour: { ...now[use], components: partsOf(now[use].space, components) },
    };
  }
  return null;
};
