import { beforeAll, describe, expect, it } from 'vitest';
import { type Appraisal, appraise } from '../../src/appraisal/appraise.js';
import { lengthWordsIn } from '../../src/appraisal/length-words.js';
import { pourLines } from '../../src/book/pour-figures.js';
import type { Point } from '../../src/geometry.js';
import type { Layout, PageKind } from '../../src/layout/layout.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { composeBook, planBook } from '../../src/page/book-pages.js';
import { composeDay } from '../../src/page/day/day-pages.js';
import { composeWaterPage } from '../../src/page/green/water-page.js';
import type { Page } from '../../src/page/marks/marks.js';
import { type AppraisalWords, composeAppraisal } from '../../src/page/survey/appraisal-page.js';
import { type ChangeFigure, composeChangeFigure } from '../../src/page/survey/change-figure.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { rasterise } from '../../src/print/raster.js';
import { writeSheets } from '../../src/print/sheet-pdf.js';
import { surfaceOfStored } from '../../src/surface/stored-surface.js';
import { READ_DEFAULTS } from '../../src/terrain/read-green.js';
import { pour } from '../../src/terrain/water/pour.js';
import { waterGround } from '../../src/terrain/water/water-ground.js';
import { feetToMetres } from '../../src/units.js';
import { CENTRE, madeUpSurvey } from '../appraisal/made-up-survey.js';
import { compareFineGolden, forgottenGoldens } from '../print/golden.js';
import { circleRing } from '../surface/analytic.js';
import {
  busiest,
  type Fullest,
  fullestBook,
  fullestDay,
  fullestGround,
  GREEN,
  OUTLINE,
  PRACTICE,
} from './fullest-pages.js';

/** Ten pixels to a millimetre. */
const FINE_DPI = 254;

const fonts = openFonts();
const measure = measureWith(fonts);
const words = { fonts, title: 'Full', language: 'en', edition: 'screen' } as const;

/** Places over the green at which water is poured, metres. */
const POURS = [
  [-11, 10],
  [-6, 14],
  [-3, 8],
  [0, 12],
  [4, 6],
  [6, 14],
  [10, 9],
  [2, 17],
] as const;

interface Wanted {
  readonly kind: PageKind;
  readonly of?: string;
  readonly nth?: number;
}

/** A step between two sessions, points that do not fit, ground without points. */
const POOR = madeUpSurvey({
  ground: (x, y) => 0.02 * x + 0.01 * y - 0.05 * Math.exp(-((x + 3) ** 2 + (y - 3) ** 2) / 4),
  spacing: 1.1,
  noise: 0.008,
  seed: 71,
  reach: 8,
  skip: (x, y) => Math.hypot(x - 2, y + 3) < 2.6,
  spoil: [
    [3.2, 4.4, 0.3],
    [-5.1, -2.4, -0.22],
    [0.3, 1, 0.15],
  ],
});

const appraisalWords = ({ verdict, spacing }: Appraisal): AppraisalWords => ({
  title: 'What this survey is worth',
  subtitle: 'the-ferrywomans-long-way-round-to-inner-skerry.csv',
  lines: [
    `Verdict: ${verdict.line}`,
    `${spacing.onGreen} points; where they are too far apart the ground is toned.`,
  ],
  signed: lengthWordsIn('imperial').signed,
  bar: { metres: feetToMetres(15), words: '15 ft' },
  contours: 'contours every 2 in',
  north: [Math.sin(0.4), Math.cos(0.4)],
});

/** Ground that rose and ground that sank, on the green that all else shows. */
const changeOf = ({ green, outline }: Fullest): ChangeFigure => ({
  title: `${green.name}: what moved`,
  outline: green.outline,
  regions: [
    { polygon: [circleRing(3.5, -7, 10)], meanChange: 0.031, middle: [-7, 10] },
    { polygon: [circleRing(2.5, 7, 8)], meanChange: -0.018, middle: [7, 8] },
  ],
  locations: outline.locations,
  sentences: [
    'Two pieces of ground moved: 49 square yards in all, an eighth of the green.',
    'The larger rose by 1.2 inches in its middle, beyond what both surveys do not know.',
    'The newer survey lies 0.3 inches higher all over; this is taken out before the two are compared.',
    'Print anew the tables of A, B, E and G: aims change by up to 9 inches at 20 feet.',
  ],
  units: 'imperial',
});

/** Differences of pages, drawn in one file, from their golden pictures; names begin with `stem`. */
const differences = async (
  stem: string,
  pages: readonly Page[],
  layout: Layout,
): Promise<string[]> => {
  const images = await rasterise(await writePdf(pages, layout, words), FINE_DPI);
  return pages.flatMap(
    ({ id }, i) => compareFineGolden(import.meta.url, `full-${stem}-${id}`, images[i]) ?? [],
  );
};

describe('each kind of page where it is fullest, to a tenth of a millimetre', () => {
  let ground: Fullest;
  beforeAll(async () => {
    ground = await fullestGround(loadLayout('practice-large'));
  });

  /** The first pages of the kinds wanted, or a later one, of a hole where it is named; no other is composed. */
  const bookPages = (layout: Layout, wanted: readonly Wanted[]): Page[] => {
    const plan = planBook(fullestBook(ground, layout), layout, measure);
    return wanted.map(({ kind, of, nth = 0 }) => {
      const found = plan.filter(
        (page) => page.kind === kind && (of === undefined || page.holeId === of),
      )[nth];
      if (found === undefined) throw new Error(`no ${kind} ${of ?? ''} ${nth} is planned`);
      return found.compose();
    });
  };

  it('the pocket book: long names, seven tees, eight hole locations, notes, poor surveys, an outline', {
    tags: 'deep',
  }, async () => {
    const layout = loadLayout('pocket');
    const pages = bookPages(layout, [
      { kind: 'cover' },
      { kind: 'how-to-read' },
      { kind: 'card' },
      { kind: 'card', nth: 1 },
      { kind: 'hole', of: busiest(ground.holes).id },
      { kind: 'green', of: GREEN },
      { kind: 'green', of: OUTLINE },
      { kind: 'tables', of: GREEN, nth: 1 },
      { kind: 'conversions' },
      { kind: 'surveys' },
      { kind: 'imprint' },
      { kind: 'back-cover' },
    ]);
    expect(await differences('pocket', pages, layout)).toEqual([]);
  });

  it('the large edition: tables at two speeds, a break map, a practice station', {
    tags: 'long',
  }, async () => {
    const layout = loadLayout('practice-large');
    const pages = bookPages(layout, [
      { kind: 'tables', of: GREEN, nth: 1 },
      { kind: 'break-map', of: GREEN },
      { kind: 'station', of: PRACTICE },
    ]);
    expect(await differences('practice-large', pages, layout)).toEqual([]);
  });

  it('water that was poured at eight places', { tags: 'deep' }, async () => {
    const layout = loadLayout('pocket');
    const { green, prepared } = ground;
    const surface = surfaceOfStored(prepared.fit.surface);
    const water = pour(
      waterGround(surface, green.reading, { ...READ_DEFAULTS, drains: green.drains }),
      POURS.map(([x, y]): Point => [x, y]),
    );
    const page = composeWaterPage({
      layout,
      measure,
      book: fullestBook(ground, layout),
      side: 'right',
      label: '14',
      green,
      water,
      lines: pourLines({ water }, {}),
    });
    expect(await differences('pocket', [page], layout)).toEqual([]);
  });

  it('handouts: questions, the answers, a drill card', { tags: 'long' }, async () => {
    for (const [name, kinds] of [
      ['quiz', ['quiz', 'quiz-answers']],
      ['drill-cards', ['drill']],
    ] as const) {
      const layout = loadLayout(name);
      const pages = bookPages(
        layout,
        kinds.map((kind) => ({ kind, of: GREEN })),
      );
      expect(await differences(name, pages, layout)).toEqual([]);
    }
  });

  it('the committee edition: hole, green, lines for notes', { tags: 'deep' }, async () => {
    const layout = loadLayout('committee');
    const pages = bookPages(layout, [
      { kind: 'hole', of: busiest(ground.holes).id },
      { kind: 'green', of: GREEN },
      { kind: 'notes' },
    ]);
    expect(await differences('committee', pages, layout)).toEqual([]);
  });

  it('the fold-up: a whole sheet of its panels', { tags: 'deep' }, async () => {
    const layout = loadLayout('fold-up');
    const plan = layout.sheets.find(({ name }) => name === 'a4');
    if (plan === undefined) throw new Error('the fold-up has an A4 sheet');
    const book = fullestBook(ground, layout);
    const pages = composeBook({ ...book, greens: book.greens.slice(0, 18) }, layout, measure);
    const sheets = await writeSheets(pages, layout, plan, words);
    const [front] = await rasterise(sheets, FINE_DPI, [0]);
    expect(compareFineGolden(import.meta.url, 'full-fold-up-sheet', front)).toBeNull();
  });

  it('a day of eighteen greens: its sheet, and a further page of tables', {
    tags: 'deep',
  }, async () => {
    const layout = loadLayout('day');
    const [sheet, , tables] = composeDay(fullestDay(ground, layout), layout, measure);
    expect(await differences('day', [sheet, tables], layout)).toEqual([]);
  });

  it('what a survey is worth, with all that can be wrong with it; what moved between two', {
    tags: 'long',
  }, async () => {
    const layout = loadLayout('pocket');
    const show = lengthWordsIn('imperial');
    const appraisal = appraise(POOR, { outline: circleRing(6.5, ...CENTRE), drains: [], ...show });
    const survey = composeAppraisal(appraisal, POOR, appraisalWords(appraisal), measure);
    const change = composeChangeFigure(changeOf(ground), measure);
    expect(await differences('survey', [survey, change], layout)).toEqual([]);
  });

  it('no picture lies here that no page is held against', { tags: 'long' }, () => {
    expect(forgottenGoldens(import.meta.url, /^full-/)).toEqual([]);
  });
});
