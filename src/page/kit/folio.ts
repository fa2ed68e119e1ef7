import type { Mark } from '../marks/marks.js';
import { text } from './draw.js';
import type { Cell } from './grid.js';
import type { PageContext, PageModule } from './page-modules.js';
import { folioGroup } from './read-aloud.js';

/** The page's number at the outer end of the foot. */
export const folioMark = (
  { layout, side, label }: Pick<PageContext, 'layout' | 'side' | 'label'>,
  { x, y, width, height }: Cell,
): Mark =>
  folioGroup(
    text([side === 'left' ? x : x + width, y + height], label, 'text-bold', layout.type.small, {
      align: side === 'left' ? 'left' : 'right',
    }),
  );

/** A foot that is the page's number alone. */
export const folioModule: PageModule<PageContext> = (context, cell) => [folioMark(context, cell)];
