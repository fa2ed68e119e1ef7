/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import type { DistancesAnswer } from '../distances-answer.js';
import { type At, isTap, isWithKey, onDrawing, tell, tellFacts, whyNoAnswer } from './page.js';

/** A place on the drawing of a hole, moved by click, drag or key; the server measures from it. */

/** Millimetres on the page that an arrow key moves the place: plain, and with Shift. */
const STEPS = [1, 0.2] as const;

const ARROWS: Readonly<Record<string, At>> = {
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
};

const showAnswer = ({ facts, said }: DistancesAnswer): void => {
  tellFacts('distances', facts);
  tell('place', said);
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
    } catch (error) {
      tell('place', whyNoAnswer(error));
    }
  };
  let dragged = false;
  let tapped: At | null = null;
  svg.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    const isHeld = event.target instanceof Element && event.target.closest('.movable') !== null;
    // A finger beside the place moves the window, unless it is a tap.
    if (event.pointerType !== 'mouse' && !isHeld) {
      tapped = [event.clientX, event.clientY];
      return;
    }
    dragged = true;
    svg.setPointerCapture(event.pointerId);
    handle.focus({ preventScroll: true });
    void move(onDrawing(svg, event));
    event.preventDefault();
  });
  svg.addEventListener('pointermove', (event) => {
    if (dragged) void move(onDrawing(svg, event));
  });
  const drop = (): void => {
    dragged = false;
    tapped = null;
  };
  svg.addEventListener('pointerup', (event) => {
    if (tapped !== null && isTap(tapped, event)) {
      handle.focus({ preventScroll: true });
      void move(onDrawing(svg, event));
    }
    drop();
  });
  svg.addEventListener('pointercancel', drop);
  handle.addEventListener('keydown', (event) => {
    const arrow = ARROWS[event.key];
    if (arrow === undefined || isWithKey(event)) return;
    event.preventDefault();
    const by = STEPS[event.shiftKey ? 1 : 0];
    void move([at[0] + arrow[0] * by, at[1] + arrow[1] * by]);
  });
  void move(at);
};

const overlay = document.querySelector<SVGSVGElement>('svg.hole-overlay');
if (overlay !== null) startDistances(overlay);
