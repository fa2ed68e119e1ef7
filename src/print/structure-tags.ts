import { type PDFContext, PDFNumber, type PDFRef, PDFString } from 'pdf-lib';
import { textMarksOf } from '../page/marks/mark-texts.js';
import type { GroupMark, Mark, Page, TextMark } from '../page/marks/marks.js';
import type { Tagger } from './content.js';
import { type PdfDraft, pdfText } from './pdf-document.js';

/**
 * The logical structure of a screen edition (ISO 32000-1, 14.7 and 14.8): a section a page, pictures
 * with alternate text, tables by rows and cells, headings and paragraphs; all else is an artifact.
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
  /** Tags a page's marks; `finish` gives what the page's dictionary must say. */
  readonly page: (page: Page, ref: PDFRef) => PageTags;
  /** Writes the tree; gives what the catalog must say. */
  readonly write: () => Record<string, unknown>;
}

export interface PageTags {
  readonly tagger: Tagger;
  /** Ties a link's annotation to the structure; gives the annotation's key in the parent tree. */
  readonly link: (annotation: PDFRef) => number;
  readonly entries: () => Record<string, unknown>;
}

interface Cell {
  readonly mark: TextMark;
  readonly content: number;
}

/** The tree as it grows. */
interface Tree {
  readonly context: PDFContext;
  readonly document: PDFRef;
  readonly sections: Element[];
  /** The parent tree: by page the elements of its content, by annotation the element of a link. */
  readonly parents: [number, readonly PDFRef[] | PDFRef][];
  nextKey: number;
}

/** A group that is open on a page; of no element where it is not tagged by itself. */
interface OpenGroup {
  readonly element: Element | null;
  readonly cells: Cell[];
}

/** A page as its marks are tagged. */
interface TaggedPage {
  readonly tree: Tree;
  readonly section: Element;
  readonly entry: { readonly Pg: PDFRef };
  /** The element of each piece of marked content, by its number. */
  readonly owners: PDFRef[];
  /** The mark that is the page's heading, if it has one. */
  readonly heading: Mark | undefined;
  readonly open: OpenGroup[];
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
    page: (page, ref) => startPage(tree, page, ref),
    write: () => writeTree(tree, root),
  };
};

const newElement = (
  { context }: Tree,
  type: string,
  parent: PDFRef,
  more: Record<string, unknown> = {},
): Element => ({ ref: context.nextRef(), type, parent, more, kids: [] });

const startPage = (tree: Tree, { title, marks }: Page, ref: PDFRef): PageTags => {
  const key = tree.nextKey++;
  const section = newElement(tree, 'Sect', tree.document, { T: pdfText(title) });
  tree.sections.push(section);
  const heading = textMarksOf(marks).find((mark) => mark.face.startsWith('title'));
  const page: TaggedPage = { tree, section, entry: { Pg: ref }, owners: [], heading, open: [] };
  return {
    tagger: {
      open: (mark) => openTag(page, mark),
      close: (mark) => {
        if (mark.kind === 'group') closeGroup(page);
      },
    },
    link: (annotation) => tieLink(page, annotation),
    entries: () => {
      tree.parents.push([key, page.owners]);
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

const startGroup = (page: TaggedPage, mark: GroupMark): string | null => {
  const { tree, section, entry, open } = page;
  const isInside =
    openElement(page, 'Figure') !== undefined || openElement(page, 'Table') !== undefined;
  if (isInside || mark.role === 'text') {
    open.push({ element: null, cells: [] });
    return null;
  }
  if (mark.role === 'decoration') {
    open.push({ element: newElement(tree, 'Figure', section.ref), cells: [] });
    return '/Artifact BMC';
  }
  const group = newElement(tree, mark.role === 'table' ? 'Table' : 'Figure', section.ref, {
    ...entry,
    ...(mark.alt === undefined ? {} : { Alt: pdfText(mark.alt) }),
  });
  section.kids.push(group);
  open.push({ element: group, cells: [] });
  if (group.type === 'Table') return null;
  const content = taken(page, group);
  group.kids.push(content);
  return `/Figure << /MCID ${content} >> BDC`;
};

const startText = (page: TaggedPage, mark: TextMark): string => {
  const table = openElement(page, 'Table');
  if (table !== undefined) {
    const content = taken(page, table.element!);
    table.cells.push({ mark, content });
    return `/TD << /MCID ${content} >> BDC`;
  }
  const type = mark === page.heading ? 'H1' : 'P';
  const paragraph = newElement(page.tree, type, page.section.ref, page.entry);
  page.section.kids.push(paragraph);
  const content = taken(page, paragraph);
  paragraph.kids.push(content);
  return `/${type} << /MCID ${content} >> BDC`;
};

const closeGroup = (page: TaggedPage): void => {
  const group = page.open.pop();
  if (group?.element?.type === 'Table') closeTable(page, group.element, group.cells);
};

/** Cells that share a baseline are a row, to a tenth of a millimetre; rows from the top, cells from the left. */
const rowsOf = (cells: readonly Cell[]): Cell[][] => {
  const rows = new Map<number, Cell[]>();
  for (const cell of cells) {
    const base = Math.round(cell.mark.at[1] * 10);
    const near = [base, base - 1, base + 1].find((b) => rows.has(b)) ?? base;
    rows.set(near, [...(rows.get(near) ?? []), cell]);
  }
  return [...rows.entries()]
    .sort(([a], [b]) => a - b)
    .map(([, row]) => row.sort((a, b) => a.mark.at[0] - b.mark.at[0]));
};

/** The first row heads the columns. */
const closeTable = (page: TaggedPage, table: Element, cells: readonly Cell[]): void => {
  const { tree, entry, owners } = page;
  rowsOf(cells).forEach((row, i) => {
    const line = newElement(tree, 'TR', table.ref, entry);
    table.kids.push(line);
    for (const { content } of row) {
      const cell = newElement(tree, i === 0 ? 'TH' : 'TD', line.ref, {
        ...entry,
        ...(i === 0 ? { A: { O: 'Table', Scope: 'Column' } } : {}),
      });
      cell.kids.push(content);
      owners[content] = cell.ref;
      line.kids.push(cell);
    }
  });
};

const tieLink = ({ tree, section, entry }: TaggedPage, annotation: PDFRef): number => {
  const link = newElement(tree, 'Link', section.ref, entry);
  link.kids.push({ annotation });
  section.kids.push(link);
  const key = tree.nextKey++;
  tree.parents.push([key, link.ref]);
  return key;
};

const writeTree = (tree: Tree, root: PDFRef): Record<string, unknown> => {
  const { context, document, sections, parents, nextKey } = tree;
  for (const section of sections) writeElement(context, section);
  context.assign(
    document,
    context.obj({
      Type: 'StructElem',
      S: 'Document',
      P: root,
      K: sections.map((section) => section.ref),
    }),
  );
  const numbers = [...parents]
    .sort(([a], [b]) => a - b)
    .flatMap(([key, owner]) => [
      PDFNumber.of(key),
      Array.isArray(owner) ? context.obj([...owner]) : (owner as PDFRef),
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
      K: one.kids.map((kid) =>
        typeof kid === 'number'
          ? PDFNumber.of(kid)
          : 'ref' in kid
            ? kid.ref
            : context.obj({ Type: 'OBJR', Obj: kid.annotation }),
      ),
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
