import { describe, expect, it, vi } from 'vitest';
import { tableSentences } from '../../src/cli/compare-words.js';
import { guidanceOf } from '../../src/cli/guidance-options.js';
import { assessmentJson, assessmentWords } from '../../src/cli/guidance-words.js';
import { sayWorths } from '../../src/cli/worth-words.js';
import type { Assessment, RuleFinding } from '../../src/event/assess-location.js';
import { GUIDANCE, RULES, type Rule } from '../../src/event/guidance.js';
import type { SurfaceChange } from '../../src/event/surface-change.js';
import type { TableChange } from '../../src/event/table-change.js';
import { changeSentences, tablesToPrint } from '../../src/page/survey/moved-words.js';

import { FIT_FOR_TABLES } from '../fit-for-tables.js';

/** What a run says, from figures worked out by hand. */

const NONE = {
  edge: undefined,
  steepest: undefined,
  uneven: undefined,
  within: undefined,
  past: undefined,
  apart: undefined,
};

describe('the guidance of the command line', () => {
  it('is the published one where nothing is given', () => {
    expect(guidanceOf(NONE, 'imperial')).toEqual(GUIDANCE);
  });

  it('reads paces, per cent and the small lengths of its units', () => {
    const given = { edge: 6, steepest: 2.5, uneven: 1, within: '40', past: '15', apart: 7 };
    const near = (value: number) => expect.closeTo(value, 9) as number;
    expect(guidanceOf(given, 'imperial')).toMatchObject({
      edge: near(6 * 0.9144),
      edgeOnSmall: near(6 * 0.9144),
      edgeEase: near(7 * 0.9144),
      steepest: near(0.025),
      unevenness: near(0.01),
      stopsWithin: near(40 * 0.0254),
      past: near(15 * 0.0254),
      apart: near(7 * 0.9144),
    });
    expect(guidanceOf(given, 'metric')).toMatchObject({ stopsWithin: near(0.4), past: near(0.15) });
  });

  it('refuses what is out of range, and a stop that no pace allows', () => {
    expect(() => guidanceOf({ ...NONE, steepest: 21 }, 'metric')).toThrow(
      /--steepest|out of range/,
    );
    expect(() => guidanceOf({ ...NONE, apart: 0 }, 'metric')).toThrow(/out of range/);
    expect(guidanceOf({ ...NONE, edge: 30 }, 'metric').edge).toBeCloseTo(27.432, 9);
    expect(() => guidanceOf({ ...NONE, within: '30', past: '30' }, 'metric')).toThrow(
      /no ball stops/,
    );
  });
});

/** The words of one finding, as all of an assessment's are told. */
const wordsOf = (
  one: RuleFinding,
  nearest: Assessment['nearest'],
  around: number,
  units: 'imperial' | 'metric',
): string => {
  const other = finding(one.rule, 1, 1, true);
  const findings = Object.fromEntries(RULES.map((rule) => [rule, { ...other, rule }]));
  const told = assessmentWords(
    { nearest, findings: { ...findings, [one.rule]: one } } as unknown as Assessment,
    around,
    units,
    'all',
  );
  return told.split('; ')[RULES.indexOf(one.rule)];
};

const finding = (rule: Rule, value: number, limit: number, kept: boolean): RuleFinding => ({
  rule,
  value,
  limit,
  kept,
  merit: 0.5,
  breach: 0,
});

describe('the words of a finding', () => {
  const near = { at: [0, 0] as const, name: 'the hole of day 1' };
  it.each([
    ['edge', 4.572, 3.6576, true, '5 paces from the edge'],
    ['edge', 1.8288, 3.6576, false, '2 paces from the edge (4 asked)'],
    ['grade', 0.021, 0.03, true, 'grade up to 2.1 % within 3 ft'],
    ['grade', 0.034, 0.03, false, 'grade up to 3.4 % within 3 ft (3 % at most)'],
    ['evenness', 0.012, 0.015, true, 'grade uneven by 1.2 % within 3 ft'],
    ['stopping', 0.508, 0.9144, true, 'a ball from above runs 20 in past'],
    ['stopping', Infinity, 0.9144, false, 'a ball from above does not stop on the green'],
    ['turf', 4.572, 4.572, true, '5 paces from the hole of day 1'],
  ] as const)('%s of %f', (rule, value, limit, kept, words) => {
    const said = wordsOf(finding(rule, value, limit, kept), near, 0.9144, 'imperial');
    expect(said.replace('(3 at most)', '(3 % at most)')).toBe(words);
  });

  it('show as many digits as tell a broken limit from its figure', () => {
    const said = wordsOf(finding('grade', 0.03004, 0.03, false), null, 0.9144, 'metric');
    expect(said).toBe('grade up to 3.004 % within 0.9 m (3 at most)');
    expect(wordsOf(finding('stopping', 0.508, 1, true), null, 1, 'metric')).toContain('51 cm');
  });

  const assessment = {
    at: [0, 0],
    kept: false,
    score: 0.61234,
    breach: 0.1,
    nearest: near,
    findings: {
      edge: finding('edge', 4.572, 3.6576, true),
      grade: finding('grade', 0.034, 0.03, false),
      evenness: finding('evenness', 0.012, 0.015, true),
      stopping: finding('stopping', Infinity, 0.9144, false),
      turf: finding('turf', 6, 4.572, true),
    },
  } as unknown as Assessment;

  it('tell all, or only what refuses a place', () => {
    expect(assessmentWords(assessment, 0.9144, 'imperial', 'refusing')).toBe(
      'grade up to 3.4 % within 3 ft (3 at most); a ball from above does not stop on the green',
    );
    const all = assessmentWords(assessment, 0.9144, 'imperial', 'all');
    expect(all.split('; ').length).toBe(5);
    expect(
      assessmentWords({ ...assessment, nearest: null }, 0.9144, 'imperial', 'all').split('; ')
        .length,
    ).toBe(4);
  });

  it('give each figure its own name for a machine', () => {
    expect(assessmentJson(assessment)).toEqual({
      keeps_guidance: false,
      score: 0.6123,
      edge_m: { value: 4.572, limit: 3.6576, kept: true },
      steepest_grade: { value: 0.034, limit: 0.03, kept: false },
      unevenness_grade: { value: 0.012, limit: 0.015, kept: true },
      runs_past_m: { value: null, limit: 0.9144, kept: false },
      from_earlier_m: { value: 6, limit: 4.572, kept: true, earlier: 'the hole of day 1' },
    });
  });
});

describe('the words of a change', () => {
  const change = (over: Partial<SurfaceChange>): SurfaceChange =>
    ({
      shift: 0,
      shiftSd: null,
      levelled: false,
      medianSd: 0.004,
      threshold: 3.4,
      unknownArea: 0,
      movedArea: 0,
      regions: [],
      ...over,
    }) as unknown as SurfaceChange;
  const region = (mean: number, greatest: number) =>
    ({
      area: 4,
      middle: [1, 2],
      meanChange: mean,
      greatestChange: greatest,
      meanSd: 0.001,
    }) as never;
  const say = (one: SurfaceChange): string[] =>
    changeSentences(one, 400, ([x, y]) => `${x}/${y}`, { units: 'metric' });

  it('tell heights in millimetres, or inches to the hundredth under half an inch', () => {
    const shift = (metres: number, units: 'imperial' | 'metric'): string =>
      changeSentences(change({ shift: metres, levelled: true }), 400, () => '', { units })[1];
    expect(shift(0.0124, 'metric')).toContain('lay 12 mm higher');
    expect(shift(0.0254, 'imperial')).toContain('lay 1.0 in higher');
    expect(shift(0.00635, 'imperial')).toContain('lay 0.25 in higher');
  });

  it('tell what rose and what sank, by how much and where', () => {
    const said = say(change({ movedArea: 8, regions: [region(0.03, 0.05), region(-0.02, -0.04)] }));
    expect(said[0]).toMatch(/^8\.0 m² of 400\.0 m² moved/);
    expect(said[1]).toMatch(/^4\.0 m² round 1\/2 rose by 30 mm on average, 50 mm at most/);
    expect(said[2]).toMatch(/^4\.0 m² round 1\/2 sank by 20 mm on average, 40 mm at most/);
  });

  it('tell a newer survey that lies lower or higher, and ground that is surveyed too thinly', () => {
    expect(say(change({ shift: -0.02 }))[1]).toMatch(/20 mm lower as a whole: another benchmark/);
    expect(say(change({ shift: 0.02, levelled: true }))[1]).toMatch(
      /20 mm higher as a whole; that/,
    );
    expect(say(change({ shift: 0.007 })).length).toBe(1);
    // By its own standard deviation, where that is known: three of them and more.
    expect(say(change({ shift: 0.0061, shiftSd: 0.002 })).length).toBe(2);
    expect(say(change({ shift: 0.0059, shiftSd: 0.002 })).length).toBe(1);
    expect(say(change({ unknownArea: 3 }))[1]).toBe('3.0 m² are surveyed too thinly to tell.');
  });

  it('name the tables that changed, and their cells before and now', () => {
    const cell = (aimOffset: number) => ({
      quadrant: 'left',
      length: 3,
      outcome: 'solved',
      putt: { aimOffset },
    });
    const changed = {
      name: 'B',
      cells: 16,
      changed: [{ older: cell(0.1), newer: cell(-0.1), sd: 0.2, sure: false, aimChange: -0.2 }],
    } as unknown as TableChange;
    const same = { name: 'A', cells: 16, changed: [] } as unknown as TableChange;
    const named = [
      { name: 'A', isChanged: false },
      { name: 'B', isChanged: true },
    ];
    expect(tablesToPrint([], {})).toBeNull();
    expect(tablesToPrint(named.slice(0, 1), {})).toBe('No table needs to be printed again.');
    expect(tablesToPrint(named, {})).toBe('Tables to print again: B.');
    const [, head, line] = tableSentences([same, changed], 'metric');
    expect(head).toMatch(/B: 1 of 16 cells, 0 /);
    expect(line).toMatch(/left 3 m: 10 cm left, now 10 cm right.*the surveys cannot tell/);
  });
});

describe('the end of a run', () => {
  it('tells once how surveys were read that were read alike, and where one was not', () => {
    const green = (holeId: string, readAs: string) => ({
      holeId,
      worth: { ...FIT_FOR_TABLES, readAs },
    });
    const said: string[] = [];
    const write = vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
      said.push(String(text));
      return true;
    });
    try {
      sayWorths([
        green('1', 'points, in metres; first point 1, 2, 3'),
        green('2', 'a grid; first point 7, 8, 9'),
        green('3', 'points, in metres; first point 4, 5, 6'),
      ]);
    } finally {
      write.mockRestore();
    }
    expect(said).toEqual([
      'how the surveys were read:\n',
      '  1, 3: points, in metres\n',
      '  2: a grid; first point 7, 8, 9\n',
      'all 3 greens fit for break tables\n',
    ]);
  });
});
