/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import type { WaterAnswer } from '../water-answer.js';
import { type At, tell, tellRows, whyNoAnswer } from './page.js';

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
  /** Lets the green be drained before the first drop is poured; once. */
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

/** Millimetres from a place to its name, and names' letters. */
const NAME_OFF = 1.6;
const NAME_SIZE = 2.7;
const SIDES: readonly (readonly [anchor: string, dx: number, dy: number])[] = [
  ['start', NAME_OFF, 0.35 * NAME_SIZE],
  ['end', -NAME_OFF, 0.35 * NAME_SIZE],
  ['middle', 0, -NAME_OFF],
  ['middle', 0, NAME_OFF + 0.8 * NAME_SIZE],
];

const boxesMeet = (a: DOMRect, b: DOMRect): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

/** Names what the water has met, once on the green, beside it where no other name stands; else not. */
const nameMet = (layer: SVGGElement, at: At, name: string, onPaper: OnPaper): void => {
  // There is one main line, wherever it is come to.
  const where = name === 'main drainage line' ? [] : at.map((v) => Math.round(v));
  const key = [name, ...where].join(' ');
  const others = [...layer.querySelectorAll<SVGTextElement>('.met')];
  if (others.some(({ dataset }) => dataset.key === key)) return;
  const [x, y] = onPaper(at);
  const label = document.createElementNS(NAMESPACE, 'text');
  label.setAttribute('class', 'met');
  label.dataset.key = key;
  label.textContent = name;
  layer.append(label);
  const taken = others.map((other) => other.getBBox());
  for (const [anchor, dx, dy] of SIDES) {
    label.setAttribute('text-anchor', anchor);
    label.setAttribute('x', (x + dx).toFixed(2));
    label.setAttribute('y', (y + dy).toFixed(2));
    const own = label.getBBox();
    if (!taken.some((box) => boxesMeet(own, box))) return;
  }
  label.remove();
};

const isStill = (): boolean => matchMedia('(prefers-reduced-motion: reduce)').matches;

/** A stream that runs in: its pieces, and what is told as the water comes to some of them. */
interface Running {
  readonly pieces: ReturnType<typeof piecesOf>;
  readonly onPiece: (k: number) => void;
  readonly whenDone: () => void;
}

/** Lets a stream run in: one piece after the other, quick where the ground is steep. */
const run = (group: SVGGElement, { pieces, onPiece, whenDone }: Running): void => {
  let next = 0;
  let start: number | null = null;
  const step = (now: number): void => {
    if (!group.isConnected) return;
    start ??= now;
    const passed = isStill() ? Infinity : ((now - start) / 1000) * QUICKER;
    while (next < pieces.length && pieces[next].from <= passed) {
      group.append(pieces[next].path);
      onPiece(next++);
    }
    if (next < pieces.length) requestAnimationFrame(step);
    else whenDone();
  };
  requestAnimationFrame(step);
};

export const waterOn = (svg: SVGSVGElement, onPaper: OnPaper): Water => {
  const layer = svg.querySelector<SVGGElement>('.water')!;
  let places: At[] = [];
  let asked = 0;
  let preparing = false;
  const show = (answer: WaterAnswer): void => {
    tellRows('water', answer.rows);
    tell('poured', answer.said);
    // What ran in already stays.
    const running = layer.querySelectorAll('.poured').length;
    answer.streams.slice(running).forEach((stream) => {
      const group = document.createElementNS(NAMESPACE, 'g');
      group.setAttribute('class', 'poured');
      group.dataset.running = 'yes';
      group.append(
        ...stream.strands.map((strand) =>
          lineOf('strand', `M${strand.map((at) => words(onPaper(at))).join('L')}`),
        ),
      );
      layer.append(group);
      const pieces = piecesOf(stream, onPaper);
      const last = pieces.length - 1;
      run(group, {
        pieces,
        onPiece: (k) => {
          for (const { point, at, name } of stream.met) {
            if (Math.min(point, last) === k) nameMet(layer, at, name, onPaper);
          }
        },
        whenDone: () => {
          group.dataset.running = 'no';
        },
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
  // Many short questions: a putt that is moved meanwhile is answered between two of them.
  const prepare = async (): Promise<void> => {
    const query = new URLSearchParams({ green: svg.dataset.green ?? '' });
    for (let ready = false; !ready; ) {
      const response = await fetch(`/drain?${query}`).catch(() => null);
      if (response === null || !response.ok) {
        preparing = false;
        return;
      }
      ready = ((await response.json()) as { readonly ready: boolean }).ready;
    }
    svg.dataset.drained = 'yes';
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
      if (preparing) return;
      preparing = true;
      void prepare();
    },
    clear: () => {
      asked++;
      places = [];
      layer.replaceChildren();
      show({ rows: [], said: '', streams: [] });
    },
  };
};
