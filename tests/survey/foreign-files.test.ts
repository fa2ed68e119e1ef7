import { describe, expect, it } from 'vitest';
import { InputFault } from '../../src/fault.js';
import { planeFor } from '../../src/survey/crs/plane.js';
import { readSurveys } from '../../src/survey/read-survey.js';
import { foreignBinaries } from './foreign-binaries.js';
import { foreignBinaryVariants } from './foreign-binary-variants.js';
import { DEGREES, type Foreign, foreignTexts } from './foreign-texts.js';
import { foreignVariants } from './foreign-variants.js';

/** What a reader makes of a foreign file against what its maker put in: null when they agree. */
const difference = async (file: Foreign): Promise<string | null> => {
  const told = (problem: string): string => `${file.name}: ${problem}`;
  try {
    const [survey] = await readSurveys(file.bytes, { source: 'file', ...file.options }, [
      file.window ?? null,
    ]);
    if (file.expected instanceof RegExp) return told(`read, ${survey.how}`);
    const plane =
      file.expected === DEGREES || file.name.startsWith('degrees')
        ? planeFor('EPSG:4326', [
            Math.round(DEGREES[0].e * 1000) / 1000,
            Math.round(DEGREES[0].n * 1000) / 1000,
          ])
        : null;
    if (survey.x.length !== file.expected.length) {
      return told(
        `${survey.x.length} points of ${file.expected.length} (${survey.how}; ${survey.notes})`,
      );
    }
    for (const [k, spot] of file.expected.entries()) {
      const [x, y] = plane === null ? [spot.e, spot.n] : plane.toPlane(spot.e, spot.n);
      const off = Math.max(
        Math.abs(survey.x[k] - x),
        Math.abs(survey.y[k] - y),
        Math.abs(survey.z[k] - spot.z),
      );
      if (!(off < 1e-4)) return told(`point ${k + 1} is ${off} m off (${survey.how})`);
    }
    if (file.sigma?.some((s, k) => !(Math.abs((survey.sigma?.[k] ?? 0) - s) < 1e-9)))
      return told('sigma is wrong');
    if (survey.how === undefined || /[\n\r]/.test(survey.how))
      return told('no line tells how it was read');
    return null;
  } catch (error) {
    if (!(error instanceof InputFault)) throw error;
    if (!/^[^\n\r]{10,320}$/.test(error.message)) return told(`an unclean line: ${error.message}`);
    if (file.expected instanceof RegExp && file.expected.test(error.message)) return null;
    return told(error.message);
  }
};

const wrong = async (files: readonly Foreign[]): Promise<string[]> => {
  const found: string[] = [];
  for (const file of files) {
    const one = await difference(file);
    if (one !== null) found.push(one);
  }
  return found;
};

describe('files of other hands', () => {
  it('reads at least 250 texts right, or refuses them with cause and cure', async () => {
    const files = [...foreignTexts(), ...foreignVariants()];
    expect(files.length).toBeGreaterThanOrEqual(250);
    expect(await wrong(files)).toEqual([]);
  });

  it('says that x is taken as east where y stands before it and no map tells', async () => {
    const read = async (head: string, windows: Parameters<typeof readSurveys>[2]) => {
      const text = `${head}\n1,5712302.6,512368.9,51.7\n2,5712304.6,512366.9,51.8\n`;
      const [survey] = await readSurveys(new TextEncoder().encode(text), { source: 'f' }, windows);
      return survey;
    };
    const north = [{ minX: 5_712_000, minY: 512_000, maxX: 5_713_000, maxY: 513_000 }];
    const east = [{ minX: 512_000, minY: 5_712_000, maxX: 513_000, maxY: 5_713_000 }];
    expect((await read('No,Y,X,H', [null])).notes?.join()).toMatch(/x is taken as east.*--columns/);
    expect((await read('No,N,E,H', [null])).notes).toEqual([]);
    expect((await read('No,X,Y,H', north)).x[0]).toBe(5_712_302.6);
    const turned = await read('No,X,Y,H', east);
    expect(turned.x[0]).toBe(512_368.9);
    expect(turned.how).toMatch(/x is north and y east, by the map/);
  });

  it('reads at least 100 other files right, or refuses them with cause and cure', async () => {
    const files = [...foreignBinaries(), ...foreignBinaryVariants()];
    expect(files.length).toBeGreaterThanOrEqual(100);
    expect(await wrong(files)).toEqual([]);
  });
});
