import type { EditionRecord } from '../../src/book/edition-record.js';

/** The record of a small book, of one page and no hole. */
export const SAMPLE_RECORD: EditionRecord = {
  form: 1,
  title: 'Links',
  at: null,
  edition: null,
  layout: ['pocket', '0'],
  use: 'play',
  units: 'imperial',
  pages: [['cover', '1', '0']],
  holes: [],
};
