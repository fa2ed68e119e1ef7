import { pointsToMm } from '../../units.js';
import { text } from '../kit/draw.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { fitOrShorten } from '../kit/paragraph.js';
import { headingGroup } from '../kit/read-aloud.js';
import type { Page } from '../marks/marks.js';
import { noteTextMarks } from './note-text.js';

/** The hole that a page of notes faces or follows; null before the first. */
export interface NotedHole {
  readonly id: string;
  readonly name: string;
}

interface NotesPageContext extends PageContext {
  readonly hole: NotedHole | null;
}

/** "Notes", and at the outer edge the hole that they are of. */
const headingModule: PageModule<NotesPageContext> = ({ layout, measure, side, hole }, cell) => {
  const { title } = layout.type;
  const base = cell.y + pointsToMm(title) * 0.8;
  const right = cell.x + cell.width;
  const outerLeft = side === 'left';
  const head = text([outerLeft ? right : cell.x, base], 'Notes', 'title-bold', title, {
    align: outerLeft ? 'right' : 'left',
  });
  if (hole === null) return [head];
  const room = cell.width - measure('Notes', 'title-bold', title) - 4;
  const style = { face: 'title' as const, size: title, least: 6.5 };
  const words = fitOrShorten(`${hole.id} ${hole.name}`, room, style, measure);
  return [
    headingGroup(`${hole.id} ${hole.name}: notes`, [
      head,
      text([outerLeft ? cell.x : right, base], words.text, 'title', words.size, {
        align: outerLeft ? 'left' : 'right',
      }),
    ]),
  ];
};

const NOTES_MODULES: Readonly<Record<string, PageModule<NotesPageContext>>> = {
  heading: headingModule,
  lines: (context, cell) => noteTextMarks(context, '', cell),
};

export const composeNotesPage = (
  context: PageContext,
  id: string,
  hole: NotedHole | null = null,
): Page =>
  composePage(
    'notes',
    { id, title: hole === null ? 'Notes' : `${hole.id} ${hole.name}: notes` },
    NOTES_MODULES,
    { ...context, hole },
  );
