/** What a PDF says of itself. */
export interface DocumentWords {
  readonly title: string;
  /** BCP 47. */
  readonly language: string;
  readonly subject?: string;
  /** What its pages rest on, as JSON: read back when a later edition tells what has changed. */
  readonly record?: string;
}
