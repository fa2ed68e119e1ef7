import { PDFArray, PDFDict, PDFName, PDFNumber } from 'pdf-lib';
import type { Box } from '../geometry.js';
import { unitOfPage } from './page-numbers.js';

/** Boxes of a page, points; null for one that it lacks, or that is none. */
export interface PageBoxes {
  readonly media: Box;
  readonly crop: Box | null;
  readonly bleed: Box | null;
  readonly trim: Box | null;
  readonly art: Box | null;
  /** Boxes that are none, and why. */
  readonly boxFaults: readonly string[];
}

/** What is taken where a page does not say how large it is: letter, as readers of PDF do. */
const LETTER: Box = { minX: 0, minY: 0, maxX: 612, maxY: 792 };

/** Only the media and crop boxes are inherited (ISO 32000-1, 7.7.3.4). */
const INHERITED: ReadonlySet<string> = new Set(['MediaBox', 'CropBox']);

const entryOf = (page: PDFDict, key: string): unknown => {
  let node: PDFDict | undefined = page;
  // A tree of pages may be damaged so that it leads round in a circle.
  for (const seen = new Set<PDFDict>(); node !== undefined && !seen.has(node); ) {
    const found = node.lookup(PDFName.of(key));
    if (found !== undefined) return found;
    seen.add(node);
    const parent: unknown = INHERITED.has(key) ? node.lookup(PDFName.of('Parent')) : undefined;
    node = parent instanceof PDFDict ? parent : undefined;
  }
  return undefined;
};

/** The box, or why it is none. */
const boxOf = (entry: unknown, unit: number): Box | string => {
  const numbers =
    entry instanceof PDFArray && entry.size() === 4
      ? [0, 1, 2, 3].map((i) => {
          const value = entry.lookup(i);
          return value instanceof PDFNumber ? unit * value.asNumber() : Number.NaN;
        })
      : [];
  if (numbers.length === 0 || !numbers.every(Number.isFinite)) return 'is not four numbers';
  const [x1, y1, x2, y2] = numbers;
  if (x1 === x2 || y1 === y2) return 'has no area';
  return {
    minX: Math.min(x1, x2),
    minY: Math.min(y1, y2),
    maxX: Math.max(x1, x2),
    maxY: Math.max(y1, y2),
  };
};

/** The boxes of a page (ISO 32000-1, 14.11.2), and which of them are missing that no page may lack, or are no boxes. */
export const readBoxes = (page: PDFDict): PageBoxes => {
  const unit = unitOfPage(page);
  const boxFaults: string[] = [];
  const read = (key: string): Box | null => {
    const entry = entryOf(page, key);
    if (entry === undefined) return null;
    const box = boxOf(entry, unit);
    if (typeof box !== 'string') return box;
    boxFaults.push(`the ${key} ${box}`);
    return null;
  };
  const media = read('MediaBox');
  if (media === null && boxFaults.length === 0) boxFaults.push('no MediaBox');
  return {
    media: media ?? LETTER,
    crop: read('CropBox'),
    bleed: read('BleedBox'),
    trim: read('TrimBox'),
    art: read('ArtBox'),
    boxFaults,
  };
};
