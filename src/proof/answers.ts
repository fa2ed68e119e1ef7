import { InputFault } from '../fault.js';
import { INPUT_LIMITS } from '../input-limits.js';
import type { Layout } from '../layout/layout.js';
import { holeIds } from '../page/book-pages.js';
import type { Face, Page } from '../page/marks/marks.js';
import { readFontFile } from '../print/font-files.js';
import type { Fonts } from '../print/fonts.js';
import { answerDistances } from './distances-answer.js';
import { frameOfHole } from './hole-on-page.js';
import { documentOf, escaped } from './html.js';
import type { Proof, ProofState } from './proof-book.js';
import {
  bookDocument,
  courseDocument,
  dayDocument,
  greenDocument,
  leafDocument,
} from './proof-documents.js';
import { answerPutt } from './putt-answer.js';
import { reliefPicture } from './relief.js';
import { pacesOf, pointOf, stateOf } from './requests.js';
import { answerRolls, type TappedRoll } from './rolls-answer.js';
import { answerStation, stationDocument } from './station-answer.js';
import { pageSheet, proofSheet } from './style-sheets.js';
import { teachingDocument } from './teaching-document.js';
import { teachingSheet } from './teaching-sheet.js';
import { answerWater, drainStep } from './water-answer.js';

/** Only this machine reaches the proof. */
export const LOOPBACK = '127.0.0.1';

export interface Answer {
  readonly status: number;
  readonly type: string;
  readonly body: string | Uint8Array;
  /** Its bytes are held by nobody else: they may be given away to another thread. */
  readonly isOwn?: boolean;
  readonly headers?: Readonly<Record<string, string>>;
}

const HTML = 'text/html; charset=utf-8';

const CSS = 'text/css; charset=utf-8';

export const plain = (status: number, words: string): Answer => ({
  status,
  type: 'text/plain; charset=utf-8',
  body: `${words}\n`,
});

const page = (body: string | Uint8Array | null): Answer =>
  body === null ? plain(404, 'there is no such page') : { status: 200, type: HTML, body };

/** Too much is asked at once; whoever asks may come back in some seconds (RFC 9110, 15.6.4). */
export const busy = (): Answer => ({
  ...plain(503, 'the proof is busy with other questions; ask again'),
  headers: { 'Retry-After': '2' },
});

/** What an error says to the reader, on a page of the proof; null when it is none of the address. */
export const answerToFault = (error: unknown): Answer | null => {
  if (error instanceof InputFault) {
    return {
      status: 400,
      type: HTML,
      body: documentOf(
        'Not understood',
        ['/proof.css'],
        `<body class="plain"><header class="cartouche"><h1>Not understood</h1><p class="state">${escaped(error.message)}</p><p class="links"><a href="/">back to the greens</a></p></header></body>`,
      ),
    };
  }
  return error instanceof TypeError && 'input' in error ? plain(400, 'no such address') : null;
};

/** What is the same at every day and speed. */
export interface ProofAssets {
  readonly layout: Layout;
  readonly dayLayout: Layout;
  /** The whole course in one picture. */
  readonly picture: Page;
  /** The scripts of the browser's part, by the name they are asked for by. */
  readonly scripts: ReadonlyMap<string, Uint8Array>;
}

export interface ProofSite {
  readonly proof: Proof;
  readonly fonts: Fonts;
  /** The whole course in one picture. */
  readonly picture: Page;
  /** Milliseconds; for the header that says how long an answer took to compute. */
  readonly now: () => number;
}

const FACES: readonly Face[] = ['text', 'text-bold', 'text-italic', 'title', 'title-bold'];

/** What is computed, as JSON, with a header that says how long it took. */
const timed = ({ now }: ProofSite, name: string, compute: () => unknown): Answer => {
  const start = now();
  const body = JSON.stringify(compute());
  return {
    status: 200,
    type: 'application/json',
    body,
    headers: { 'Server-Timing': `${name};dur=${(now() - start).toFixed(2)}` },
  };
};

const puttAnswer = (site: ProofSite, state: ProofState, query: URLSearchParams): Answer => {
  const { proof } = site;
  const holeId = query.get('green') ?? '';
  const green = proof.greenOf(state, holeId);
  if (green === null) return plain(404, 'there is no such green');
  const [ball, hole] = [pointOf(query, 'ball'), pointOf(query, 'hole')];
  const { surfaceOf, book } = proof.source;
  return timed(site, 'putt', () => answerPutt(surfaceOf(holeId), green, ball, hole, book.units));
};

/** One step toward pouring on a green without waiting, so that no putt that is asked between waits for all of them. */
const drainAnswer = (site: ProofSite, state: ProofState, query: URLSearchParams): Answer => {
  const { proof } = site;
  const holeId = query.get('green') ?? '';
  const green = proof.greenOf(state, holeId);
  if (green === null) return plain(404, 'there is no such green');
  return timed(site, 'drain', () => drainStep(proof.source.surfaceOf(holeId), green));
};

const waterAnswer = (site: ProofSite, state: ProofState, query: URLSearchParams): Answer => {
  const { proof } = site;
  const holeId = query.get('green') ?? '';
  const green = proof.greenOf(state, holeId);
  if (green === null) return plain(404, 'there is no such green');
  const places = query
    .getAll('at')
    .slice(-INPUT_LIMITS.pours)
    .map((at) => pointOf(new URLSearchParams({ at }), 'at'));
  const { surfaceOf, book } = proof.source;
  return timed(site, 'water', () => answerWater(surfaceOf(holeId), green, places, book.units));
};

const stationAnswer = (site: ProofSite, state: ProofState, query: URLSearchParams): Answer => {
  const { proof } = site;
  const holeId = query.get('green') ?? '';
  const green = proof.greenOf(state, holeId);
  if (green === null) return plain(404, 'there is no such green');
  const hole = pointOf(query, 'hole');
  const paces = pacesOf(query);
  const { surfaceOf, book } = proof.source;
  return timed(site, 'station', () =>
    answerStation(surfaceOf(holeId), green, hole, paces, book.units),
  );
};

/** "ball x,y,hole x,y,r or p" and where it lies: "x,y", or what was typed of it behind a bar. */
const tappedRoll = (text: string): TappedRoll => {
  const [places, typed = null] = text.split('|');
  const parts = places.split(',');
  const place = (k: number) =>
    pointOf(new URLSearchParams({ roll: parts.slice(k, k + 2).join(',') }), 'roll');
  return {
    ball: place(0),
    hole: place(2),
    by: parts[4] === 'p' ? 'putter' : 'ramp',
    rest: typed ?? place(5),
  };
};

const rollsAnswer = (site: ProofSite, state: ProofState, query: URLSearchParams): Answer => {
  const { proof } = site;
  const holeId = query.get('green') ?? '';
  const green = proof.greenOf(state, holeId);
  if (green === null) return plain(404, 'there is no such green');
  const tapped = query.getAll('roll').slice(-INPUT_LIMITS.rolls).map(tappedRoll);
  const { surfaceOf, storedOf, book } = proof.source;
  return timed(site, 'rolls', () => {
    const ground = { surface: surfaceOf(holeId), stored: storedOf(holeId) };
    const ramp = (query.get('release') ?? '').trim();
    return answerRolls(ground, green, { tapped, ramp }, book.units);
  });
};

const OWN_STATE: ProofState = { day: null, stimp: null };

/** The shade of a green's ground, where its survey tells more than its outline. */
const reliefAnswer = ({ proof }: ProofSite, query: URLSearchParams): Answer => {
  const holeId = query.get('hole') ?? '';
  const green = proof.greenOf(OWN_STATE, holeId);
  if (green === null || green.worth.worth === 'outline' || proof.source.layout.use === 'committee')
    return plain(404, 'there is no such green');
  return { status: 200, type: 'image/png', body: reliefPicture(proof.source.surfaceOf(holeId)) };
};

const distancesAnswer = (site: ProofSite, state: ProofState, query: URLSearchParams): Answer => {
  const { proof } = site;
  const { book, ground } = proof.source;
  const id = query.get('hole') ?? '';
  const hole = book.holes?.find((one) => one.id === id);
  const frame = hole === undefined ? null : frameOfHole(proof, state, hole);
  if (hole === undefined || frame === null) return plain(404, 'there is no such hole');
  const at = pointOf(query, 'at');
  return timed(site, 'distances', () =>
    answerDistances(hole, frame, at, ground ?? null, book.units),
  );
};

/** The style sheets, fonts and scripts, which cost nothing to give; null for any other address. */
export const assetAt = (assets: ProofAssets, { pathname }: URL): Answer | null => {
  const { layout, dayLayout, picture } = assets;
  switch (pathname) {
    case '/proof.css':
      return { status: 200, type: CSS, body: proofSheet(layout.inks) };
    case '/book.css':
      return { status: 200, type: CSS, body: pageSheet(layout) };
    case '/teach.css':
      return { status: 200, type: CSS, body: teachingSheet() };
    case '/course.css':
      return { status: 200, type: CSS, body: pageSheet({ page: picture }) };
    case '/day.css':
      return { status: 200, type: CSS, body: pageSheet(dayLayout) };
  }
  const face = FACES.find((one) => pathname === `/fonts/${one}.ttf`);
  if (face !== undefined) {
    const headers = { 'Cache-Control': 'max-age=3600' };
    return { status: 200, type: 'font/ttf', body: readFontFile(face), headers };
  }
  const script = assets.scripts.get(pathname);
  return script === undefined ? null : { status: 200, type: 'text/javascript', body: script };
};

/** The answer to an address that has to be worked out. */
export const answerTo = (site: ProofSite, address: URL): Answer => {
  const { proof, fonts } = site;
  const { source } = proof;
  const query = address.searchParams;
  const state = (): ProofState => stateOf(query, [...new Set(source.days.map(({ day }) => day))]);
  switch (address.pathname) {
    case '/':
      return page(
        greenDocument(proof, fonts, state(), query.get('hole') ?? holeIds(source.book)[0]),
      );
    case '/book':
      return { ...page(bookDocument(proof, fonts, state())), isOwn: true };
    case '/day':
      return page(dayDocument(proof, fonts, state()));
    case '/course':
      return page(courseDocument(site.picture, proof, fonts));
    case '/teach':
      return page(
        teachingDocument(proof, fonts, state(), query.get('hole') ?? holeIds(source.book)[0]),
      );
    case '/leaf':
      return page(
        leafDocument(proof, fonts, state(), {
          hole: query.get('hole') ?? '',
          leaf: Number(query.get('leaf')),
        }),
      );
    case '/relief':
      return reliefAnswer(site, query);
    case '/putt':
      return puttAnswer(site, state(), query);
    case '/drain':
      return drainAnswer(site, state(), query);
    case '/water':
      return waterAnswer(site, state(), query);
    case '/station':
      return stationAnswer(site, state(), query);
    case '/station-pages':
      return page(
        stationDocument(proof, fonts, state(), {
          holeId: query.get('green') ?? '',
          hole: pointOf(query, 'hole'),
          paces: pacesOf(query),
        }),
      );
    case '/rolls':
      return rollsAnswer(site, state(), query);
    case '/distances':
      return distancesAnswer(site, state(), query);
  }
  return plain(404, 'there is no such page');
};
