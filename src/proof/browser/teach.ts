/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import { isWithKey, tell } from './page.js';

/** The teaching view: layers one after the other, the green turned as the player stands, the whole screen. */

/** Degrees of a turn. */
const TURN = 15;

const all = <T extends Element>(selector: string): T[] => [
  ...document.querySelectorAll<T>(selector),
];

const steps = all<HTMLElement>('.steps li');
const layers = all<SVGGElement>('.layer');
const stands = all<HTMLElement>('.stands li');
const turned = document.querySelector<SVGGElement>('.turned')!;
const relief = document.querySelector<SVGGElement>('.relief');

let step = 0;
let degrees = 0;
let stand = 0;

const showStep = (): void => {
  for (const layer of layers) layer.toggleAttribute('hidden', Number(layer.dataset.step) > step);
  steps.forEach((one, k) => {
    one.classList.toggle('shown', k <= step);
    if (k === step) one.setAttribute('aria-current', 'step');
    else one.removeAttribute('aria-current');
  });
  tell('told', steps[step].querySelector('span')?.textContent ?? '');
  document.body.dataset.step = `${step}`;
};

const goTo = (to: number): void => {
  step = Math.min(steps.length - 1, Math.max(0, to));
  showStep();
};

/** The green turned; words stay upright. */
const turnTo = (to: number, words: string): void => {
  degrees = to;
  turned.style.transform = `rotate(${to}deg)`;
  for (const word of all<SVGGElement>('.upright')) {
    const [x, y] = (word.dataset.at ?? '0,0').split(',');
    word.setAttribute('transform', `rotate(${-to} ${x} ${y})`);
  }
  tell('stand', words);
  document.body.dataset.degrees = `${to}`;
};

const turnBy = (by: number): void => turnTo(degrees + by, `turned by ${(degrees + by) % 360}°`);

/** The next place to stand at, by the shorter way round. */
const standElsewhere = (): void => {
  stand = (stand + 1) % stands.length;
  const { dataset, textContent } = stands[stand];
  const to = Number(dataset.degrees);
  const by = ((((to - degrees) % 360) + 540) % 360) - 180;
  turnTo(degrees + by, `seen from ${(textContent ?? '').replace(/^from /, '')}`);
};

const showRelief = (): void => {
  relief?.toggleAttribute('hidden');
  const isOn = relief !== null && !relief.hasAttribute('hidden');
  document.querySelector('[data-does="relief"]')?.setAttribute('aria-pressed', `${isOn}`);
};

const wholeScreen = (): void => {
  // A browser that does not allow it shows the view in its window.
  if (document.fullscreenElement === null) {
    document.documentElement.requestFullscreen?.().catch(() => {});
  } else void document.exitFullscreen();
};

const DOES: Readonly<Record<string, () => void>> = {
  on: () => goTo(step + 1),
  back: () => goTo(step - 1),
  'turn-left': () => turnBy(-TURN),
  'turn-right': () => turnBy(TURN),
  stand: standElsewhere,
  relief: showRelief,
  whole: wholeScreen,
};

const KEYS: Readonly<Record<string, string>> = {
  ArrowRight: 'on',
  ArrowDown: 'on',
  PageDown: 'on',
  ' ': 'on',
  ArrowLeft: 'back',
  ArrowUp: 'back',
  PageUp: 'back',
  ',': 'turn-left',
  '.': 'turn-right',
  t: 'stand',
  r: 'relief',
  f: 'whole',
};

for (const button of all<HTMLElement>('[data-does]')) {
  button.addEventListener('click', () => DOES[button.dataset.does ?? '']?.());
}
for (const button of all<HTMLElement>('[data-to]')) {
  button.addEventListener('click', () => goTo(Number(button.dataset.to)));
}

/** A touch or a click on the right half of the green goes on, on the left half back. */
document.querySelector('.wall')?.addEventListener('click', (event) => {
  const box = (event.currentTarget as Element).getBoundingClientRect();
  const isRight = (event as MouseEvent).clientX > box.left + box.width / 2;
  DOES[isRight ? 'on' : 'back']();
});

document.addEventListener('keydown', (event) => {
  if (isWithKey(event)) return;
  const isButton = event.target instanceof HTMLButtonElement;
  // A button that has the focus is pressed by the space bar.
  if (isButton && event.key === ' ') return;
  const does = KEYS[event.key];
  if (does !== undefined) {
    event.preventDefault();
    DOES[does]();
    return;
  }
  if (event.key === 'Home') goTo(0);
  if (event.key === 'End') goTo(steps.length - 1);
  const { next, previous } = document.body.dataset;
  const to = { n: next, p: previous }[event.key];
  if (to !== undefined) location.assign(to);
});

showStep();
turnTo(0, `seen ${stands[0]?.textContent ?? ''}`);
