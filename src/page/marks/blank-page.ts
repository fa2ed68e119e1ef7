import type { Page } from './marks.js';

/** A page with nothing on it, of the size of another and about the same hole. */
export const blankPage = (
  { title, hole, width, height }: Page,
  id: string,
  label: string,
): Page => ({
  ...{ id, title, label, width, height, marks: [] },
  ...(hole === undefined ? {} : { hole }),
});
