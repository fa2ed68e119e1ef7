import { describe, expect, it } from 'vitest';
import { speedsOfTables } from '../../src/book/wanted-green.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { feetToMetres } from '../../src/units.js';

const pocket = loadLayout('pocket');
const withSteps = (speedSteps: readonly number[], speeds: readonly number[] = []) => ({
  name: pocket.name,
  tables: { ...pocket.tables, speedSteps, speeds },
});

describe('the green speeds of a table', () => {
  it('are the green’s own, its steps and those of the layout, each once', () => {
    const own = feetToMetres(10);
    const asked = withSteps(
      [feetToMetres(1), -feetToMetres(2)],
      [feetToMetres(11), feetToMetres(13)],
    );
    const told = speedsOfTables(asked, own).map((one) => Math.round(one / feetToMetres(1)));
    expect(told).toEqual([10, 11, 8, 13]);
  });

  it('are refused where a step leads to none: none is left out in silence', () => {
    expect(() => speedsOfTables(withSteps([-feetToMetres(2)]), feetToMetres(3.5))).toThrow(
      /^layout pocket, tables\.speedSteps: a step of -0\.61 m from a green speed of 1\.07 m leads to 0\.46 m, which is no stimp reading; give a smaller step/,
    );
    expect(() => speedsOfTables(withSteps([feetToMetres(4)]), feetToMetres(17))).toThrow(
      /leads to 6\.40 m/,
    );
  });

  it('are refused with a roll past that no hole holds at the own one', () => {
    // Holmes, Am. J. Phys. 59 (1991): 1.31 m/s at most; a stimp reading is the roll of 1.83 m/s: 3.048 x (1.31 / 1.83)^2.
    const own = feetToMetres(10);
    const past = (metres: number) => ({
      name: pocket.name,
      tables: { ...pocket.tables, past: metres },
    });
    expect(() => speedsOfTables(past(1.55), own)).not.toThrow();
    expect(() => speedsOfTables(past(1.58), own)).toThrow(
      /^layout pocket, tables\.past: at a green speed of 3\.05 m no hole holds .* 1\.58 m past it; give less than 1\.5[67] m/,
    );
    expect(() => speedsOfTables(past(1.58), feetToMetres(11))).not.toThrow();
  });
});
