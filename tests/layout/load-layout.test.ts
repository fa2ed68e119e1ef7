import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { InputFault } from '../../src/fault.js';
import type { Layout } from '../../src/layout/layout.js';
import { LAYOUT_SCHEMA } from '../../src/layout/layout-schema.js';
import { parseLayout } from '../../src/layout/load-layout.js';
import { impose } from '../../src/print/impose.js';
import { pressCondition } from '../../src/print/press-conditions.js';
import { ownLayout, ownLayoutNames } from '../print/sample-pages.js';

const MINIMAL = `name: mine
title: My layout
page:
  width: 100
  height: 150
  margins: { top: 6, bottom: 6, inner: 8, outer: 6 }
grid: { columns: 4, rows: 20 }
pages:
  green:
    - { module: heading, columns: [1, 4], rows: [1, 3] }
`;

const faultOf = (text: string): InputFault => {
  try {
    parseLayout(text, 'mine.yaml');
  } catch (error) {
    if (error instanceof InputFault) return error;
    throw error;
  }
  throw new Error('no fault');
};

describe('layout files', () => {
  it('need only a name, a page, a grid and modules; the rest has defaults', () => {
    const layout = parseLayout(MINIMAL, 'mine.yaml');
    expect(layout.use).toBe('practice');
    expect(layout.green.scale).toBe(480);
    expect(layout.type.table).toBe(7.5);
    expect(layout.inks.model).toBe('spot');
    expect(layout.tables.lengths.length).toBe(6);
    expect(layout.tables.lengths[2]).toBeCloseTo(3.048, 9);
    expect(layout.tables.past).toBeCloseTo(0.3048, 9);
    expect(layout.binding.method).toBe('loose');
  });

  it.each([
    [
      'unknown key',
      MINIMAL.replace('  width: 100', '  wdith: 100'),
      'line 4, page.wdith',
      'unknown key "wdith"; did you mean "width"?',
    ],
    ['missing key', MINIMAL.replace('  height: 150\n', ''), 'line 3, page', '"height" is missing'],
    [
      'wrong kind',
      MINIMAL.replace('width: 100', 'width: wide'),
      'line 4, page.width',
      '"wide" is not a number',
    ],
    [
      'unknown choice',
      `${MINIMAL}use: tournament\n`,
      'line 11, use',
      '"tournament" is not one of "practice", "play", "committee"',
    ],
    ['broken YAML', MINIMAL.replace('rows: 20 }', 'rows: 20'), 'line 8', 'not valid YAML'],
    [
      'outside the grid',
      MINIMAL.replace('[1, 4]', '[1, 5]'),
      'line 10, pages.green[0].columns',
      'within 1 to 4',
    ],
    ['small type', `${MINIMAL}type: { small: 5 }\n`, 'line 11, type.small', '6 pt or more'],
    ['small tables', `${MINIMAL}type: { table: 7 }\n`, 'line 11, type.table', '7.5 pt or more'],
    [
      'no room',
      MINIMAL.replace('inner: 8', 'inner: 90'),
      'line 6, page.margins',
      'less than 10 mm',
    ],
    [
      'print in the holes',
      `${MINIMAL}binding: { method: wire-o }\n`,
      'line 6, page.margins.inner',
      '8 mm lies inside the 9 mm that wire-o binding takes',
    ],
    [
      'bands that fall',
      `${MINIMAL}green: { bandThresholds: [0.02, 0.01] }\n`,
      'line 11, green.bandThresholds[1]',
      'does not rise',
    ],
    [
      'one sheet twice',
      `${MINIMAL}sheets:\n  - { name: a, paper: a4, scheme: leaves, up: 1 }\n  - { name: a, paper: a4, scheme: leaves, up: 1 }\n`,
      'line 13, sheets[1].name',
      'is there twice',
    ],
  ])('%s: one line with the place and the cure', (_, text, place, words) => {
    const fault = faultOf(text);
    expect(fault.message).toContain(`mine.yaml, ${place}:`);
    expect(fault.message).toContain(words);
    expect(fault.message).not.toContain('\n');
  });

  it('are described by the schema that lies beside ours', () => {
    const file = new URL('../../layouts/layout.schema.json', import.meta.url);
    expect(JSON.parse(readFileSync(file, 'utf8'))).toEqual(
      JSON.parse(JSON.stringify(LAYOUT_SCHEMA)),
    );
    for (const name of ownLayoutNames()) {
      const text = readFileSync(new URL(`../../layouts/${name}.yaml`, import.meta.url), 'utf8');
      expect(text.startsWith('# yaml-language-server: $schema=layout.schema.json\n')).toBe(true);
    }
  });

  it('says which printing conditions it knows', () => {
    expect(() => pressCondition('GRACoL')).toThrow('use one of: FOGRA39');
  });

  it.each(['pocket-wire', 'pocket-glued'])('%s is the pocket book in another binding', (name) => {
    const pocket = ownLayout('pocket');
    const { title, binding, sheets, page, pages, cover, ...like } = ownLayout(name);
    const { inner } = page.margins;
    expect({ ...pocket, ...like, name: 'pocket' }).toEqual(pocket);
    // What is glued has its back on a cover of its own.
    expect(cover !== null).toBe(name === 'pocket-glued');
    const { 'back-cover': back, ...inside } = pocket.pages;
    expect(pages).toEqual(name === 'pocket-glued' ? inside : { ...inside, 'back-cover': back });
    expect({ ...page, margins: { ...page.margins, inner: pocket.page.margins.inner } }).toEqual(
      pocket.page,
    );
    expect(inner).toBeGreaterThan(binding.clear);
    expect(sheets.map(({ scheme }) => scheme)).not.toContain('saddle');
  });

  it.each(ownLayoutNames())('%s: ours loads, and its sheets take its pages', (name) => {
    const layout: Layout = ownLayout(name);
    expect(layout.name).toBe(name);
    expect(() => pressCondition(layout.press.condition)).not.toThrow();
    for (const plan of layout.sheets) impose(40, layout.page, plan, layout.binding);
  });

  it('ours cover every paper, scheme, binding and way of turning', () => {
    const plans = ownLayoutNames().flatMap((name) => ownLayout(name).sheets);
    expect(new Set(plans.map((p) => p.paper))).toEqual(new Set(['letter', 'a4', 'legal', 'sra3']));
    expect(new Set(plans.map((p) => p.scheme))).toEqual(
      new Set(['leaves', 'stack', 'saddle', 'fold-up']),
    );
    const bindings = ownLayoutNames().map((name) => ownLayout(name).binding.method);
    for (const method of ['saddle stitch', 'perfect', 'wire-o', 'fold-up']) {
      expect(bindings).toContain(method);
    }
  });
});
