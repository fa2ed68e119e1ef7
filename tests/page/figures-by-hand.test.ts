import { describe, expect, it } from 'vitest';
import type { ApproachFigures } from '../../src/course/approach-figures.js';
import { crossingsAlongY, greenSize } from '../../src/course/green-size.js';
import type { HazardFigures } from '../../src/course/hazard-figures.js';
import type { HoleFigures, LandmarkFigures } from '../../src/course/hole-figures.js';
import type { Ring } from '../../src/geometry.js';
import { fillForBinding } from '../../src/layout/binding.js';
import type { Layout } from '../../src/layout/layout.js';
import { isPageWithin } from '../../src/layout/rules-limits.js';
import { cardOf } from '../../src/page/front/card-rows.js';
import { fallArrow } from '../../src/page/green/fall-arrow.js';
import { fitGround, onPaper, paperLength } from '../../src/page/green/ground-frame.js';
import { approachModule } from '../../src/page/green/hole-approach.js';
import { pacesGrid } from '../../src/page/green/paces-grid.js';
import { bandName, bandStyle } from '../../src/page/green/slope-bands.js';
import {
  gapLines,
  hazardLines,
  landingLines,
  landmarkLines,
  runOutLines,
  teeColumns,
  teeLines,
} from '../../src/page/hole/hole-words.js';
import { hasHeights, lineHeightMarks } from '../../src/page/hole/line-heights.js';
import { locationWords, paceWords } from '../../src/page/kit/location-words.js';
import type { GreenPageContext, PageContext } from '../../src/page/kit/page-modules.js';
import { speedWords, useWords } from '../../src/page/kit/speed-words.js';
import type { Mark, TextMark } from '../../src/page/marks/marks.js';
import { composePuttFigure } from '../../src/page/putts/putt-figure.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import type { PuttSolution } from '../../src/putt/putt.js';

/** Figures worked out by hand, one line each. */

const said = (lines: readonly (readonly { readonly text: string }[])[]): string[] =>
  lines.map((runs) => runs.map((run) => run.text).join(''));

const textsOf = (marks: readonly Mark[]): TextMark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'text' ? [mark] : 'marks' in mark ? textsOf(mark.marks) : [],
  );

describe('words of a location, a speed and a clock', () => {
  it.each([
    [0, '0'],
    [0.5, '½'],
    [0.3, '½'],
    [3, '3'],
    [3.24, '3'],
    [3.26, '3½'],
    [3.74, '3½'],
    [3.76, '4'],
  ])('%f paces are "%s"', (paces, words) => {
    expect(paceWords(paces)).toBe(words);
  });

  it('put on before in', () => {
    expect(locationWords({ name: 'A', on: 14, in: 5.5, side: 'right' })).toBe(
      '14 on, 5½ from right',
    );
  });

  it('give a speed in feet and inches, or in metres and centimetres', () => {
    expect(speedWords(3.048, 0.3048, { units: 'imperial' })).toBe('speed 10 ft, pace 12 in past');
    expect(speedWords(3.25, 0.3, { units: 'metric' })).toBe('speed 3.25 m, pace 30 cm past');
  });

  it('tell the three uses apart', () => {
    expect(useWords('practice', {})).toContain('practice');
    expect(useWords('play', {})).toContain('play');
    expect(useWords('committee', {})).toContain('committee');
  });

  it.each([
    [0, '12'],
    [0.2, '12'],
    [0.5, '12½'],
    [1, '1'],
    [6, '6'],
    [5.6, '5½'],
    [11.5, '11½'],
    [11.8, '12'],
    [12, '12'],
  ])('%f hours are %s o’clock', (hours, words) => {
    const putt = {
      status: 'holed',
      ball: [0, 0],
      hole: [0, 3],
      length: 3,
      path: [
        [0, 0],
        [0, 3],
      ],
      aimAngle: 0,
      aimOffset: 0,
      aimWindow: [-0.01, 0.01],
      pace: 3,
      entryClock: hours,
    } as unknown as PuttSolution;
    const figure = { putt, stimp: 3, past: 0.3, aimSd: null, falls: [], units: 'metric' } as const;
    const said = textsOf(composePuttFigure(figure, measureWith(openFonts())).marks).map(
      (mark) => mark.text,
    );
    expect(said).toContain(`pace 3.0 m · in at ${words} o'clock`);
  });
});

describe('labels of a hole', () => {
  const hazard = (over: Partial<HazardFigures>): HazardFigures =>
    ({
      kind: 'bunker',
      carries: [],
      toMiddle: null,
      risesToMiddle: [null, null],
      ...over,
    }) as HazardFigures;

  it('round a carry up and a reach down, one figure a tee', () => {
    const carries = [
      { reach: 200.9, carry: 210.1, rise: null },
      null,
      { reach: 150.2, carry: 160.9, rise: 2.4 },
    ];
    expect(said(hazardLines(hazard({ carries }), [0, 1, 2], { units: 'metric' }))).toEqual([
      'carry 211 – 161',
      'reach 200 – 150',
    ]);
    expect(said(hazardLines(hazard({ carries }), [2, 0], { units: 'metric' }))).toEqual([
      'carry 161 211',
      'reach 150 200',
    ]);
    // 100 yd exactly stay 100.
    const even = [{ reach: 91.44, carry: 91.44, rise: null }];
    expect(said(hazardLines(hazard({ carries: even }), [0], { units: 'imperial' }))).toEqual([
      'carry 100',
      'reach 100',
    ]);
  });

  it('say what a carry and a drive play as where the rise makes three or more', () => {
    const rising = (rise: number) =>
      hazard({
        carries: [
          { reach: 200.9, carry: 210.1, rise },
          { reach: 150, carry: 160, rise: 1 },
        ],
      });
    expect(said(hazardLines(rising(-4.6), [0, 1], { units: 'metric' }))).toEqual([
      'carry 211 160',
      'plays 206 161',
      'reach 200 150',
    ]);
    expect(said(hazardLines(rising(2.4), [0, 1], { units: 'metric' }))).toHaveLength(2);
    // 3 yd are 2.74 m.
    expect(said(hazardLines(rising(2.6), [0], { units: 'imperial' }))).toEqual([
      'carry 230',
      'plays 233',
      'reach 219',
    ]);
    const figures = {
      landing: {
        width: null,
        fromTees: [230, 215],
        rises: [7.4, null],
        toMiddle: 141,
        riseToMiddle: -5.6,
      },
    } as unknown as HoleFigures;
    expect(said(landingLines(figures, [0, 1], { units: 'metric' }))).toEqual([
      'drive 230 215',
      'plays 237 –',
      'leaves 141 plays 135',
    ]);
  });

  it('draw the ground along the line with the rise of landing place, hazards and green', () => {
    const heights = Array.from({ length: 6 }, (_, i) => ({ along: 80 * i, rise: 2.4 * i }));
    const hole = {
      tees: [{ name: 'Back' }],
      heights,
      landing: { along: 230 },
      hazards: [
        { along: 300, crosses: true, greenside: false },
        // Its figure has no room beside that of the landing place.
        { along: 226, crosses: false, greenside: false },
        { along: 395, crosses: false, greenside: true },
      ],
    } as unknown as HoleFigures;
    const layout = { type: { small: 6 } } as Layout;
    const told = (units: 'metric' | 'imperial'): string[] => {
      const context = { layout, book: { units }, measure: () => 4 } as unknown as PageContext;
      const [group] = lineHeightMarks(
        hole,
        { cell: { x: 0, y: 0, width: 60, height: 20 }, high: 7.5 },
        context,
      );
      return group.kind === 'group'
        ? group.marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []))
        : [];
    };
    // 12.0, 6.9 and 9.0 m.
    expect(told('metric').slice(1)).toEqual(['+12', '+7', '+9']);
    expect(told('metric')[0]).toMatch(/^rise from Back along the line, m/);
    expect(told('imperial').slice(1)).toEqual(['+13', '+8', '+10']);
    expect(hasHeights(hole)).toBe(true);
    const level = heights.map(({ along }) => ({ along, rise: 0.1 }));
    expect(hasHeights({ ...hole, heights: level })).toBe(false);
    expect(hasHeights({ ...hole, heights: [] })).toBe(false);
  });

  it('give a hazard out of reach from its near and its far edge to the middle', () => {
    expect(
      said(hazardLines(hazard({ carries: [null], toMiddle: [80, 60] }), [0], { units: 'metric' })),
    ).toEqual(['80–60 to middle']);
    const water = hazard({ kind: 'water', carries: [null], toMiddle: [80, 60] });
    expect(said(hazardLines(water, [0], { units: 'metric' }))).toEqual(['80–60 water']);
  });

  it('give what a hazard out of reach and a lay-up play as, where the ground rises or falls by three', () => {
    const far = { carries: [null], toMiddle: [80, 60], risesToMiddle: [6.4, 2.6] } as const;
    // 80 + 6 and 60 + 3; 87 + 7 and 66 + 3 yards.
    expect(said(hazardLines(hazard(far), [0], { units: 'metric' }))).toEqual([
      '80–60 to middle',
      'plays 86–63',
    ]);
    expect(said(hazardLines(hazard(far), [0], { units: 'imperial' }))).toEqual([
      '87–66 to middle',
      'plays 94–69',
    ]);
    const flat = hazard({ ...far, risesToMiddle: [2.4, -2.4] });
    expect(said(hazardLines(flat, [0], { units: 'metric' }))).toHaveLength(1);
    const gap = { toMiddle: [150, 100], risesToMiddle: [-4, -1] } as const;
    expect(said(gapLines(gap, { units: 'metric' }))).toEqual(['lay up 150–100', 'plays 146–99']);
    const unknown = { ...gap, risesToMiddle: [-4, null] } as const;
    expect(said(gapLines(unknown, { units: 'metric' }))).toEqual(['lay up 150–100']);
  });

  it('name front, middle and back of a landmark in this order', () => {
    const tree = { name: 'oak', front: 100, middle: 110, back: 121 } as LandmarkFigures;
    expect(said(landmarkLines(tree, { units: 'metric' }))).toEqual(['oak', '100 110 121']);
    expect(said(landmarkLines({ ...tree, front: null }, { units: 'metric' }))).toEqual([
      'oak',
      '110',
    ]);
  });

  it('give the drive, what it leaves and where the fairway ends by the tees that are shown', () => {
    const figures = {
      landing: {
        width: 27.4,
        fromTees: [230, 215, 190],
        rises: [],
        toMiddle: 141,
        riseToMiddle: null,
      },
      runOut: { fromTees: [260.9, null, 221.2] },
    } as unknown as HoleFigures;
    expect(said(landingLines(figures, [0, 2], { units: 'metric' }))).toEqual([
      'fairway 27 wide',
      'drive 230 190',
      'leaves 141',
    ]);
    const short = { landing: { ...figures.landing, laidUp: true } } as HoleFigures;
    expect(said(landingLines(short, [0], { units: 'metric' }))).toContain('laid up 230');
    expect(said(runOutLines(figures, [0, 1, 2], { units: 'metric' }))).toEqual([
      'runs out 260 – 221',
    ]);
    expect(runOutLines(figures, [1], { units: 'metric' })).toEqual([]);
  });

  it('give a lay-up and a tee in the units shown', () => {
    expect(
      said(
        gapLines({ toMiddle: [182.88, 91.44], risesToMiddle: [null, null] }, { units: 'imperial' }),
      ),
    ).toEqual(['lay up 200–100']);
    expect(said(teeLines('White', 365.76, { units: 'imperial' }))).toEqual(['White 400']);
  });

  it('show four of many tees, both ends among them', () => {
    expect(teeColumns(3)).toEqual([0, 1, 2]);
    expect(teeColumns(4)).toEqual([0, 1, 2, 3]);
    expect(teeColumns(7)).toEqual([0, 2, 4, 6]);
  });
});

describe('the card', () => {
  const hole = (id: number, lengths: Record<string, number>, par: number | null = 4): HoleFigures =>
    ({
      id: `${id}`,
      name: `Hole ${id}`,
      par,
      strokeIndex: 19 - id,
      tees: Object.entries(lengths).map(([name, length]) => ({ name, length })),
    }) as unknown as HoleFigures;
  const eighteen = Array.from({ length: 18 }, (_, i) =>
    hole(i + 1, { White: 300.4 + i, Red: 250 + i }),
  );

  it('puts the longer tees first and a sum after each nine, out before in', () => {
    const { tees, rows } = cardOf(eighteen, { units: 'metric' });
    expect(tees).toEqual(['White', 'Red']);
    expect(rows.filter(({ kind }) => kind === 'sum').map(({ name }) => name)).toEqual([
      'out',
      'in',
      'total',
    ]);
    expect(rows[0]).toMatchObject({ number: '1', par: 4, index: 18, lengths: [300, 250] });
    expect(rows[9]).toMatchObject({ kind: 'sum', name: 'out', par: 36, lengths: [2736, 2286] });
    expect(rows[10].number).toBe('10');
    // Nine times 309 to 317, and their lesser tees.
    expect(rows[19]).toMatchObject({ name: 'in', lengths: [2817, 2367] });
    expect(rows[20]).toMatchObject({ name: 'total', par: 72, lengths: [5553, 4653] });
  });

  it('has no sum where a hole lacks the figure, and yards where they are asked for', () => {
    const { rows } = cardOf(
      [hole(1, { White: 91.44 }, null), hole(2, { White: 182.88, Red: 90 })],
      { units: 'imperial' },
    );
    expect(rows.map((row) => row.lengths)).toEqual([
      [100, null],
      [200, 98],
      [300, null],
    ]);
    expect(rows[2].par).toBeNull();
  });
});

describe('the ground on paper', () => {
  const square: Ring = [
    [-8, 0],
    [8, 0],
    [8, 20],
    [-8, 20],
  ];

  it('is centred, front edge down, at the scale or the next round smaller one', () => {
    const cell = { x: 10, y: 20, width: 40, height: 50 };
    const frame = fitGround(cell, { minX: -8, minY: 0, maxX: 8, maxY: 20 }, 480);
    expect(frame.scale).toBe(480);
    expect(onPaper(frame, 0, 10)[0]).toBeCloseTo(30, 9);
    expect(onPaper(frame, 0, 10)[1]).toBeCloseTo(45, 9);
    expect(onPaper(frame, 4.8, 0)[0]).toBeCloseTo(40, 9);
    expect(onPaper(frame, 0, 19.6)[1]).toBeCloseTo(25, 9);
    expect(paperLength(frame, 4.8)).toBeCloseTo(10, 9);
    // 20 m on 40 mm need 1:500.
    expect(
      fitGround({ ...cell, height: 40 }, { minX: -8, minY: 0, maxX: 8, maxY: 20 }, 480).scale,
    ).toBe(500);
    expect(
      fitGround({ ...cell, width: 31 }, { minX: -8, minY: 0, maxX: 8, maxY: 20 }, 480).scale,
    ).toBe(520);
  });

  it('is as deep as it is on its middle line and as wide as its box', () => {
    expect(greenSize(square)).toEqual({ depth: 20, width: 16 });
    const slanted: Ring = [
      [-8, 0],
      [8, 4],
      [8, 20],
      [-8, 16],
    ];
    expect(crossingsAlongY(slanted, 0)).toEqual([2, 18]);
    expect(greenSize(slanted)).toEqual({ depth: 16, width: 16 });
  });

  it('has paces on up both sides, and paces in from the nearer side along the foot', () => {
    const frame = fitGround(
      { x: 0, y: 0, width: 80, height: 80 },
      { minX: -12, minY: 0, maxX: 12, maxY: 20 },
      400,
    );
    const wide: Ring = square.map(([x, y]) => [x * 1.5, y]);
    const figures = textsOf(pacesGrid(frame, wide, 6).figures).map((mark) => ({
      text: mark.text,
      x: mark.at[0],
      align: mark.align,
    }));
    expect(figures.slice(0, 10).map(({ text }) => text)).toEqual([
      '0',
      '0',
      '5',
      '5',
      '10',
      '10',
      '15',
      '15',
      '20',
      '20',
    ]);
    const foot = figures.slice(10);
    expect(foot.map(({ text }) => text)).toEqual(['5', '10', '5', '10']);
    const at = (paces: number, side: 1 | -1): number =>
      onPaper(frame, side * (12 - paces * 0.9144), 0)[0];
    [at(5, -1), at(10, -1), at(5, 1), at(10, 1)].forEach((x, i) => {
      expect(foot[i].x).toBeCloseTo(x, 9);
    });
  });

  it('keeps its figures off hazards where the other side is free, and loses none', () => {
    const frame = fitGround(
      { x: 0, y: 0, width: 80, height: 80 },
      { minX: -12, minY: 0, maxX: 12, maxY: 20 },
      400,
    );
    const wide: Ring = square.map(([x, y]) => [x * 1.5, y]);
    const at = (points: Ring) => points.map(([x, y]) => onPaper(frame, x, y));
    const figuresBeside = (...hazards: readonly Ring[]) =>
      textsOf(pacesGrid(frame, wide, 6, hazards.map(at)).figures);
    const box = (x0: number, y0: number, x1: number, y1: number): Ring => [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
    ];
    // 4 to 10 yards on, beside the right edge: 5 stands on the left alone, and so does 10 at the bunker's lip.
    const right = figuresBeside(box(12.5, 3.6, 16, 8.9)).slice(0, 8);
    expect(right.map(({ text }) => text)).toEqual(['0', '0', '5', '10', '15', '15', '20', '20']);
    expect(right[2].align).toBe('right');
    // Before the front, on the left: what is counted there stands over the green.
    const [over, ...rest] = figuresBeside(box(-9, -3, -6, -0.5)).slice(10);
    expect(over.at[1]).toBeLessThan(onPaper(frame, 0, wide[2][1])[1]);
    expect(rest.every((mark) => mark.at[1] > onPaper(frame, 0, 0)[1])).toBe(true);
    // Sand on both sides: the figure stays.
    expect(figuresBeside(box(12.5, 3.6, 16, 6), box(-16, 3.6, -12.5, 6))).toHaveLength(14);
  });

  it('has an arrow that points where the ground falls and grows with its grade', () => {
    const tipOf = (grade: number) => fallArrow([0, 0], [1, 0], grade).steps[3][1] as number;
    expect(2 * tipOf(0.01)).toBeCloseTo(2.32, 9);
    expect(2 * tipOf(0.2)).toBeCloseTo(4.6, 9);
    const { steps } = fallArrow([10, 10], [0, 1], 0.02);
    const ys = steps.flatMap((step) => (step[0] === 'Z' ? [] : [step[2] as number]));
    const tip = steps[3];
    expect(tip[2]).toBeCloseTo(10 + 2.94 / 2, 9);
    expect(Math.max(...ys)).toBe(tip[2]);
  });

  it('is darker the steeper it is', () => {
    const tones = [0, 1, 2, 3, 4].map((i) => bandStyle(i, 5));
    expect(tones.map(({ tone }) => Number(tone.toFixed(4)))).toEqual([
      0, 0.16, 0.3533, 0.5467, 0.74,
    ]);
    expect(tones.map(({ pitch }) => pitch)).toEqual([null, null, null, 1.25, 0.62]);
    expect(bandName(0, 0.01, {})).toBe('under 1 %');
    expect(bandName(0.01, 0.02, {})).toBe('1–2 %');
    expect(bandName(0.04, Infinity, {})).toBe('over 4 %');
  });
});

describe('the approach table', () => {
  const row = (name: string, hazard: ApproachFigures['hazard']): ApproachFigures => ({
    name,
    front: 9.144,
    back: 18.288,
    left: 4.572,
    right: 6.4008,
    hazard,
  });
  const textsFor = (...rows: ApproachFigures[]): TextMark[] => {
    const context = {
      layout: { type: { table: 8, small: 6 } },
      book: {},
      measure: (words: string) => words.length,
      green: { locations: rows.map((approach) => ({ approach })) },
    } as unknown as GreenPageContext;
    return textsOf(approachModule(context, { x: 0, y: 0, width: 90, height: 40 }));
  };

  it('has each figure under its own heading', () => {
    const texts = textsFor(row('A', { kind: 'bunker', beyond: 13.716 }), row('B', null));
    const under = (head: string): string[] => {
      const { at } = texts.find((mark) => mark.text === head)!;
      return texts
        .filter((mark) => Math.abs(mark.at[0] - at[0]) < 1e-9 && mark.at[1] > at[1])
        .map((mark) => mark.text);
    };
    expect(under('front')).toEqual(['10', '10']);
    expect(under('back')).toEqual(['20', '20']);
    expect(under('left')).toEqual(['5', '5']);
    expect(under('right')).toEqual(['7', '7']);
    expect(under('past hazard')).toEqual(['bunker 15', '–']);
  });

  it('leaves out the hazard where there is none', () => {
    expect(textsFor(row('A', null)).map((mark) => mark.text)).not.toContain('past hazard');
  });
});

describe('pages and sheets', () => {
  const pages = (n: number) =>
    Array.from({ length: n }, (_, i) => ({ id: `p${i + 1}`, label: `${i + 1}`, marks: ['x'] }));

  it.each([
    ['loose', 5, 5],
    ['saddle stitch', 5, 8],
    ['saddle stitch', 8, 8],
    ['perfect', 5, 6],
    ['wire-o', 7, 8],
    ['fold-up', 7, 7],
  ] as const)('%s binding takes %i pages as %i', (method, from, to) => {
    const filled = fillForBinding(pages(from), method, (_, id, label) => ({
      id,
      label,
      marks: [],
    }));
    expect(filled.length).toBe(to);
    expect(filled.map((page) => page.label)).toEqual(pages(to).map((page) => page.label));
    expect(filled.slice(from).every((page) => page.marks.length === 0)).toBe(true);
  });

  it('are within the limit of the Rules at 4 1/4 by 7 in, upright or across, and not beyond', () => {
    expect(isPageWithin(107.95, 177.8)).toBe(true);
    expect(isPageWithin(177.8, 107.95)).toBe(true);
    expect(isPageWithin(108.2, 177.8)).toBe(false);
    expect(isPageWithin(107.95, 178.1)).toBe(false);
  });
});
