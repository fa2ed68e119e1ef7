import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { InputFault } from '../fault.js';
import type { Face, Page } from '../page/marks/marks.js';
import { readFontFile } from '../print/font-files.js';
import type { Fonts } from '../print/fonts.js';
import { documentOf, escaped } from './html.js';
import type { Proof, ProofState } from './proof-book.js';
import { bookDocument, courseDocument, dayDocument, greenDocument } from './proof-documents.js';
import { answerPutt } from './putt-answer.js';
import { pointOf, stateOf } from './requests.js';
import { pageSheet, proofSheet } from './style-sheets.js';

/** Only this machine reaches the proof. */
export const LOOPBACK = '127.0.0.1';

interface Answer {
  readonly status: number;
  readonly type: string;
  readonly body: string | Uint8Array;
  readonly headers?: Readonly<Record<string, string>>;
}

const HTML = 'text/html; charset=utf-8';
const CSS = 'text/css; charset=utf-8';

/** Nothing but what this server sends is run, shown or asked for; no other page may frame it. */
const HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy':
    "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; connect-src 'self'; img-src 'self' data:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Referrer-Policy': 'no-referrer',
  'X-Content-Type-Options': 'nosniff',
  'Cache-Control': 'no-store',
};

const plain = (status: number, words: string): Answer => ({
  status,
  type: 'text/plain; charset=utf-8',
  body: `${words}\n`,
});

const page = (body: string | null): Answer =>
  body === null ? plain(404, 'there is no such page') : { status: 200, type: HTML, body };

/** A fault of the address, said on a page of the proof. */
const faultPage = (fault: InputFault): Answer => ({
  status: 400,
  type: HTML,
  body: documentOf(
    'Not understood',
    ['/proof.css'],
    `<body class="plain"><header class="cartouche"><h1>Not understood</h1><p class="state">${escaped(fault.message)}</p><p class="links"><a href="/">back to the greens</a></p></header></body>`,
  ),
});

export interface ProofSite {
  readonly proof: Proof;
  readonly fonts: Fonts;
  /** The whole course in one picture. */
  readonly picture: Page;
  /** The scripts of the browser's part, by the name they are asked for by. */
  readonly scripts: ReadonlyMap<string, Uint8Array>;
  /** Milliseconds; for the header that says how long an answer took to compute. */
  readonly now: () => number;
}

const FACES: readonly Face[] = ['text', 'text-bold', 'text-italic', 'title', 'title-bold'];

const puttAnswer = (site: ProofSite, state: ProofState, query: URLSearchParams): Answer => {
  const { proof, now } = site;
  const holeId = query.get('green') ?? '';
  const green = proof.greenOf(state, holeId);
  if (green === null) return plain(404, 'there is no such green');
  const [ball, hole] = [pointOf(query, 'ball'), pointOf(query, 'hole')];
  const start = now();
  const { surfaceOf, book } = proof.source;
  const answer = answerPutt(surfaceOf(holeId), green, ball, hole, book.units);
  return {
    status: 200,
    type: 'application/json',
    body: JSON.stringify(answer),
    headers: { 'Server-Timing': `putt;dur=${(now() - start).toFixed(2)}` },
  };
};

/** The answer to an address. */
export const answerTo = (site: ProofSite, address: URL): Answer => {
  const { proof, fonts, scripts } = site;
  const { source } = proof;
  const query = address.searchParams;
  const state = (): ProofState => stateOf(query, [...new Set(source.days.map(({ day }) => day))]);
  const path = address.pathname;
  switch (path) {
    case '/':
      return page(
        greenDocument(proof, fonts, state(), query.get('hole') ?? source.book.greens[0].holeId),
      );
    case '/book':
      return page(bookDocument(proof, fonts, state()));
    case '/day':
      return page(dayDocument(proof, fonts, state()));
    case '/course':
      return page(courseDocument(site.picture, proof, fonts));
    case '/putt':
      return puttAnswer(site, state(), query);
    case '/proof.css':
      return { status: 200, type: CSS, body: proofSheet(source.layout.inks) };
    case '/book.css':
      return { status: 200, type: CSS, body: pageSheet(source.layout) };
    case '/course.css':
      return { status: 200, type: CSS, body: pageSheet({ page: site.picture }) };
    case '/day.css':
      return { status: 200, type: CSS, body: pageSheet(source.dayLayout) };
  }
  const face = FACES.find((one) => path === `/fonts/${one}.ttf`);
  if (face !== undefined) {
    const headers = { 'Cache-Control': 'max-age=3600' };
    return { status: 200, type: 'font/ttf', body: readFontFile(face), headers };
  }
  const script = scripts.get(path);
  if (script !== undefined) return { status: 200, type: 'text/javascript', body: script };
  return plain(404, 'there is no such page');
};

/** Refused before anything is computed: other hosts, other sites, other methods. */
const refusalOf = (request: IncomingMessage, port: number): Answer | null => {
  const hosts = [`${LOOPBACK}:${port}`, `localhost:${port}`];
  const { host, origin } = request.headers;
  if (host === undefined || !hosts.includes(host.toLowerCase())) {
    return plain(421, 'the proof is served to this machine only');
  }
  if (origin !== undefined && !hosts.some((one) => origin === `http://${one}`)) {
    return plain(403, 'the proof answers no other site');
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    return { ...plain(405, 'the proof is only looked at'), headers: { Allow: 'GET, HEAD' } };
  }
  return null;
};

const send = (response: ServerResponse, answer: Answer, bodyToo: boolean): void => {
  const body = typeof answer.body === 'string' ? Buffer.from(answer.body, 'utf8') : answer.body;
  response.writeHead(answer.status, {
    ...HEADERS,
    'Content-Type': answer.type,
    'Content-Length': body.length,
    ...answer.headers,
  });
  response.end(bodyToo ? body : undefined);
};

const serve = (site: ProofSite, request: IncomingMessage, port: number): Answer => {
  const refused = refusalOf(request, port);
  if (refused !== null) return refused;
  try {
    return answerTo(site, new URL(request.url ?? '/', `http://${LOOPBACK}:${port}`));
  } catch (error) {
    if (error instanceof InputFault) return faultPage(error);
    if (error instanceof TypeError && 'input' in error) return plain(400, 'no such address');
    throw error;
  }
};

/** Serves the proof on the loopback address; port 0 takes any that is free. */
export const startServer = (
  site: ProofSite,
  port: number,
  onFault: (error: unknown) => void,
): Promise<{ readonly server: Server; readonly port: number }> =>
  new Promise((resolve, reject) => {
    const server = createServer((request, response) => {
      const address = server.address();
      const bound = typeof address === 'object' && address !== null ? address.port : port;
      let answer: Answer;
      try {
        answer = serve(site, request, bound);
      } catch (error) {
        onFault(error);
        answer = plain(500, 'internal fault; see the terminal');
      }
      send(response, answer, request.method !== 'HEAD');
    });
    server.once('error', reject);
    server.listen(port, LOOPBACK, () => {
      const address = server.address();
      resolve({
        server,
        port: typeof address === 'object' && address !== null ? address.port : port,
      });
    });
  });
