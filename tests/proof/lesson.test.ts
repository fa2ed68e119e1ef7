import { PNG } from 'pngjs';
import { describe, expect, it } from 'vitest';
import { stationText } from '../../src/book/station-figures.js';
import { stationOnGreen } from '../../src/book/station-on-green.js';
import type { PlacedHoleLocation } from '../../src/course/course.js';
import { boxOf, insideRing, type Point } from '../../src/geometry.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { bareLocation, type GreenContent } from '../../src/page/book-content.js';
import { planBook } from '../../src/page/book-pages.js';
import { aimWords } from '../../src/page/putts/station-words.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { answerTo, assetAt, type ProofSite } from '../../src/proof/answers.js';
import { openProof } from '../../src/proof/proof-book.js';
import { RELIEF_STEP, reliefPicture } from '../../src/proof/relief.js';
import { answerStation, type StationAnswer } from '../../src/proof/station-answer.js';
import { STAGE, teachingGreen } from '../../src/proof/teaching-layers.js';
import { answerWater, drainStep } from '../../src/proof/water-answer.js';
import { breakMap } from '../../src/putt/break-map.js';
import { practiceStation } from '../../src/putt/station.js';
import { tablesAtSpeeds } from '../../src/putt/table.js';
import type { Surface } from '../../src/surface/surface.js';
import { fallAt } from '../../src/terrain/fall.js';
import { readGreen } from '../../src/terrain/read-green.js';
import { feetToMetres } from '../../src/units.js';
import { NO_TODAY } from '../event/no-today.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { circleRing, plane } from '../surface/analytic.js';

const outline = circleRing(9, 0, 9);
/** Falls to the front, 2 %. */
const surface = plane(outline, 0, 0.02);
const reading = readGreen(surface);
const at: Point = [0, 9];
const place: PlacedHoleLocation = { name: 'A', on: 10, in: 10, side: 'left', at };
const layout = loadLayout('practice-large');
const stimp = feetToMetres(10);
const { past } = layout.tables;
const fonts = openFonts();
const green: GreenContent = {
  holeId: 'practice',
  name: 'Practice green',
  par: null,
  outline,
  reading,
  worth: FIT_FOR_TABLES,
  drains: [],
  locations: [bareLocation(place)],
  stimp,
  past,
};
const book = {
  title: 'Links',
  setting: '',
  use: 'practice',
  units: 'imperial',
  stimp,
  past,
  greens: [green],
} as const;

const siteOf = (): ProofSite => ({
  proof: openProof({
    book,
    layout,
    dayLayout: loadLayout('day'),
    measure: measureWith(fonts),
    days: [],
    todayOf: () => NO_TODAY,
    surfaceOf: () => surface,
    storedOf: () => {
      throw new Error('no fit is looked at');
    },
    approachOf: () => null,
  }),
  fonts,
  picture: { id: 'course', title: 'Made up', label: '', width: 420, height: 297, marks: [] },
  now: () => 0,
});

const OWN = { day: null, stimp: null };
const ask = (site: ProofSite, path: string) => answerTo(site, new URL(path, 'http://127.0.0.1/'));

describe('the large edition in the proof', () => {
  it('has the book’s pages under the book’s numbers, break maps and stations among them', () => {
    const settings = { stimp, past };
    const stimps = [stimp, stimp - feetToMetres(1), stimp + feetToMetres(1)];
    const [table, ...atSpeeds] = tablesAtSpeeds(surface, at, layout.tables.lengths, stimps, past);
    const solved = {
      ...green,
      locations: [
        {
          ...bareLocation(place),
          ground: fallAt(surface, at),
          table,
          atSpeeds,
          breakMap: breakMap(surface, at, settings),
          station: practiceStation(surface, at, settings),
        },
      ],
    };
    const printed = planBook({ ...book, greens: [solved] }, layout, measureWith(fonts));
    const site = siteOf();
    const proved = site.proof.pagesOf(OWN);
    expect(proved.map(({ kind }) => kind)).toEqual(printed.map(({ kind }) => kind));
    expect(printed.map(({ kind }) => kind)).toContain('station');
    for (const kind of ['break-map', 'station']) {
      const k = printed.findIndex((page) => page.kind === kind);
      expect(proved[k].compose()).toEqual(printed[k].compose());
    }
    // A map is solved when its own leaf is asked for.
    const page = String(ask(site, '/?hole=practice').body);
    const [address] = /\/leaf\?[^"]*/.exec(page) ?? [''];
    expect(page).toContain('practice station A');
    expect(page).not.toContain('where to aim, A');
    const leaf = ask(site, address.replaceAll('&amp;', '&'));
    expect(String(leaf.body)).toContain('where to aim, A, page');
    expect(ask(site, '/leaf?hole=practice&leaf=99').status).toBe(404);
    expect(ask(site, '/leaf?hole=practice&leaf=x').status).toBe(404);
  });
});

describe('a station about the hole, wherever it is dragged', () => {
  const site = siteOf();
  const told = (query: string): StationAnswer => {
    const { status, body } = ask(site, `/station?green=practice&${query}`);
    expect(status).toBe(200);
    return JSON.parse(String(body)) as StationAnswer;
  };
  const figuresAt = (hole: Point, step: number) => {
    const settings = { stimp, past };
    const found = stationOnGreen(surface, green, { name: 'A', hole, settings, step, round: 12 });
    if ('refused' in found) throw new Error(found.refused);
    return found;
  };

  it('is what the command tells, with tees and marker on the green, and follows the hole', () => {
    const first = told('hole=0,9&step=1');
    const { station, ...more } = figuresAt(at, 0.9144);
    expect(first.rows).toEqual(
      stationText({ ...more, station, round: null }, 'imperial').split('\n'),
    );
    expect(first.tees).toEqual(station.tees.map(({ tee }) => [...tee]));
    expect(station.marker?.verdict).toBe('serves');
    expect(first.marker).toEqual([...station.marker!.best.at]);
    expect(first.said).toMatch(/^One marker serves all four/);
    const moved = told('hole=1,7&step=2');
    moved.tees.forEach(([x, y]) => {
      expect(Math.hypot(x - 1, y - 7)).toBeCloseTo(1.8288, 6);
    });
    expect(moved.rows[0]).toContain('2 paces to each tee');
    expect(told('hole=0,9&speed=12&step=1').rows).not.toEqual(first.rows);
  });

  it('has its pages, with the same figures', () => {
    const { status, body } = ask(site, '/station-pages?green=practice&hole=0,9&step=1');
    expect(status).toBe(200);
    const pages = String(body);
    expect(pages).toContain('practice station A');
    expect(pages).toContain('round the hole A');
    const { station } = figuresAt(at, 0.9144);
    for (const tee of station.tees) {
      expect(pages).toContain(`${tee.quadrant}: ${aimWords(tee, { units: 'imperial' })}`);
    }
    expect(String(ask(site, '/?hole=practice').body)).toContain('data-station');
  });

  it('says why there is none off the green, on ground without points and on a green fit for arrows', () => {
    expect(told('hole=0,40').said).toBe(
      'The hole lies off the green: choose a place on the green.',
    );
    expect(ask(site, '/station-pages?green=practice&hole=0,40').status).toBe(404);
    expect(told('hole=0,9&step=40').said).toMatch(/are no station/);
    expect(() => ask(site, '/station?green=practice&hole=0')).toThrow(/hole/);
    const asked = (worth: Partial<GreenContent['worth']>) =>
      answerStation(surface, { ...green, worth: { ...FIT_FOR_TABLES, ...worth } }, at, 1, 'metric');
    expect(asked({ worth: 'arrows' })).toMatchObject({ rows: [], tees: [], marker: null });
    expect(asked({ worth: 'arrows' }).said).toMatch(/^No station: .* fit for fall arrows only/);
    expect(asked({ bare: [at] }).said).toMatch(/ground that was not surveyed/);
    expect(asked({ bare: [[0, 9.75]] }).rows.join(' ')).toMatch(/No one marker: .* not surveyed/);
  });
});

describe('pouring on a green', () => {
  const rough = (): Surface => ({
    ...plane(outline, 0, 0.02),
    trust: {
      ...({} as NonNullable<Surface['trust']>),
      heightDraws: (points) => (normal) => Float64Array.from(points, () => 0.004 * normal()),
    },
  });

  it('is made ready in steps, which change nothing of what is told', () => {
    const [made, begun] = [rough(), rough()];
    let steps = 0;
    while (!drainStep(made, green).ready) steps++;
    expect(steps).toBeGreaterThan(20);
    for (let k = 0; k < 5; k++) expect(drainStep(begun, green).ready).toBe(false);
    const told = [made, begun].map((one) => answerWater(one, green, [at], 'imperial'));
    expect(told[0].streams).toHaveLength(1);
    expect(told[1]).toEqual(told[0]);
    const poor = { ...green, worth: { ...FIT_FOR_TABLES, worth: 'outline' as const } };
    expect(drainStep(rough(), poor)).toEqual({ ready: true });
    expect(JSON.parse(String(ask(siteOf(), '/drain?green=practice').body))).toEqual({
      ready: false,
    });
    expect(ask(siteOf(), '/drain?green=99').status).toBe(404);
  });
});

describe('the teaching view', () => {
  const source = { green, surface, layout, units: 'imperial' } as const;
  const solved = { ...green, locations: [{ ...green.locations[0], ground: fallAt(surface, at) }] };

  it('reveals a green from its outline to a putt from either side', () => {
    const { layers } = teachingGreen({ ...source, green: solved });
    const names = layers.map(({ name }) => name);
    expect(names[0]).toBe('outline');
    expect(names.slice(-2)).toEqual(['putt', 'second-putt']);
    for (const name of ['high-points', 'stream', 'fall', 'bands']) expect(names).toContain(name);
    expect(layers.at(-2)?.told).toMatch(/^From the left: aim \d.* left, pace \d.*\u00a0ft\.$/);
    expect(layers.at(-1)?.told).toMatch(/^From the right: aim \d.* right, pace \d.*\u00a0ft\.$/);
  });

  it('turns the green so that the player looks up the stage', () => {
    const { stands } = teachingGreen({ ...source, green: solved });
    // The ground falls to the front: below the hole one looks as from the approach. The ball on the left looks to the
    // right, which is turned up by a quarter to the left.
    expect(stands.map(({ degrees }) => (Math.abs(degrees) === 0 ? 0 : degrees))).toEqual([
      0, 0, -90, 90,
    ]);
  });

  it('keeps the green on the stage however it is turned', () => {
    const wide: Point[] = [
      [-15, 0],
      [15, 0],
      [15, 20],
      [-15, 20],
    ];
    const worth = { ...green.worth, worth: 'outline' } as const;
    const { frame } = teachingGreen({ ...source, green: { ...green, outline: wide, worth } });
    const corner = Math.hypot(15, 10) * (1000 / frame.scale);
    expect(corner).toBeLessThan(STAGE / 2);
    expect(corner).toBeGreaterThan(0.85 * (STAGE / 2));
  });

  it('tells no more than the survey is worth', () => {
    const of = (worth: 'arrows' | 'outline') =>
      teachingGreen({ ...source, green: { ...solved, worth: { ...green.worth, worth } } });
    expect(of('outline').layers.map(({ name }) => name)).toEqual(['outline']);
    expect(of('arrows').layers.map(({ name }) => name)).not.toContain('putt');
    expect(of('arrows').stands).toHaveLength(1);
  });

  it('is a page of the proof with its layers, words and keys, and nothing from elsewhere', () => {
    const site = siteOf();
    const { status, body } = ask(site, '/teach?hole=practice');
    expect(status).toBe(200);
    const page = String(body);
    expect(page.match(/<g class="layer" data-layer=/g)?.length).toBeGreaterThan(5);
    expect(page).not.toMatch(/(src|href)="https?:/);
    expect(page).not.toContain('style="');
    expect(ask(site, '/teach?hole=99').status).toBe(404);
    const sheet = assetAt(
      { layout, dayLayout: layout, picture: site.picture, scripts: new Map() },
      new URL('http://127.0.0.1/teach.css'),
    );
    expect(String(sheet?.body)).not.toContain('url(');
    expect(String(ask(site, '/?hole=practice').body)).toContain('this green as a lesson');
  });

  it('shades ground that falls toward the light lighter than ground that falls from it', () => {
    const grey = (gx: number, gy: number): number => {
      const { width, height, data } = PNG.sync.read(
        Buffer.from(reliefPicture(plane(outline, gx, gy))),
      );
      const middle = 4 * (Math.floor(height / 2) * width + Math.floor(width / 2));
      // Clear off the green, solid on it.
      expect([data[3], data[middle + 3]]).toEqual([0, 255]);
      expect(width).toBe(Math.ceil((boxOf(outline).maxX - boxOf(outline).minX) / RELIEF_STEP));
      return data[middle];
    };
    const level = grey(0, 0);
    // Light comes from the top left: ground that rises to the bottom right looks at it.
    expect(grey(0.03, -0.03)).toBeGreaterThan(level);
    expect(grey(-0.03, 0.03)).toBeLessThan(level);
    expect(insideRing(outline, 0, 9)).toBe(true);
    expect(ask(siteOf(), '/relief?hole=practice').type).toBe('image/png');
    expect(ask(siteOf(), '/relief?hole=9').status).toBe(404);
  });
});
