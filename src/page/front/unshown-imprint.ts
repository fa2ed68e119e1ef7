import type { Imprint } from '../../course/course.js';
import type { Layout } from '../../layout/layout.js';
import { isSold } from './imprint-page.js';

/** What of an imprint a layout has no place for, for who makes the book. */
export const unshownOfImprint = (
  { name, pages, cover }: Pick<Layout, 'name' | 'pages' | 'cover'>,
  imprint: Imprint,
): string[] => {
  const placed = [...Object.values(pages), cover?.front ?? [], cover?.back ?? []].flat();
  const hasLogo = placed.some(({ module }) => module === 'logo');
  return [
    ...(isSold(imprint) && pages.imprint === undefined
      ? [
          `layout ${name} has no imprint page: who sells the book, its ISBN and its price are not printed; add a page "imprint" to the layout, as pocket has`,
        ]
      : []),
    ...(imprint.logo !== null && !hasLogo
      ? [
          `layout ${name} has no place for the picture ${imprint.logo.file}: it is not printed; add a module "logo" to a page of the layout`,
        ]
      : []),
  ];
};
