import { type PDFContext, PDFNumber, type PDFRef, PDFString } from 'pdf-lib';
import { textMarksOf } from '../page/marks/mark-texts.js';
import type { GroupMark, LinkMark, Mark, Page, TextMark } from '../page/marks/marks.js';
import type { Tagger } from './content.js';
import { looseRef } from './document-parts.js';
import { type PdfDraft, pdfText } from './pdf-document.js';

/**
 * The logical structure of a screen edition (ISO 32000-1, 14.7 and 14.8): a section a page, pictures
 * with alternate text, tables with every cell, blank ones too, headings and paragraphs; all else is an artifact.
 */
interface Element {
  readonly ref: PDFRef;
  readonly type: string;
  readonly parent: PDFRef;
  readonly more: Record<string, unknown>;
  readonly kids: Kid[];
}

/** Another element, a piece of marked content by its number, or an annotation. */
type Kid = Element | number | { readonly annotation: PDFRef };

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

/** A table as it grows: its rows by number, their cells by column. */
interface GrowingTable {
  readonly element: Element;
  readonly rows: Map<number, { readonly element: Element; readonly cells: Map<number, Cell> }>;
  readonly place: { first: number };
}

interface Cell {
  readonly element: Element;
  readonly columns: number;
}

/** The tree as it grows. */
interface Tree {
  readonly context: PDFContext;
  readonly document: PDFRef;
  /** A section a page; what stands in it is written when the page is. */
  readonly sections: PDFRef[];
  /** The parent tree: by page the elements of its content, by annotation the element of a link; their numbers. */
  readonly parents: [number, Uint32Array | number][];
  nextKey: number;
}

/** A group that is open on a page; of no element where it is not tagged by itself. */
interface OpenGroup {
  readonly element: Element | null;
  readonly table?: GrowingTable;
}

/** A page as its marks are tagged. */
interface TaggedPage {
  readonly tree: Tree;
  readonly section: Element;
  readonly entry: { readonly Pg: PDFRef };
  /** The element of each piece of marked content, by its number. */
  readonly owners: PDFRef[];
  /** The text that is the page's heading, where no group is; undefined where it has none. */
  readonly heading: Mark | undefined;
  readonly open: OpenGroup[];
  readonly tables: GrowingTable[];
  /** The texts that are read, with whose they are and their baselines; in the order in which they are drawn. */
  readonly lines: { readonly owner: Element; readonly at: number }[];
  /** Tables that several groups of the page make together, by name. */
  readonly parts: Map<string, GrowingTable>;
}

export const startStructure = ({ context }: PdfDraft): StructureBook => {
  const root = context.nextRef();
  const tree: Tree = {
    context,
    document: context.nextRef(),
    sections: [],
    parents: [],
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

const newElement = (
  { context }: Tree,
  type: string,
  parent: PDFRef,
  more: Record<string, unknown> = {},
): Element => ({ ref: context.nextRef(), type, parent, more, kids: [] });

/** Tags the words of a page in the order in which they were drawn. */
const tagAll = (tagger: Tagger, marks: readonly Mark[]): void => {
  for (const mark of marks) {
    tagger.open(mark);
    if (mark.kind === 'group' || mark.kind === 'clip') tagAll(tagger, mark.marks);
    tagger.close(mark);
  }
};

const startPage = (tree: Tree, title: string, marks: readonly Mark[], ref: PDFRef): PageTags => {
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
      tree.parents.push([key, Uint32Array.from(page.owners, (ref) => ref.objectNumber)]);
      return { StructParents: key, Tabs: 'S' };
    },
  };
};

const openElement = ({ open }: TaggedPage, type: string): OpenGroup | undefined =>
  open.find(({ element }) => element?.type === type);

/** The number of a new piece of marked content, which belongs to an element. */
const taken = ({ owners }: TaggedPage, owner: Element): number => owners.push(owner.ref) - 1;

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

const altOf = ({ alt }: GroupMark): Record<string, unknown> =>
  alt === undefined ? {} : { Alt: pdfText(alt) };

const wordsOf = ({ words }: GroupMark): Record<string, unknown> =>
  words === undefined ? {} : { ActualText: pdfText(words) };

const startTable = (page: TaggedPage, mark: GroupMark): GrowingTable => {
  const { tree, section, entry, tables, parts } = page;
  const begun = mark.part === undefined ? undefined : parts.get(mark.part);
  if (begun !== undefined) {
    begun.place.first = Math.max(-1, ...begun.rows.keys()) + 1;
    return begun;
  }
  const element = newElement(tree, 'Table', section.ref, { ...entry, ...altOf(mark) });
  section.kids.push(element);
  const table: GrowingTable = { element, rows: new Map(), place: { first: 0 } };
  tables.push(table);
  if (mark.part !== undefined) parts.set(mark.part, table);
  return table;
};

/** The row of a table, which is made where it is not there. */
const rowOf = ({ tree, entry }: TaggedPage, { element, rows }: GrowingTable, row: number) => {
  const known = rows.get(row);
  if (known !== undefined) return known;
  const made = { element: newElement(tree, 'TR', element.ref, entry), cells: new Map() };
  rows.set(row, made);
  return made;
};

/** A caption or a cell of a table; of no element is what only gathers cells. */
const elementInTable = (page: TaggedPage, table: GrowingTable, mark: GroupMark): Element | null => {
  const { tree, entry } = page;
  if (mark.role === 'caption') {
    const caption = newElement(tree, 'Caption', table.element.ref, { ...entry, ...wordsOf(mark) });
    table.element.kids.unshift(caption);
    return caption;
  }
  if (mark.cell === undefined) return null;
  const { row, column, columns = 1, heads } = mark.cell;
  const line = rowOf(page, table, table.place.first + row);
  const before = line.cells.get(column);
  if (before !== undefined) return before.element;
  const attributes = {
    ...(heads === undefined ? {} : { Scope: heads }),
    ...(columns === 1 ? {} : { ColSpan: columns }),
  };
  const element = newElement(tree, heads === undefined ? 'TD' : 'TH', line.element.ref, {
    ...entry,
    ...wordsOf(mark),
    ...(Object.keys(attributes).length === 0 ? {} : { A: { O: 'Table', ...attributes } }),
  });
  line.cells.set(column, { element, columns });
  return element;
};

const startText = (page: TaggedPage, mark: TextMark): string => {
  const { tree, section, entry, open } = page;
  let owner = open.findLast(({ element }) => element !== null)?.element ?? null;
  if (owner?.type === 'Table') {
    throw new Error(`the text "${mark.text}" of a table stands in none of its cells`);
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

/** Rows from the top and cells from the left, whatever the order in which they were drawn; blanks where no cell is. */
const closeTable = ({ tree }: TaggedPage, { element, rows }: GrowingTable): void => {
  const all = [...rows].sort(([a], [b]) => a - b).map(([, row]) => row);
  const width = Math.max(
    0,
    ...all.flatMap(({ cells }) => [...cells].map(([at, { columns }]) => at + columns)),
  );
  for (const row of all) {
    element.kids.push(row.element);
    for (let column = 0; column < width; ) {
      const cell = row.cells.get(column);
      row.element.kids.push(cell?.element ?? newElement(tree, 'TD', row.element.ref));
      column += cell?.columns ?? 1;
    }
  }
};

const hasHeading = (marks: readonly Mark[]): boolean =>
  marks.some(
    (mark) => mark.kind === 'group' && (mark.role === 'heading' || hasHeading(mark.marks)),
  );

/** Whether an element is a page's own or stands in one that is. */
const standsIn = (whole: Element, part: Element): boolean =>
  whole === part || whole.kids.some((kid) => isElement(kid) && standsIn(kid, part));

const isElement = (kid: Kid): kid is Element => typeof kid === 'object' && 'ref' in kid;

const isCell = ({ type }: Element): boolean => type === 'TH' || type === 'TD';

/** A link over a row of a table is read with its first cell; any other behind what it lies over, or above all else. */
const tieLink = (page: TaggedPage, annotation: PDFRef, box: LinkMark['box']): number => {
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
  tree.parents.push([key, link.ref.objectNumber]);
  return key;
};

/** The place among a section's elements behind the last of those that stand together at the head of it, or its end. */
const placeAfter = (section: Element, over: readonly Element[]): number => {
  const covers = (kid: Kid): boolean =>
    isElement(kid) && over.some((owner) => standsIn(kid, owner));
  const first = section.kids.findIndex(covers);
  if (first < 0) return section.kids.length;
  let after = first + 1;
  while (after < section.kids.length && covers(section.kids[after])) after += 1;
  return after;
};

const writeTree = (tree: Tree, root: PDFRef): Record<string, unknown> => {
  const { context, document, sections, parents, nextKey } = tree;
  context.assign(
    document,
    context.obj({
      Type: 'StructElem',
      S: 'Document',
      P: root,
      K: sections,
    }),
  );
  const numbers = [...parents]
    .sort(([a], [b]) => a - b)
    .flatMap(([key, owner]) => [
      PDFNumber.of(key),
      typeof owner === 'number' ? looseRef(owner) : context.obj(Array.from(owner, looseRef)),
    ]);
  context.assign(
    root,
    context.obj({
      Type: 'StructTreeRoot',
      K: [document],
      ParentTree: context.register(context.obj({ Nums: numbers })),
      ParentTreeNextKey: nextKey,
    }),
  );
  return { MarkInfo: { Marked: true }, StructTreeRoot: root };
};

const writeElement = (context: PDFContext, one: Element): void => {
  for (const kid of one.kids) {
    if (typeof kid === 'object' && 'ref' in kid) writeElement(context, kid);
  }
  context.assign(
    one.ref,
    context.obj({
      Type: 'StructElem',
      S: one.type,
      P: one.parent,
      ...(one.more as Record<string, never>),
      ...(one.kids.length === 0
        ? {}
        : {
            K: one.kids.map((kid) =>
              typeof kid === 'number'
                ? PDFNumber.of(kid)
                : 'ref' in kid
                  ? kid.ref
                  : context.obj({ Type: 'OBJR', Obj: kid.annotation }),
            ),
          }),
    }),
  );
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
