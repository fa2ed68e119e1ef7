import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readBook } from '../../src/check/read-book.js';
import { checkRules } from '../../src/check/rules-check.js';
import { mmToPoints } from '../../src/units.js';
import { makeRecordedProducts, type RecordedProduct } from '../print/recorded-products.js';
import { ownLayout } from '../print/sample-pages.js';

/**
 * Every kind of file that the print room makes, read by programs from outside: qpdf, poppler's pdffonts,
 * pdfinfo and pdftotext, and Ghostscript. What they say is recorded beside the npm-only tests, with the
 * digest of the file, so that `npm test` knows that the same bytes were passed.
 */
const RECORD = fileURLToPath(new URL('../print/recorded/programs.json', import.meta.url));

let folder = '';
let products: RecordedProduct[] = [];
const fileOf = (product: RecordedProduct): string => join(folder, product.file);

interface Run {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

const run = (program: string, ...args: string[]): Run => {
  const { status, stdout, stderr, error } = spawnSync(program, args, {
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  if (error !== undefined) throw error;
  return { status, out: stdout, err: stderr };
};

const versionOf = (program: string, ...args: string[]): string => {
  const { out, err } = run(program, ...args);
  return `${out}${err}`.split('\n')[0].trim();
};

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'runnel-print-'));
  products = await makeRecordedProducts();
  for (const product of products) writeFileSync(fileOf(product), product.bytes);
});

/** With RUNNEL_RECORD=1, and only when all that was asked has passed, writes what `npm test` checks against. */
afterAll(() => {
  const record = {
    programs: {
      'qpdf --check': versionOf('qpdf', '--version'),
      pdffonts: versionOf('pdffonts', '-v'),
      'pdfinfo -box': versionOf('pdfinfo', '-v'),
      pdftotext: versionOf('pdftotext', '-v'),
      'gs -q -dBATCH -dNOPAUSE -sDEVICE=pnggray -r24 -o /dev/null': versionOf('gs', '--version'),
    },
    passed: Object.fromEntries(
      products.map(({ file, bytes }) => [file, createHash('sha256').update(bytes).digest('hex')]),
    ),
  };
  mkdirSync(join(RECORD, '..'), { recursive: true });
  if (failed === 0 && process.env.RUNNEL_RECORD === '1') {
    writeFileSync(RECORD, `${JSON.stringify(record, null, 2)}\n`);
  }
  rmSync(folder, { recursive: true, force: true });
});

let failed = 0;
const each = (test: (product: RecordedProduct) => void): void => {
  for (const product of products) {
    try {
      test(product);
    } catch (error) {
      failed++;
      throw new Error(`${product.file}: ${error instanceof Error ? error.message : error}`);
    }
  }
};

describe('programs from outside', () => {
  it('qpdf --check finds no fault in any product', () => {
    each((product) => {
      const { status, out, err } = run('qpdf', '--check', fileOf(product));
      expect(err).toBe('');
      expect(status).toBe(0);
      expect(out).toContain('No syntax or stream encoding errors found');
      expect(out).not.toMatch(/WARNING/i);
    });
  });

  it('pdffonts: every font is embedded, a subset, and gives its text back', () => {
    each((product) => {
      const { out, err } = run('pdffonts', fileOf(product));
      expect(err).toBe('');
      const lines = out
        .split('\n')
        .slice(2)
        .filter((line) => line !== '');
      expect(lines.length).toBeGreaterThan(0);
      for (const line of lines) {
        expect(line).toMatch(/^[A-Z]{6}\+/);
        expect(line).toMatch(/CID TrueType\s+Identity-H\s+yes yes yes/);
      }
    });
  });

  it('Ghostscript reads every product without a word', () => {
    const paths = products.map(fileOf);
    const { status, out, err } = run(
      'gs',
      '-q',
      '-dBATCH',
      '-dNOPAUSE',
      '-sDEVICE=pnggray',
      '-r24',
      '-o',
      '/dev/null',
      ...paths.map((path) => `--permit-file-read=${path}`),
      ...paths,
    );
    expect(`${out}${err}`).toBe('');
    expect(status).toBe(0);
  });

  it('pdfinfo: trim and bleed are within 0.01 pt of the layout', () => {
    each((product) => {
      if (product.edition === null) return;
      const layout = ownLayout(product.layout);
      const { out } = run('pdfinfo', '-box', '-l', '1', fileOf(product));
      const box = (name: string): number[] =>
        new RegExp(`${name}:\\s+([\\d.]+)\\s+([\\d.]+)\\s+([\\d.]+)\\s+([\\d.]+)`)
          .exec(out)
          ?.slice(1)
          .map(Number) ?? [];
      const [left, bottom, right, top] = box('TrimBox');
      // pdfinfo prints two decimals; half a unit of them on both ends.
      expect(Math.abs(right - left - mmToPoints(layout.page.width))).toBeLessThanOrEqual(0.0101);
      expect(Math.abs(top - bottom - mmToPoints(layout.page.height))).toBeLessThanOrEqual(0.0101);
      if (product.edition === 'press') {
        expect(out).toContain('PDF/X-1a:2003');
        const bleed = box('BleedBox');
        expect(Math.abs(left - bleed[0] - mmToPoints(layout.press.bleed))).toBeLessThanOrEqual(
          0.0101,
        );
      }
      if (product.edition === 'screen') expect(out).toMatch(/Tagged:\s+yes/);
    });
  });

  it('pdftotext gives the words that the pages hold, in every script', () => {
    each((product) => {
      if (product.words === null) return;
      const out = execFileSync('pdftotext', ['-layout', fileOf(product), '-'], {
        encoding: 'utf8',
      });
      const got = out
        .split(/[\n\f]/)
        .map((line) => line.trim().normalize('NFC'))
        .filter((line) => line !== '');
      expect(got).toEqual(product.words.map((word) => word.normalize('NFC')));
    });
  });

  it('pdftotext gives tables word by word, each row on one line', () => {
    each((product) => {
      if (product.rows === null) return;
      const out = execFileSync('pdftotext', ['-bbox', fileOf(product), '-'], { encoding: 'utf8' });
      const words = [...out.matchAll(/<word xMin="([\d.]+)" yMin="([\d.]+)"[^>]*>([^<]*)</g)].map(
        ([, x, y, word]) => ({ x: Number(x), y: Number(y), word }),
      );
      const lines = new Map<number, typeof words>();
      for (const word of words) {
        const line = [...lines.keys()].find((y) => Math.abs(y - word.y) < 1) ?? word.y;
        lines.set(line, [...(lines.get(line) ?? []), word]);
      }
      const got = [...lines.entries()]
        .sort(([a], [b]) => a - b)
        .map(([, line]) => line.sort((a, b) => a.x - b.x).map(({ word }) => word));
      expect(got).toEqual(product.rows.map((row) => row.flatMap((cell) => cell.split(' '))));
    });
  });

  it('has read files of every layout, edition and sheet plan', () => {
    expect(products.length).toBeGreaterThanOrEqual(40);
  });

  it('knows a book that another program put in order, locked or wrote anew', async () => {
    const book = products.find(({ file }) => file === 'pocket-plain.pdf');
    if (book === undefined) throw new Error('no plain pocket book');
    const from = fileOf(book);
    const to = (name: string): string => join(folder, name);
    const read = (name: string) => readBook(readFileSync(to(name)), name);
    const own = await readBook(book.bytes, 'own');
    run('qpdf', '--linearize', '--object-streams=generate', from, to('ordered.pdf'));
    const ordered = await read('ordered.pdf');
    expect([ordered.title, ordered.facts]).toEqual([own.title, own.facts]);
    expect(checkRules(ordered)).toEqual(checkRules(own));
    run('qpdf', '--encrypt', 'reader', 'owner', '256', '--', from, to('locked.pdf'));
    await expect(read('locked.pdf')).rejects.toThrow(/locked with a password/);
    run('gs', '-q', '-dBATCH', '-dNOPAUSE', '-sDEVICE=pdfwrite', '-o', to('anew.pdf'), from);
    const { conditions } = checkRules(await read('anew.pdf'));
    for (const { met } of Object.values(conditions)) expect(met).not.toBe(true);
  });
});
