import { pointsToMm } from '../../units.js';
import { text } from '../kit/draw.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import type { Page } from '../marks/marks.js';
import { noteTextMarks } from './note-text.js';

const NOTES_MODULES: Readonly<Record<string, PageModule<PageContext>>> = {
  heading: ({ layout }, cell) => [
    text(
      [cell.x, cell.y + pointsToMm(layout.type.title) * 0.8],
      'Notes',
      'title-bold',
      layout.type.title,
    ),
  ],
  lines: (context, cell) => noteTextMarks(context, '', cell),
};

export const composeNotesPage = (context: PageContext, id: string): Page =>
  composePage('notes', { id, title: 'Notes' }, NOTES_MODULES, context);
