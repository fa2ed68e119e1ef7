/** What a PDF says of itself. */
export interface DocumentWords {
  readonly title: string;
  /** BCP 47. */
  readonly language: string;
  readonly subject?: string;
  /** What its pages rest on, as JSON: read back when a later edition tells what has changed. */
  readonly record?: string;
  /** When it was made: a moment of ISO 8601 in whole seconds, UTC; left out, a file is dated by nothing but its input. */
  readonly date?: string;
}

/**
 * The date of a file. Without one of its own it is dated by nothing but its input, so that two runs give the same bytes; PDF
 * wants a date, and this is a fixed one.
 */
export const documentDate = ({ date }: DocumentWords): string => date ?? '2000-01-01T00:00:00Z';
