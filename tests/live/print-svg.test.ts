import pixelmatch from 'pixelmatch';
import { chromium } from 'playwright-core';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { rasterise } from '../../src/print/raster.js';
import { writeSvg } from '../../src/print/svg.js';
import { MM_PER_INCH } from '../../src/units.js';
import { ownLayout, samplePages } from '../print/sample-pages.js';

/** A browser (Debian's chromium) draws the SVG, PDFium the PDF: the same marks give the same picture. */
const fonts = openFonts();

let browser: Awaited<ReturnType<typeof chromium.launch>>;
beforeAll(async () => {
  browser = await chromium.launch({
    executablePath: '/usr/bin/chromium',
    args: ['--no-sandbox', '--force-color-profile=srgb'],
  });
});
afterAll(() => browser.close());

describe('SVG and PDF', () => {
  // Resolutions at which the page is a whole number of pixels, so that neither program stretches it.
  it.each([
    ['pocket', 192],
    ['a6', 254],
    ['fold-up', 254],
    ['committee', 192],
  ] as const)('%s: look the same', async (name, dpi) => {
    const layout = ownLayout(name);
    const [page] = samplePages(layout, 1);
    const pdf = await writePdf([page], layout, {
      fonts,
      title: 'Test',
      language: 'en',
      edition: 'plain',
    });
    const [drawn] = await rasterise(pdf, dpi);
    const view = await browser.newPage({
      viewport: {
        width: Math.ceil((page.width / MM_PER_INCH) * 96),
        height: Math.ceil((page.height / MM_PER_INCH) * 96),
      },
      deviceScaleFactor: dpi / 96,
    });
    await view.setContent(
      `<style>body{margin:0}svg{display:block}</style>${writeSvg(page, layout.inks, fonts)}`,
    );
    const shot = PNG.sync.read(await view.screenshot());
    await view.close();
    const width = Math.min(drawn.width, shot.width);
    const height = Math.min(drawn.height, shot.height);
    expect(Math.abs(drawn.width - shot.width)).toBeLessThanOrEqual(4);
    const cut = (from: { width: number; data: Uint8Array }): Uint8Array => {
      const data = new Uint8Array(width * height * 4);
      for (let y = 0; y < height; y++) {
        data.set(
          from.data.subarray(4 * y * from.width, 4 * (y * from.width + width)),
          4 * y * width,
        );
      }
      return data;
    };
    const differing = pixelmatch(cut(drawn), cut(shot), null, width, height, { threshold: 0.3 });
    const inked = cut(drawn).filter((v, i) => i % 4 === 1 && v < 200).length;
    expect(inked).toBeGreaterThan(3000);
    expect(differing / inked).toBeLessThan(0.03);
  });
});
