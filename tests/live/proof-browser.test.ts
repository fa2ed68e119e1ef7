/// <reference lib="dom" />
import { spawn } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { join } from 'node:path';
import pixelmatch from 'pixelmatch';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadCourse } from '../../src/course/load-course.js';
import { rasterise } from '../../src/print/raster.js';
import { aimReading, paceReading } from '../../src/putt/rounding.js';
import { fromGreenFrame } from '../../src/survey/survey.js';
import { type SmallCourse, smallCourse } from '../cli/small-course.js';
import { writeTinyLayout } from '../cli/tiny-layout.js';
import { type BrowsedProof, browseProof } from './browsed-proof.js';
import { type BuiltProgram, buildProgram } from './built-program.js';

/** What a click may cost in computing, milliseconds. */
const ALLOWED = 50;

let program: BuiltProgram;
let course: SmallCourse;
let layout: string;
let proof: BrowsedProof;
let url: string;
let browser: BrowserContext;
let page: Page;

/** Runs the program to its end. */
const run = (...args: string[]): Promise<string> =>
  new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [program.main, ...args]);
    let out = '';
    let err = '';
    child.stdout.on('data', (chunk) => {
      out += String(chunk);
    });
    child.stderr.on('data', (chunk) => {
      err += String(chunk);
    });
    child.once('close', (code) => {
      if (code === 0) resolve(out);
      else reject(new Error(`${args[0]} ended with ${code}: ${err}`));
    });
  });

beforeAll(async () => {
  program = buildProgram();
  course = smallCourse([2, 12]);
  layout = writeTinyLayout(course.root);
  const days = join(course.folder, 'days.csv');
  const lines = readFileSync(days, 'utf8').split('\n');
  writeFileSync(days, `${lines.filter((line) => /^(hole|2|12),/.test(line)).join('\n')}\n`);
  proof = await browseProof(program, course, layout, { width: 1440, height: 900 });
  ({ url, browser } = proof);
  page = await browser.newPage();
});
afterAll(async () => {
  await proof?.close();
  program?.remove();
  course?.remove();
});

/** How many putts were answered on the page so far. */
const answered = (): Promise<number> =>
  page
    .locator('svg.overlay')
    .evaluate((svg) => Number((svg as unknown as HTMLElement).dataset.answered ?? 0));

const shown = async (name: string): Promise<string> =>
  (await page.locator(`[data-shows="${name}"]`).textContent()) ?? '';

const open = async (address: string): Promise<void> => {
  await page.goto(`${url}${address}`);
  await expect.poll(answered).toBeGreaterThan(0);
};

/** Does something and waits for the putt it asks for; gives what the server says it computed for. */
const askedBy = async (act: () => Promise<void>): Promise<number> => {
  const before = await answered();
  const answer = page.waitForResponse((response) => response.url().includes('/putt?'));
  await act();
  const timing = (await answer).headers()['server-timing'];
  await expect.poll(answered).toBeGreaterThan(before);
  return Number(/putt;dur=([\d.]+)/.exec(timing)![1]);
};

const groundBox = async () => (await page.locator('svg.overlay .ground').boundingBox())!;

describe('the proof in a browser', () => {
  it('shows the pages of a green and a putt on it, without a complaint', async () => {
    const complaints: string[] = [];
    page.on('console', (message) => complaints.push(message.text()));
    page.on('pageerror', (error) => complaints.push(error.message));
    await open('?hole=2');
    expect(await page.title()).toMatch(/^2 .*, Vellamoor$/);
    expect(await page.locator('.leaf').count()).toBe(2);
    expect(await shown('aim')).toMatch(/^(straight|\d.*(in|ft) (left|right))$/);
    expect(await shown('pace')).toMatch(/\d+½? ft$/);
    expect(await page.locator('.putt-lines .path').getAttribute('d')).toMatch(/^M.*L/);
    expect(complaints).toEqual([]);
  });

  it('sets the ball where the green is clicked, and answers within the bound', async () => {
    await open('?hole=2');
    const box = await groundBox();
    const before = await shown('ball');
    const times: number[] = [];
    for (const [u, v] of [
      [0.6, 0.3],
      [0.5, 0.8],
      [0.35, 0.5],
      [0.7, 0.6],
      [0.45, 0.2],
    ]) {
      times.push(
        await askedBy(() => page.mouse.click(box.x + u * box.width, box.y + v * box.height)),
      );
    }
    expect(await shown('ball')).not.toBe(before);
    times.sort((a, b) => a - b);
    // The machine may be busy: one of five may be late.
    expect(times[3], `computed for ${times.join(', ')} ms`).toBeLessThan(ALLOWED);
  });

  it('sets the hole when that is chosen, and lets both be dragged', async () => {
    await open('?hole=2');
    const box = await groundBox();
    const hole = await shown('hole');
    await page.getByLabel('the hole', { exact: true }).check();
    await askedBy(() => page.mouse.click(box.x + 0.5 * box.width, box.y + 0.45 * box.height));
    const moved = await shown('hole');
    expect(moved).not.toBe(hole);
    const ball = await shown('ball');
    const grip = (await page.locator('.movable.ball .ball-mark').boundingBox())!;
    const [x, y] = [grip.x + grip.width / 2, grip.y + grip.height / 2];
    await askedBy(async () => {
      await page.mouse.move(x, y);
      await page.mouse.down();
      await page.mouse.move(x + 30, y + 40, { steps: 4 });
      await page.mouse.up();
    });
    await expect.poll(() => shown('ball')).not.toBe(ball);
    expect(await shown('hole')).toBe(moved);
  });

  it('works from the keyboard alone', async () => {
    await open('?hole=2');
    await page.keyboard.press('b');
    const focused = page.locator(':focus');
    expect(await focused.getAttribute('data-name')).toBe('ball');
    expect(await focused.getAttribute('aria-label')).toMatch(/^ball, \d+½? on, \d+½? from/);
    // The focus must be seen.
    const ring = await focused
      .locator('.focus')
      .evaluate((circle) => getComputedStyle(circle).stroke);
    expect(ring).not.toBe('none');
    const at = (): Promise<string> =>
      page.locator('.movable.ball').evaluate((g) => g.getAttribute('transform') ?? '');
    const start = await at();
    await askedBy(() => page.keyboard.press('ArrowUp'));
    const up = await at();
    const [x0, y0, x1, y1] = `${start} ${up}`.match(/-?[\d.]+/g)!.map(Number);
    expect(x1).toBeCloseTo(x0, 2);
    // A foot of ground at 1:480 is 0.635 mm of paper.
    expect(y0 - y1).toBeCloseTo(304.8 / 480, 2);
    await askedBy(() => page.keyboard.press('Shift+ArrowDown'));
    const [, fine] = (await at()).match(/-?[\d.]+/g)!.map(Number);
    expect(fine - y1).toBeCloseTo(25.4 / 480, 2);
    await page.keyboard.press('h');
    const hole = await shown('hole');
    for (let i = 0; i < 8; i++) await askedBy(() => page.keyboard.press('ArrowRight'));
    expect(await shown('hole')).not.toBe(hole);
    await page.keyboard.press('n');
    await page.waitForURL(/hole=12/);
    await page.keyboard.press('p');
    await page.waitForURL(/hole=2\b/);
    // Every control is reached by Tab.
    const reached = new Set<string>();
    for (let i = 0; i < 24; i++) {
      await page.keyboard.press('Tab');
      reached.add(
        await page.evaluate(() => {
          const e = document.activeElement;
          return e?.getAttribute('data-name') ?? e?.getAttribute('name') ?? e?.tagName ?? '';
        }),
      );
    }
    for (const name of ['day', 'speed', 'A', 'BUTTON', 'ball', 'hole', 'sets']) {
      expect([...reached]).toContain(name);
    }
  });

  it('shows the green before what is told of it in a narrow window, where a finger taps or moves the page', async () => {
    const wide = page.viewportSize()!;
    await page.setViewportSize({ width: 390, height: 844 });
    await open('?hole=2');
    const topOf = (of: string): Promise<number> =>
      page
        .locator(of)
        .first()
        .evaluate((one) => one.getBoundingClientRect().top + scrollY);
    const green = await topOf(".leaf[data-kind='green']");
    const panel = await topOf('.putt');
    expect(green).toBeLessThan(844 / 2);
    expect(panel).toBeGreaterThan(green);
    expect(await topOf(".leaf:not([data-kind='green'])")).toBeGreaterThan(panel);
    // What is said of the putt is in view beside the green.
    const said = await page.locator("[data-shows='said']").boundingBox();
    expect(said!.y + said!.height).toBeLessThanOrEqual(844);
    expect(
      await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
    ).toBeLessThanOrEqual(0);

    const touch = await page.context().newCDPSession(page);
    await touch.send('Emulation.setTouchEmulationEnabled', { enabled: true });
    const before = await shown('ball');
    const box = await groundBox();
    const [x, y] = [box.x + 0.5 * box.width, box.y + 0.5 * box.height];
    const point = (type: 'touchStart' | 'touchMove' | 'touchEnd', up = 0): Promise<unknown> =>
      touch.send('Input.dispatchTouchEvent', {
        ...{ type, touchPoints: type === 'touchEnd' ? [] : [{ x, y: y - up }] },
      });
    await point('touchStart');
    for (let up = 20; up <= 200; up += 20) await point('touchMove', up);
    await point('touchEnd');
    await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(50);
    expect(await shown('ball')).toBe(before);
    const moved = await groundBox();
    const at = { x: moved.x + 0.4 * moved.width, y: moved.y + 0.6 * moved.height };
    await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [at] });
    await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    await expect.poll(() => shown('ball')).not.toBe(before);
    await touch.send('Emulation.setTouchEmulationEnabled', { enabled: false });
    await page.setViewportSize(wide);
  });

  it('pours water by click, by key and by touch, and clears it', async () => {
    await open('?hole=2');
    const poured = (): Promise<number> => page.locator('.poured').count();
    const still = (): Promise<number> => page.locator('.poured[data-running="no"]').count();
    const pouring = async (act: () => Promise<void>): Promise<void> => {
      const answer = page.waitForResponse((response) => /\/water\?.*at=/.test(response.url()));
      await act();
      await answer;
    };
    await page.getByLabel('pours water').check();
    const box = await groundBox();
    const ball = await shown('ball');
    await pouring(() => page.mouse.click(box.x + 0.6 * box.width, box.y + 0.3 * box.height));
    await expect.poll(poured).toBe(1);
    await page.keyboard.press('w');
    for (let i = 0; i < 6; i++) await page.keyboard.press('ArrowLeft');
    await pouring(() => page.keyboard.press('Enter'));
    await expect.poll(poured).toBe(2);
    const touch = await page.context().newCDPSession(page);
    await touch.send('Emulation.setTouchEmulationEnabled', { enabled: true });
    await pouring(async () => {
      const at = { x: box.x + 0.5 * box.width, y: box.y + 0.5 * box.height };
      await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [at] });
      await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    });
    await touch.send('Emulation.setTouchEmulationEnabled', { enabled: false });
    await expect.poll(poured).toBe(3);
    await expect.poll(still, { timeout: 30_000 }).toBe(3);
    expect(await shown('water')).toMatch(/pour 1.*leaves.*pour 2.*pour 3.*catchment A/s);
    expect(await shown('ball')).toBe(ball);
    // Wider as other water joins.
    const widths = await page
      .locator('.poured')
      .first()
      .locator('.stream')
      .evaluateAll((all) => all.map((one) => Number.parseFloat(getComputedStyle(one).strokeWidth)));
    expect(widths.length).toBeGreaterThan(5);
    widths.slice(1).forEach((width, k) => {
      expect(width).toBeGreaterThanOrEqual(widths[k] - 1e-3);
    });
    expect(widths[widths.length - 1]).toBeGreaterThan(widths[0]);
    await page.getByRole('button', { name: 'clear' }).click();
    expect(await poured()).toBe(0);
  });

  it('says what is wrong when the ball is moved off the green', async () => {
    await open('?hole=12');
    await page.keyboard.press('b');
    for (let i = 0; i < 120; i++) await page.keyboard.press('ArrowLeft');
    await expect.poll(() => shown('said')).toBe('The ball lies off the green.');
    expect(await shown('aim')).toBe('–');
  });

  it('chooses day and speed, and the putt is that of runnel putt', async () => {
    await open('?hole=2');
    await page.locator('select[name="day"]').selectOption('2');
    await page.waitForURL(/day=2/);
    await page.locator('input[name="speed"]').fill('11.5');
    await page.keyboard.press('Enter');
    await page.waitForURL(/speed=11.5/);
    await expect.poll(answered).toBeGreaterThan(0);
    expect(await page.locator('.state').textContent()).toContain('speed 11.5 ft');
    const places = await page.locator('svg.overlay').evaluate((svg) => {
      const { ball, hole } = (svg as unknown as HTMLElement).dataset;
      return { ball: ball!, hole: hole! };
    });
    const { frame } = loadCourse(course.folder).holes[0].green!;
    const inPlane = (text: string): string => {
      const [x, y] = text.split(',').map(Number);
      return fromGreenFrame(frame, x, y).join(',');
    };
    const told = JSON.parse(
      await run('holes', course.folder, '--day', '2', '--hole', '2', '--json'),
    ) as { locations: { plane_m: number[] }[] };
    const hole = inPlane(places.hole);
    hole.split(',').forEach((value, i) => {
      expect(Number(value)).toBeCloseTo(told.locations[0].plane_m[i], 2);
    });
    const putt = JSON.parse(
      await run(
        'putt',
        `--course=${course.folder}`,
        '--green=2',
        `--out=${course.out}`,
        `--from=${inPlane(places.ball)}`,
        `--hole=${hole}`,
        '--stimp=11.5ft',
        '--json',
      ),
    ) as { aim_offset_m: number; pace_m: number };
    const aim = aimReading(putt.aim_offset_m, 'imperial');
    expect(await shown('aim')).toBe(`${aim.figure} ${aim.side}`);
    expect(await shown('pace')).toBe(paceReading(putt.pace_m, 'imperial'));
  });

  it('answers 404 and 400 in plain words', async () => {
    for (const [address, status, words] of [
      ['?hole=99', 404, 'no such page'],
      ['nowhere', 404, 'no such page'],
      ['?hole=2&speed=99', 400, 'stimp'],
      ['?hole=2&day=77', 400, 'there are days'],
      ['?hole=2&speed=%3Cscript%3E', 400, '&lt;script&gt;'],
      ['putt?green=2&ball=1&hole=2,3', 400, 'give x,y'],
    ] as const) {
      const response = await fetch(`${url}${address}`);
      expect(response.status, address).toBe(status);
      const body = await response.text();
      expect(body, address).toContain(words);
      expect(body).not.toContain('<script>');
    }
  });
});

describe('the proof and other hosts', () => {
  /** Asks the server under a name of our choice. */
  const ask = (headers: Record<string, string>, method = 'GET', address = url): Promise<number> =>
    new Promise((resolve, reject) => {
      const { port } = new URL(url);
      const { hostname } = new URL(address);
      const asked = request(
        { host: hostname, port, path: '/', method, headers, timeout: 3000 },
        (response) => {
          response.resume();
          resolve(response.statusCode ?? 0);
        },
      );
      asked.once('error', reject);
      asked.end();
    });

  it('answers to its own two names only', async () => {
    const { port } = new URL(url);
    expect(await ask({ Host: `127.0.0.1:${port}` })).toBe(200);
    expect(await ask({ Host: `localhost:${port}` })).toBe(200);
    for (const host of ['example.org', `example.org:${port}`, '127.0.0.1', '127.0.0.1:1']) {
      expect(await ask({ Host: host }), host).not.toBe(200);
    }
    expect(await ask({ Host: 'example.org' })).toBe(421);
  });

  it('answers no other site and takes nothing in', async () => {
    const { port } = new URL(url);
    const host = { Host: `127.0.0.1:${port}` };
    expect(await ask({ ...host, Origin: 'http://example.org' })).toBe(403);
    expect(await ask({ ...host, Origin: `http://127.0.0.1:${port}` })).toBe(200);
    expect(await ask(host, 'POST')).toBe(405);
    expect(await ask(host, 'HEAD')).toBe(200);
  });

  it('is not reached by another address of the machine', async () => {
    await expect(ask({ Host: 'localhost' }, 'GET', 'http://127.0.0.2/')).rejects.toThrow();
  });

  it('lets no page run what it did not send', async () => {
    const response = await fetch(url);
    const policy = response.headers.get('content-security-policy')!;
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self'");
    expect(policy).not.toContain('unsafe');
  });
});

describe('the proof on paper', () => {
  /** Share of pixels that may differ: the edges of type, which the browser fills as outlines. */
  const SAME = 0.0025;

  /** Share of pixels that differ. */
  const difference = async (one: Uint8Array, other: Uint8Array): Promise<number[]> => {
    const [a, b] = [await rasterise(one, 72), await rasterise(other, 72)];
    expect(a).toHaveLength(b.length);
    return a.map((image, i) => {
      expect([image.width, image.height]).toEqual([b[i].width, b[i].height]);
      const count = pixelmatch(image.data, b[i].data, undefined, image.width, image.height, {
        threshold: 0.3,
      });
      return count / (image.width * image.height);
    });
  };
  const print = (): Promise<Uint8Array> =>
    page.pdf({ preferCSSPageSize: true, printBackground: true });

  it('show the whole picture of the course in a wide window and in a narrow one', async () => {
    const wide = page.viewportSize()!;
    for (const width of [1280, 390]) {
      await page.setViewportSize({ width, height: 844 });
      await page.goto(`${url}course`);
      const shown = await page.evaluate(() => {
        const leaf = document.querySelector('.leaf')!;
        const paper = leaf.querySelector('.paper')!.getBoundingClientRect();
        return {
          window: document.documentElement.scrollWidth - window.innerWidth,
          left: paper.left,
          moved: leaf.scrollWidth - paper.width,
        };
      });
      // Nothing lies to the left of the window, where no scrolling reaches it.
      expect(shown.window, `${width}`).toBeLessThanOrEqual(0);
      expect(shown.left, `${width}`).toBeGreaterThanOrEqual(0);
      expect(Math.abs(shown.moved), `${width}`).toBeLessThan(2);
    }
    await page.setViewportSize(wide);
  });

  it('prints the same pages as the book', async () => {
    await run('book', course.folder, '--layout', layout, '--out', course.out);
    const book = readFileSync(join(course.out, 'links', 'tiny.pdf'));
    await page.goto(`${url}book`);
    for (const share of await difference(await print(), book)) expect(share).toBeLessThan(SAME);
  });

  it('prints one green with its tables, without controls or putt', async () => {
    await open('?hole=2');
    const book = await rasterise(readFileSync(join(course.out, 'links', 'tiny.pdf')), 72);
    const printed = await rasterise(await print(), 72);
    expect(printed).toHaveLength(2);
    printed.forEach((image, i) => {
      const { width, height } = book[i];
      expect([image.width, image.height]).toEqual([width, height]);
      const count = pixelmatch(image.data, book[i].data, undefined, width, height, {
        threshold: 0.3,
      });
      expect(count / (width * height)).toBeLessThan(SAME);
    });
  });

  it('prints the pages of a day as runnel day makes them', async () => {
    await run('day', course.folder, '--day', '2', '--speed', '11.5', '--out', course.out);
    const day = readFileSync(join(course.out, 'links', 'day-2.pdf'));
    await page.goto(`${url}day?day=2&speed=11.5`);
    for (const share of await difference(await print(), day)) expect(share).toBeLessThan(SAME);
  });
});
