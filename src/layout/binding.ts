import type { BindingMethod } from './layout.js';

/** Pages that a binding takes at a time. Common practice, no source. */
export const PAGES_AT_A_TIME: Readonly<Record<BindingMethod, number>> = {
  loose: 1,
  'saddle stitch': 4,
  perfect: 2,
  'wire-o': 2,
  'fold-up': 1,
};

/** The pages with as many blank ones after them as the binding needs. */
export const fillForBinding = <
  Sheet extends { readonly id: string; readonly label: string; readonly marks: readonly unknown[] },
>(
  pages: readonly Sheet[],
  method: BindingMethod,
): Sheet[] => {
  const step = PAGES_AT_A_TIME[method];
  const missing = (step - (pages.length % step)) % step;
  const last = pages[pages.length - 1];
  return [
    ...pages,
    ...Array.from({ length: missing }, (_, i) => ({
      ...last,
      id: `blank-${i + 1}`,
      label: String(pages.length + i + 1),
      marks: [],
    })),
  ];
};
