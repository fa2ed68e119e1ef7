import { pointsToMm } from '../units.js';
import { rule, stroke, text } from './draw.js';
import type { Page } from './marks.js';
import { TINT } from './marks.js';
import { composePage, type PageContext, type PageModule } from './page-modules.js';

/** Millimetres between note lines: room for handwriting. */
const NOTE_PITCH = 7;

export const noteLines: PageModule<PageContext> = (_context, cell) => {
  const count = Math.floor(cell.height / NOTE_PITCH);
  return Array.from({ length: count }, (_, i) => {
    const y = cell.y + (i + 1) * NOTE_PITCH;
    return rule(cell.x, y, cell.x + cell.width, y, stroke(0.12, TINT));
  });
};

const NOTES_MODULES: Readonly<Record<string, PageModule<PageContext>>> = {
  heading: ({ layout }, cell) => [
    text(
      [cell.x, cell.y + pointsToMm(layout.type.title) * 0.8],
      'Notes',
      'title-bold',
      layout.type.title,
    ),
  ],
  lines: noteLines,
};

export const composeNotesPage = (context: PageContext, id: string): Page =>
  composePage('notes', { id, title: 'Notes' }, NOTES_MODULES, context);
