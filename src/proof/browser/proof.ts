/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import type { PuttAnswer } from '../putt-answer.js';
import { type At, isTap, isWithKey, onDrawing, tell, tellFacts, whyNoAnswer } from './page.js';
import { type Rolls, rollsOn } from './rolls.js';
import { type Station, stationOn } from './station.js';
import { type Water, waterOn } from './water.js';

/** Ball and hole on the green of the page, moved by click, drag or key; the server solves the putt. */

const NAMES = ['ball', 'hole', 'spout', 'rest'] as const;
type Name = (typeof NAMES)[number];

const pairOf = (text: string | undefined): At => {
  const [x, y] = (text ?? '0,0').split(',').map(Number);
  return [x, y];
};

const ARROWS: Readonly<Record<string, At>> = {
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
};

const { dataset } = document.body;
const overlay = document.querySelector<SVGSVGElement>('svg.overlay[data-green]');

/** The green's overlay: where ball and hole are, and how the ground lies on it. */
interface Stage {
  readonly svg: SVGSVGElement;
  readonly places: Record<Name, At>;
  readonly handles: Readonly<Record<Name, SVGGElement>>;
  readonly onPaper: (at: At) => At;
  readonly onGround: (event: PointerEvent) => At;
}

const stageOf = (svg: SVGSVGElement): Stage => {
  const scale = Number(svg.dataset.scale);
  const origin = pairOf(svg.dataset.origin);
  return {
    svg,
    places: {
      ball: pairOf(svg.dataset.ball),
      hole: pairOf(svg.dataset.hole),
      spout: pairOf(svg.dataset.ball),
      rest: pairOf(svg.dataset.hole),
    },
    handles: {
      ball: svg.querySelector<SVGGElement>('.movable.ball')!,
      hole: svg.querySelector<SVGGElement>('.movable.hole')!,
      spout: svg.querySelector<SVGGElement>('.movable.spout')!,
      rest: svg.querySelector<SVGGElement>('.movable.rest')!,
    },
    onPaper: ([x, y]) => [origin[0] + (x * 1000) / scale, origin[1] - (y * 1000) / scale],
    onGround: (event) => {
      const [x, y] = onDrawing(svg, event);
      return [((x - origin[0]) * scale) / 1000, ((origin[1] - y) * scale) / 1000];
    },
  };
};

const showPlaces = ({ places, handles, onPaper }: Stage): void => {
  for (const name of NAMES) {
    const [x, y] = onPaper(places[name]);
    handles[name].setAttribute('transform', `translate(${x.toFixed(3)},${y.toFixed(3)})`);
  }
};

const showAnswer = ({ svg, handles, onPaper }: Stage, answer: PuttAnswer): void => {
  const line = (name: string): SVGPathElement => svg.querySelector<SVGPathElement>(`.${name}`)!;
  const words = (at: At): string =>
    onPaper(at)
      .map((v) => v.toFixed(2))
      .join(' ');
  const pathOf = (points: readonly At[]): string =>
    points.length === 0 ? '' : `M${points.map(words).join('L')}`;
  const d = pathOf(answer.path);
  line('casing').setAttribute('d', d);
  line('path').setAttribute('d', d);
  const { aimAt } = answer;
  line('aim-line').setAttribute('d', aimAt === null ? '' : pathOf([answer.ball, aimAt]));
  const mark = line('aim-mark');
  mark.toggleAttribute('hidden', aimAt === null);
  if (aimAt !== null) mark.setAttribute('transform', `translate(${onPaper(aimAt).join(',')})`);
  tell('aim', answer.aim ?? '–');
  tell('pace', answer.pace ?? '–');
  tell('ball', answer.ballWords);
  tell('hole', answer.holeWords);
  tell('said', answer.said);
  tellFacts('facts', answer.facts);
  handles.ball.setAttribute('aria-label', `ball, ${answer.ballWords}`);
  handles.hole.setAttribute('aria-label', `hole, ${answer.holeWords}`);
};

const ask = async ({ svg, places }: Stage): Promise<PuttAnswer> => {
  const query = new URLSearchParams({
    green: svg.dataset.green ?? '',
    day: dataset.day ?? '',
    speed: dataset.speed ?? '',
    ball: places.ball.map((v) => v.toFixed(4)).join(','),
    hole: places.hole.map((v) => v.toFixed(4)).join(','),
  });
  const response = await fetch(`/putt?${query}`);
  if (!response.ok) throw new Error(`${response.status}`);
  return (await response.json()) as PuttAnswer;
};

/** Solves the putt as it stands. One question at a time; when places moved meanwhile, the newest is asked next. */
const solverOf = (stage: Stage): (() => Promise<void>) => {
  const answered = stage.svg.dataset;
  let asking = false;
  let stale = false;
  return async () => {
    stale = true;
    if (asking) return;
    asking = true;
    try {
      while (stale) {
        stale = false;
        const answer = await ask(stage);
        if (!stale) showAnswer(stage, answer);
        answered.answered = String(Number(answered.answered ?? 0) + 1);
      }
    } catch (error) {
      tell('said', whyNoAnswer(error));
    } finally {
      asking = false;
    }
  };
};

type Move = (name: Name, to: At) => void;

/** What becomes of a place that is let go of or entered. */
interface Ends {
  readonly water: Water;
  readonly rolls: Rolls;
  readonly station: Station;
}

const endAt = (name: Name | null, { places }: Stage, { water, rolls }: Ends): void => {
  if (name === 'spout') water.pour(places.spout);
  if (name === 'rest') rolls.add(places, places.rest);
};

const nameOf = (text: string | undefined): Name => NAMES.find((name) => name === text) ?? 'ball';

const chosen = (): Name =>
  nameOf(document.querySelector<HTMLInputElement>('input[name="sets"]:checked')?.value);

/** The water's mark is seen while a click pours. */
const showChoice = (): void => {
  document.body.classList.toggle('pouring', chosen() === 'spout');
  document.body.classList.toggle('resting', chosen() === 'rest');
};

/** A finger put on bare ground, and where in the window. */
interface Tap {
  readonly name: Name;
  readonly at: At;
}

/**
 * A click sets what is chosen; ball and hole can be dragged. A finger sets by a tap: one that moves on bare ground moves
 * the window, which ends it by `pointercancel`.
 */
const heedPointer = (stage: Stage, move: Move, ends: Ends): void => {
  const { svg, handles, onGround } = stage;
  let dragged: Name | null = null;
  let tapped: Tap | null = null;
  svg.addEventListener('pointerdown', (event) => {
    if (event.button !== 0 || !(event.target instanceof Element)) return;
    const handle = event.target.closest<SVGGElement>('.movable');
    if (handle !== null) {
      dragged = nameOf(handle.dataset.name);
    } else if (event.target.closest('.ground') === null) return;
    else if (event.pointerType !== 'mouse') {
      tapped = { name: chosen(), at: [event.clientX, event.clientY] };
      return;
    } else {
      dragged = chosen();
      move(dragged, onGround(event));
    }
    svg.setPointerCapture(event.pointerId);
    handles[dragged].focus({ preventScroll: true });
    event.preventDefault();
  });
  svg.addEventListener('pointermove', (event) => {
    if (dragged !== null) move(dragged, onGround(event));
  });
  const drop = (): void => {
    dragged = null;
    tapped = null;
  };
  svg.addEventListener('pointerup', (event) => {
    const tap = tapped !== null && isTap(tapped.at, event) ? tapped.name : null;
    if (tap !== null) {
      move(tap, onGround(event));
      handles[tap].focus({ preventScroll: true });
    }
    endAt(tap ?? dragged, stage, ends);
    drop();
  });
  svg.addEventListener('pointercancel', drop);
};

/** Arrows move what has the focus; B and H choose ball and hole. */
const heedKeys = (stage: Stage, move: Move, ends: Ends): void => {
  const { places, handles } = stage;
  const { water, station } = ends;
  const [step, fine] = pairOf(dataset.steps);
  for (const name of NAMES) {
    handles[name].addEventListener('keydown', (event) => {
      const arrow = ARROWS[event.key];
      if (arrow === undefined || isWithKey(event)) return;
      event.preventDefault();
      const by = event.shiftKey ? fine : step;
      move(name, [places[name][0] + arrow[0] * by, places[name][1] + arrow[1] * by]);
    });
  }
  for (const name of ['spout', 'rest'] as const) {
    handles[name].addEventListener('keydown', (event) => {
      if (event.key !== 'Enter' || isWithKey(event)) return;
      event.preventDefault();
      endAt(name, stage, ends);
    });
  }
  document.addEventListener('keydown', (event) => {
    const typing =
      event.target instanceof Element && event.target.closest('input, select') !== null;
    const radio = event.target instanceof HTMLInputElement && event.target.type === 'radio';
    if ((typing && !radio) || isWithKey(event)) return;
    if (event.key === 'c') water.clear();
    if (event.key === 's') station.toggle();
    const name = { b: 'ball', h: 'hole', w: 'spout', m: 'rest' }[event.key] as Name | undefined;
    if (name === undefined) return;
    const radios = document.querySelectorAll<HTMLInputElement>('input[name="sets"]');
    for (const one of radios) one.checked = one.value === name;
    showChoice();
    if (name === 'spout') water.prepare();
    handles[name].focus();
  });
};

const startPutt = (svg: SVGSVGElement): void => {
  const stage = stageOf(svg);
  const solve = solverOf(stage);
  const move: Move = (name, to) => {
    stage.places[name] = to;
    showPlaces(stage);
    if (name === 'ball' || name === 'hole') void solve();
    if (name === 'hole') station.follow(to);
  };
  const water = waterOn(svg, stage.onPaper);
  const rolls = rollsOn(svg, stage.onPaper);
  const station = stationOn(svg, stage.onPaper);
  station.follow(stage.places.hole);
  heedPointer(stage, move, { water, rolls, station });
  heedKeys(stage, move, { water, rolls, station });
  document.querySelector('[data-drops]')?.addEventListener('click', rolls.dropLast);
  document.querySelector('input[name="release"]')?.addEventListener('change', rolls.askAgain);
  document.querySelector<HTMLFormElement>('form.typed')?.addEventListener('submit', (event) => {
    event.preventDefault();
    const field = document.querySelector<HTMLInputElement>('input[name="rolled"]');
    if (field === null || field.value.trim() === '') return;
    rolls.add(stage.places, field.value);
    field.value = '';
  });
  for (const one of document.querySelectorAll('input[name="sets"]')) {
    one.addEventListener('change', () => {
      showChoice();
      if (chosen() === 'spout') water.prepare();
    });
  }
  document.querySelector('[data-clears]')?.addEventListener('click', water.clear);
  showPlaces(stage);
  void solve().then(water.prepare);
};

/** Fills the pages that take long to solve, one after the other. */
const fillSlowLeaves = async (): Promise<void> => {
  for (const place of document.querySelectorAll<HTMLElement>('[data-fetches]')) {
    try {
      const response = await fetch(place.dataset.fetches ?? '');
      if (!response.ok) throw new Error(`${response.status}`);
      const parsed = new DOMParser().parseFromString(await response.text(), 'text/html');
      const leaf = parsed.querySelector('.leaf');
      if (leaf !== null) place.replaceWith(document.adoptNode(leaf));
    } catch (error) {
      const words = place.querySelector('.waits');
      if (words !== null) words.textContent = whyNoAnswer(error);
    }
  }
};
void fillSlowLeaves();

const enlarger = document.querySelector<HTMLButtonElement>('[data-enlarges]');

/** The green's page at twice its size, the green in the middle of the window. */
const enlarge = (): void => {
  const large = document.body.classList.toggle('large');
  enlarger?.setAttribute('aria-pressed', `${large}`);
  overlay?.querySelector('.ground')?.scrollIntoView({ block: 'center', inline: 'center' });
};
enlarger?.addEventListener('click', enlarge);

document.addEventListener('keydown', (event) => {
  if (event.target instanceof Element && event.target.closest('input, select') !== null) return;
  if (isWithKey(event)) return;
  if (event.key === 'z') enlarge();
  const to = { n: dataset.next, p: dataset.previous }[event.key];
  if (to !== undefined) location.assign(to);
});

document
  .querySelector<HTMLSelectElement>('.chooser select')
  ?.addEventListener('change', (event) => {
    (event.currentTarget as HTMLSelectElement).form?.requestSubmit();
  });

if (overlay !== null) startPutt(overlay);
