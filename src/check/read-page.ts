import type { Box } from '../geometry.js';
import type { DrawnPage } from './drawn-page.js';

/** A page of a PDF as the check sees it. */
export interface ReadPage {
  readonly media: Box;
  readonly trim: Box | null;
  readonly bleed: Box | null;
  readonly annotations: number;
  readonly drawn: DrawnPage;
}
