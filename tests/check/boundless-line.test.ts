import { PDFDocument, PDFName } from 'pdf-lib';
import { expect, it } from 'vitest';
import { preflight } from '../../src/check/preflight.js';
import { readBook } from '../../src/check/read-book.js';

it('takes a line of no width under a matrix without bounds for one that is too thin', async () => {
  const document = await PDFDocument.create();
  const page = document.addPage([300, 500]);
  const huge = '9'.repeat(200);
  const content = `${huge} 0 0 ${huge} 0 0 cm ${huge} 0 0 ${huge} 0 0 cm 0 w 0 0 m 1 1 l S`;
  page.node.set(
    PDFName.of('Contents'),
    document.context.register(document.context.stream(content)),
  );
  const found = preflight(await readBook(await document.save(), 'boundless.pdf'));
  const [line, ...more] = found.filter(({ rule }) => rule === 'line width');
  expect(more).toEqual([]);
  expect(line).toMatchObject({ verdict: 'fail', page: 1 });
  expect(line.words).toMatch(/1 line under 0\.25 pt, the first 0 pt/);
});
