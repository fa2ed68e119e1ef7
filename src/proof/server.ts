import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { INPUT_LIMITS } from '../input-limits.js';
import { type Answer, answerToFault, busy, LOOPBACK, plain } from './answers.js';

/** Nothing but what this server sends is run, shown or asked for; no other page may frame it. */
const HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy':
    "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; connect-src 'self'; img-src 'self' data:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Referrer-Policy': 'no-referrer',
  'X-Content-Type-Options': 'nosniff',
  'Cache-Control': 'no-store',
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
  // Browsers tell whether a page of another site asks (W3C Fetch Metadata); 'none' is the user's own address line.
  const site = request.headers['sec-fetch-site'];
  if (site !== undefined && site !== 'same-origin' && site !== 'none') {
    return plain(403, 'the proof answers no other site');
  }
  if ((request.url ?? '').length > INPUT_LIMITS.address)
    return plain(414, 'the address is too long');
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

const bytesOf = ({ body }: Answer): Uint8Array =>
  typeof body === 'string' ? Buffer.from(body, 'utf8') : body;

const send = (
  response: ServerResponse,
  answer: Answer & { readonly body: Uint8Array },
  bodyToo: boolean,
): void => {
  const { body } = answer;
  response.writeHead(answer.status, {
    ...HEADERS,
    'Content-Type': answer.type,
    'Content-Length': body.length,
    ...answer.headers,
  });
  response.end(bodyToo ? body : undefined);
};

/** Answers an address that was found proper; `gone` tells that nobody waits for it any more. */
export type Answerer = (address: URL, gone: AbortSignal) => Answer | Promise<Answer>;

/** Bytes of answers that are made and not yet taken, over which whoever asks is told that the proof is busy: some whole books. */
const MOST_UNTAKEN = 96 * 1024 ** 2;

/** Milliseconds within which a request has to be told; the proof's own come in one piece. */
const PATIENCE = 10_000;

/** Serves the proof on the loopback address; port 0 takes any that is free. */
export const startServer = (
  answerer: Answerer,
  port: number,
  onFault: (error: unknown) => void,
): Promise<{ readonly server: Server; readonly port: number }> =>
  new Promise((resolve, reject) => {
    const boundPort = (): number => {
      const address = server.address();
      return typeof address === 'object' && address !== null ? address.port : port;
    };
    const serve = async (request: IncomingMessage, gone: AbortSignal): Promise<Answer> => {
      const bound = boundPort();
      const refused = refusalOf(request, bound);
      if (refused !== null) return refused;
      if (untaken > MOST_UNTAKEN) return busy();
      try {
        return await answerer(new URL(request.url ?? '/', `http://${LOOPBACK}:${bound}`), gone);
      } catch (error) {
        const answer = answerToFault(error);
        if (answer !== null) return answer;
        onFault(error);
        return plain(500, 'internal fault; see the terminal');
      }
    };
    let untaken = 0;
    const server = createServer(async (request, response) => {
      const gone = new AbortController();
      response.once('close', () => gone.abort());
      const made = await serve(request, gone.signal);
      if (response.destroyed) return;
      // Others may have been answered meanwhile; one answer is given, however long.
      const isRoom = untaken === 0 || untaken + made.body.length <= MOST_UNTAKEN;
      const answer = isRoom ? made : busy();
      const body = bytesOf(answer);
      untaken += body.length;
      response.once('close', () => {
        untaken -= body.length;
      });
      send(response, { ...answer, body }, request.method !== 'HEAD');
    });
    server.headersTimeout = PATIENCE;
    server.requestTimeout = PATIENCE;
    server.once('error', reject);
    server.listen(port, LOOPBACK, () => resolve({ server, port: boundPort() }));
  });
