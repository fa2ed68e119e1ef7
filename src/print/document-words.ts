/** What a PDF says of itself. */
export interface DocumentWords {
  readonly title: string;
  /** BCP 47. */
  readonly language: string;
  readonly subject?: string;
}
