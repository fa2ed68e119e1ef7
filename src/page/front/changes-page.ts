import type { Layout } from '../../layout/layout.js';
import { pointsToMm } from '../../units.js';
import type { BookChanges } from '../changes.js';
import { changeLines, leafLines } from '../kit/change-words.js';
import { rule, stroke, text } from '../kit/draw.js';
import { pageArea } from '../kit/grid.js';
import { fitOrShorten, setParagraphs } from '../kit/paragraph.js';
import { headingGroup } from '../kit/read-aloud.js';
import type { Mark, MeasureText, Page } from '../marks/marks.js';
import { phrase, type Worded, type WordKey } from '../words/words.js';

/** Points. */
const LEAST = 6;

/** How a leaf comes into a book that is bound; null where it is only put in. Common practice, no source. */
const PUT_IN = {
  loose: null,
  'wire-o': null,
  'fold-up': null,
  'saddle stitch': 'changes.stapled',
  perfect: 'changes.glued',
} as const satisfies Readonly<Record<Layout['binding']['method'], WordKey | null>>;

/**
 * What goes before the changed leaves: what has changed, and which leaf goes where; as many pages as its lines
 * take, on both sides of whole leaves.
 */
export const composeChangesPages = (
  title: string,
  changes: BookChanges,
  layout: Layout,
  { measure, ...tell }: Worded & { readonly measure: MeasureText },
): Page[] => {
  const { page, type, binding } = layout;
  const putIn = PUT_IN[binding.method];
  let lines = [
    ...changeLines(changes, tell),
    ...leafLines(changes, tell),
    ...(putIn === null || changes.leaves.length === 0 ? [] : [phrase(tell, putIn)]),
  ];
  const pages: Page[] = [];
  const since =
    changes.since === null
      ? phrase(tell, 'changes.since-last')
      : phrase(tell, 'changes.since', { edition: changes.since });
  while (lines.length > 0 || pages.length % 2 === 1) {
    const area = pageArea(layout, pages.length % 2 === 0 ? 'right' : 'left');
    const name = { face: 'title-bold', size: type.title, least: 9 } as const;
    const head = fitOrShorten(title, area.width, name, measure);
    const base = area.y + pointsToMm(head.size) * 0.9;
    const under = base + pointsToMm(type.text) * 1.6;
    const room = { ...area, y: under + 5, height: area.y + area.height - under - 5 };
    const set = (count: number) =>
      setParagraphs(
        lines.slice(0, count),
        room,
        { face: 'text', lead: 1.3, gap: 1.2 },
        { full: type.text, least: LEAST },
        measure,
      );
    let count = lines.length;
    while (count > 1 && set(count).height > room.height) count -= 1;
    const marks: Mark[] =
      lines.length === 0
        ? []
        : [
            headingGroup(title, [text([area.x, base], head.text, 'title-bold', head.size)]),
            text([area.x, under], since, 'text-italic', type.text),
            rule(area.x, under + 2, area.x + area.width, under + 2, stroke(0.3)),
            ...set(count).marks,
          ];
    const number = pages.length + 1;
    pages.push({
      id: `changes-${number}`,
      title: phrase(tell, 'changes.title'),
      label: `changes ${number}`,
      width: page.width,
      height: page.height,
      marks,
    });
    lines = lines.slice(count);
  }
  return pages;
};
