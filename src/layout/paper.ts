import { MM_PER_INCH } from '../units.js';
import type { PaperName } from './layout.js';

export interface Paper {
  readonly title: string;
  /** Millimetres, upright. */
  readonly width: number;
  readonly height: number;
}

/** ISO 216 (A4), ISO 5457 and common practice (SRA3), ANSI/ASME Y14.1 (Letter); Legal: common practice. */
export const PAPERS: Readonly<Record<PaperName, Paper>> = {
  letter: { title: 'US Letter', width: 8.5 * MM_PER_INCH, height: 11 * MM_PER_INCH },
  legal: { title: 'US Legal', width: 8.5 * MM_PER_INCH, height: 14 * MM_PER_INCH },
  a4: { title: 'A4', width: 210, height: 297 },
  sra3: { title: 'SRA3', width: 320, height: 450 },
};
