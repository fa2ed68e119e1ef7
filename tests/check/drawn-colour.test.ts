import { PDFContext, type PDFDict } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import {
  BLACK,
  colourSetBy,
  type DrawnColour,
  inkOf,
  isPaper,
} from '../../src/check/drawn-colour.js';

/** Colours as ISO 32000-1, 8.6, has them: 1 is white in grey and RGB, a full plate in CMYK and Separation. */

const context = PDFContext.create();
const resources = context.obj({
  ColorSpace: {
    Spot: ['Separation', 'Runnel Dark', 'DeviceCMYK', 'tint'],
    Nothing: ['Separation', 'None', 'DeviceCMYK', 'tint'],
    Other: ['ICCBased', 'stream'],
  },
}) as PDFDict;

const set = (
  operator: string,
  operands: readonly unknown[],
  now: { readonly fill: DrawnColour; readonly stroke: DrawnColour } = {
    fill: BLACK,
    stroke: BLACK,
  },
) => colourSetBy(operator, operands as never, now, resources);

const colour = (space: string, components: readonly number[], plate: string | null = null) => ({
  space,
  plate,
  components,
});

describe('the ink of a colour', () => {
  it.each([
    [colour('DeviceGray', [0]), 1],
    [colour('DeviceGray', [0.8]), 0.2],
    [colour('DeviceGray', [1]), 0],
    [colour('DeviceCMYK', [0.5, 0.25, 0, 1]), 1.75],
    [colour('Separation', [0.4], 'Runnel Dark'), 0.4],
    [colour('Separation', [1], 'None'), 0],
    [colour('DeviceRGB', [0, 0, 0]), null],
    [colour('ICCBased', [0]), null],
  ])('%j is %f', (one, ink) => {
    if (ink === null) expect(inkOf(one)).toBeNull();
    else expect(inkOf(one)).toBeCloseTo(ink, 12);
  });

  it.each([
    [colour('DeviceGray', [1]), true],
    [colour('DeviceGray', [0]), false],
    [colour('DeviceRGB', [1, 1, 1]), true],
    [colour('DeviceRGB', [1, 1, 0.9]), false],
    [colour('DeviceCMYK', [0, 0, 0, 0]), true],
    [colour('DeviceCMYK', [0, 0, 0, 0.1]), false],
    [colour('Separation', [0], 'Runnel Dark'), true],
    [colour('Pattern', []), false],
  ])('%j is bare paper: %s', (one, bare) => {
    expect(isPaper(one)).toBe(bare);
  });
});

describe('a colour that is set', () => {
  const fill = colour('DeviceGray', [0.3]);
  const stroke = colour('Separation', [0.7], 'Runnel Dark');

  it.each([
    ['g', [0.25], 'fill', colour('DeviceGray', [0.25])],
    ['G', [0.25], 'stroke', colour('DeviceGray', [0.25])],
    ['rg', [1, 0.5, 0], 'fill', colour('DeviceRGB', [1, 0.5, 0])],
    ['K', [0, 0, 0, 1], 'stroke', colour('DeviceCMYK', [0, 0, 0, 1])],
    // What is beyond its limits is the nearest that is not, however far.
    ['k', [Number.POSITIVE_INFINITY, -2, 1.5, 0.5], 'fill', colour('DeviceCMYK', [1, 0, 1, 0.5])],
    ['cs', [{ name: 'Spot' }], 'fill', colour('Separation', [1], 'Runnel Dark')],
    ['CS', [{ name: 'Nothing' }], 'stroke', colour('Separation', [1], 'None')],
    ['cs', [{ name: 'Other' }], 'fill', colour('ICCBased', [1])],
    ['cs', [{ name: 'Missing' }], 'fill', colour('unknown', [1])],
    // In the space that was set before, for the same use.
    ['sc', [0.6], 'fill', colour('DeviceGray', [0.6])],
    ['SCN', [0.6], 'stroke', colour('Separation', [0.6], 'Runnel Dark')],
  ] as const)('by %s %j is for %s', (operator, operands, use, expected) => {
    expect(set(operator, operands, { fill, stroke })).toEqual({ use, colour: expected });
  });

  it('is none of another operator', () => {
    expect(set('re', [0, 0, 1, 1])).toBeNull();
  });
});
