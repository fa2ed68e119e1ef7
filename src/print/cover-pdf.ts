import type { PiecedBytes } from '../file-bytes.js';
import type { Spine } from '../layout/cover-spine.js';
import type { CoverPlan, Layout } from '../layout/layout.js';
import { oneByOne } from '../others-turn.js';
import type { BookCover } from '../page/marks/book-cover.js';
import type { Mark } from '../page/marks/marks.js';
import { mmToPoints } from '../units.js';
import { coverFacts } from './book-facts.js';
import { drawnContent } from './content.js';
import { startFontBook } from './font-embedding.js';
import { number } from './inks.js';
import { PAGE_TAG } from './marked-content.js';
import type { PdfOptions } from './pdf.js';
import { addPage, finishDocument, type PdfBox, startDocument } from './pdf-document.js';
import { pressCondition } from './press-conditions.js';
import { CROP_REACH, cropMarks, foldMarks, registrationMarks } from './printer-marks.js';

/** A fold's marks begin so far outside the trim, or at the bleed's edge, and are so long; millimetres. */
const TICK = { from: 3.5, long: 4.5 } as const;

/** Ticks above and below the cut sheet, and beside it where its edges are turned in. */
const foldsOf = (
  { width, height, spine, wrap }: BookCover,
  slug: number,
  bleed: number,
): PdfBox[] => {
  const panel = (width - spine) / 2;
  const near = Math.max(bleed, TICK.from);
  const far = near + TICK.long;
  const across = [panel, panel + spine, ...(wrap > 0 ? [wrap, width - wrap] : [])];
  const along = wrap > 0 ? [wrap, height - wrap] : [];
  const lines = [
    ...across.flatMap((x) => [
      [x, -far, x, -near],
      [x, height + near, x, height + far],
    ]),
    ...along.flatMap((y) => [
      [-far, y, -near, y],
      [width + near, y, width + far, y],
    ]),
  ];
  return lines.map((line) => line.map((at) => mmToPoints(at + slug)) as unknown as PdfBox);
};

/**
 * Covers for a press, each in one piece on a page of its own: PDF/X-1a:2003 in the inks of the cover, with bleed,
 * crop marks, and ticks at the folds of the spine. Each is composed when it is written, so that of thousands none is held.
 */
export const writeCovers = async (
  covers: readonly (() => BookCover)[],
  layout: Layout,
  plan: CoverPlan,
  spine: Spine,
  options: Omit<PdfOptions, 'edition'>,
): Promise<PiecedBytes> => {
  const { fonts } = options;
  const { inks, bleed } = plan;
  const book = startFontBook(fonts);
  const draft = startDocument(book, options, options.store);
  const slug = bleed + CROP_REACH;
  const draw = (marks: readonly Mark[], height: number): string =>
    drawnContent(marks, { fonts, book, inks, model: inks.model, height });
  const at = (x: number, y: number): string =>
    `1 0 0 1 ${number(mmToPoints(x))} ${number(mmToPoints(y))} cm`;
  const buyers: (string | null)[] = [];
  await oneByOne(covers, (compose, i) => {
    const cover = compose();
    buyers.push(cover.buyer);
    const { width, height, wrap, back, front } = cover;
    const box = (...sides: readonly number[]): PdfBox =>
      sides.map((side) => mmToPoints(side + slug)) as unknown as PdfBox;
    const trim = box(0, 0, width, height);
    const bled = box(-bleed, -bleed, width + bleed, height + bleed);
    const media: PdfBox = [0, 0, mmToPoints(width + 2 * slug), mmToPoints(height + 2 * slug)];
    const [left, top, wide, high] = bled;
    const part = (page: typeof back, x: number, count: number): string => {
      const corners = box(x, wrap, x + page.width, wrap + page.height)
        .map(number)
        .join(' ');
      return [
        `/${PAGE_TAG} << /Number ${count} /Trim [${corners}] >> BDC`,
        `q ${at(slug + x, slug + wrap)}\n${draw(page.marks, page.height)}\nQ`,
        'EMC',
      ].join('\n');
    };
    const frontAt = wrap + back.width + cover.spine;
    addPage(draft, {
      content: [
        `q ${[left, top, wide - left, high - top].map(number).join(' ')} re W n`,
        `q ${at(slug, slug)}\n${draw(cover.ground, height)}\nQ`,
        part(back, wrap, 2 * i + 2),
        `q ${at(slug + wrap + back.width, slug + wrap)}\n${draw(cover.spineMarks, back.height)}\nQ`,
        part(front, frontAt, 2 * i + 1),
        'Q',
        cropMarks([trim], mmToPoints(bleed)),
        foldMarks(foldsOf(cover, slug, bleed)),
        registrationMarks(trim, mmToPoints(bleed), media),
      ].join('\n'),
      media,
      trim,
      bleed: bled,
    });
  });
  const labels = covers.map((_, i) => (covers.length === 1 ? 'cover' : `cover ${i + 1}`));
  return finishDocument(draft, {
    inks,
    model: inks.model,
    bookmarks: labels.map((label, page) => ({ title: buyers[page] ?? label, page })),
    labels,
    press: pressCondition(plan.condition),
    registration: true,
    facts: coverFacts(layout, spine, covers.length),
  });
};
