/// <reference lib="dom" />
import type { BrowserContext, CDPSession, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type SmallCourse, smallCourse } from '../cli/small-course.js';
import { type BrowsedProof, browseProof } from './browsed-proof.js';
import { type BuiltProgram, buildProgram } from './built-program.js';

/** The demo's largest green, 730 m2. */
const LARGEST = 'practice';
/** What a pour may cost in computing, milliseconds. */
const ALLOWED = 50;
/** Sixty pictures a second, milliseconds for each, with a display's rounding. */
const PICTURE = 1000 / 60 + 0.5;

let program: BuiltProgram;
let course: SmallCourse;
let proof: BrowsedProof;
let url: string;
let browser: BrowserContext;
let page: Page;

beforeAll(async () => {
  program = buildProgram();
  course = smallCourse([LARGEST]);
  proof = await browseProof(program, course, 'practice-large', { width: 1280, height: 800 });
  ({ url, browser } = proof);
  page = await browser.newPage();
});
afterAll(async () => {
  await proof?.close();
  program?.remove();
  course?.remove();
});

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

const touchAt = async (touch: CDPSession, x: number, y: number): Promise<void> => {
  await touch.send('Emulation.setTouchEmulationEnabled', { enabled: true });
  await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x, y }] });
  await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
  await touch.send('Emulation.setTouchEmulationEnabled', { enabled: false });
};

describe('water on the demo’s largest green', () => {
  it('answers a pour within the bound, runs at sixty pictures a second, and names what it meets', async () => {
    await page.goto(`${url}?hole=${LARGEST}`);
    await expect.poll(() => page.locator('[data-fetches]').count(), { timeout: 90_000 }).toBe(0);
    // Drained as soon as it is shown, before water is thought of.
    await page.locator('svg.overlay[data-drained="yes"]').waitFor({ timeout: 60_000 });
    await page.getByLabel('pours water').check();
    const box = (await page.locator('svg.overlay .ground').boundingBox())!;
    const times: number[] = [];
    const pictures: number[] = [];
    for (const [u, v] of [
      [0.5, 0.5],
      [0.3, 0.6],
      [0.62, 0.3],
      [0.7, 0.7],
      [0.42, 0.75],
      [0.25, 0.4],
    ]) {
      const answer = page.waitForResponse((response) => /\/water\?.*at=/.test(response.url()));
      await page.mouse.click(box.x + u * box.width, box.y + v * box.height);
      const timing = (await answer).headers()['server-timing'];
      times.push(Number(/water;dur=([\d.]+)/.exec(timing)![1]));
      // While the water runs.
      pictures.push(
        ...((await page.evaluate(`new Promise((done) => {
          const all = [];
          let last = null;
          const step = (now) => {
            if (last !== null) all.push(now - last);
            last = now;
            if (all.length < 45) requestAnimationFrame(step);
            else done(all);
          };
          requestAnimationFrame(step);
        })`)) as number[]),
      );
    }
    // Since the machine may be busy, the second quickest is judged; the first has nothing to wait for that it has not.
    const [, second] = times.toSorted((a, b) => a - b);
    expect(second, `computed for ${times.join(', ')} ms`).toBeLessThan(ALLOWED);
    expect(times[0], `computed for ${times.join(', ')} ms`).toBeLessThan(5 * ALLOWED);
    expect(median(pictures)).toBeLessThan(PICTURE);
    console.log(
      `pours ${times.map((t) => t.toFixed(0)).join(', ')} ms; pictures: middle ${median(pictures).toFixed(1)} ms, ${pictures.filter((t) => t > 20).length} of ${pictures.length} over 20 ms`,
    );
    const names = page.locator('.met');
    await expect.poll(() => names.count(), { timeout: 30_000 }).toBeGreaterThan(1);
    const words = await names.allTextContents();
    expect(words).toContain('high point');
    expect(words.filter((one) => one === 'main drainage line').length).toBeLessThan(2);
    const boxes = await names.evaluateAll((all) =>
      all.map((one) => {
        const { x, y, width, height } = (one as SVGTextElement).getBBox();
        return [x, y, x + width, y + height];
      }),
    );
    boxes.forEach((a, i) => {
      for (const b of boxes.slice(i + 1)) {
        expect(a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1]).toBe(true);
      }
    });
  });
});

describe('a station in a browser', () => {
  it('follows the hole by mouse, touch and key, and has its pages', async () => {
    await page.goto(`${url}?hole=${LARGEST}`);
    const rows = async (): Promise<string> =>
      (await page.locator('[data-shows="station"] li').allTextContents()).join('\n');
    const tees = (): Promise<(string | null)[]> =>
      page
        .locator('.station .tee')
        .evaluateAll((all) =>
          all.map((one) => `${one.getAttribute('cx')},${one.getAttribute('cy')}`),
        );
    await page.keyboard.press('s');
    await expect.poll(rows, { timeout: 60_000 }).toMatch(/^hole .* one pace to each tee/);
    const first = { rows: await rows(), tees: await tees() };
    expect(first.tees).toHaveLength(4);
    const hole = page.locator('.movable.hole .rim');
    const box = (await hole.boundingBox())!;
    const from = [box.x + box.width / 2, box.y + box.height / 2] as const;
    await page.mouse.move(...from);
    await page.mouse.down();
    await page.mouse.move(from[0] + 30, from[1] - 25, { steps: 4 });
    await page.mouse.up();
    await expect.poll(rows, { timeout: 60_000 }).not.toBe(first.rows);
    const dragged = await rows();
    expect(await tees()).not.toEqual(first.tees);
    await page.keyboard.press('ArrowLeft');
    await expect.poll(rows, { timeout: 60_000 }).not.toBe(dragged);
    const keyed = await rows();
    await page.getByLabel('the hole', { exact: true }).check();
    const touch = await page.context().newCDPSession(page);
    const ground = (await page.locator('svg.overlay .ground').boundingBox())!;
    await touchAt(touch, ground.x + 0.5 * ground.width, ground.y + 0.6 * ground.height);
    await expect.poll(rows, { timeout: 60_000 }).not.toBe(keyed);
    const touched = await rows();
    await page.locator('select[name="step"]').selectOption('2');
    await expect.poll(rows, { timeout: 60_000 }).toContain('2 paces to each tee');
    expect(await rows()).not.toBe(touched);
    const pages = await page.locator('a[data-station]').getAttribute('href');
    const printed = await page.context().newPage();
    await printed.goto(new URL(pages!, url).href);
    expect(await printed.locator('figcaption').allTextContents()).toHaveLength(2);
    await printed.close();
    await page.locator('input[name="station"]').uncheck();
    await expect.poll(tees).toEqual([]);
  });
});

describe('measured balls in a browser', () => {
  it('takes them by mouse, touch, key and in writing, and tells the green speed', async () => {
    await page.goto(`${url}?hole=${LARGEST}`);
    const lying = (): Promise<number> => page.locator('.lying circle').count();
    const told = async (): Promise<string> =>
      (await page.locator('[data-shows="rolled"]').textContent()) ?? '';
    await page.getByRole('radio', { name: 'where a ball came to rest' }).check();
    const box = (await page.locator('svg.overlay .ground').boundingBox())!;
    const at = (u: number, v: number) => [box.x + u * box.width, box.y + v * box.height] as const;
    const ball = await page.locator('.movable.ball').getAttribute('transform');
    await page.mouse.click(...at(0.45, 0.72));
    await expect.poll(lying, { timeout: 60_000 }).toBe(1);
    expect(await told()).toContain('one roll alone tells no interval');
    await page.keyboard.press('m');
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('Enter');
    await expect.poll(lying, { timeout: 60_000 }).toBe(2);
    const touch = await page.context().newCDPSession(page);
    await touchAt(touch, ...at(0.47, 0.74));
    await expect.poll(lying, { timeout: 60_000 }).toBe(3);
    await page.locator('input[name="rolled"]').fill('9ft 2in, 4 in left');
    await page.keyboard.press('Enter');
    await expect.poll(lying, { timeout: 60_000 }).toBe(4);
    expect(await told()).toMatch(/^green speed [\d.]+ ft, slope taken out; .*95 %/);
    const rows = await page.locator('[data-shows="rolls"] li').allTextContents();
    expect(rows.filter((row) => row.startsWith('ramp '))).toHaveLength(4);
    await page.locator('input[name="rolled"]').fill('far');
    await page.keyboard.press('Enter');
    await expect.poll(told).toMatch(/^Write how far it rolled/);
    expect(await lying()).toBe(4);
    await page.getByRole('button', { name: 'take the last away' }).click();
    await expect.poll(lying, { timeout: 60_000 }).toBe(3);
    // A ramp that lets go more softly: the same rolls are of a quicker green.
    const speed = async (): Promise<number> =>
      Number(/^green speed ([\d.]+) ft/.exec(await told())?.[1]);
    const quick = await speed();
    await page.locator('input[name="release"]').fill('5 ft/s');
    await page.keyboard.press('Tab');
    await expect.poll(speed, { timeout: 60_000 }).toBeGreaterThan(1.2 * quick);
    await page.locator('input[name="release"]').fill('softly');
    await page.keyboard.press('Enter');
    await expect.poll(told).toMatch(/^Write the speed at which the ramp lets a ball go/);
    expect(await lying()).toBe(3);
    await page.locator('input[name="release"]').fill('');
    await page.keyboard.press('Tab');
    await expect.poll(speed, { timeout: 60_000 }).toBe(quick);
    // Neither ball nor hole was moved by it.
    expect(await page.locator('.movable.ball').getAttribute('transform')).toBe(ball);
  });
});

describe('the large edition in a browser', () => {
  it('shows break maps and stations under the book’s numbers', async () => {
    await page.goto(`${url}?hole=${LARGEST}`);
    const captions = page.locator('figcaption');
    await expect
      .poll(async () => (await captions.allTextContents()).join('; '), { timeout: 60_000 })
      .toMatch(/where to aim, A, page \d+.*where to aim, D, page \d+.*station D, page \d+/);
    const numbers = (await captions.allTextContents()).map((one) => Number(/\d+$/.exec(one)![0]));
    numbers.slice(1).forEach((number, k) => {
      expect(number).toBe(numbers[k] + 1);
    });
    // The number that is printed at the foot is that of the caption.
    const map = page.locator('.leaf[data-kind="break-map"]').first();
    const told = Number(/\d+$/.exec((await map.locator('figcaption').textContent())!)![0]);
    expect(await map.locator(`[aria-label="${told}"]`).count()).toBeGreaterThan(0);
  });
});

describe('the teaching view in a browser', () => {
  const shown = (): Promise<number> => page.locator('.layer[data-layer]:not([hidden])').count();
  const state = (name: 'step' | 'degrees'): Promise<number> =>
    page.evaluate((key) => Number(document.body.dataset[key]), name);

  it('reveals layers by key, click and touch, turns the green and keeps its words upright', async () => {
    const complaints: string[] = [];
    const asked: string[] = [];
    page.on('console', (message) => complaints.push(message.text()));
    page.on('pageerror', (error) => complaints.push(error.message));
    page.on('request', (request) => asked.push(request.url()));
    await page.goto(`${url}teach?hole=${LARGEST}`);
    expect(await shown()).toBe(1);
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press(' ');
    expect(await state('step')).toBe(2);
    await page.keyboard.press('ArrowLeft');
    expect(await state('step')).toBe(1);
    const wall = (await page.locator('.wall').boundingBox())!;
    await page.mouse.click(wall.x + 0.8 * wall.width, wall.y + 0.5 * wall.height);
    expect(await state('step')).toBe(2);
    const touch = await page.context().newCDPSession(page);
    await touchAt(touch, wall.x + 0.8 * wall.width, wall.y + 0.4 * wall.height);
    await expect.poll(() => state('step')).toBe(3);
    await touchAt(touch, wall.x + 0.2 * wall.width, wall.y + 0.4 * wall.height);
    await expect.poll(() => state('step')).toBe(2);
    await page.keyboard.press('End');
    const told = await page.locator('[data-shows="told"]').textContent();
    expect(told).toMatch(/^From the right: aim .*, pace .*\.$/);
    expect(await shown()).toBe(await page.locator('.layer[data-layer]').count());
    // Behind the ball: the green is turned, words are turned back.
    await page.keyboard.press('t');
    await page.keyboard.press('t');
    const degrees = await state('degrees');
    expect(Math.abs(degrees)).toBeGreaterThan(10);
    const word = await page.locator('.upright').first().getAttribute('transform');
    expect(word).toContain(`rotate(${-degrees} `);
    await page.getByRole('button', { name: /turn right/ }).click();
    expect(await state('degrees')).toBe(degrees + 15);
    await page.keyboard.press('r');
    expect(await page.locator('.relief').getAttribute('hidden')).toBeNull();
    await expect.poll(() => asked.some((one) => one.includes('/relief?'))).toBe(true);
    // Words of a size to be read across a room, controls that a finger meets.
    const size = await page
      .locator('.told')
      .evaluate((one) => Number.parseFloat(getComputedStyle(one).fontSize));
    expect(size).toBeGreaterThanOrEqual(22);
    for (const control of await page.locator('.does button').all()) {
      expect((await control.boundingBox())!.height).toBeGreaterThanOrEqual(44);
    }
    expect(complaints).toEqual([]);
    expect(asked.filter((one) => !one.startsWith(url) && !one.startsWith('data:'))).toEqual([]);
  });

  it('takes the whole screen and gives it back', async () => {
    await page.goto(`${url}teach?hole=${LARGEST}`);
    await page.keyboard.press('f');
    await expect.poll(() => page.evaluate(() => document.fullscreenElement !== null)).toBe(true);
    await page.keyboard.press('f');
    await expect.poll(() => page.evaluate(() => document.fullscreenElement === null)).toBe(true);
  });
});
