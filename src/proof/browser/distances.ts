/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import type { DistancesAnswer } from '../distances-answer.js';

/** A place on the drawing of a hole, moved by click, drag or key; the server measures from it. */

type At = readonly [x: number, y: number];

/** Millimetres on the page that an arrow key moves the place: plain, and with Shift. */
const STEPS = [1, 0.2] as const;

const ARROWS: Readonly<Record<string, At>> = {
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
};

const shows = (name: string): HTMLElement | null =>
  document.querySelector<HTMLElement>(`[data-shows="${name}"]`);

const showAnswer = ({ facts, said }: DistancesAnswer): void => {
  shows('distances')?.replaceChildren(
    ...facts.map(([name, value]) => {
      const row = document.createElement('div');
      const term = document.createElement('dt');
      const told = document.createElement('dd');
      term.textContent = name;
      told.textContent = value;
      row.append(term, told);
      return row;
    }),
  );
  const place = shows('place');
  if (place !== null) place.textContent = said;
};

const ask = async (hole: string, at: At): Promise<DistancesAnswer> => {
  const query = new URLSearchParams({ hole, at: at.map((v) => v.toFixed(3)).join(',') });
  const response = await fetch(`/distances?${query}`);
  if (!response.ok) throw new Error(`${response.status}`);
  return (await response.json()) as DistancesAnswer;
};

const startDistances = (svg: SVGSVGElement): void => {
  const handle = svg.querySelector<SVGGElement>('.place')!;
  const [x, y] = (svg.dataset.at ?? '0,0').split(',').map(Number);
  let at: At = [x, y];
  let asked = 0;
  const move = async (to: At): Promise<void> => {
    at = to;
    handle.setAttribute('transform', `translate(${to[0].toFixed(3)},${to[1].toFixed(3)})`);
    asked += 1;
    const own = asked;
    try {
      const answer = await ask(svg.dataset.hole ?? '', to);
      // A later place has been asked for meanwhile.
      if (own !== asked) return;
      showAnswer(answer);
      svg.dataset.answered = `${own}`;
    } catch {
      const place = shows('place');
      if (place !== null)
        place.textContent = 'The proof does not answer; is the program still running?';
    }
  };
  const onPage = (event: PointerEvent): At => {
    const box = svg.getBoundingClientRect();
    const view = svg.viewBox.baseVal;
    return [
      ((event.clientX - box.left) / box.width) * view.width,
      ((event.clientY - box.top) / box.height) * view.height,
    ];
  };
  let dragged = false;
  svg.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    dragged = true;
    svg.setPointerCapture(event.pointerId);
    handle.focus({ preventScroll: true });
    void move(onPage(event));
    event.preventDefault();
  });
  svg.addEventListener('pointermove', (event) => {
    if (dragged) void move(onPage(event));
  });
  const drop = (): void => {
    dragged = false;
  };
  svg.addEventListener('pointerup', drop);
  svg.addEventListener('pointercancel', drop);
  handle.addEventListener('keydown', (event) => {
    const arrow = ARROWS[event.key];
    if (arrow === undefined || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    const by = STEPS[event.shiftKey ? 1 : 0];
    void move([at[0] + arrow[0] * by, at[1] + arrow[1] * by]);
  });
  void move(at);
};

const overlay = document.querySelector<SVGSVGElement>('svg.hole-overlay');
if (overlay !== null) startDistances(overlay);
