/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import type { WaterAnswer } from '../water-answer.js';
import { type At, tell, whyNoAnswer } from './page.js';

/** Water poured on the green of the page: the server finds its way, and it runs down as quickly as the ground lets it. */

/** The streams are shown so many times quicker than water runs. */
const QUICKER = 10;
/** Millimetres of paper: a stream's width where nothing has joined it, and how much the whole green's water adds. */
const HEAD = 0.35;
const WIDER = 1.5;
const KEPT = 0.5;
/** Streams shown at once. */
const MOST = 8;

type Stream = WaterAnswer['streams'][number];
type OnPaper = (at: At) => At;

/** Water of one green; places in the frame of the green. */
export interface Water {
  readonly pour: (at: At) => void;
  readonly clear: () => void;
  /** Lets the green be drained before the first drop is poured. */
  readonly prepare: () => void;
}

const NAMESPACE = 'http://www.w3.org/2000/svg';

const lineOf = (name: string, d: string): SVGPathElement => {
  const path = document.createElementNS(NAMESPACE, 'path');
  path.setAttribute('class', name);
  path.setAttribute('d', d);
  return path;
};

const words = (at: At): string => at.map((v) => v.toFixed(2)).join(' ');

/** The pieces of a stream, each with the time at which the water has passed it. */
const piecesOf = ({ way }: Stream, onPaper: OnPaper) =>
  way.slice(1).map(([x, y, seconds, width, kept], k) => {
    const [px, py, from] = way[k];
    const d = `M${words(onPaper([px, py]))}L${words(onPaper([x, y]))}`;
    const path = lineOf(kept < KEPT ? 'stream frayed' : 'stream', d);
    path.style.strokeWidth = `${HEAD + WIDER * width}px`;
    path.setAttribute('pathLength', '1');
    return { path, from, seconds };
  });

const isStill = (): boolean => matchMedia('(prefers-reduced-motion: reduce)').matches;

/** Lets a stream run in: one piece after the other, quick where the ground is steep. */
const run = (group: SVGGElement, pieces: ReturnType<typeof piecesOf>, whenDone: () => void) => {
  let next = 0;
  let start: number | null = null;
  const step = (now: number): void => {
    if (!group.isConnected) return;
    start ??= now;
    const passed = isStill() ? Infinity : ((now - start) / 1000) * QUICKER;
    while (next < pieces.length && pieces[next].from <= passed) group.append(pieces[next++].path);
    if (next < pieces.length) requestAnimationFrame(step);
    else whenDone();
  };
  requestAnimationFrame(step);
};

export const waterOn = (svg: SVGSVGElement, onPaper: OnPaper): Water => {
  const layer = svg.querySelector<SVGGElement>('.water')!;
  let places: At[] = [];
  let asked = 0;
  const show = (answer: WaterAnswer): void => {
    const list = document.querySelector('[data-shows="water"]');
    list?.replaceChildren(
      ...answer.rows.map((row) => {
        const line = document.createElement('li');
        line.textContent = row;
        return line;
      }),
    );
    tell('poured', answer.said);
    // What ran in already stays.
    answer.streams.slice(layer.childElementCount).forEach((stream) => {
      const group = document.createElementNS(NAMESPACE, 'g');
      group.setAttribute('class', 'poured');
      group.dataset.running = 'yes';
      group.append(
        ...stream.strands.map((strand) =>
          lineOf('strand', `M${strand.map((at) => words(onPaper(at))).join('L')}`),
        ),
      );
      layer.append(group);
      run(group, piecesOf(stream, onPaper), () => {
        group.dataset.running = 'no';
      });
    });
  };
  const ask = async (): Promise<void> => {
    const mine = ++asked;
    const query = new URLSearchParams({ green: svg.dataset.green ?? '' });
    for (const at of places) query.append('at', at.map((v) => v.toFixed(4)).join(','));
    try {
      const response = await fetch(`/water?${query}`);
      if (!response.ok) throw new Error(`${response.status}`);
      const answer = (await response.json()) as WaterAnswer;
      if (mine !== asked) return;
      if (answer.streams.length === places.length) show(answer);
      else {
        // A place that takes no water is not poured at.
        places = places.slice(0, -1);
        tell('poured', answer.said);
      }
    } catch (error) {
      tell('poured', whyNoAnswer(error));
    }
  };
  return {
    pour: (at) => {
      if (places.length === MOST) {
        tell('poured', `${MOST} streams are shown: clear them first.`);
        return;
      }
      places = [...places, at];
      void ask();
    },
    prepare: () => {
      if (asked === 0) void ask();
    },
    clear: () => {
      asked++;
      places = [];
      layer.replaceChildren();
      show({ rows: [], said: '', streams: [] });
    },
  };
};
