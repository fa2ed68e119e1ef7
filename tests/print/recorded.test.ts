import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { makeRecordedProducts } from './recorded-products.js';

interface Record {
  readonly passed: Readonly<{ [file: string]: string }>;
}

/**
 * tests/live/print-programs.test.ts has qpdf, poppler and Ghostscript read these files and records the
 * digests of those that they passed. When this fails, a file has changed since: run the
 * live test with RUNNEL_RECORD=1.
 */
it('outside programs have passed the very bytes that are made now', async () => {
  const { passed } = JSON.parse(
    readFileSync(new URL('./recorded/programs.json', import.meta.url), 'utf8'),
  ) as Record;
  const products = await makeRecordedProducts();
  const made = Object.fromEntries(
    products.map(({ file, bytes }) => [file, createHash('sha256').update(bytes).digest('hex')]),
  );
  expect(made).toEqual(passed);
});
