import { type PDFContext, PDFNumber, type PDFRef } from 'pdf-lib';
import type { DocumentParts } from './document-parts.js';
import type { ParentTree } from './parent-tree.js';

/**
 * The logical structure of a screen edition (ISO 32000-1, 14.7 and 14.8): a section a page, pictures
 * with alternate text, tables with every cell, blank ones too, headings and paragraphs; all else is an artifact.
 */
export interface TreeElement {
  readonly ref: PDFRef;
  readonly type: string;
  readonly parent: PDFRef;
  readonly more: Record<string, unknown>;
  readonly kids: Kid[];
}

/** Another element, a piece of marked content by its number, or an annotation. */
export type Kid = TreeElement | number | { readonly annotation: PDFRef };

/** The tree as it grows. */
export interface StructureTree {
  readonly context: PDFContext;
  readonly parts: DocumentParts;
  readonly document: PDFRef;
  /** A section a page; what stands in it is written when the page is. */
  readonly sections: PDFRef[];
  readonly parents: ParentTree;
  nextKey: number;
}

export const newElement = (
  { context }: StructureTree,
  type: string,
  parent: PDFRef,
  more: Record<string, unknown> = {},
): TreeElement => ({ ref: context.nextRef(), type, parent, more, kids: [] });

export const isElement = (kid: Kid): kid is TreeElement => typeof kid === 'object' && 'ref' in kid;

/** Writes the tree but for its sections' elements; gives what the catalog must say. */
export const writeTree = (tree: StructureTree, root: PDFRef): Record<string, unknown> => {
  const { context, parts, document, sections, parents, nextKey } = tree;
  context.assign(
    document,
    context.obj({
      Type: 'StructElem',
      S: 'Document',
      P: root,
      K: sections,
    }),
  );
  const parentTree = context.nextRef();
  parts.noteText(parentTree.objectNumber, parents.pieces());
  context.assign(
    root,
    context.obj({
      Type: 'StructTreeRoot',
      K: [document],
      ParentTree: parentTree,
      ParentTreeNextKey: nextKey,
    }),
  );
  return { MarkInfo: { Marked: true }, StructTreeRoot: root };
};

/** Writes an element and all that stands in it. */
export const writeElement = (context: PDFContext, one: TreeElement): void => {
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
