import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraisal/appraise.js';
import { lengthWordsIn } from '../../src/appraisal/length-words.js';
import type { CourseMap } from '../../src/course/course-map.js';
import type { SettledHole } from '../../src/course/settled-hole.js';
import type { SurfaceChange } from '../../src/event/surface-change.js';
import { composeCoursePicture } from '../../src/page/front/course-picture.js';
import { locationWords } from '../../src/page/kit/location-words.js';
import type { Mark, Page } from '../../src/page/marks/marks.js';
import { composePuttFigure } from '../../src/page/putts/putt-figure.js';
import { composeAppraisal } from '../../src/page/survey/appraisal-page.js';
import { appraisalWords } from '../../src/page/survey/appraisal-words.js';
import { composeChangeFigure } from '../../src/page/survey/change-figure.js';
import { changeSentences, tablesToPrint } from '../../src/page/survey/moved-words.js';
import { phrase, type Telling, type WordTable } from '../../src/page/words/words.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import type { PuttSolution } from '../../src/putt/putt.js';
import { madeUpSurvey } from '../appraisal/made-up-survey.js';
import { circleRing } from '../surface/analytic.js';
import { MADE_UP } from './made-up-language.js';
import { saidOn, strangers } from './strangers.js';

/** Pictures of single commands in a language of which every word is 40 % longer than in English. */

const measure = measureWith(openFonts());

const WORDS = Object.fromEntries(
  Object.entries({ ...MADE_UP, 'number.point': '·', '#language': 'sv' }).map(([key, wording]) => [
    key,
    wording.replaceAll(/(?<=\d)\.(?=\d)/g, '·'),
  ]),
) as WordTable;

const TELLINGS: readonly Telling[] = (['imperial', 'metric'] as const).map((units) => ({
  units,
  words: WORDS,
}));

/** Texts that run off their page, to the right or below. */
const runningOff = ({ marks, width, height }: Page): string[] => {
  const texts = (all: readonly Mark[]): Extract<Mark, { kind: 'text' }>[] =>
    all.flatMap((mark) =>
      mark.kind === 'text' ? [mark] : 'marks' in mark ? texts(mark.marks) : [],
    );
  return texts(marks).flatMap(({ at, text, face, size, align = 'left' }) => {
    const wide = measure(text, face, size);
    const left = at[0] - (align === 'left' ? 0 : align === 'right' ? wide : wide / 2);
    return left < 3 || left + wide > width - 3 || at[1] > height - 3 ? [text] : [];
  });
};

const isTold = (page: Page): void => {
  expect(strangers([page])).toEqual([]);
  expect(saidOn([page]).filter((text) => /\d\.\d/.test(text))).toEqual([]);
  expect(runningOff(page)).toEqual([]);
};

describe('pictures in another language have no English word, its sign before tenths, and no overflow', () => {
  const putt = (over: Partial<PuttSolution>): PuttSolution =>
    ({
      status: 'holed',
      ball: [0, 0],
      hole: [0, 9.3],
      length: 9.3,
      path: [
        [0, 0],
        [1.2, 5],
        [0, 9.3],
      ],
      aimAngle: -0.2,
      aimOffset: -1.85,
      aimWindow: [-0.21, -0.19],
      pace: 4.2,
      entryClock: 7.5,
      ...over,
    }) as unknown as PuttSolution;

  it.each(TELLINGS)('one putt, $units', (tell) => {
    for (const status of ['holed', 'short', 'never-stops', 'leaves-green'] as const) {
      const figure = { ...tell, putt: putt({ status }), stimp: 3.05, past: 0.31, aimSd: 0.051 };
      isTold(composePuttFigure({ ...figure, falls: [] }, measure));
    }
    const away = putt({ aimOffset: Infinity, aimAngle: 1.57 });
    isTold(
      composePuttFigure(
        { ...tell, putt: away, stimp: 3, past: 0.3, aimSd: null, falls: [] },
        measure,
      ),
    );
  });

  it.each(TELLINGS)('what a survey is worth, $units', (tell) => {
    const show = lengthWordsIn(tell.units);
    const survey = madeUpSurvey({
      ground: (x, y) =>
        0.02 * x +
        0.01 * y -
        0.05 * Math.exp(-((x + 3) ** 2 + (y - 3) ** 2) / 4) +
        (x > 1 ? 0.03 : 0),
      spacing: 1.1,
      noise: 0.008,
      seed: 195_560,
      reach: 4.5,
      skip: (x, y) => Math.hypot(x - 2, y + 3) < 1.8,
      spoil: [[3.2, 4.4, 0.3]],
    });
    const outline = null;
    const appraisal = appraise(survey, {
      outline,
      drains: [],
      length: show.length,
      small: show.small,
    });
    expect(appraisal.verdict.reasons.length).toBeGreaterThan(0);
    const about = appraisalWords(appraisal, { source: 'ñ-1.ñ', north: [0, 1] }, tell);
    expect(about.lines).toHaveLength(3);
    isTold(composeAppraisal(appraisal, survey, about, measure));
    const { verdict } = appraisal;
    const all = [...verdict.tables, ...verdict.arrows].map(({ told }) => told);
    const few = { ...appraisal, reading: null, noise: null, verdict: { ...verdict, reasons: all } };
    isTold(
      composeAppraisal(
        few,
        survey,
        appraisalWords(few, { source: 'ñ', north: null }, tell),
        measure,
      ),
    );
  });

  it.each(TELLINGS)('what moved, $units', (tell) => {
    const region = (middle: readonly [number, number], meanChange: number) => ({
      ...{ polygon: [circleRing(2.5, ...middle)], middle, meanChange, area: 19.6 },
      ...{ greatestChange: 1.4 * meanChange, meanSd: 0.0034 },
    });
    const change = {
      ...{ shift: -0.031, shiftSd: 0.002, levelled: false, medianSd: 0.0041, unknownArea: 12.3 },
      ...{ movedArea: 39.2, regions: [region([-7, 10], 0.031), region([7, 8], -0.018)] },
    } as unknown as SurfaceChange;
    const place = (_: unknown, own: object): string =>
      locationWords({ name: '', on: 12.5, in: 3, side: 'left', at: [0, 0] } as never, own);
    for (const one of [
      change,
      { ...change, levelled: true, shift: 0.02 },
      { ...change, regions: [] },
    ]) {
      const tables = [{ name: phrase(tell, 'moved.hole', { number: 1 }), isChanged: true }];
      isTold(
        composeChangeFigure(
          {
            ...tell,
            title: phrase(tell, 'moved.title', {
              green: phrase(tell, 'moved.green', { number: '7', name: 'ñ' }),
            }),
            outline: circleRing(12, 0, 12),
            regions: one.regions,
            locations: [{ name: 'A', at: [0, 12] }],
            sentences: [
              ...changeSentences(one, 452, place, tell),
              tablesToPrint(tables, tell) ?? '',
            ],
          },
          measure,
        ),
      );
    }
  });

  it.each(TELLINGS)(
    'a course as its map was settled, but for the sentences of who settled it, $units',
    (tell) => {
      const map = {
        features: [
          {
            ...{ id: 'way/1', kind: 'hole', refs: ['1'] },
            shape: {
              kind: 'line',
              points: [
                [-3, 50],
                [-3, 50.003],
              ],
            },
          },
        ],
      } as unknown as CourseMap;
      const hole = { id: '1', look: ['ñññ'], decided: ['ññññ'] } as unknown as SettledHole;
      const course = {
        title: 'ñ',
        map,
        notes: Array.from({ length: 120 }, () => 'ñ '.repeat(60)),
        tell,
      };
      for (const holes of [[hole], []]) isTold(composeCoursePicture({ ...course, holes }, measure));
      isTold(composeCoursePicture({ ...course, holes: [], notes: [] }, measure));
    },
  );
});
