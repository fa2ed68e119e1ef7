import { PDFNumber, type PDFRef, PDFString } from 'pdf-lib';
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

export const startStructure = (draft: PdfDraft): StructureBook => {
  const { context } = draft;
  const root = context.nextRef();
  const documentRef = context.nextRef();
  const sections: Element[] = [];
  /** The parent tree: by page the elements of its content, by annotation the element of a link. */
  const parents: [number, readonly PDFRef[] | PDFRef][] = [];
  let nextKey = 0;

  const element = (type: string, parent: PDFRef, more: Record<string, unknown> = {}): Element => ({
    ref: context.nextRef(),
    type,
    parent,
    more,
    kids: [],
  });

  const page = ({ title, marks }: Page, pageRef: PDFRef): PageTags => {
    const key = nextKey++;
    const owners: PDFRef[] = [];
    const section = element('Sect', documentRef, { T: pdfText(title) });
    sections.push(section);
    const taken = (owner: Element): number => {
      owners.push(owner.ref);
      return owners.length - 1;
    };
    const pageEntry = { Pg: pageRef };
    const headed = new Set<Mark>(
      textMarksOf(marks)
        .filter((mark) => mark.face.startsWith('title'))
        .slice(0, 1),
    );
    /** Groups that are open; inside a picture nothing is tagged by itself. */
    const open: { mark: GroupMark; element: Element | null; cells: Cell[] }[] = [];
    const inside = () => open[open.length - 1];
    const inPicture = (): boolean => open.some((group) => group.element?.type === 'Figure');

    const startText = (mark: TextMark): string => {
      const table = open.find((group) => group.element?.type === 'Table');
      if (table !== undefined) {
        owners.push(table.element!.ref);
        table.cells.push({ mark, content: owners.length - 1 });
        return `/TD << /MCID ${owners.length - 1} >> BDC`;
      }
      const type = headed.has(mark) ? 'H1' : 'P';
      const paragraph = element(type, section.ref, pageEntry);
      section.kids.push(paragraph);
      const content = taken(paragraph);
      paragraph.kids.push(content);
      return `/${type} << /MCID ${content} >> BDC`;
    };

    /** Cells that share a baseline are a row; the first row heads the columns. */
    const closeTable = (table: Element, cells: readonly Cell[]): void => {
      const rows = new Map<number, Cell[]>();
      for (const cell of cells) {
        const base = Math.round(cell.mark.at[1] * 10);
        const near = [base, base - 1, base + 1].find((b) => rows.has(b)) ?? base;
        rows.set(near, [...(rows.get(near) ?? []), cell]);
      }
      [...rows.entries()]
        .sort(([a], [b]) => a - b)
        .forEach(([, row], i) => {
          const line = element('TR', table.ref, pageEntry);
          table.kids.push(line);
          for (const { content } of row.sort((a, b) => a.mark.at[0] - b.mark.at[0])) {
            const cell = element(i === 0 ? 'TH' : 'TD', line.ref, {
              ...pageEntry,
              ...(i === 0 ? { A: { O: 'Table', Scope: 'Column' } } : {}),
            });
            cell.kids.push(content);
            owners[content] = cell.ref;
            line.kids.push(cell);
          }
        });
    };

    const startGroup = (mark: GroupMark): string | null => {
      if (inPicture() || open.some((group) => group.element?.type === 'Table')) {
        open.push({ mark, element: null, cells: [] });
        return null;
      }
      if (mark.role === 'decoration') {
        open.push({ mark, element: element('Figure', section.ref), cells: [] });
        return '/Artifact BMC';
      }
      if (mark.role === 'text') {
        open.push({ mark, element: null, cells: [] });
        return null;
      }
      const alt = mark.alt === undefined ? {} : { Alt: pdfText(mark.alt) };
      const group = element(mark.role === 'table' ? 'Table' : 'Figure', section.ref, {
        ...pageEntry,
        ...alt,
      });
      section.kids.push(group);
      open.push({ mark, element: group, cells: [] });
      if (group.type === 'Table') return null;
      const content = taken(group);
      group.kids.push(content);
      return `/Figure << /MCID ${content} >> BDC`;
    };

    return {
      tagger: {
        open: (mark) => {
          if (mark.kind === 'group') return startGroup(mark);
          if (mark.kind === 'clip' || mark.kind === 'link' || inPicture()) return null;
          return mark.kind === 'text' ? startText(mark) : '/Artifact BMC';
        },
        close: (mark) => {
          if (mark.kind !== 'group') return;
          const group = inside();
          if (group.element?.type === 'Table') closeTable(group.element, group.cells);
          open.pop();
        },
      },
      link: (annotation) => {
        const link = element('Link', section.ref, pageEntry);
        link.kids.push({ annotation });
        section.kids.push(link);
        const annotationKey = nextKey++;
        parents.push([annotationKey, link.ref]);
        return annotationKey;
      },
      entries: () => {
        parents.push([key, owners]);
        return { StructParents: key, Tabs: 'S' };
      },
    };
  };

  const writeElement = (one: Element): void => {
    for (const kid of one.kids) if (typeof kid === 'object' && 'ref' in kid) writeElement(kid);
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

  return {
    page,
    write: () => {
      sections.forEach(writeElement);
      context.assign(
        documentRef,
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
          K: [documentRef],
          ParentTree: context.register(context.obj({ Nums: numbers })),
          ParentTreeNextKey: nextKey,
        }),
      );
      return { MarkInfo: { Marked: true }, StructTreeRoot: root };
    },
  };
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
