import { beforeAll, describe, expect, it } from 'vitest';
import { checkBeforeSolving } from '../../src/book/early-check.js';
import { doGreenJob, type GreenJob, type RefusedPages } from '../../src/book/green-job.js';
import type { Course } from '../../src/course/course.js';
import { courseFigures } from '../../src/course/course-figures.js';
import type { HoleFigures } from '../../src/course/hole-figures.js';
import { loadCourse } from '../../src/course/load-course.js';
import type { Layout, PageKind } from '../../src/layout/layout.js';
import { openFonts } from '../../src/print/fonts.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { ownLayout, ownLayoutNames } from '../print/sample-pages.js';

const fonts = openFonts();
const pocket = ownLayout('pocket');
/** The pocket book without a second green speed, so that other pages are what is too small. */
const plain: Layout = { ...pocket, tables: { ...pocket.tables, speedSteps: [] } };

/** A hole and a practice green of the demo, without a look at any survey. */
const some = (course: Course): Course => ({
  ...course,
  holes: course.holes.filter(({ id }) => ['12', 'practice'].includes(id)),
});

let course: Course;
let holes: HoleFigures[];
beforeAll(() => {
  course = some(loadCourse('course-data/vellamoor'));
  holes = courseFigures(course, null);
});

const check = (layout: Layout, of = course): Promise<RefusedPages> =>
  checkBeforeSolving({ course: of, layout, units: 'imperial', holes }, { fonts, language: 'en' });

describe('a book before any green is solved', () => {
  it('is passed by every layout that is shipped', { tags: 'long' }, async () => {
    for (const name of ownLayoutNames().filter((one) => one !== 'day')) {
      expect(await check(ownLayout(name)), name).toEqual({ green: null, tables: null });
    }
  });

  it('is refused on a page of 80 x 120 mm', async () => {
    const small = { ...plain, page: { ...plain.page, width: 80, height: 120 } };
    await expect(check(small)).rejects.toThrow(
      /page \d+: it would fail its own check \(legibility\)/,
    );
  });

  it('is refused where its binding does not hold the pages that it has at least', async () => {
    const thick = { ...plain, binding: { ...plain.binding, method: 'wire-o' as const, paper: 10 } };
    await expect(check(thick)).rejects.toThrow(/\d+ pages are \d+ mm thick: wire-o holds 28 mm/);
  });

  it('is refused in the largest type', { tags: 'long' }, async () => {
    const type = { small: 14, text: 16, table: 14, heading: 24, title: 36 };
    await expect(check({ ...plain, type })).rejects.toThrow('it would fail its own check');
  });

  /** A layout of some kinds of pages alone, in another table type. */
  const ofKinds = (layout: Layout, kinds: readonly PageKind[], table: number): Layout => ({
    ...layout,
    pages: Object.fromEntries(kinds.map((kind) => [kind, layout.pages[kind]])),
    type: { ...layout.type, table },
  });

  it('is refused where the widest figures that its pages can have find no room', async () => {
    const fails = 'it would fail its own check (legibility)';
    const told = await check(ofKinds(plain, ['tables'], 12));
    expect(told.green).toBeNull();
    expect(told.tables?.problem).toContain(`${fails}: "L" and "+2½" run into each other`);
    expect(told.tables?.where.place).toBe('page "practice Practice green: putts", kind tables');
    const drill = await check(ofKinds(ownLayout('drill-cards'), ['drill'], 12));
    expect(drill.tables?.problem).toContain(`${fails}: "~9½ ft left" and "5½ ft" run`);
    await expect(check(ofKinds(plain, ['surveys'], 12))).rejects.toThrow(
      `page "What the surveys are worth", kind surveys: ${fails}`,
    );
  });

  it.each(['break-map', 'station'] as const)(
    'is refused on its page of the kind %s',
    async (kind) => {
      const large = ownLayout('practice-large');
      const small = { ...large.page, width: 90, height: 110 };
      const { tables } = await check({ ...ofKinds(large, [kind], 10), page: small });
      expect(tables?.where.place).toContain(`kind ${kind}`);
    },
  );

  it('waits for the worth of a survey where only the pages of a green fail', async () => {
    const pages = { green: plain.pages.green!, tables: plain.pages.tables! };
    const type = { ...plain.type, small: 11, table: 13 };
    const { green, tables } = await check({ ...plain, pages, type });
    expect([green?.problem, tables?.problem].join()).toContain('it would fail its own check');
  });
});

describe('a green whose pages would fail', () => {
  const fault: RefusedPages['green'] = {
    where: { file: 'x.pdf' },
    problem: 'it would fail',
    cure: 'mend it',
  };
  /** Solving would need a surface, which is not there: who comes so far fails by another error. */
  const job = (worth: GreenJob['worth'], refused: RefusedPages): GreenJob => ({
    source: 'a',
    place: 'hole 1',
    measured: null,
    fit: { surface: {}, report: {} } as never,
    worth,
    units: 'metric',
    surveyed: null,
    trust: null,
    reading: {} as never,
    readOptions: {},
    request: { locations: [] } as never,
    refused,
  });

  it.each(['tables', 'arrows', 'outline'] as const)(
    'is refused before a putt is solved, where its survey is worth them: %s',
    (worth) => {
      const told = (refused: RefusedPages): string => {
        try {
          doGreenJob(job({ ...FIT_FOR_TABLES, worth, judged: worth }, refused));
          return 'solved';
        } catch (error) {
          return (error as Error).message;
        }
      };
      const isRefused = (refused: RefusedPages): boolean => told(refused).includes('would fail');
      expect(isRefused({ green: fault, tables: null })).toBe(worth !== 'outline');
      expect(isRefused({ green: null, tables: fault })).toBe(worth === 'tables');
      expect(isRefused({ green: null, tables: null })).toBe(false);
    },
  );
});
