import {
  PDFArray,
  PDFDict,
  PDFDocument,
  PDFHexString,
  PDFName,
  PDFNumber,
  PDFString,
} from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import { contentBytes } from '../../src/check/content-bytes.js';
import { operationsOf } from '../../src/check/pdf-operators.js';
import { rule, stroke, text } from '../../src/page/kit/draw.js';
import type { Mark, Page } from '../../src/page/marks/marks.js';
import { openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { ownLayout, sampleGreen, samplePage } from './sample-pages.js';

const fonts = openFonts();
const pocket = ownLayout('pocket');

const table: Mark = {
  kind: 'group',
  role: 'table',
  alt: 'Breaks to location A',
  marks: [
    text([30, 50], 'aim', 'text-italic', 8),
    text([60, 50], 'pace', 'text-italic', 8),
    rule(20, 52, 90, 52, stroke(0.12)),
    text([60, 56], '4½', 'text', 8),
    text([30, 56], '3″', 'text-bold', 8),
    text([30, 60], '7″', 'text-bold', 8),
    text([60, 60], '6½', 'text', 8),
  ],
};

const pages: Page[] = [
  samplePage(0, 107.95, 177.8, [
    table,
    { kind: 'link', box: { x: 10, y: 100, width: 40, height: 8 }, toPage: 'page-2' },
    text([12, 106], 'to the second page', 'text', 8),
  ]),
  samplePage(1, 107.95, 177.8, [sampleGreen('1', 480)]),
];

const load = async () =>
  PDFDocument.load(
    await writePdf(pages, pocket, { fonts, title: 'Test', language: 'en', edition: 'screen' }),
  );

interface Node {
  readonly type: string;
  readonly alt: string | null;
  readonly contents: readonly number[];
  readonly kids: readonly Node[];
  readonly links: number;
}

const wordsOf = (value: unknown): string | null =>
  value instanceof PDFString || value instanceof PDFHexString ? value.decodeText() : null;

const nodeOf = (element: PDFDict): Node => {
  const kids = element.lookup(PDFName.of('K'), PDFArray);
  const all = Array.from({ length: kids.size() }, (_, i) => kids.lookup(i));
  const isElement = (kid: unknown): kid is PDFDict =>
    kid instanceof PDFDict && kid.has(PDFName.of('S'));
  return {
    type: element.lookup(PDFName.of('S'), PDFName).decodeText(),
    alt: wordsOf(element.lookup(PDFName.of('Alt'))),
    contents: all.flatMap((kid) => (kid instanceof PDFNumber ? [kid.asNumber()] : [])),
    kids: all.filter(isElement).map(nodeOf),
    links: all.filter((kid) => kid instanceof PDFDict && !isElement(kid)).length,
  };
};

const treeOf = (document: PDFDocument): Node => {
  const root = document.catalog.lookup(PDFName.of('StructTreeRoot'), PDFDict);
  return nodeOf(root.lookup(PDFName.of('K'), PDFArray).lookup(0, PDFDict));
};

describe('the screen edition’s tags', () => {
  it('read as a document: sections, a heading, a table of rows, a picture with words', async () => {
    const [first, second] = treeOf(await load()).kids;
    expect(first.kids.map((kid) => kid.type)).toEqual(['H1', 'Table', 'P', 'Link']);
    const [, breaks, , link] = first.kids;
    expect(breaks.alt).toBe('Breaks to location A');
    expect(breaks.kids.map((row) => row.type)).toEqual(['TR', 'TR', 'TR']);
    expect(breaks.kids.map((row) => row.kids.map((cell) => cell.type))).toEqual([
      ['TH', 'TH'],
      ['TD', 'TD'],
      ['TD', 'TD'],
    ]);
    expect(link.links).toBe(1);
    expect(second.kids.map((kid) => kid.type)).toEqual(['H1', 'Figure']);
    expect(second.kids[1].alt).toBe('Green 1');
  });

  it('cells come from left to right, whatever the order in which they are drawn', async () => {
    const document = await load();
    const { kids } = treeOf(document).kids[0].kids[1];
    const page = document.getPage(0).node;
    const order: number[] = [];
    for (const { operator, operands } of operationsOf(contentBytes(page))) {
      const properties = operands[1];
      if (operator !== 'BDC' || typeof properties !== 'object' || properties === null) continue;
      if ('dictionary' in properties) order.push(properties.dictionary.get('MCID') as number);
    }
    // In the second row pace is drawn before aim.
    const [aim, pace] = kids[1].kids.map((cell) => cell.contents[0]);
    expect(order.indexOf(aim)).toBeGreaterThan(order.indexOf(pace));
  });

  it('every piece of content is either tagged once or an artifact, and knows its element', async () => {
    const document = await load();
    const root = document.catalog.lookup(PDFName.of('StructTreeRoot'), PDFDict);
    const numbers = root
      .lookup(PDFName.of('ParentTree'), PDFDict)
      .lookup(PDFName.of('Nums'), PDFArray);
    document.getPages().forEach(({ node }, p) => {
      const key = node.lookup(PDFName.of('StructParents'), PDFNumber).asNumber();
      let owners = 0;
      for (let i = 0; i < numbers.size(); i += 2) {
        if (numbers.lookup(i, PDFNumber).asNumber() === key) {
          owners = numbers.lookup(i + 1, PDFArray).size();
        }
      }
      const used: number[] = [];
      let depth = 0;
      let untagged = 0;
      for (const { operator, operands } of operationsOf(contentBytes(node))) {
        if (operator === 'BDC' || operator === 'BMC') depth++;
        if (operator === 'EMC') depth--;
        const properties = operands[1];
        if (operator === 'BDC' && typeof properties === 'object' && properties !== null) {
          const id = 'dictionary' in properties ? properties.dictionary.get('MCID') : undefined;
          if (typeof id === 'number') used.push(id);
        }
        if (['Tj', 'TJ', 'S', 'f', 'f*', 'B', 'B*'].includes(operator) && depth === 0) untagged++;
      }
      expect(depth).toBe(0);
      expect(untagged).toBe(0);
      expect(used).toEqual(Array.from({ length: owners }, (_, i) => i));
      expect(owners).toBeGreaterThan(p === 0 ? 6 : 1);
    });
  });

  it('links lead to their page, and a link to nowhere is an error', async () => {
    const document = await load();
    const [link] = document.getPage(0).node.lookup(PDFName.of('Annots'), PDFArray).asArray();
    const annotation = document.context.lookup(link, PDFDict);
    const target = annotation.lookup(PDFName.of('Dest'), PDFArray).get(0);
    expect(target).toBe(document.getPage(1).ref);
    expect(wordsOf(annotation.lookup(PDFName.of('Contents')))).toBe('Page 2');
    const lost: Page = {
      ...pages[0],
      marks: [{ kind: 'link', box: { x: 0, y: 0, width: 9, height: 9 }, toPage: 'page-99' }],
    };
    await expect(
      writePdf([lost], pocket, { fonts, title: 'T', language: 'en', edition: 'screen' }),
    ).rejects.toThrow('page page-1 links to "page-99"');
  });
});
