import { InputFault } from '../fault.js';
import type { Binding, BindingMethod, Layout } from './layout.js';

/** Pages that a binding takes at a time. Common practice, no source. */
export const PAGES_AT_A_TIME: Readonly<Record<BindingMethod, number>> = {
  loose: 1,
  'saddle stitch': 4,
  perfect: 2,
  'wire-o': 2,
  'fold-up': 1,
};

/**
 * Millimetres of paper that a binding holds. `from`: less is not held well; `easy`: what a desk stapler or
 * the common wires take; `most`: more is not bound so. Of saddle stitching the paper that a staple goes
 * through, a leaf's thickness for each folded sheet; else the closed block. Common practice, no source, and from
 * memory: the legs of a desk staple are 6 mm long (its designation, 24/6, says so), twenty-five sheets of 0.1 mm leave
 * enough of them to be bent; printers stitch books of up to some 6 mm, which is 3 mm at the fold; glue wants a back of
 * 2 mm (both stand in what binderies tell their customers); wires of three loops an inch hold 12 mm, those of two
 * 28 mm (the size tables of their makers).
 */
const HOLDS: Readonly<
  Record<BindingMethod, { readonly from: number; readonly easy: number; readonly most: number }>
> = {
  loose: { from: 0, easy: Infinity, most: Infinity },
  'saddle stitch': { from: 0, easy: 2.5, most: 3 },
  perfect: { from: 2, easy: 40, most: 60 },
  'wire-o': { from: 0, easy: 12, most: 28 },
  'fold-up': { from: 0, easy: Infinity, most: Infinity },
};

/** Millimetres of the inner margin that are to be left beside the clear strip for the cut and the fold. */
const SPARE = 1;

export interface BoundBook {
  /** Pages with the blank ones that the binding asks for. */
  readonly pages: number;
  /** Folded sheets, or leaves. */
  readonly sheets: number;
  /** Of the closed book without a cover, millimetres. */
  readonly thickness: number;
  /** How far the innermost sheet of a stapled book stands out, millimetres; its print is moved inward by as much. */
  readonly creep: number;
  /** What to see to when it is bound; null where it is bound without trouble. */
  readonly warning: string | null;
  /** Why it cannot be bound so, and what would do; null where it can. */
  readonly refused: { readonly problem: string; readonly cure: string } | null;
}

const mm = (value: number): string => `${Number(value.toFixed(1))} mm`;
/** More than a limit, told so that it reads as more. */
const mmOver = (value: number, limit: number): string =>
  mm(value) === mm(limit) ? `${Number(value.toFixed(2))} mm` : mm(value);

/** The binding that takes so much paper, in words. */
const otherBinding = (method: BindingMethod, thickness: number): string => {
  const takes = (other: BindingMethod): boolean =>
    other !== method && thickness >= HOLDS[other].from && thickness <= HOLDS[other].most;
  const fits = (['wire-o', 'perfect'] as const).filter(takes);
  return `${fits.length === 0 ? 'loose leaves, or fewer pages,' : fits.join(' or ')} will do: set "binding" in the layout, with an inner margin for it`;
};

/** A book of so many pages, in the binding of its layout. */
export const boundBook = (
  count: number,
  { method, paper, clear }: Binding,
  inner: number,
): BoundBook => {
  const step = PAGES_AT_A_TIME[method];
  const pages = Math.ceil(count / step) * step;
  const stapled = method === 'saddle stitch';
  const sheets = method === 'fold-up' ? 1 : Math.ceil(pages / (stapled ? 4 : 2));
  const thickness = (pages / 2) * paper;
  const held = stapled ? sheets * paper : thickness;
  const creep = stapled ? (sheets - 1) * paper : 0;
  const { from, easy, most } = HOLDS[method];
  const passed = held > most ? most : easy;
  const what = stapled
    ? `${pages} pages are ${sheets} folded sheets, ${mmOver(held, passed)} thick at the fold`
    : `${pages} pages are ${mmOver(held, passed)} thick`;
  const room = inner - creep - clear;
  const bound = { pages, sheets, thickness, creep };
  if (held > most) {
    const problem = `${what}: ${method} holds ${mm(most)}`;
    return { ...bound, warning: null, refused: { problem, cure: otherBinding(method, thickness) } };
  }
  if (room < -1e-9) {
    return {
      ...bound,
      warning: null,
      refused: {
        problem: `${what}: the innermost sheet stands out by ${mm(creep)}, which leaves ${mm(inner - creep)} of the inner margin; the fold takes ${mm(clear)}`,
        cure: `an inner margin of ${mm(clear + creep)}, thinner paper, or another binding: ${otherBinding(method, thickness)}`,
      },
    };
  }
  const warnings = [
    ...(held > easy
      ? [
          stapled
            ? `${what}: a desk stapler holds ${mm(easy)}, so have it stitched, or take thinner paper`
            : `${what}: more than ${mm(easy)} is hard to open`,
        ]
      : []),
    ...(held < from
      ? [`${what}: ${method} wants ${mm(from)}, so take thicker paper or staple it`]
      : []),
    ...(creep > 0 && room < SPARE
      ? [`${what}: the innermost print stands ${mm(inner - creep)} from the fold`]
      : []),
  ];
  return { ...bound, warning: warnings.length === 0 ? null : warnings.join('; '), refused: null };
};

/** Sheets that are folded small, and how thick they lie: each panel is a leaf, printed or not. */
const foldedUp = (
  count: number,
  { binding, sheets }: Layout,
): Partial<Pick<BoundBook, 'sheets' | 'thickness'>> => {
  const plan = sheets.find(({ scheme }) => scheme === 'fold-up');
  if (binding.method !== 'fold-up' || plan === undefined) return {};
  const onSheet = plan.duplex === 'one side' ? plan.up : 2 * plan.up;
  const folded = Math.ceil(count / onSheet);
  return { sheets: folded, thickness: folded * plan.up * binding.paper };
};

/**
 * The book of so many pages as the layout binds it.
 *
 * @throws InputFault when the binding does not hold it, or print would run into the fold.
 */
export const requireBound = (count: number, layout: Layout): BoundBook => {
  const bound = boundBook(count, layout.binding, layout.page.margins.inner);
  if (bound.refused === null) return { ...bound, ...foldedUp(count, layout) };
  const { problem, cure } = bound.refused;
  throw new InputFault({ file: `layout ${layout.name}`, place: 'binding' }, problem, cure);
};

/** The pages with as many blank ones after them as the binding needs. */
export const fillForBinding = <P>(
  pages: readonly P[],
  method: BindingMethod,
  blank: (like: P, id: string, label: string) => P,
): P[] => {
  const step = PAGES_AT_A_TIME[method];
  const missing = (step - (pages.length % step)) % step;
  const last = pages[pages.length - 1];
  return [
    ...pages,
    ...Array.from({ length: missing }, (_, i) =>
      blank(last, `blank-${i + 1}`, String(pages.length + i + 1)),
    ),
  ];
};
