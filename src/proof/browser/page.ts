/// <reference lib="dom" />
/// <reference lib="dom.iterable" />

/** What the scripts of the proof's pages share. */

export type At = readonly [x: number, y: number];

const NO_ANSWER = 'The proof does not answer; is the program still running?';
const BUSY = 'The proof is busy; ask again in a moment.';

/** Why a question was not answered, from the error that its asking threw: the status of the answer, if any. */
export const whyNoAnswer = (error: unknown): string =>
  error instanceof Error && error.message === '503' ? BUSY : NO_ANSWER;

const shows = (name: string): HTMLElement | null =>
  document.querySelector<HTMLElement>(`[data-shows="${name}"]`);

/** Sets the words of a place on the page. */
export const tell = (name: string, words: string): void => {
  const element = shows(name);
  if (element !== null && element.textContent !== words) element.textContent = words;
};

/** Sets the lines of a list. */
export const tellRows = (list: string, rows: readonly string[]): void => {
  shows(list)?.replaceChildren(
    ...rows.map((words) => {
      const row = document.createElement('li');
      row.textContent = words;
      return row;
    }),
  );
};

/** Sets the list of what was found: a name and a value each. */
export const tellFacts = (
  list: string,
  facts: readonly (readonly [name: string, value: string])[],
): void => {
  shows(list)?.replaceChildren(
    ...facts.map(([name, value]) => {
      const row = document.createElement('div');
      const term = document.createElement('dt');
      const said = document.createElement('dd');
      term.textContent = name;
      said.textContent = value;
      row.append(term, said);
      return row;
    }),
  );
};

export const isWithKey = (event: KeyboardEvent): boolean =>
  event.ctrlKey || event.altKey || event.metaKey;

/** A finger that rests moves by less, pixels. */
const TAP = 12;

/** Whether a finger that was put down at a place of the window is lifted there. */
export const isTap = (at: At, { clientX, clientY }: PointerEvent): boolean =>
  Math.hypot(clientX - at[0], clientY - at[1]) < TAP;

/** Where a pointer is on a drawing, in the drawing's own units. */
export const onDrawing = (svg: SVGSVGElement, event: PointerEvent): At => {
  const box = svg.getBoundingClientRect();
  const view = svg.viewBox.baseVal;
  return [
    ((event.clientX - box.left) / box.width) * view.width,
    ((event.clientY - box.top) / box.height) * view.height,
  ];
};
