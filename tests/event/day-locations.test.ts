import { afterAll, describe, expect, it } from 'vitest';
import { sidesAt } from '../../src/course/frame.js';
import { greenSize } from '../../src/course/green-size.js';
import { loadCourse } from '../../src/course/load-course.js';
import { readDayFile } from '../../src/event/day-file.js';
import { daysOf, locationsByDay, outlineInFrame } from '../../src/event/day-locations.js';
import { InputFault } from '../../src/fault.js';
import { smallCourse } from '../cli/small-course.js';
import { UNTOLD } from './no-today.js';

const small = smallCourse([7, 12]);
const good = small.read();
afterAll(() => small.remove());

const withDays = (lines: string): string =>
  good.replace(/( {2}- hole: 7\n)/, `$1    days:\n${lines.replace(/^/gm, '      ')}\n`);

const loaded = (text: string): ReturnType<typeof loadCourse> => {
  small.write(text);
  try {
    return loadCourse(small.folder);
  } finally {
    small.write(good);
  }
};

const faultOf = (run: () => unknown): string => {
  try {
    run();
  } catch (error) {
    if (error instanceof InputFault) return error.message;
    throw error;
  }
  throw new Error('no fault was found');
};

const HEADER = 'hole,day,on,in,side\n';

describe('hole locations by day', () => {
  const course = loadCourse(small.folder);
  let notes: string[] = [];
  const resolve = (text: string) => {
    notes = [];
    return locationsByDay(course, readDayFile(text, 'days.csv'), 'days.csv', (words) =>
      notes.push(words),
    );
  };

  it('come in the order of days and of the book, each with its point', () => {
    const found = resolve(
      `${HEADER}12,2,11,10,left\n7,1,9,16,left\n7,2,13,5,right\n12,1,11,5,left\n`,
    );
    expect(found.map(({ holeId, day }) => [holeId, day])).toEqual([
      ['7', 1],
      ['12', 1],
      ['7', 2],
      ['12', 2],
    ]);
    expect(daysOf(found)).toEqual([1, 2]);
    // Location A of the course file is the same place.
    const named = course.holes[0].green!.locations.find((one) => one.name === 'A')!;
    expect(found[0].location.at).toEqual(named.at);
  });

  it('keep the tees that a line names, and none where it names none', () => {
    const found = resolve('hole,day,on,in,side,tees\n7,1,9,16,left,Moor +6\n12,1,11,10,left,\n');
    expect(found.map(({ tees }) => tees)).toEqual(['Moor +6', null]);
  });

  it.each([
    [
      '12,1,11,10,left\n9,1,4,4,left\n',
      /days\.csv, line 3: the course has no hole 9; its holes are 7, 12/,
    ],
    [
      '12,1,60,10,left\n',
      /days\.csv, line 2: .*hole 12, day 1.* is off its green; the green reaches/,
    ],
    [
      '12,1,11,40,left\n',
      /days\.csv, line 2: .*\(11 on, 40 from the left\) is off its green; 11 paces on, the green is/,
    ],
  ])('%j has one clear fault with its line', (lines, words) => {
    expect(faultOf(() => resolve(HEADER + lines))).toMatch(words);
    // Nothing was taken for something else before.
    expect(notes).toEqual([]);
  });

  it('are counted from the back by the depth of the green, to a tenth', () => {
    const outline = outlineInFrame(course.holes[1], 'f');
    const alongMiddle = outline.flatMap(([x, y], i) => {
      const [px, py] = outline[(i + outline.length - 1) % outline.length];
      return x > 0 === px > 0 ? [] : [py - (px * (y - py)) / (x - px)];
    });
    const deep = (Math.max(...alongMiddle) - Math.min(...alongMiddle)) / 0.9144;
    for (const back of [3, 4.5, 5.3]) {
      const [one] = resolve(`hole,day,back,in,side\n12,1,${back},5,left\n`);
      expect(one.location.on).toBe(Math.round(10 * (deep - back)) / 10);
      expect(one.location.at[1] / 0.9144).toBeCloseTo(deep - back, 0.9);
    }
  });

  it('may lie half a pace past the middle, no more', () => {
    const [left, right] = sidesAt(outlineInFrame(course.holes[1], 'f'), 11 * 0.9144)!;
    const middle = (right - left) / 2 / 0.9144;
    const [grace] = resolve(`${HEADER}12,1,11,${(middle + 0.4).toFixed(1)},left\n`);
    expect(grace.location).toMatchObject({ side: 'left', in: Number((middle + 0.4).toFixed(1)) });
    expect(notes).toEqual([]);
    const [past] = resolve(`${HEADER}12,1,11,${(middle + 0.6).toFixed(1)},left\n`);
    expect(past.location.side).toBe('right');
    expect(past.location.in).toBeCloseTo(middle - 0.6, 0.7);
  });

  it('lie half way between the sides where the sheet says so, and that is told', () => {
    const [middle] = resolve(`${HEADER}12,1,11,,centre\n`);
    expect(notes).toEqual([
      `days.csv, line 2: the centre 11 on is ${middle.location.in} from the left`,
    ]);
    const [left] = resolve(`${HEADER}12,1,11,4,left\n`);
    const [right] = resolve(`${HEADER}12,1,11,4,right\n`);
    // In whole tenths of a pace.
    expect(
      Math.abs(middle.location.at[0] - (left.location.at[0] + right.location.at[0]) / 2),
    ).toBeLessThan(0.05);
  });

  it('are told where the sheet has another depth of the green than the map', () => {
    const deep = greenSize(outlineInFrame(course.holes[1], 'f')).depth / 0.9144;
    const line = (depth: number) =>
      `hole,day,on,in,side,depth\n12,1,11,5,left,${depth.toFixed(1)}\n`;
    resolve(line(deep + 1.5));
    expect(notes).toEqual([]);
    resolve(line(deep - 2.5));
    expect(notes).toEqual([
      expect.stringMatching(
        /^days\.csv, line 2: the sheet has the green [\d.]+ paces deep, the map [\d.]+: look/,
      ),
    ]);
  });

  it('are taken from the far side and from the back, and that is told', () => {
    const [near] = resolve(`${HEADER}12,1,11,10,left\n`);
    const wide = notes.length;
    expect(wide).toBe(0);
    const [far] = resolve(`${HEADER}12,1,11,18,left\n`);
    expect(far.location.side).toBe('right');
    expect(far.location.in).toBeLessThan(10);
    // In whole tenths, the point is where 18 paces from the left lead.
    expect(far.location.at[0] - near.location.at[0]).toBeCloseTo(8 * 0.9144, 0);
    expect(notes).toEqual([
      expect.stringMatching(
        /^days\.csv, line 2: 18 from the left is past the middle: taken as \d+(\.\d)? from the right$/,
      ),
    ]);
    const [back] = locationsByDay(
      course,
      readDayFile('hole,day,back,in,side\n12,1,4,5,left\n', 'f'),
      'f',
      (words) => notes.push(words),
    );
    expect(notes[1]).toMatch(
      /^f, line 2: 4 from the back is \d+(\.\d)? from the front: the green is/,
    );
    expect(back.location.on).toBeGreaterThan(11);
  });

  it('may stand in the course file, by name or by paces', () => {
    const days = loaded(withDays('1: B\n3: { on: 9, left: 16 }')).holes[0].green!.days;
    expect(days.map(({ day, location }) => [day, location.name, location.on, location.in])).toEqual(
      [
        [1, 'B', 11, 5],
        [3, '3', 9, 16],
      ],
    );
  });

  it('of a file go before those of the course file', () => {
    const both = loaded(withDays('1: B\n2: C'));
    const found = locationsByDay(both, readDayFile(`${HEADER}7,1,9,16,left\n`, 'f'), 'f', UNTOLD);
    expect(found.map(({ day, location }) => [day, location.on])).toEqual([
      [1, 9],
      [2, 13],
    ]);
  });

  it.each([
    [
      '1: Z',
      /course\.yaml, line \d+, holes\[0\]\.days\.1: the green has no hole location "Z"; it has A, B, C, D/,
    ],
    ['1: { on: 90, left: 5 }', /holes\[0\]\.days\.1: .*is off its green/],
    ['first: A', /holes\[0\]\.days/],
    ['1: { on: 9 }', /holes\[0\]\.days.1.?: not in a form that is known/],
  ])('%s in the course file has a fault with line and key', (lines, words) => {
    expect(faultOf(() => loaded(withDays(lines)))).toMatch(words);
  });

  it('name a file that is there', () => {
    expect(faultOf(() => loaded(good.replace('days: days.csv', 'days: dsys.csv')))).toMatch(
      /course\.yaml, line \d+, days: there is no file "dsys\.csv"/,
    );
  });
});
