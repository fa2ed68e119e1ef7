import type { Layout } from '../../layout/layout.js';
import { pointsToMm } from '../../units.js';
import type { BookChanges } from '../changes.js';
import { changeLines, leafLines } from '../kit/change-words.js';
import { rule, stroke, text } from '../kit/draw.js';
import { pageArea } from '../kit/grid.js';
import { fitOrShorten, setParagraphs } from '../kit/paragraph.js';
import { headingGroup } from '../kit/read-aloud.js';
import type { Mark, MeasureText, Page } from '../marks/marks.js';

/** Points. */
const LEAST = 6;

/** How a leaf comes into a book that is bound; null where it is only put in. Common practice, no source. */
const PUT_IN: Readonly<Record<Layout['binding']['method'], string | null>> = {
  loose: null,
  'wire-o': null,
  'fold-up': null,
  'saddle stitch':
    'Of a stapled book cut the old leaf off 4 mm from the fold, and glue the new one to the strip that is left.',
  perfect:
    'Of a glued book cut the old leaf off 4 mm from the back, and glue the new one to the strip that is left.',
};

/**
 * What goes before the changed leaves: what has changed, and which leaf goes where; as many pages as its lines
 * take, on both sides of whole leaves.
 */
export const composeChangesPages = (
  title: string,
  changes: BookChanges,
  layout: Layout,
  measure: MeasureText,
): Page[] => {
  const { page, type, binding } = layout;
  const putIn = PUT_IN[binding.method];
  let lines = [
    ...changeLines(changes),
    ...leafLines(changes),
    ...(putIn === null || changes.leaves.length === 0 ? [] : [putIn]),
  ];
  const pages: Page[] = [];
  const since = changes.since === null ? 'the last edition' : changes.since;
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
            text([area.x, under], `what has changed since ${since}`, 'text-italic', type.text),
            rule(area.x, under + 2, area.x + area.width, under + 2, stroke(0.3)),
            ...set(count).marks,
          ];
    const number = pages.length + 1;
    pages.push({
      id: `changes-${number}`,
      title: 'What has changed',
      label: `changes ${number}`,
      width: page.width,
      height: page.height,
      marks,
    });
    lines = lines.slice(count);
  }
  return pages;
};
