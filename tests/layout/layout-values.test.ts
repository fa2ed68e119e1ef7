import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseLayout, type ShownUnits } from '../../src/layout/load-layout.js';

const SMALL = `name: small
title: Small
page: { width: 100, height: 150, margins: { top: 5, bottom: 5, inner: 9, outer: 5 } }
grid: { columns: 4, rows: 6 }
pages:
  green:
    - { module: green-image, columns: [1, 4], rows: [1, 6] }
`;
const layout = (more: string, inner = 9) =>
  parseLayout(`${SMALL.replace('inner: 9', `inner: ${inner}`)}${more}`, 'small.yaml');

const near = (values: readonly number[]): number[] => values.map((v) => expect.closeTo(v, 9));

describe('the values of a layout', () => {
  it('are metres, from feet and inches', () => {
    const { tables } = layout(
      'tables: { lengths: [3, 10], past: 15, speeds: [9, 11], speedSteps: [-1, 1] }',
    );
    expect(tables.lengths).toEqual(near([0.9144, 3.048]));
    expect(tables.past).toBeCloseTo(0.381, 9);
    expect(tables.speeds).toEqual(near([2.7432, 3.3528]));
    expect(tables.speedSteps).toEqual(near([-0.3048, 0.3048]));
  });

  it('are metres as they stand where the unit is the metre', () => {
    const { tables } = layout('tables: { unit: m, lengths: [1, 4], past: 0.4, speeds: [3, 3.5] }');
    expect(tables).toEqual({
      lengths: [1, 4],
      past: 0.4,
      pace: 'level',
      speeds: [3, 3.5],
      speedSteps: [],
    });
  });

  it('of a book in other units stand beside, in round figures of their own', () => {
    const shownIn = (more: string, shown: ShownUnits) =>
      parseLayout(`${SMALL}${more}`, 'small.yaml', shown).tables;
    const both =
      'tables: { lengths: [3, 10], past: 15, speedSteps: [1], metric: { lengths: [1, 3], speedSteps: [0.3] } }';
    expect(shownIn(both, { course: 'metric' })).toMatchObject({
      lengths: [1, 3],
      past: expect.closeTo(0.381, 9) as number,
      speedSteps: [0.3],
    });
    const feet = { lengths: near([0.9144, 3.048]), speedSteps: near([0.3048]) };
    expect(shownIn(both, { asked: 'imperial', course: 'metric' })).toMatchObject(feet);
    expect(shownIn(both, {})).toMatchObject(feet);
    const own = `units: imperial\n${both}`;
    expect(shownIn(own, { course: 'metric' })).toMatchObject(feet);
    expect(shownIn(own, { asked: 'metric' }).lengths).toEqual([1, 3]);
    const metres = 'tables: { unit: m, lengths: [1, 4], imperial: { lengths: [3, 12], past: 12 } }';
    expect(shownIn(metres, {})).toMatchObject({
      lengths: near([0.9144, 3.6576]),
      past: expect.closeTo(0.3048, 9) as number,
    });
    expect(shownIn(metres, { asked: 'metric' }).lengths).toEqual([1, 4]);
    expect(shownIn('', { asked: 'metric' }).lengths).toEqual([1, 2, 3, 5, 7, 9]);
    expect(shownIn('tables: { lengths: [3, 10] }', { asked: 'metric' }).lengths).toEqual(
      near([0.9144, 3.048]),
    );
  });

  it('are those of common practice where none are given', () => {
    const { tables, green, use, type, press } = layout('');
    expect(tables.lengths).toEqual(near([3, 6, 10, 15, 20, 30].map((feet) => feet * 0.3048)));
    expect(tables.past).toBeCloseTo(0.3048, 9);
    expect(tables.speeds).toEqual([]);
    expect(green).toEqual({
      scale: 480,
      oneScale: false,
      contourInterval: 0.05,
      bandThresholds: [0.01, 0.02, 0.03, 0.04],
    });
    expect(use).toBe('practice');
    expect(type).toEqual({ small: 6, text: 8, table: 7.5, heading: 11, title: 22 });
    expect(press).toMatchObject({ bleed: 3 });
    expect(layout('tables: { unit: m }').tables.lengths).toEqual([1, 2, 3, 5, 7, 9]);
  });

  it.each([
    ['loose', 0],
    ['saddle stitch', 3],
    ['perfect', 6],
    ['wire-o', 9],
    ['fold-up', 0],
  ])('keep the strip that %s binding takes clear: %i mm', (method, clear) => {
    expect(layout(`binding: { method: ${method} }`).binding.clear).toBe(clear);
    if (clear > 0) {
      expect(() => layout(`binding: { method: ${method} }`, clear - 0.5)).toThrow(/binding takes/);
    }
  });

  it.each([
    ['green: { bandThresholds: [0.01, 0.01] }', /does not rise/],
    ['type: { table: 7 }', /too small to print/],
    ['type: { small: 5.5 }', /too small to print/],
  ])('refuse %s', (words, why) => {
    expect(() => layout(words)).toThrow(why);
  });

  it.each([['[1, 5], rows: [1, 6]'], ['[1, 4], rows: [1, 7]'], ['[3, 2], rows: [1, 6]']])(
    'refuse a module at columns %s',
    (place) => {
      expect(() => layout(`  tables:\n    - { module: tables, columns: ${place} }`)).toThrow(
        /does not fit the grid/,
      );
    },
  );

  it('print a press sheet in the press inks, and others as at home', () => {
    const { sheets } = layout(
      'sheets:\n  - { name: a, paper: sra3, scheme: leaves, up: 2 }\n  - { name: b, paper: a4, scheme: leaves, up: 1 }',
    );
    expect(sheets.map(({ inks, duplex, marks, gutter }) => [inks, duplex, marks, gutter])).toEqual([
      ['press', 'long edge', true, 0],
      ['home', 'long edge', true, 0],
    ]);
  });
});

describe('the lengths of a table', () => {
  const text = (lengths: string): string =>
    readFileSync(new URL('../../layouts/pocket.yaml', import.meta.url), 'utf8').replace(
      'lengths: [3, 6, 10, 15, 20, 30]',
      `lengths: ${lengths}`,
    );
  it('stand each once, the shortest first', () => {
    expect(parseLayout(text('[3, 5, 9]'), 'l.yaml').tables.lengths).toHaveLength(3);
    for (const lengths of ['[20, 3]', '[3, 3, 10]']) {
      expect(() => parseLayout(text(lengths), 'l.yaml')).toThrow(
        /^l\.yaml, line \d+, tables\.lengths\[1\]: this length is no longer than the one before it/,
      );
    }
  });

  it.each([
    ['[0.3, 6]', 'lengths[0]: a ball so near lies in the hole'],
    // 197 ft are 60.05 m.
    ['[6, 197]', 'lengths[1]: no green is 60 m long'],
    ['[3, 3.4]', 'lengths[1]: it would read like the one before it, in half feet'],
    ['[3, 3.4], unit: m', null],
    [
      '[3, 3.05], unit: m',
      'lengths[1]: it would read like the one before it, in tenths of a metre',
    ],
    ['[3], unit: m, past: 12', 'past: no hole holds a ball that would run 12.0 m past it'],
    ['[3], speeds: [1]', 'speeds[0]: a green speed of 0.30 m is no stimp reading'],
    ['[3], speeds: [9, 35]', 'speeds[1]: a green speed of 10.67 m is no stimp reading'],
    ['[3], speeds: [9, 11, 9]', 'speeds[2]: this stands twice'],
    ['[3], speedSteps: [1, 1]', 'speedSteps[1]: this stands twice'],
    [
      '[3], metric: { lengths: [1, 1.05] }',
      'metric.lengths[1]: it would read like the one before it, in tenths of a metre',
    ],
    [
      '[3], metric: { past: 12 }',
      'metric.past: no hole holds a ball that would run 12.0 m past it',
    ],
    ['[3], unit: m, imperial: { speeds: [1] }', 'imperial.speeds[0]: a green speed of 0.30 m'],
    ['[3], speedSteps: [0]', "speedSteps[0]: a step of 0 is the green's own speed"],
  ])('%s: those that mean nothing are refused in a line', (given, words) => {
    const own = text('[1]').replace(
      /\ntables:\n(?: .*\n|\n)+/,
      `\ntables: { lengths: ${given} }\n`,
    );
    const parse = () => parseLayout(own, 'l.yaml');
    if (words === null) expect(parse).not.toThrow();
    else expect(parse).toThrow(`tables.${words}`);
  });
});
