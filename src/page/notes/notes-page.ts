import { pointsToMm } from '../../units.js';
import { text } from '../kit/draw.js';
import { folioModule } from '../kit/folio.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { fitOrShorten } from '../kit/paragraph.js';
import { headingGroup } from '../kit/read-aloud.js';
import type { Page } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { foundTextMarks, noteTextMarks } from './note-text.js';

/** The hole that a page of notes faces or follows; null before the first. */
export interface NotedHole {
  readonly id: string;
  readonly name: string;
}

interface NotesPageContext extends PageContext {
  readonly hole: NotedHole | null;
  /** What the hole's notes found and neither its green's page nor its own has room for. */
  readonly found: readonly string[];
}

/** "Notes", and at the outer edge the hole that they are of. */
const headingModule: PageModule<NotesPageContext> = (
  { layout, measure, side, hole, book },
  cell,
) => {
  const notes = phrase(book, 'notes.title');
  const { title } = layout.type;
  const base = cell.y + pointsToMm(title) * 0.8;
  const right = cell.x + cell.width;
  const outerLeft = side === 'left';
  const head = text([outerLeft ? right : cell.x, base], notes, 'title-bold', title, {
    align: outerLeft ? 'right' : 'left',
  });
  if (hole === null) return [head];
  const room = cell.width - measure(notes, 'title-bold', title) - 4;
  const style = { face: 'title' as const, size: title, least: 6.5 };
  const words = fitOrShorten(`${hole.id} ${hole.name}`, room, style, measure);
  return [
    headingGroup(phrase(book, 'notes.of-hole', { number: hole.id, name: hole.name }), [
      head,
      text([outerLeft ? cell.x : right, base], words.text, 'title', words.size, {
        align: outerLeft ? 'left' : 'right',
      }),
    ]),
  ];
};

const NOTES_MODULES: Readonly<Record<string, PageModule<NotesPageContext>>> = {
  heading: headingModule,
  lines: (context, cell) =>
    context.found.length === 0
      ? noteTextMarks(context, '', cell)
      : foundTextMarks(context, context.hole?.id ?? '', cell, context.found),
  foot: folioModule,
};

export const composeNotesPage = (
  context: PageContext,
  id: string,
  hole: NotedHole | null = null,
  found: readonly string[] = [],
): Page =>
  composePage(
    'notes',
    {
      id,
      title:
        hole === null
          ? phrase(context.book, 'notes.title')
          : phrase(context.book, 'notes.of-hole', { number: hole.id, name: hole.name }),
    },
    NOTES_MODULES,
    { ...context, hole, found },
  );
