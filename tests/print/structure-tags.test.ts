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
import { setParagraph } from '../../src/page/kit/paragraph.js';
import {
  captionGroup,
  cellGroup,
  folioGroup,
  headingGroup,
} from '../../src/page/kit/read-aloud.js';
import type { Mark, Page } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { ownLayout, sampleGreen, samplePage } from './sample-pages.js';

const fonts = openFonts();
const pocket = ownLayout('pocket');

const table: Mark = {
  kind: 'group',
  role: 'table',
  alt: 'Breaks to location A',
  marks: [
    captionGroup('A: 4 on', [
      text([12, 46], 'A', 'text-bold', 8),
      text([16, 46], '4 on', 'text', 8),
    ]),
    cellGroup(
      { row: 0, column: 1, columns: 2, heads: 'Column' },
      text([30, 48], 'below', 'text', 8),
    ),
    cellGroup({ row: 1, column: 1, heads: 'Column' }, text([30, 50], 'aim', 'text-italic', 8)),
    cellGroup({ row: 1, column: 2, heads: 'Column' }, text([60, 50], 'pace', 'text-italic', 8)),
    rule(20, 52, 90, 52, stroke(0.12)),
    cellGroup({ row: 2, column: 0, heads: 'Row' }, text([20, 56], '3', 'text', 8)),
    cellGroup({ row: 2, column: 2 }, text([60, 56], '4½', 'text', 8)),
    cellGroup(
      { row: 2, column: 1 },
      [text([30, 56], '3″', 'text-bold', 8), text([30.5, 56], 'L', 'text', 8)],
      '3″ left',
    ),
    cellGroup({ row: 3, column: 0, heads: 'Row' }, text([20, 60], '6', 'text', 8)),
    cellGroup({ row: 3, column: 2 }, text([60, 60], '6½', 'text', 8)),
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
  readonly words: string | null;
  /** Of a cell, as it stands in its attributes. */
  readonly told: string;
  readonly contents: readonly number[];
  readonly kids: readonly Node[];
  readonly links: number;
}

const wordsOf = (value: unknown): string | null =>
  value instanceof PDFString || value instanceof PDFHexString ? value.decodeText() : null;

const nodeOf = (element: PDFDict): Node => {
  const kids = element.lookupMaybe(PDFName.of('K'), PDFArray);
  const all = Array.from({ length: kids?.size() ?? 0 }, (_, i) => kids?.lookup(i));
  const isElement = (kid: unknown): kid is PDFDict =>
    kid instanceof PDFDict && kid.has(PDFName.of('S'));
  return {
    type: element.lookup(PDFName.of('S'), PDFName).decodeText(),
    alt: wordsOf(element.lookup(PDFName.of('Alt'))),
    words: wordsOf(element.lookup(PDFName.of('ActualText'))),
    told: `${element.lookup(PDFName.of('A')) ?? ''}`.replace(/\s+/g, ' '),
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
  it('read as a document: sections, a heading, a table with all its cells, a picture with words', async () => {
    const [first, second] = treeOf(await load()).kids;
    expect(first.kids.map((kid) => kid.type)).toEqual(['H1', 'Table', 'P', 'Link']);
    const [, breaks, , link] = first.kids;
    expect(breaks.alt).toBe('Breaks to location A');
    expect(breaks.kids.map((row) => row.type)).toEqual(['Caption', 'TR', 'TR', 'TR', 'TR']);
    expect(breaks.kids[0].words).toBe('A: 4 on');
    expect(breaks.kids.slice(1).map((row) => row.kids.map((cell) => cell.type))).toEqual([
      ['TD', 'TH'],
      ['TD', 'TH', 'TH'],
      ['TH', 'TD', 'TD'],
      ['TH', 'TD', 'TD'],
    ]);
    // Scope and span as ISO 32000-1, 14.8.5.7 names them.
    expect(breaks.kids[1].kids[1].told).toBe('<< /O /Table /Scope /Column /ColSpan 2 >>');
    expect(breaks.kids[3].kids[0].told).toBe('<< /O /Table /Scope /Row >>');
    expect(link.links).toBe(1);
    expect(second.kids.map((kid) => kid.type)).toEqual(['H1', 'Figure']);
    expect(second.kids[1].alt).toBe('Green 1');
  });

  it('cells come from left to right, whatever the order in which they are drawn, blank ones too', async () => {
    const document = await load();
    const [, , , figures, last] = treeOf(document).kids[0].kids[1].kids;
    // Pace is drawn before aim; an aim and its side are one cell.
    const [, aim, pace] = figures.kids;
    expect(aim.contents.length).toBe(2);
    expect(aim.words).toBe('3″ left');
    expect(aim.contents[0]).toBeGreaterThan(pace.contents[0]);
    expect(last.kids.map((cell) => cell.contents.length)).toEqual([1, 0, 1]);
  });

  it('a paragraph of several lines is one, a heading of number and name one, a page number none', async () => {
    const cell = { x: 10, y: 60, width: 40, height: 40 };
    const style = { face: 'text', size: 8, leading: 10 } as const;
    const words = 'The water runs off the green at its lowest edge and takes putts with it.';
    const page: Page = {
      ...pages[0],
      marks: [
        folioGroup(text([10, 170], '7', 'text-bold', 6)),
        headingGroup('7 Far Lantern', [
          text([10, 20], '7', 'title-bold', 30),
          text([30, 20], 'Far Lantern', 'title', 15),
        ]),
        ...setParagraph(words, cell, style, measureWith(fonts)).marks,
      ],
    };
    const options = { fonts, title: 'T', language: 'en', edition: 'screen' } as const;
    const { kids } = treeOf(await PDFDocument.load(await writePdf([page], pocket, options)))
      .kids[0];
    expect(kids.map(({ type }) => type)).toEqual(['H1', 'P']);
    expect(kids.map((kid) => kid.words)).toEqual(['7 Far Lantern', words]);
    expect(kids[0].contents.length).toBe(2);
    expect(kids[1].contents.length).toBeGreaterThan(1);
  });

  it('tables that stand apart on a page are one where they share their heads', async () => {
    const part = (row: number, words: string): Mark => ({
      kind: 'group',
      role: 'table',
      part: 'putts',
      marks: [0, 1].map((column) =>
        cellGroup({ row, column }, text([20 + 30 * column, 50 + row], words, 'text', 8)),
      ),
    });
    const page: Page = {
      ...pages[0],
      marks: [part(0, 'head'), part(0, 'first'), part(0, 'second')],
    };
    const options = { fonts, title: 'T', language: 'en', edition: 'screen' } as const;
    const { kids } = treeOf(await PDFDocument.load(await writePdf([page], pocket, options)))
      .kids[0];
    expect(kids.map(({ type }) => type)).toEqual(['Table']);
    expect(kids[0].kids.map(({ kids: cells }) => cells.length)).toEqual([2, 2, 2]);
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

describe('links', () => {
  const linked = (box: { x: number; y: number; width: number; height: number }): Mark => ({
    kind: 'link',
    box: { ...box },
    toPage: 'page-2',
  });
  const strip = (y: number, height: number) => linked({ x: 0, y, width: 107.95, height });
  const page = samplePage(0, 107.95, 177.8, [
    table,
    text([12, 106], 'to the second page', 'text', 8),
    text([12, 170], 'at the foot', 'text', 6),
    // As they are drawn: all of them last.
    strip(168, 9),
    strip(57, 4),
    strip(0, 16),
    strip(120, 4),
  ]);

  it('are read where they lie: behind the heading, in the row of a table, at the foot; over nothing at the end', async () => {
    const written = await writePdf([page, pages[1]], pocket, {
      ...{ fonts, title: 'Test', language: 'en' },
      edition: 'screen',
    });
    const document = await PDFDocument.load(written);
    const [first] = treeOf(document).kids;
    expect(first.kids.map(({ type }) => type)).toEqual([
      ...['H1', 'Link', 'Table', 'P', 'P', 'Link', 'Link'],
    ]);
    const rows = first.kids[2].kids.filter(({ type }) => type === 'TR');
    expect(rows.map(({ kids }) => kids.map((cell) => cell.kids.length).join(''))).toEqual([
      ...['000', '000', '000', '100'].map((row, i) => (i === 0 ? row.slice(1) : row)),
    ]);
    expect(rows[3].kids[0].kids[0]).toMatchObject({ type: 'Link', links: 1 });
    expect(rows[3].kids[0].contents.length).toBe(1);
  });
});
