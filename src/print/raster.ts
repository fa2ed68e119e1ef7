import type { PDFiumPageRenderOptions } from '@hyzyla/pdfium';
import { PNG } from 'pngjs';
import { InputFault } from '../fault.js';
import { POINTS_PER_INCH } from '../units.js';

/** A page as pixels: four bytes each (red, green, blue, opacity), row by row from the top. */
export interface PageImage {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** The library hands out red, green, blue and opacity; the page is opaque already. */
const asGiven = async ({ data }: PDFiumPageRenderOptions): Promise<Uint8Array> =>
  Uint8Array.from(data);

/**
 * The drawing library, which pictures alone need: it is an optional package, and loaded when one is asked for.
 *
 * @throws InputFault when it is not installed.
 */
export const loadRasteriser = async (
  load = () => import('@hyzyla/pdfium'),
): Promise<Awaited<ReturnType<typeof load>>> => {
  try {
    return await load();
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ERR_MODULE_NOT_FOUND') throw error;
    throw new InputFault(
      { file: 'command line', place: '--png' },
      'pictures are drawn by the package @hyzyla/pdfium, which is not installed',
      'install it: npm install @hyzyla/pdfium',
    );
  }
};

/**
 * Draws pages of a PDF at a resolution, all of them or those with the given indices. The drawing runs in
 * WebAssembly, so every machine gives the same pixels.
 */
export const rasterise = async (
  pdf: Uint8Array,
  dpi: number,
  pages?: readonly number[],
): Promise<PageImage[]> => {
  const { PDFiumLibrary } = await loadRasteriser();
  const library = await PDFiumLibrary.init();
  try {
    const document = await library.loadDocument(pdf);
    const wanted = pages ?? Array.from({ length: document.getPageCount() }, (_, i) => i);
    const images: PageImage[] = [];
    for (const index of wanted) {
      const page = document.getPage(index);
      const { originalWidth, originalHeight } = page.getOriginalSize();
      // Asked for a scale, the library cuts the page to whole points first.
      const { width, height, data } = await page.render({
        scale: 1,
        width: Math.round((originalWidth * dpi) / POINTS_PER_INCH),
        height: Math.round((originalHeight * dpi) / POINTS_PER_INCH),
        render: asGiven,
      });
      images.push({ width, height, data });
    }
    document.destroy();
    return images;
  } finally {
    library.destroy();
  }
};

export const encodePng = ({ width, height, data }: PageImage): Uint8Array => {
  const png = new PNG({ width, height });
  png.data = Buffer.from(data);
  // Flat art packs best unfiltered, and trying each filter on each row is most of the time.
  return PNG.sync.write(png, { colorType: 2, filterType: 0 });
};

/** A picture that is clear in places. */
export const encodePicture = ({ width, height, data }: PageImage): Uint8Array => {
  const png = new PNG({ width, height });
  png.data = Buffer.from(data);
  return PNG.sync.write(png);
};
