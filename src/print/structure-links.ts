import { type PDFRef, PDFString } from 'pdf-lib';
import type { LinkMark } from '../page/marks/marks.js';
import { type PdfDraft, pdfText } from './pdf-document.js';
import type { TaggedPage } from './structure-page.js';
import { isElement, type Kid, newElement, type TreeElement } from './structure-tree.js';

/** Whether an element is a page's own or stands in one that is. */
const standsIn = (whole: TreeElement, part: TreeElement): boolean =>
  whole === part || whole.kids.some((kid) => isElement(kid) && standsIn(kid, part));

const isCell = ({ type }: TreeElement): boolean => type === 'TH' || type === 'TD';

/** A link over a row of a table is read with its first cell; any other behind what it lies over, or above all else. */
export const tieLink = (page: TaggedPage, annotation: PDFRef, box: LinkMark['box']): number => {
  const { tree, section, entry, lines } = page;
  const end = box.y + box.height;
  const over = lines.filter(({ at }) => at >= box.y && at <= end).map(({ owner }) => owner);
  const isRow = over.length > 0 && over.every(isCell);
  const parent = isRow ? over[0] : section;
  const link = newElement(tree, 'Link', parent.ref, entry);
  link.kids.push({ annotation });
  if (isRow) parent.kids.push(link);
  else section.kids.splice(placeAfter(section, over), 0, link);
  const key = tree.nextKey++;
  tree.parents.note(key, link.ref.objectNumber);
  return key;
};

/** The place among a section's elements behind the last of those that stand together at the head of it, or its end. */
const placeAfter = (section: TreeElement, over: readonly TreeElement[]): number => {
  const covers = (kid: Kid): boolean =>
    isElement(kid) && over.some((owner) => standsIn(kid, owner));
  const first = section.kids.findIndex(covers);
  if (first < 0) return section.kids.length;
  let after = first + 1;
  while (after < section.kids.length && covers(section.kids[after])) after += 1;
  return after;
};

/** A link's annotation: no border, a place in the file, words for those who do not see it. */
export const linkAnnotation = (
  draft: PdfDraft,
  rect: readonly number[],
  target: PDFRef,
  words: string,
  structParent: number,
): Record<string, unknown> => ({
  Type: 'Annot',
  Subtype: 'Link',
  Rect: [...rect],
  Border: [0, 0, 0],
  F: 4,
  Dest: draft.context.obj([target, 'Fit']),
  Contents: pdfText(words),
  StructParent: structParent,
  H: 'N',
  NM: PDFString.of(`link-${structParent}`),
});
