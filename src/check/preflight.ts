import { quoted } from '../fault.js';
import type { Box } from '../geometry.js';
import { boundBook, PAGES_AT_A_TIME } from '../layout/binding.js';
import type { BindingMethod } from '../layout/layout.js';
import { mmToPoints, pointsToMm } from '../units.js';
import { counted } from '../wording.js';
import { coverFindings } from './preflight-cover.js';
import { drawingFindings } from './preflight-drawing.js';
import { facingFindings } from './preflight-facing.js';
import {
  type Finding,
  inside,
  isPress,
  LIMITS,
  overPages,
  type PageRule,
  pagesOf,
  round,
} from './preflight-finding.js';
import type { ReadBook } from './read-book.js';
import { changedPages } from './read-page.js';

const sizeWords = (box: Box): string =>
  `${round(pointsToMm(box.maxX - box.minX))} x ${round(pointsToMm(box.maxY - box.minY))} mm`;

const boxes: PageRule = ({ media, crop, trim, bleed, art, boxFaults }, book) => {
  const faults = [...boxFaults];
  const isTold = (key: string): boolean => boxFaults.some((words) => words.includes(key));
  if (crop !== null && !inside(crop, media)) faults.push('the CropBox is not inside the MediaBox');
  // One of the two says where a page is cut (ISO 15930-4; from memory).
  if (isPress(book) && trim !== null && art !== null) faults.push('a TrimBox and an ArtBox');
  if (trim === null) return isTold('TrimBox') ? faults : [...faults, 'no TrimBox'];
  if (!inside(trim, media)) faults.push('the TrimBox is not inside the MediaBox');
  if (crop !== null && !inside(trim, crop)) faults.push('the CropBox hides a part of the page');
  if (bleed !== null && !inside(trim, bleed)) faults.push('the TrimBox is not inside the BleedBox');
  if (bleed !== null && !inside(bleed, media)) {
    faults.push('the BleedBox is not inside the MediaBox');
  }
  const isCut = book.facts !== null && (book.facts.sheet === null || book.facts.cover !== null);
  if (isPress(book) && isCut) {
    if (bleed === null) faults.push(...(isTold('BleedBox') ? [] : ['no BleedBox']));
    else if (!inside(trim, bleed, mmToPoints(LIMITS.bleed))) {
      faults.push(`bleed of less than ${LIMITS.bleed} mm`);
    }
  }
  return faults;
};

/** Pages that are not as this program made them, of a file that says that it did. */
const asMade = ({ facts, pages }: ReadBook): Finding[] => {
  if (facts === null) return [];
  const rule = 'as made';
  const changed = changedPages(pages);
  return changed.length === 0
    ? [{ rule, verdict: 'pass', page: null, words: 'every page draws what it was made with' }]
    : changed.map((page) => ({
        ...{ rule, verdict: 'note', page },
        words: 'not as this program made it: changed since, or of another file',
      }));
};

const margins = (book: ReadBook): Finding[] => {
  if (book.facts === null) return [];
  const clear = mmToPoints(book.facts.clear);
  return overPages(
    book,
    'margins',
    `type ${LIMITS.textInside} mm or more inside the trim, ${round(book.facts.clear)} mm clear at the binding`,
    (page) =>
      pagesOf(page, book.pages.indexOf(page)).flatMap(({ on, trim, recto }) => {
        // The first sheet of instructions is not cut.
        if (on === null && book.facts!.sheet !== null) return [];
        const outside = page.drawn.texts.filter(
          (t) => t.on === on && !inside(t.box, trim, mmToPoints(LIMITS.textInside) - 0.3),
        );
        const bound = page.drawn.paints.filter(
          (p) =>
            p.on === on &&
            !p.printerMark &&
            (recto
              ? p.box.minX < trim.minX + clear - LIMITS.box
              : p.box.maxX > trim.maxX - clear + LIMITS.box),
        );
        return [
          ...outside.map(
            (t) => `${quoted(t.text)} is less than ${LIMITS.textInside} mm inside the trim`,
          ),
          ...(clear > 0 && bound.length > 0
            ? [
                `${counted(bound.length, 'mark lies', 'marks lie')} in the clear strip at the binding`,
              ]
            : []),
        ];
      }),
  );
};

const count = (book: ReadBook): Finding[] => {
  const { facts } = book;
  if (facts === null) return [];
  const rule = 'page count';
  const multiple = PAGES_AT_A_TIME[facts.binding as BindingMethod] ?? 1;
  if (facts.sheet === null) {
    const pages = book.pages.length;
    const found = (verdict: Finding['verdict'], words: string): Finding => ({
      ...{ rule, verdict, page: null },
      words,
    });
    const isWhole = pages === facts.pages;
    const lacking = `${pages} pages in the file of a book of ${facts.pages}`;
    if (!isPress(book)) return isWhole ? [] : [found('note', lacking)];
    return [
      ...(isWhole ? [] : [found('fail', lacking)]),
      pages % multiple === 0
        ? found('pass', `${pages} pages, as ${facts.binding} takes them`)
        : found('fail', `${pages} pages: ${facts.binding} takes a multiple of ${multiple}`),
    ];
  }
  const numbers = book.pages
    .flatMap(({ drawn }) => drawn.placed.map((p) => p.number))
    .sort((a, b) => a - b);
  const whole = numbers.length === facts.pages && numbers.every((n, i) => n === i + 1);
  return [
    {
      rule,
      verdict: whole ? 'pass' : 'fail',
      page: null,
      words: whole
        ? `all ${facts.pages} pages are on the sheets, each once`
        : `${counted(numbers.length, 'page')} on the sheets of ${facts.pages} in the book`,
    },
  ];
};

const binding = ({ facts }: ReadBook): Finding[] => {
  const method = facts?.binding as BindingMethod | undefined;
  if (
    facts == null ||
    method === undefined ||
    !Object.hasOwn(PAGES_AT_A_TIME, method) ||
    facts.paper === 0
  ) {
    return [];
  }
  const { pages, clear, paper, inner } = facts;
  const { refused, warning, sheets, thickness } = boundBook(pages, { method, clear, paper }, inner);
  const at = { rule: 'binding', page: null };
  if (refused !== null) return [{ ...at, verdict: 'fail', words: refused.problem }];
  if (warning !== null) return [{ ...at, verdict: 'note', words: warning }];
  const of = method === 'saddle stitch' ? 'folded sheets' : 'leaves';
  const words = `${method}, ${sheets} ${of}, ${round(thickness)} mm thick when closed`;
  return method === 'fold-up' ? [] : [{ ...at, verdict: 'pass', words }];
};

const trims = (book: ReadBook): Finding[] => {
  const sizes = new Set(
    book.pages.flatMap((page, i) =>
      pagesOf(page, i)
        .filter(({ on }) => on !== null || book.facts?.sheet == null)
        .map(({ trim }) => sizeWords(trim)),
    ),
  );
  return [
    {
      rule: 'trim',
      verdict: sizes.size === 1 ? 'pass' : 'fail',
      page: null,
      words:
        sizes.size === 1
          ? `every page is ${[...sizes][0]}`
          : sizes.size === 0
            ? 'no page says where it is cut'
            : `pages differ in size: ${[...sizes].join(', ')}`,
    },
  ];
};

const standard = (book: ReadBook): Finding[] => {
  if (!isPress(book)) return [];
  const rule = 'PDF/X';
  const faults = [
    ...(book.standard === 'PDF/X-1a:2003' ? [] : [`unknown standard ${quoted(book.standard)}`]),
    ...(book.version === '1.4' ? [] : [`PDF ${book.version}; X-1a:2003 is PDF 1.4`]),
    ...(book.outputCondition === null ? ['no output intent'] : []),
    ...(book.trapped === 'True' || book.trapped === 'False' ? [] : ['"Trapped" is not said']),
    ...(book.hasIdentifier ? [] : ['no file identifier']),
    ...(book.title === null ? ['no title'] : []),
    ...book.actions.map((action) => `an action: ${action}`),
    ...book.pages.flatMap(({ annotations }, i) =>
      annotations > 0 ? [`page ${i + 1} has annotations`] : [],
    ),
  ];
  return faults.length === 0
    ? [
        {
          rule,
          verdict: 'pass',
          page: null,
          words: `${book.standard}, printing condition ${book.outputCondition}`,
        },
      ]
    : faults.map((words) => ({ rule, verdict: 'fail', page: null, words }));
};

const words = (book: ReadBook): Finding[] => {
  const missing = [
    ...(book.title === null ? ['title'] : []),
    ...(book.language === null ? ['language'] : []),
    ...(book.hasBookmarks ? [] : ['bookmarks']),
    ...(book.hasLabels ? [] : ['page labels']),
    ...(book.hasMetadata ? [] : ['metadata']),
  ];
  return [
    {
      rule: 'document',
      verdict: missing.length === 0 ? 'pass' : 'fail',
      page: null,
      words:
        missing.length === 0
          ? `${quoted(book.title)}, language ${book.language}, bookmarks, page labels${book.tagged ? ', tagged for screen readers' : ''}`
          : `without ${missing.join(', ')}`,
    },
  ];
};

/** All rules over a book, in a fixed order. */
export const preflight = (book: ReadBook): Finding[] => [
  ...overPages(book, 'boxes', 'MediaBox, BleedBox and TrimBox lie one in the other', boxes),
  ...asMade(book),
  ...trims(book),
  ...standard(book),
  ...drawingFindings(book),
  ...margins(book),
  ...count(book),
  ...binding(book),
  ...facingFindings(book),
  ...coverFindings(book),
  ...words(book),
];
