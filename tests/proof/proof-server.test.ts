import { type IncomingHttpHeaders, request } from 'node:http';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PlacedHoleLocation } from '../../src/course/course.js';
import type { Point } from '../../src/geometry.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { bareLocation } from '../../src/page/book-content.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { answerTo, assetAt, type ProofSite } from '../../src/proof/answers.js';
import { openProof } from '../../src/proof/proof-book.js';
import type { PuttAnswer } from '../../src/proof/putt-answer.js';
import { startServer } from '../../src/proof/server.js';
import { aimReading, paceReading } from '../../src/putt/rounding.js';
import { solvePutt } from '../../src/putt/solve.js';
import { readGreen } from '../../src/terrain/read-green.js';
import type { Reading } from '../../src/terrain/reading.js';
import { feetToMetres } from '../../src/units.js';
import { runCaptured } from '../cli/run-captured.js';
import { atDepth } from '../depth.js';
import { NO_TODAY } from '../event/no-today.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { plane } from '../surface/analytic.js';

const outline = Array.from({ length: 48 }, (_, i): Point => {
  const angle = (2 * Math.PI * i) / 48;
  return [10 * Math.cos(angle), 12 + 12 * Math.sin(angle)];
});
const surface = plane(outline, 0.015, 0.02);
const location = (name: string, on: number): PlacedHoleLocation => ({
  name,
  on,
  in: 8,
  side: 'left',
  at: [0, on * 0.9144],
});

/** The same green with two outlets that take turns. */
const takingTurns = (reading: Reading): Reading => {
  const main = { ...reading.outlets[0], share: 0.62, kept: 0.55, draws: 120 };
  const other = { at: [9, 16], kind: 'edge', share: 0.31, kept: 0.2, draws: 120 } as const;
  return {
    ...reading,
    outlets: [main, other],
    streams: reading.streams.map((stream) => (stream.main ? { ...stream, outlet: main } : stream)),
  };
};

const siteOf = (): ProofSite => {
  const fonts = openFonts();
  const layout = loadLayout('pocket');
  const { past } = layout.tables;
  const stimp = feetToMetres(10);
  const proof = openProof({
    book: {
      title: 'Made up <links> & "greens"',
      setting: '',
      use: 'practice',
      units: 'imperial',
      stimp,
      past,
      greens: [
        {
          holeId: '7',
          name: 'Tilted & <b>plain</b>',
          par: 3,
          outline,
          reading: takingTurns(readGreen(surface)),
          worth: FIT_FOR_TABLES,
          drains: [],
          locations: [location('A', 9), location('B', 15)].map(bareLocation),
          stimp,
          past,
        },
      ],
    },
    layout,
    dayLayout: loadLayout('day'),
    measure: measureWith(fonts),
    days: [{ holeId: '7', day: 2, location: location('2', 12), tees: null }],
    todayOf: () => NO_TODAY,
    surfaceOf: () => surface,
    storedOf: () => {
      throw new Error('no fit is looked at');
    },
    approachOf: () => null,
  });
  const picture = { id: 'course', title: 'Made up', label: '', width: 420, height: 297, marks: [] };
  return { proof, fonts, picture, now: () => performance.now() };
};

interface Reply {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

describe('the server of the proof', () => {
  let site: ProofSite;
  let port: number;
  let stop: () => Promise<void>;
  const faults: unknown[] = [];
  const ask = (path: string, headers: Record<string, string> = {}, method = 'GET') =>
    new Promise<Reply>((resolve, reject) => {
      const asked = request(
        { host: '127.0.0.1', port, path, method, headers, agent: false },
        (response) => {
          let body = '';
          response.setEncoding('utf8');
          response.on('data', (chunk) => {
            body += chunk;
          });
          response.on('end', () =>
            resolve({ status: response.statusCode!, headers: response.headers, body }),
          );
        },
      );
      asked.once('error', reject);
      asked.end();
    });

  beforeAll(async () => {
    site = siteOf();
    const { layout, dayLayout } = site.proof.source;
    const scripts = new Map([['/browser/proof.js', Buffer.from('// none')]]);
    const assets = { layout, dayLayout, picture: site.picture, scripts };
    const started = await startServer(
      (address) => assetAt(assets, address) ?? answerTo(site, address),
      0,
      (error) => faults.push(error),
    );
    port = started.port;
    stop = () => new Promise((resolve) => started.server.close(() => resolve()));
    expect(started.server.address()).toMatchObject({ address: '127.0.0.1' });
  });
  afterAll(async () => {
    await stop();
    expect(faults).toEqual([]);
  });

  it('answers under its own names and refuses every other', async () => {
    for (const host of [`127.0.0.1:${port}`, `localhost:${port}`, `LOCALHOST:${port}`]) {
      expect((await ask('/', { Host: host })).status, host).toBe(200);
    }
    const others = [
      'example.org',
      `example.org:${port}`,
      '127.0.0.1',
      `127.0.0.1:${port + 1}`,
      `127.0.0.1:${port}.example.org`,
      `0.0.0.0:${port}`,
      `[::1]:${port}`,
    ];
    for (const host of others) {
      const { status, body } = await ask('/', { Host: host });
      expect(status, host).toBe(421);
      expect(body).toBe('the proof is served to this machine only\n');
    }
  });

  it('refuses other sites and all but looking', async () => {
    expect((await ask('/', { Origin: 'http://example.org' })).status).toBe(403);
    expect((await ask('/', { Origin: 'null' })).status).toBe(403);
    for (const site of ['cross-site', 'same-site']) {
      expect((await ask('/', { 'Sec-Fetch-Site': site })).status, site).toBe(403);
    }
    expect((await ask('/proof.css', { 'Sec-Fetch-Site': 'same-origin' })).status).toBe(200);
    expect((await ask('/proof.css', { 'Sec-Fetch-Site': 'none' })).status).toBe(200);
    expect((await ask(`/?hole=${'1'.repeat(3_000)}`)).status).toBe(414);
    expect((await ask('/', { 'Content-Length': '9' })).status).toBe(413);
    for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS']) {
      expect((await ask('/', {}, method)).status, method).toBe(405);
    }
    const head = await ask('/', {}, 'HEAD');
    expect([head.status, head.body]).toEqual([200, '']);
  });

  it('lets a page run nothing but its own scripts', async () => {
    const { headers, body } = await ask('/?hole=7');
    expect(headers['content-security-policy']).toMatch(/default-src 'none'; script-src 'self'/);
    expect(headers['content-security-policy']).not.toMatch(/unsafe/);
    expect(headers['x-content-type-options']).toBe('nosniff');
    // Names of the course are text, whatever they hold.
    expect(body).toContain('Made up &lt;links&gt; &amp; &quot;greens&quot;');
    expect(body).not.toContain('<b>plain');
    expect(body).not.toMatch(/ style="| on\w+="/);
  });

  it('answers a putt with the figures of the solver at the chosen speed', async () => {
    for (const [ball, speed] of [
      [[3, 6], 10],
      [[-4.25, 15.5], 12.5],
      [[0.75, 20], 8],
    ] as const) {
      const query = `green=7&speed=${speed}&ball=${ball.join(',')}&hole=0,10`;
      const { status, headers, body } = await ask(`/putt?${query}`);
      expect(status).toBe(200);
      expect(headers['server-timing']).toMatch(/^putt;dur=\d/);
      const answer = JSON.parse(body) as PuttAnswer;
      const putt = solvePutt(surface, ball, [0, 10], {
        stimp: feetToMetres(speed),
        past: site.proof.source.book.past,
      });
      const aim = aimReading(putt.aimOffset, 'imperial');
      expect(answer.aim).toBe(`${aim.figure} ${aim.side}`);
      expect(answer.pace).toBe(paceReading(putt.pace, 'imperial'));
      expect(answer.path).toEqual(putt.path);
      // Beside the hole's centre, on the line of aim.
      const [ax, ay] = answer.aimAt!;
      expect(Math.hypot(ax, ay - 10)).toBeCloseTo(Math.abs(putt.aimOffset), 9);
    }
  });

  it('tells the outlets that take turns with their shares, beside the page that draws them', async () => {
    const { body } = await ask('/?hole=7');
    const panel = body.slice(body.indexOf('data-shows="outlets"'));
    expect(panel.slice(0, 400)).toMatch(
      /<dt>main drainage<\/dt><dd>[^<]*takes most in 62 % of the grounds/,
    );
    expect(panel.slice(0, 600)).toMatch(
      /<dt>other outlet<\/dt><dd>52\.5 ft on, 29\.5 ft right; takes most in 31 %/,
    );
    // On the page the shares stand as outlines of letters, told by their names.
    for (const share of [62, 31])
      expect(RegExp(`aria-label="[^"]*${share} %`).test(body)).toBe(true);
  });

  it('shows a day’s one location at its speed, and the pages of that day', async () => {
    const all = await ask('/?hole=7');
    const day = await ask('/?hole=7&day=2&speed=11');
    expect(all.body).toContain('aria-label="Breaks to location B"');
    expect(day.body).toContain('aria-label="Breaks to location 2"');
    expect(day.body).not.toContain('aria-label="Breaks to location B"');
    expect(day.body).toContain('speed 11 ft');
    const pages = await ask('/day?day=2&speed=11');
    expect(pages.status).toBe(200);
    expect(pages.body).toContain('Breaks to the hole locations of the day');
    expect((await ask('/day')).status).toBe(404);
  });

  it('says in plain words what it does not understand, and never fails inside', {
    tags: 'deep',
  }, () => {
    const part = fc.oneof(
      fc.constantFrom('hole', 'day', 'speed', 'ball', 'green', '7', '2', '', '1e9', '-1', 'NaN'),
      fc.string({ maxLength: 12 }),
    );
    const path = fc.constantFrom('/', '/book', '/day', '/putt', '/fonts/text.ttf', '/../x', '/%00');
    fc.assert(
      fc.property(path, fc.array(fc.tuple(part, part), { maxLength: 4 }), (start, parts) => {
        const address = new URL(start, 'http://127.0.0.1/');
        for (const [name, value] of parts) address.searchParams.append(name, value);
        let status: number;
        try {
          status = answerTo(site, address).status;
        } catch (error) {
          expect((error as Error).name).toBe('InputFault');
          status = 400;
        }
        expect([200, 400, 404]).toContain(status);
      }),
      { numRuns: atDepth(12, 80), seed: 8 },
    );
  });

  it('reads no file by an address', async () => {
    for (const path of [
      '/browser/../server.js',
      '/fonts/../../package.json',
      '/browser/',
      '/..%2fpackage.json',
    ]) {
      expect((await ask(path)).status, path).toBe(404);
    }
  });
});

describe('runnel proof', () => {
  it.each([
    [['--port', '70000'], /--port: 70000 is no port/],
    [['--layout', 'day'], /no green pages to prove/],
  ])('says in one line what is wrong with %s', async (more, words) => {
    const { code, stderr } = await runCaptured(['proof', 'course-data/vellamoor', ...more]);
    expect(code).toBe(2);
    expect(stderr.trimEnd().split('\n')).toHaveLength(1);
    expect(stderr).toMatch(words);
  });
});
