import { describe, expect, it } from 'vitest';
import { InputFault } from '../../src/fault.js';
import { planeFor } from '../../src/survey/crs/plane.js';
import { readSurveys } from '../../src/survey/read-survey.js';
import { foreignBinaries } from './foreign-binaries.js';
import { foreignBinaryVariants } from './foreign-binary-variants.js';
import { foreignManners } from './foreign-manners.js';
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
    const files = [...foreignTexts(), ...foreignVariants(), ...foreignManners()];
    expect(files.length).toBeGreaterThanOrEqual(250);
    expect(await wrong(files)).toEqual([]);
  });

  it('refuses letters that stand for either axis until a map or the asker tells', async () => {
    const read = async (
      text: string,
      window: Parameters<typeof readSurveys>[2][number],
      columns?: string[],
    ) => {
      const options = { source: 'f', ...(columns === undefined ? {} : { columns }) };
      const [survey] = await readSurveys(new TextEncoder().encode(text), options, [window]);
      return survey;
    };
    const rows = '1,5712302.6,512368.9,51.7\n2,5712304.6,512366.9,51.8\n';
    const turnedRows = '1,512368.9,5712302.6,51.7\n2,512366.9,5712304.6,51.8\n';
    const near = '1,1368.9,4302.6,51.7\n2,1366.9,4304.6,51.8\n';
    const east = { minX: 512_000, minY: 5_712_000, maxX: 513_000, maxY: 5_713_000 };
    const north = { minX: 5_712_000, minY: 512_000, maxX: 5_713_000, maxY: 513_000 };
    const open =
      /line 2: columns . and . may be north and east.*some countries call north x.*write --columns "id (?:east north|north east) height" or --columns "id (?:east north|north east) height", or the key columns/;
    for (const text of [
      `No,Y,X,H\n${near}`,
      `No,Y [m],X [m],H\n${near}`,
      `No,Y-Koordinate,X-Koordinate,H\n${near}`,
      `No,Y,X,H\n${turnedRows}`,
      `No,X,Y,H\n${rows}`,
    ]) {
      await expect(read(text, null)).rejects.toThrow(open);
    }
    expect((await read(`No,Y,X,H\n${near}`, null, ['id', 'east', 'north', 'height'])).x[0]).toBe(
      1368.9,
    );
    expect((await read(`No,Y,X,H\n${near}`, null, ['id', 'x', 'y', 'z'])).x[0]).toBe(1368.9);
    // By their numbers, by the words beside the letters, or x first: no doubt.
    for (const [text, x] of [
      [`No,Y,X,H\n${rows}`, 512_368.9],
      [`No,POINT_Y,POINT_X,H\n${near}`, 4302.6],
      [`No,X,Y,H\n${near}`, 1368.9],
      [`No,X,Y,H\n${turnedRows}`, 512_368.9],
      [`No,N,E,H\n${near}`, 4302.6],
    ] as const) {
      expect((await read(text, null)).x[0]).toBe(x);
    }
    // A map settles both ways.
    expect((await read(`No,X,Y,H\n${rows}`, north)).x[0]).toBe(5_712_302.6);
    expect((await read(`No,Y,X,H\n${turnedRows}`, east)).x[0]).toBe(512_368.9);
    const turned = await read(`No,X,Y,H\n${rows}`, east);
    expect(turned.x[0]).toBe(512_368.9);
    expect(turned.how).toMatch(/x is north and y east, by the map/);
  });

  it('takes a height of nothing for no data where it stands apart from all others', async () => {
    const read = async (heights: readonly number[]) => {
      const rows = heights.map((z, k) => `${k},${100 + k},${200 + (k % 3)},${z.toFixed(3)},g1`);
      const text = `id,n,e,h,line\n${rows.join('\n')}\n`;
      return (await readSurveys(new TextEncoder().encode(text), { source: 'f' }, [null]))[0];
    };
    const apart = await read([101.2, 101.3, 0, 101.25, 0, 101.4]);
    expect([...apart.z]).toEqual([101.2, 101.3, 101.25, 101.4]);
    expect([...apart.y]).toEqual([100, 101, 103, 105]);
    expect(apart.breaklines.flat().every(([, , z]) => z > 100)).toBe(true);
    expect(apart.notes).toEqual([
      'passed over: 2 of height 0, which stands apart from all others (101.2 to 101.4 m) and is taken for no data',
    ]);
    const below = await read([-12.3, -12.1, 0, -12.2]);
    expect(below.z.length).toBe(3);
    // Near nothing, or ground as steep as it is high: nothing is a height like others.
    for (const heights of [
      [0.2, 0.1, 0, -0.1],
      [3, 4, 0, 3.5],
      [6, 30, 0, 12],
      [0, 0, 0, 101],
    ]) {
      const survey = await read(heights);
      expect(survey.z.length).toBe(4);
      expect(survey.notes).toEqual([]);
    }
  });

  it('reads at least 100 other files right, or refuses them with cause and cure', async () => {
    const files = [...foreignBinaries(), ...foreignBinaryVariants()];
    expect(files.length).toBeGreaterThanOrEqual(100);
    expect(await wrong(files)).toEqual([]);
  });
});
