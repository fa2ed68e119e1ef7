import type { Layout } from '../layout/layout.js';
import { holeIds } from '../page/book-pages.js';
import { frameOnPage } from '../page/green/green-image.js';
import type { PageSide } from '../page/kit/grid.js';
import { speedWords, useWords } from '../page/kit/speed-words.js';
import type { Page } from '../page/marks/marks.js';
import type { Fonts } from '../print/fonts.js';
import { writeSvg } from '../print/svg.js';
import { feetToMetres, inchesToMetres, metresToFeet, type UnitSystem } from '../units.js';
import { firstPutt, overlayOf } from './green-overlay.js';
import { frameOfHole } from './hole-on-page.js';
import { holeOverlay } from './hole-overlay.js';
import { documentOf, escaped } from './html.js';
import type { Proof, ProofState } from './proof-book.js';
import { panelOf } from './proof-panel.js';

/** Metres that a press of an arrow key moves ball or hole: plain, and with Shift. */
const KEY_STEPS: Readonly<Record<UnitSystem, readonly [step: number, fine: number]>> = {
  imperial: [feetToMetres(1), inchesToMetres(1)],
  metric: [0.25, 0.02],
};

export const addressOf = (
  path: string,
  state: ProofState,
  more: Record<string, string> = {},
): string => {
  const query = new URLSearchParams(more);
  if (state.day !== null) query.set('day', `${state.day}`);
  if (state.stimp !== null) query.set('speed', speedText(state.stimp));
  const text = query.toString();
  return text === '' ? path : `${path}?${text}`;
};

/** Feet as they are typed: "11.5". */
const speedText = (stimp: number): string => `${Number(metresToFeet(stimp).toFixed(2))}`;

export const leaf = (page: Page, kind: string, layout: Layout, fonts: Fonts, over = ''): string =>
  [
    `<figure class="leaf" data-kind="${kind}" data-page="${escaped(page.id)}">`,
    `<div class="paper">${writeSvg(page, layout.inks, fonts)}${over}</div>`,
    `<figcaption>${escaped(page.title)}${page.label === '' ? '' : `, page ${escaped(page.label)}`}</figcaption>`,
    '</figure>',
  ].join('\n');

/** A page that takes seconds to solve: its place, which the browser fills when the rest is there. */
const slowLeaf = (address: string, kind: string): string =>
  [
    `<figure class="leaf" data-kind="${kind}" data-fetches="${escaped(address)}">`,
    '<div class="paper"><p class="waits">this page is being solved …</p></div>',
    '<figcaption></figcaption>',
    '</figure>',
  ].join('\n');

/** One page of a hole by its place among them; null where there is none. */
export const leafDocument = (
  proof: Proof,
  fonts: Fonts,
  state: ProofState,
  { hole, leaf: place }: { readonly hole: string; readonly leaf: number },
): string | null => {
  const planned = proof.pagesOf(state).filter((page) => page.holeId === hole)[place];
  return planned === undefined
    ? null
    : leaf(planned.compose(), planned.kind, proof.source.layout, fonts);
};

const nameOf = ({ source: { book } }: Proof, id: string): string =>
  [...(book.holes ?? []), ...book.greens, ...(book.outlines ?? [])].find(
    (one) => ('id' in one ? one.id : one.holeId) === id,
  )?.name ?? '';

const register = (proof: Proof, state: ProofState, current: string): string => {
  const links = holeIds(proof.source.book).map((holeId) => {
    const name = nameOf(proof, holeId);
    const here = holeId === current ? ' aria-current="page"' : '';
    const shown = /^\d+$/.test(holeId) ? holeId : holeId.slice(0, 1).toUpperCase();
    const href = escaped(addressOf('/', state, { hole: holeId }));
    return `<li><a href="${href}"${here} title="${escaped(name)}" aria-label="${escaped(`${holeId}, ${name}`)}">${escaped(shown)}</a></li>`;
  });
  return `<nav class="register" aria-label="Holes"><ol>\n${links.join('\n')}\n</ol></nav>`;
};

const chooser = (proof: Proof, state: ProofState, holeId: string): string => {
  const days = [...new Set(proof.source.days.map(({ day }) => day))].sort((a, b) => a - b);
  const options = [
    `<option value=""${state.day === null ? ' selected' : ''}>the book’s</option>`,
    ...days.map(
      (day) => `<option value="${day}"${state.day === day ? ' selected' : ''}>day ${day}</option>`,
    ),
  ];
  const { book } = proof.source;
  const value = state.stimp === null ? '' : ` value="${speedText(state.stimp)}"`;
  return [
    '<form class="chooser" action="/" method="get">',
    `<input type="hidden" name="hole" value="${escaped(holeId)}">`,
    `<label>hole locations <select name="day">${options.join('')}</select></label>`,
    `<label>green speed <input name="speed" inputmode="decimal" size="5" maxlength="6" autocomplete="off" placeholder="${speedText(book.stimp)}"${value}> ft</label>`,
    '<button>show</button>',
    '</form>',
  ].join('\n');
};

const cartouche = (proof: Proof, state: ProofState, holeId: string): string => {
  const { book, layout } = proof.source;
  const words = [
    state.day === null ? 'all hole locations' : `hole locations of day ${state.day}`,
    speedWords(state.stimp ?? book.stimp, book.past, book),
    useWords(layout.use, book),
  ];
  return [
    '<header class="cartouche">',
    `<h1>${escaped(book.title)}</h1>`,
    `<p class="state">${words.map(escaped).join(' · ')}</p>`,
    chooser(proof, state, holeId),
    `<p class="links">to print: this green as shown, ${[
      `<a href="${escaped(addressOf('/book', state))}">the whole book</a>`,
      '<a href="/course">the course in one picture</a>',
      ...((proof.greenOf(state, holeId)?.worth.worth ?? 'outline') === 'outline' ||
      layout.use === 'committee'
        ? []
        : [
            `<a href="${escaped(addressOf('/teach', state, { hole: holeId }))}">this green as a lesson</a>`,
          ]),
      ...(state.day === null
        ? []
        : [`<a href="${escaped(addressOf('/day', state))}">the pages of day ${state.day}</a>`]),
    ].join(', ')}</p>`,
    '</header>',
  ].join('\n');
};

/** One green with all its pages, and a putt on it. */
export const greenDocument = (
  proof: Proof,
  fonts: Fonts,
  state: ProofState,
  holeId: string,
): string | null => {
  const { layout, book, surfaceOf } = proof.source;
  const planned = proof.pagesOf(state).filter((page) => page.holeId === holeId);
  if (planned.length === 0) return null;
  const found = proof.greenOf(state, holeId);
  // Of a green that is worth its outline alone nothing can be asked but what one without a survey tells.
  const green = found?.worth.worth === 'outline' ? null : found;
  const hole = book.holes?.find((one) => one.id === holeId) ?? null;
  const overGreen = (side: PageSide): string => {
    const frame = green === null ? null : frameOnPage(green, layout, side);
    return green === null || frame === null
      ? ''
      : overlayOf(green, layout, frame, firstPutt(green, surfaceOf(holeId), book.units));
  };
  const overHole = (): string => {
    const frame = hole === null ? null : frameOfHole(proof, state, hole);
    return hole === null || frame === null ? '' : holeOverlay(hole, layout, frame);
  };
  const leaves = planned.map(({ kind, side, compose }, place) =>
    kind === 'break-map'
      ? slowLeaf(addressOf('/leaf', state, { hole: holeId, leaf: `${place}` }), kind)
      : leaf(
          compose(),
          kind,
          layout,
          fonts,
          kind === 'green' ? overGreen(side) : kind === 'hole' ? overHole() : '',
        ),
  );
  const isMeasured = planned.some(({ kind }) => kind === 'hole');
  const panel = panelOf({
    ...{ layout, units: book.units, found, putts: green },
    isMeasured,
  });
  const greens = holeIds(book);
  const neighbour = (by: number): string =>
    escaped(
      addressOf('/', state, {
        hole: greens[(greens.indexOf(holeId) + by + greens.length) % greens.length],
      }),
    );
  const speed = state.stimp === null ? '' : speedText(state.stimp);
  return documentOf(
    `${holeId} ${nameOf(proof, holeId)}, ${book.title}`,
    ['/proof.css', '/book.css'],
    [
      `<body class="proof" data-units="${book.units}" data-steps="${KEY_STEPS[book.units].join(',')}" data-day="${state.day ?? ''}" data-speed="${speed}" data-next="${neighbour(1)}" data-previous="${neighbour(-1)}">`,
      '<a class="skip" href="#leaves">to the pages</a>',
      cartouche(proof, state, holeId),
      register(proof, state, holeId),
      `<main id="leaves" tabindex="-1">\n${leaves.join('\n')}\n</main>`,
      panel,
      '<script type="module" src="/browser/proof.js"></script>',
      ...(isMeasured ? ['<script type="module" src="/browser/distances.js"></script>'] : []),
      '</body>',
    ].join('\n'),
  );
};

export const plainDocument = (
  title: string,
  sheet: string,
  back: string,
  leaves: readonly string[],
): string =>
  documentOf(
    title,
    ['/proof.css', sheet],
    [
      '<body class="plain">',
      `<header class="cartouche"><h1>${escaped(title)}</h1><p class="links"><a href="${escaped(back)}">back to the greens</a></p></header>`,
      `<main id="leaves">\n${leaves.join('\n')}\n</main>`,
      '</body>',
    ].join('\n'),
  );

/** Stands for the leaves in the document round them; no title or address holds it. */
const LEAVES = '\u0000';

/**
 * Every page of the book, to be looked through or printed: bytes in UTF-8. A large book takes some 40 MB, of which no more
 * than a leaf is ever text.
 */
export const bookDocument = (proof: Proof, fonts: Fonts, state: ProofState): Uint8Array => {
  const { book, layout } = proof.source;
  const round = plainDocument(book.title, '/book.css', addressOf('/', state), [LEAVES]);
  const [head, tail] = round.split(LEAVES);
  const leaves = proof
    .pagesOf(state)
    .map(({ kind, compose }, i) =>
      Buffer.from(`${i === 0 ? '' : '\n'}${leaf(compose(), kind, layout, fonts)}`),
    );
  return Buffer.concat([Buffer.from(head), ...leaves, Buffer.from(tail)]);
};

/** The whole course in one picture, as its map was settled. */
export const courseDocument = (picture: Page, proof: Proof, fonts: Fonts): string =>
  plainDocument(`${picture.title}, the course`, '/course.css', '/', [
    leaf(picture, 'course', proof.source.layout, fonts),
  ]);

/** The pages of the chosen day; null without one. */
export const dayDocument = (proof: Proof, fonts: Fonts, state: ProofState): string | null => {
  const pages = proof.dayPagesOf(state);
  if (state.day === null || pages.length === 0) return null;
  const { book, dayLayout } = proof.source;
  return plainDocument(
    `${book.title}, day ${state.day}`,
    '/day.css',
    addressOf('/', state),
    pages.map((page) => leaf(page, page.id, dayLayout, fonts)),
  );
};
