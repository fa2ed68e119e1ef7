import { describe, expect, it } from 'vitest';
import { trueGreen } from '../../course-data/vellamoor/truth.js';
import { readGreen } from '../../src/terrain/read-green.js';
import { analyticSurface } from '../surface/analytic.js';

/** The demo's greens as they were designed, and what a caddie would call their parts. */
const expected: readonly (readonly [string, string, readonly string[]])[] = [
  ['2', 'two tiers', ['lower tier', 'middle face', 'upper tier']],
  ['3', 'punchbowl with a drain', ['middle bowl']],
  ['4', 'false front', ['false front']],
  ['5', 'crowned', ['middle crown']],
  ['6', 'swale through the middle', ['middle swale']],
  ['7', 'saddle', ['left crown', 'right crown']],
  ['9', 'two tiers, short face', ['lower tier', 'middle face', 'upper tier']],
  ['10', 'nearly plane', []],
  ['11', 'three steps', ['back face', 'lower tier', 'middle face', 'middle tier', 'upper tier']],
  ['12', 'small and crowned', ['middle crown']],
  ['17', 'horseshoe open to the front', ['middle swale']],
];

describe('sections of the demo’s true surfaces', () => {
  it.each(expected)('green %s, %s', (id, character, names) => {
    const green = trueGreen(id);
    expect(green.character).toBe(character);
    const reading = readGreen(analyticSurface(green.outline, green.at), { drains: green.drains });
    expect(reading.sections.map((section) => section.name).sort()).toEqual(names);
    for (const section of reading.sections) {
      expect(section.area).toBeGreaterThan(5);
      expect(section.area).toBeLessThan(reading.area);
    }
  });

  it('green 18, two tiers and a false edge: all three are named', () => {
    const green = trueGreen('18');
    const reading = readGreen(analyticSurface(green.outline, green.at));
    const kinds = reading.sections.map((section) => section.kind);
    expect(kinds.filter((kind) => kind === 'tier').length).toBe(2);
    expect(kinds).toContain('face');
    expect(reading.sections.map((section) => section.name)).toContain('right false edge');
  });

  it('tiers, shelves, faces and false edges do not overlap', { tags: 'long' }, () => {
    for (const id of ['2', '9', '11', '14', '16', '18']) {
      const green = trueGreen(id);
      const reading = readGreen(analyticSurface(green.outline, green.at));
      const parts = reading.sections.filter(
        ({ kind }) => kind !== 'bowl' && kind !== 'swale' && kind !== 'crown',
      );
      const sum = parts.reduce((total, part) => total + part.area, 0);
      expect(sum).toBeLessThan(1.005 * reading.area);
    }
  });
});
