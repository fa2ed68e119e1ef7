import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFArray, PDFDocument, PDFName, PDFNumber } from 'pdf-lib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { text } from '../../src/page/kit/draw.js';
import { openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { runCaptured } from '../cli/run-captured.js';
import { ownLayout, samplePage, samplePages } from '../print/sample-pages.js';

describe('runnel check', () => {
  const pocket = ownLayout('pocket');
  const words = { fonts: openFonts(), title: 'Test', language: 'en' };
  let folder = '';
  const at = (name: string): string => join(folder, name);

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'runnel-check-'));
    const good = await writePdf(samplePages(pocket, 4), pocket, { ...words, edition: 'press' });
    writeFileSync(at('good.pdf'), good);
    const small = samplePage(0, 107.95, 177.8, [text([30, 60], 'tiny', 'text', 5)]);
    writeFileSync(at('bad.pdf'), await writePdf([small], pocket, { ...words, edition: 'press' }));
    writeFileSync(at('table.csv'), 'x,y,z\n');
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('passes a good book and says what the Rules say of it', async () => {
    const { code, stdout, stderr } = await runCaptured(['check', at('good.pdf')]);
    expect([code, stderr]).toEqual([0, '']);
    expect(stdout).toContain('PDF/X-1a:2003, printing condition FOGRA47');
    expect(stdout).toContain('page sizes: 4.25 x 7.00 in (4)');
    expect(stdout).toContain('green images: 1:480 (4)');
    expect(stdout).toContain('meets  play under Rule 4.3a');
    expect(stdout).toContain('the Committee’s decision under the Rules in force.');
    const metric = await runCaptured(['check', at('good.pdf'), '--units', 'metric']);
    expect(metric.stdout).toContain('page sizes: 108.0 x 177.8 mm (4)');
  });

  it('--json gives the same as data', async () => {
    const { code, stdout } = await runCaptured(['check', at('good.pdf'), '--json']);
    expect(code).toBe(0);
    const report = JSON.parse(stdout);
    expect(report.pass).toBe(true);
    expect(report.rules.images.length).toBe(4);
    expect(report.rules.images[0].scale).toBeCloseTo(480, 2);
    expect(report.rules.conditions.play).toEqual({ met: true, reasons: [] });
    expect(report.preflight.every((f: { verdict: string }) => f.verdict === 'pass')).toBe(true);
  });

  it('refuses a book whose own figures are none', async () => {
    const good = readFileSync(at('good.pdf'), 'latin1');
    expect(good).toMatch(/\/RunnelPaper \([\d.]+\)/);
    const figure = good.replace(/(\/RunnelPaper \()./, '$1x');
    writeFileSync(at('figure.pdf'), Buffer.from(figure, 'latin1'));
    const { code, stderr } = await runCaptured(['check', at('figure.pdf')]);
    expect(code).toBe(2);
    expect(stderr).toMatch(
      /figure\.pdf, RunnelPaper: "x[\d.]*" is not a figure; make the book again\n$/,
    );
  });

  it('fails a bad book with its findings, then one line and exit 2', async () => {
    const { code, stdout, stderr } = await runCaptured(['check', at('bad.pdf')]);
    expect(code).toBe(2);
    expect(stdout).toContain(
      'fail  type size, page 1: 1 text under 6 pt, the first "tiny" at 5 pt',
    );
    expect(stderr.trim().split('\n')).toEqual([
      `runnel: ${at('bad.pdf')}: 1 finding fails the preflight`,
    ]);
  });

  it('says in one line that a PDF holds no pages', async () => {
    const good = readFileSync(at('good.pdf'), 'latin1');
    const emptied = good.replace(/\/Count \d+/, (count) => '/Count 0'.padEnd(count.length));
    const kids = emptied.replace(/\/Kids \[[^\]]*\]/, (list) => '/Kids []'.padEnd(list.length));
    expect(kids).not.toBe(good);
    writeFileSync(at('empty.pdf'), kids, 'latin1');
    const { code, stdout, stderr } = await runCaptured(['check', at('empty.pdf')]);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toBe(`runnel: ${at('empty.pdf')}: the PDF holds no pages; make it again\n`);
  });

  it('cannot tell what a book that another program wrote may be used for, but that a page is too large', async () => {
    const foreign = async (...sizes: [number, number][]) => {
      const document = await PDFDocument.create();
      for (const size of sizes) document.addPage(size);
      writeFileSync(at('foreign.pdf'), await document.save());
      const { stdout } = await runCaptured(['check', at('foreign.pdf'), '--json']);
      const { practice, play, committee } = JSON.parse(stdout).rules.conditions;
      return [practice.met, play.met, committee.met];
    };
    expect(await foreign([306, 504])).toEqual([null, null, null]);
    expect(await foreign([306, 504], [307, 504])).toEqual([null, false, false]);
    await foreign([306, 504]);
    const { stdout } = await runCaptured(['check', at('foreign.pdf')]);
    expect(stdout).toContain('cannot tell: play under Model Local Rule G-11');
    expect(stdout).not.toContain('meets');
  });

  it('measures pages in their own unit', async () => {
    const document = await PDFDocument.load(readFileSync(at('good.pdf')));
    for (const page of document.getPages()) {
      for (const key of ['MediaBox', 'BleedBox', 'TrimBox', 'CropBox']) {
        const box = page.node.lookup(PDFName.of(key));
        if (!(box instanceof PDFArray)) continue;
        const halves = box.asArray().map((n) => (n as PDFNumber).asNumber() / 2);
        page.node.set(PDFName.of(key), document.context.obj(halves));
      }
      page.node.set(PDFName.of('UserUnit'), PDFNumber.of(2));
      const halved = document.context.register(document.context.stream('0.5 0 0 0.5 0 0 cm '));
      const content = page.node.get(PDFName.of('Contents'));
      page.node.set(PDFName.of('Contents'), document.context.obj([halved, content]));
    }
    writeFileSync(at('unit.pdf'), await document.save({ useObjectStreams: false }));
    const reports: {
      rules: { images: { scale: number }[]; pages: { width: number }[] };
    }[] = [];
    for (const name of ['good.pdf', 'unit.pdf']) {
      const { stdout } = await runCaptured(['check', at(name), '--json']);
      reports.push(JSON.parse(stdout));
    }
    expect(reports[1].rules.images.length).toBe(4);
    reports[1].rules.pages.forEach(({ width }, k) => {
      expect(width).toBeCloseTo(reports[0].rules.pages[k].width, 3);
    });
    reports[1].rules.images.forEach(({ scale }, k) => {
      expect(scale).toBeCloseTo(reports[0].rules.images[k].scale, 3);
    });
  });

  it('says in one line that a file is missing or is no PDF', async () => {
    const missing = await runCaptured(['check', at('none.pdf')]);
    expect(missing.code).toBe(2);
    expect(missing.stderr.trim()).toBe(
      `runnel: ${at('none.pdf')}: there is no such file; name a PDF that \`runnel book\` made`,
    );
    const wrong = await runCaptured(['check', at('table.csv')]);
    expect(wrong.code).toBe(2);
    expect(wrong.stderr).toContain('this is not a PDF');
    expect(wrong.stdout).toBe('');
  });

  it('lists the layouts, and prints their schema', async () => {
    const listed = await runCaptured(['layouts']);
    expect(listed.stdout).toContain('pocket: Pocket book');
    const schema = await runCaptured(['layouts', '--schema']);
    expect(JSON.parse(schema.stdout).title).toBe('Layout of a yardage book');
  });
});
