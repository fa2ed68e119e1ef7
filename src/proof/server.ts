import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { InputFault } from '../fault.js';
import { type Answer, answerTo, HTML, LOOPBACK, type ProofSite, plain } from './answers.js';
import { documentOf, escaped } from './html.js';

/** Nothing but what this server sends is run, shown or asked for; no other page may frame it. */
const HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy':
    "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; connect-src 'self'; img-src 'self' data:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Referrer-Policy': 'no-referrer',
  'X-Content-Type-Options': 'nosniff',
  'Cache-Control': 'no-store',
};

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

/** Characters of an address; the longest of the proof's own are a tenth of it. */
const LONGEST_ADDRESS = 2_000;

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
  // Browsers tell whether a page of another site asks (W3C Fetch Metadata); 'none' is the user's own address line.
  const site = request.headers['sec-fetch-site'];
  if (site !== undefined && site !== 'same-origin' && site !== 'none') {
    return plain(403, 'the proof answers no other site');
  }
  if ((request.url ?? '').length > LONGEST_ADDRESS) return plain(414, 'the address is too long');
  if (
    request.headers['transfer-encoding'] !== undefined ||
    Number(request.headers['content-length'] ?? 0) > 0
  ) {
    return { ...plain(413, 'the proof is only looked at'), headers: { Connection: 'close' } };
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
