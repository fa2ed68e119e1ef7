import { PDFDocument, rgb } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import { readDrawnPage } from '../../src/check/read-drawing.js';

describe('what a page draws', () => {
  it('ends where the form that it lies in is cut off', async () => {
    const inner = await PDFDocument.create();
    const black = { color: rgb(0, 0, 0) };
    inner.addPage([50, 50]).drawRectangle({ x: 30, y: 10, width: 100, height: 20, ...black });
    const outer = await PDFDocument.create();
    const page = outer.addPage([300, 300]);
    const [form] = await outer.embedPdf(await inner.save());
    page.drawPage(form, { x: 100, y: 100 });
    const read = await PDFDocument.load(await outer.save());
    const { paints } = readDrawnPage(read.context, read.getPage(0).node);
    // The rectangle from 130 to 230 lies in a form from 100 to 150.
    expect(paints.map(({ box }) => box)).toEqual([{ minX: 130, minY: 110, maxX: 150, maxY: 130 }]);
  });
});
