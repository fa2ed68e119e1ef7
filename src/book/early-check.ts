import { drawingFaults } from '../check/self-check.js';
import type { Course } from '../course/course.js';
import type { HoleFigures } from '../course/hole-figures.js';
import { InputFault, quoted } from '../fault.js';
import { requireBound } from '../layout/binding.js';
import type { Layout, PageKind } from '../layout/layout.js';
import { oneByOne } from '../others-turn.js';
import { type PlannedPage, planBook } from '../page/book-pages.js';
import type { Page } from '../page/marks/marks.js';
import type { WordTable } from '../page/words/words.js';
import { type Fonts, measureWith } from '../print/fonts.js';
import { writePdf } from '../print/pdf.js';
import type { UnitSystem } from '../units.js';
import { blankGreen } from './blank-green.js';
import { contentWithoutNotes } from './course-book.js';
import type { RefusedPages } from './green-job.js';
import { storeOf } from './product.js';
import { setAside } from './shelved-pages.js';
import { speedsOfTables } from './wanted-green.js';
import { type WidestPage, widestPages } from './widest-pages.js';

/** A book as far as it is known before a survey is read. */
export interface UnsolvedBook {
  readonly course: Course;
  readonly layout: Layout;
  readonly units: UnitSystem;
  /** English where they are left out. */
  readonly words?: WordTable | undefined;
  readonly holes: readonly HoleFigures[];
}

export interface EarlyOptions {
  readonly fonts: Fonts;
  readonly language: string;
  /** Where a run may keep what is too large for memory; null or left out: nowhere. */
  readonly room?: string | null;
}

/** Pages that are the same whatever the surveys tell. */
const ALWAYS: readonly PageKind[] = [
  'cover',
  'how-to-read',
  'card',
  'conversions',
  'hole',
  'imprint',
  'back-cover',
];
const OF_GREEN: readonly PageKind[] = ['green', 'tables'];
/** Pages that a green has where its survey is fit for break tables. */
const OF_PUTTS: readonly PageKind[] = [
  'tables',
  'break-map',
  'station',
  'quiz',
  'quiz-answers',
  'drill',
];

/** Pages that are kept in memory until all of them are written. */
const EARLY_IN_MEMORY = 32;

/** The page, or its paper alone where it hangs on what is not known yet. */
const drawnEarly = ({ kind, compose }: PlannedPage, { page }: Layout, i: number): Page =>
  [...ALWAYS, ...OF_GREEN].includes(kind)
    ? compose()
    : { ...{ id: `early-${i}`, title: kind, label: `${i + 1}`, marks: [] }, ...page };

/** As a thread can be told it. */
export const plainFault = (fault: InputFault | null): RefusedPages['green'] =>
  fault === null ? null : { where: fault.where, problem: fault.problem, cure: fault.cure };

/** A fault on a page that the book will have elsewhere: told by what the page is. */
const faultOn = ({ kind, page }: WidestPage, fault: InputFault | undefined): InputFault[] =>
  fault === undefined
    ? []
    : [
        new InputFault(
          { ...fault.where, place: `page ${quoted(page.title)}, kind ${kind}` },
          fault.problem,
          fault.cure,
        ),
      ];

/**
 * Draws the pages of a book without its surveys, and those that tell figures with the widest that they can have, and holds
 * them to the check: what fails there fails in the book, too. Faults of pages that a green has only where its survey is
 * worth them are given back.
 *
 * @throws InputFault for more pages than can be bound, and for the first page that fails whatever the surveys are worth.
 */
export const checkBeforeSolving = async (
  { course, layout, units, words, holes }: UnsolvedBook,
  { fonts, language, room = null }: EarlyOptions,
): Promise<RefusedPages> => {
  const greens = course.holes.flatMap((hole) =>
    blankGreen(hole, layout).map((content) => ({ hole, content })),
  );
  const content = { ...contentWithoutNotes(course, layout, units, greens, holes), words };
  const measure = measureWith(fonts);
  // A layout of other kinds alone has no page without a figure.
  const isPlanned = [...ALWAYS, ...OF_GREEN].some((kind) => layout.pages[kind] !== undefined);
  const planned = isPlanned ? planBook(content, layout, measure) : [];
  // A green has one page of its own whatever its survey is worth; all other pages come on top.
  const certain = planned.filter(({ kind }) => [...ALWAYS, 'green'].includes(kind));
  requireBound(certain.length, layout);
  const asked = { layout, measure, from: planned.length };
  const widest = widestPages(content, asked, (own) => speedsOfTables(layout, own));
  const aside = setAside(room, EARLY_IN_MEMORY);
  const pages = [
    ...(await oneByOne(planned, (page, i) => aside(drawnEarly(page, layout, i)))),
    ...widest.map(({ page }, i) => ({ ...page, id: `widest-${i}`, label: `${i + 1}` })),
  ];
  if (pages.length === 0) return { green: null, tables: null };
  const bytes = await writePdf(pages, layout, {
    fonts,
    title: course.title,
    language,
    ...{ edition: 'plain', store: storeOf(room) },
  });
  const faults = await drawingFaults(bytes, `${layout.name}.pdf`);
  const first = (kinds: readonly PageKind[]): InputFault | null => {
    const at = planned.findIndex(({ kind }, i) => kinds.includes(kind) && faults.has(i));
    const found = widest.flatMap((one, i) =>
      kinds.includes(one.kind) ? faultOn(one, faults.get(planned.length + i)) : [],
    );
    return faults.get(at) ?? found[0] ?? null;
  };
  const always = first([...ALWAYS, 'surveys']);
  if (always !== null) throw always;
  return { green: plainFault(first(['green'])), tables: plainFault(first(OF_PUTTS)) };
};
