import type { PDFRef } from 'pdf-lib';
import { quoted } from '../fault.js';
import { textMarksOf } from '../page/marks/mark-texts.js';
import type { GroupMark, LinkMark, Mark, Page, TextMark } from '../page/marks/marks.js';
import type { Tagger } from './content.js';
import { startParentTree } from './parent-tree.js';
import { type PdfDraft, pdfText } from './pdf-document.js';
import { tieLink } from './structure-links.js';
import type { OpenGroup, TaggedPage } from './structure-page.js';
import { altOf, closeTable, elementInTable, startTable, wordsOf } from './structure-tables.js';
import {
  newElement,
  type StructureTree,
  type TreeElement,
  writeElement,
  writeTree,
} from './structure-tree.js';

export interface StructureBook {
  /**
   * Tags a page's marks as they are drawn; null: its content is there already, and all of it is tagged at once.
   */
  readonly page: (page: Page, ref: PDFRef, marks: readonly Mark[] | null) => PageTags;
  /** Writes the tree; gives what the catalog must say. */
  readonly write: () => Record<string, unknown>;
}

export interface PageTags {
  readonly tagger: Tagger;
  /**
   * Ties a link's annotation to the structure, where one reads what it lies over; gives the annotation's key in the
   * parent tree.
   */
  readonly link: (annotation: PDFRef, box: LinkMark['box']) => number;
  readonly entries: () => Record<string, unknown>;
}

export const startStructure = ({ context, parts }: PdfDraft): StructureBook => {
  const root = context.nextRef();
  const tree: StructureTree = {
    ...{ context, parts },
    document: context.nextRef(),
    sections: [],
    parents: startParentTree(),
    nextKey: 0,
  };
  return {
    page: (page, ref, marks) => {
      const words = page.memory?.words ?? [];
      const tags = startPage(tree, page.title, marks ?? words, ref);
      if (marks === null) tagAll(tags.tagger, words);
      return tags;
    },
    write: () => writeTree(tree, root),
  };
};

/** Tags the words of a page in the order in which they were drawn. */
const tagAll = (tagger: Tagger, marks: readonly Mark[]): void => {
  for (const mark of marks) {
    tagger.open(mark);
    if (mark.kind === 'group' || mark.kind === 'clip') tagAll(tagger, mark.marks);
    tagger.close(mark);
  }
};

const startPage = (
  tree: StructureTree,
  title: string,
  marks: readonly Mark[],
  ref: PDFRef,
): PageTags => {
  const key = tree.nextKey++;
  const section = newElement(tree, 'Sect', tree.document, { T: pdfText(title) });
  tree.sections.push(section.ref);
  const heading = hasHeading(marks)
    ? undefined
    : textMarksOf(marks).find((mark) => mark.face.startsWith('title'));
  const page: TaggedPage = {
    tree,
    section,
    entry: { Pg: ref },
    owners: [],
    heading,
    open: [],
    tables: [],
    lines: [],
    parts: new Map(),
  };
  return {
    tagger: {
      open: (mark) => openTag(page, mark),
      close: (mark) => {
        if (mark.kind === 'group') page.open.pop();
      },
    },
    link: (annotation, box) => tieLink(page, annotation, box),
    entries: () => {
      for (const table of page.tables) closeTable(page, table);
      writeElement(tree.context, section);
      const owners = page.owners.map((ref) => ref.objectNumber);
      tree.parents.note(key, owners);
      return { StructParents: key, Tabs: 'S' };
    },
  };
};

const openElement = ({ open }: TaggedPage, type: string): OpenGroup | undefined =>
  open.find(({ element }) => element?.type === type);

/** The number of a new piece of marked content, which belongs to an element. */
const taken = ({ owners }: TaggedPage, owner: TreeElement): number => owners.push(owner.ref) - 1;

const openTag = (page: TaggedPage, mark: Mark): string | null => {
  if (mark.kind === 'group') return startGroup(page, mark);
  // Inside a picture nothing is tagged by itself.
  const inPicture = openElement(page, 'Figure') !== undefined;
  if (mark.kind === 'clip' || mark.kind === 'link' || inPicture) return null;
  return mark.kind === 'text' ? startText(page, mark) : '/Artifact BMC';
};

/** Tags of groups that a page is not read with. */
const ARTIFACTS: Readonly<Partial<Record<GroupMark['role'], string>>> = {
  decoration: '/Artifact BMC',
  folio: '/Artifact << /Type /Pagination >> BDC',
};

/** Types of groups whose texts make one element. */
const READ_TYPES: Readonly<Partial<Record<GroupMark['role'], string>>> = {
  heading: 'H1',
  paragraph: 'P',
  caption: 'Caption',
};

const startGroup = (page: TaggedPage, mark: GroupMark): string | null => {
  const { tree, section, entry, open } = page;
  if (openElement(page, 'Figure') !== undefined) {
    open.push({ element: null });
    return null;
  }
  const artifact = ARTIFACTS[mark.role];
  if (artifact !== undefined) {
    open.push({ element: newElement(tree, 'Figure', section.ref) });
    return artifact;
  }
  const table = open.find((one) => one.table !== undefined)?.table;
  if (table !== undefined) {
    open.push({ element: elementInTable(page, table, mark) });
    return null;
  }
  const type = READ_TYPES[mark.role];
  if (type !== undefined) {
    const element = newElement(tree, type, section.ref, { ...entry, ...wordsOf(mark) });
    section.kids.push(element);
    open.push({ element });
    return null;
  }
  if (mark.role === 'text') {
    open.push({ element: null });
    return null;
  }
  if (mark.role === 'table') {
    const started = startTable(page, mark);
    open.push({ element: started.element, table: started });
    return null;
  }
  const figure = newElement(tree, 'Figure', section.ref, { ...entry, ...altOf(mark) });
  section.kids.push(figure);
  open.push({ element: figure });
  const content = taken(page, figure);
  figure.kids.push(content);
  return `/Figure << /MCID ${content} >> BDC`;
};

const startText = (page: TaggedPage, mark: TextMark): string => {
  const { tree, section, entry, open } = page;
  let owner = open.findLast(({ element }) => element !== null)?.element ?? null;
  if (owner?.type === 'Table') {
    throw new Error(`the text ${quoted(mark.text)} of a table stands in none of its cells`);
  }
  if (owner === null) {
    owner = newElement(tree, mark === page.heading ? 'H1' : 'P', section.ref, entry);
    section.kids.push(owner);
  }
  page.lines.push({ owner, at: mark.at[1] });
  const content = taken(page, owner);
  owner.kids.push(content);
  return `/${owner.type} << /MCID ${content} >> BDC`;
};

const hasHeading = (marks: readonly Mark[]): boolean =>
  marks.some(
    (mark) => mark.kind === 'group' && (mark.role === 'heading' || hasHeading(mark.marks)),
  );
