import { describe, expect, it } from 'vitest';
import { makeProducts } from '../../src/book/book-products.js';
import { preflight } from '../../src/check/preflight.js';
import { readBook } from '../../src/check/read-book.js';
import { boundBook, requireBound } from '../../src/layout/binding.js';
import type { Binding, BindingMethod, Layout } from '../../src/layout/layout.js';
import { openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { ownLayout, ownLayoutNames, samplePages } from '../print/sample-pages.js';

const METHODS: readonly BindingMethod[] = [
  'loose',
  'saddle stitch',
  'perfect',
  'wire-o',
  'fold-up',
];
const CLEAR: Readonly<Record<BindingMethod, number>> = {
  loose: 0,
  'saddle stitch': 3,
  perfect: 6,
  'wire-o': 9,
  'fold-up': 0,
};

const bound = (pages: number, method: BindingMethod, paper = 0.1, inner = 12) =>
  boundBook(pages, { method, paper, clear: CLEAR[method] }, inner);

describe('a book in its binding', () => {
  // Counted by hand from sheets and thickness; what a binding holds is common practice, no source.
  it('stapled: counts folded sheets, thickness and creep', () => {
    const book = bound(78, 'saddle stitch');
    expect(book).toMatchObject({ pages: 80, sheets: 20, warning: null, refused: null });
    expect(book.thickness).toBeCloseTo(4, 12);
    expect(book.creep).toBeCloseTo(1.9, 12);
  });

  it('stapled: warns where a desk stapler gives up, then refuses and names what holds it', () => {
    expect(bound(101, 'saddle stitch').warning).toBe(
      '104 pages are 26 folded sheets, 2.6 mm thick at the fold: a desk stapler holds 2.5 mm, so have it stitched, or take thinner paper',
    );
    expect(bound(120, 'saddle stitch').refused).toBeNull();
    expect(bound(121, 'saddle stitch').refused).toEqual({
      problem: '124 pages are 31 folded sheets, 3.1 mm thick at the fold: saddle stitch holds 3 mm',
      cure: 'wire-o or perfect will do: set "binding" in the layout, with an inner margin for it',
    });
  });

  it('tells a thickness over a limit as more than it', () => {
    // 21 sheets of 0.12 mm.
    expect(bound(84, 'saddle stitch', 0.12).warning).toMatch(
      /2\.52 mm thick at the fold: a desk stapler holds 2\.5 mm/,
    );
  });

  it('folded small: counts sheets, and each panel of them as a leaf', () => {
    const foldUp = ownLayout('fold-up');
    const { sheets, thickness } = requireBound(10, foldUp);
    // Ten panels of 0.1 mm lie on each other, though ten pages fill one side of them alone.
    expect([sheets, thickness]).toEqual([1, 1]);
    expect(requireBound(20, foldUp).thickness).toBe(1);
    expect(requireBound(21, foldUp)).toMatchObject({ sheets: 2, thickness: 2 });
  });

  it('stapled: leaves the innermost print clear of the fold', () => {
    // 15 sheets of 0.1 mm stand out by 1.4 mm; 5.5 less 1.4 is 4.1 mm, 1.1 mm beside the fold's 3.
    expect(bound(60, 'saddle stitch', 0.1, 5.5).warning).toBeNull();
    expect(bound(60, 'saddle stitch', 0.1, 5.2).warning).toMatch(/stands 3\.8 mm from the fold$/);
    expect(bound(60, 'saddle stitch', 0.1, 4).refused?.problem).toMatch(
      /stands out by 1\.4 mm, which leaves 2\.6 mm of the inner margin; the fold takes 3 mm$/,
    );
  });

  it('glued and wired: wants a back for the glue, and wires that go round it', () => {
    expect(bound(38, 'perfect').warning).toMatch(/1\.9 mm thick: perfect wants 2 mm/);
    expect(bound(40, 'perfect').warning).toBeNull();
    expect(bound(240, 'wire-o').warning).toBeNull();
    expect(bound(242, 'wire-o').warning).toMatch(/hard to open/);
    expect(bound(562, 'wire-o').refused?.cure).toMatch(/^perfect will do/);
    expect(bound(1202, 'perfect').refused?.cure).toMatch(/^loose leaves, or fewer pages/);
  });

  it('never grows easier with pages, and what it names instead holds the book', () => {
    for (const method of METHODS) {
      let was = 0;
      for (let pages = 2; pages <= 1400; pages += 2) {
        const { refused } = bound(pages, method);
        const now = refused === null ? 0 : 1;
        expect(now).toBeGreaterThanOrEqual(was);
        was = now;
        for (const other of METHODS) {
          if (refused?.cure.split(' will do')[0].split(' or ').includes(other)) {
            expect(bound(pages, other).refused, `${pages} ${other}`).toBeNull();
          }
        }
      }
    }
  });

  it('that does not hold is not made, and fails the check', async () => {
    const layout: Layout = {
      ...ownLayout('pocket'),
      binding: { method: 'saddle stitch', paper: 0.5, clear: 3 } satisfies Binding,
    };
    const pages = samplePages(layout, 28);
    const words = { fonts: openFonts(), title: 'Test', language: 'en' };
    await expect(makeProducts(pages, layout, { ...words, svg: false, png: null })).rejects.toThrow(
      /28 pages are 7 folded sheets, 3\.5 mm thick at the fold: saddle stitch holds 3 mm/,
    );
    const pdf = await writePdf(pages, layout, { ...words, edition: 'screen' });
    const findings = preflight(await readBook(pdf, 'test.pdf'));
    expect(findings.find(({ rule }) => rule === 'binding')).toMatchObject({ verdict: 'fail' });
  });

  it.each(ownLayoutNames())('%s binds a book of 80 pages', (name) => {
    const { binding, page } = ownLayout(name);
    expect(boundBook(80, binding, page.margins.inner).refused).toBeNull();
  });
});
