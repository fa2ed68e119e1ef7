import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { pointOfLocation } from '../../src/course/frame.js';
import { loadCourse } from '../../src/course/load-course.js';
import { outlineInFrame } from '../../src/event/day-locations.js';
import { type NoteSign, readNotes } from '../../src/event/notes-file.js';
import { InputFault } from '../../src/fault.js';
import { openFonts } from '../../src/print/fonts.js';

const folder = new URL('../../course-data/vellamoor', import.meta.url).pathname;
const course = loadCourse(folder);
const { refuseLacking } = openFonts().note;
const read = (text: string) => readNotes(text, 'notes.yaml', course, refuseLacking);

const faultOf = (text: string): string => {
  try {
    read(text);
  } catch (error) {
    if (error instanceof InputFault) return error.message;
    throw error;
  }
  throw new Error('no fault was found');
};

describe('notes', () => {
  it('of the demo are read, their marks placed on the greens', () => {
    const notes = read(readFileSync(`${folder}/notes.yaml`, 'utf8'));
    expect(notes.by).toBe('the caddie');
    const seven = notes.holes.find((one) => one.holeId === '7')!;
    const hole = course.holes.find((one) => one.id === '7')!;
    const outline = outlineInFrame(hole, course.file);
    const cross = seven.marks.find((mark) => mark.sign === 'cross')!;
    expect(cross.at).toEqual(
      pointOfLocation(outline, { name: '', on: 17, in: 4, side: 'left' }, {}),
    );
    expect(cross.text).toBe('not here');
  });

  it('keep the direction of each sign that has one, and no other', () => {
    const { marks } = read(
      'notes: [{ hole: 1, marks: [{ sign: wind, clock: 10 }, { sign: ring }, { sign: arrow, clock: 4 }] }]',
    ).holes[0];
    expect(marks.map(({ sign, clock }) => [sign, clock])).toEqual([
      ['wind', 10],
      ['ring', null],
      ['arrow', 4],
    ]);
  });

  it('take a slope felt and a putt that was holed in their places', () => {
    const { marks, putts } = read(
      'notes: [{ hole: 1, felt: [{ on: 12, left: 5, grade: 2.5, clock: 5 }], putts: [{ from: { on: 9, left: 5 }, to: a, aim: 3½ ft R, speed: 10.5ft }] }]',
    ).holes[0];
    expect(marks).toMatchObject([{ sign: 'arrow', clock: 5, text: '2.5 %' }]);
    const [{ ball, hole, aim, stimp, words }] = putts;
    const { green } = course.holes.find((one) => one.id === '1')!;
    expect(hole).toEqual(green!.locations.find(({ name }) => name === 'A')!.at);
    expect(ball[1]).toBeCloseTo(9 * 0.9144, 9);
    expect(aim).toBeCloseTo(-3.5 * 0.3048, 9);
    expect(stimp).toBeCloseTo(10.5 * 0.3048, 9);
    expect(words).toBe('9 on, 5 left to a');
  });

  it('may be written in Latin, Greek and Cyrillic letters', () => {
    const text = 'Čéß ½ – “wait” / Άνεμος αριστερά / Ветер слева, ёж';
    expect(
      read(`notes:\n  - hole: 1\n    text: "${text.replaceAll('"', '\\"')}"\n`).holes[0].text,
    ).toBe(text);
  });

  it.each([
    ['notes:\n  - hole: 19\n    text: x\n', 'line 2, notes[0].hole: the course has no hole 19'],
    [
      'notes:\n  - hole: 1\n    txt: x\n',
      'line 3, notes[0].txt: unknown key "txt"; did you mean "text"?',
    ],
    ['notes:\n  - hole: 1\n  - hole: 1\n', 'line 3, notes[1].hole: hole 1 stands twice'],
    [
      'notes:\n  - hole: 1\n    marks:\n      - { sign: rung }\n',
      'line 4, notes[0].marks[0].sign: "rung" is not one of',
    ],
    [
      'notes:\n  - hole: 1\n    marks:\n      - { sign: wind }\n',
      'line 4, notes[0].marks[0].sign: the sign "wind" needs a direction; give it by clock',
    ],
    [
      'notes:\n  - hole: 1\n    marks:\n      - { sign: ring, clock: 3 }\n',
      'line 4, notes[0].marks[0].clock: the sign "ring" has none',
    ],
    [
      'notes:\n  - hole: 1\n    marks:\n      - { sign: ring, on: 12 }\n',
      'line 4, notes[0].marks[0]: not in a form that is known; a place is given by on and one of',
    ],
    [
      'notes:\n  - hole: 1\n    marks:\n      - { sign: ring, left: 5 }\n',
      'line 4, notes[0].marks[0]: the key "on" is missing',
    ],
    [
      'notes:\n  - hole: 1\n    marks:\n      - sign: ring\n        on: 99\n        left: 5\n',
      'line 5, notes[0].marks[0].on: hole location of the ring (99 on, 5 from the left) is off its green',
    ],
    [
      'notes:\n  - hole: 1\n    marks:\n      - { sign: wind, clock: 13 }\n',
      'line 4, notes[0].marks[0].clock: 13 is more than 12',
    ],
    [`notes:\n  - hole: 1\n    text: ${'x'.repeat(241)}\n`, 'line 3, notes[0].text'],
    ['notes:\n  - hole: 1\n    text: 風\n', 'line 3, notes[0].text: "風" needs the character "風"'],
    [
      'notes:\n  - hole: 1\n    putts:\n      - { from: { on: 9, left: 5 }, to: A, aim: some left }\n',
      'line 4, notes[0].putts[0]: "some left" is no aim; write as in: 14 in left',
    ],
    [
      'notes:\n  - hole: 1\n    putts:\n      - { from: { on: 9, left: 5 }, to: Z, aim: straight }\n',
      'line 4, notes[0].putts[0]: hole 1 has no hole location "Z"; its locations are A, B, C, D',
    ],
    [
      'notes:\n  - hole: 1\n    putts:\n      - { from: { on: 9, left: 5 }, to: A, aim: straight, speed: 3.5 m/s }\n',
      'line 4, notes[0].putts[0]: "3.5 m/s" is no green speed; write as in: 10.5ft, 3.2m',
    ],
    [
      'notes:\n  - hole: 1\n    putts:\n      - { from: { on: 90, left: 5 }, to: A, aim: straight }\n',
      'line 4, notes[0].putts[0]: hole location of the ball (90 on, 5 from the left) is off its green',
    ],
    [
      'notes:\n  - hole: 1\n    felt:\n      - { on: 12, left: 5, grade: 2.5 }\n',
      'line 4, notes[0].felt[0]: the key "clock" is missing',
    ],
    ['notes: [\n', 'line 2: not valid YAML'],
    ['', 'the file is empty'],
  ])('%j has one clear fault with line and key', (text, words) => {
    const message = faultOf(text);
    expect(message).toContain(words);
    expect(message.startsWith('notes.yaml, line')).toBe(true);
    expect(message).not.toContain('\n');
  });

  it('name each sign that the schema allows, and no other', () => {
    const schema = JSON.parse(
      readFileSync(new URL('../../src/event/notes.schema.json', import.meta.url), 'utf8'),
    );
    const signs: NoteSign[] = schema.$defs.mark.properties.sign.enum;
    for (const sign of signs) {
      const clock = ['arrow', 'wind', 'grain', 'hop'].includes(sign) ? ', clock: 4' : '';
      expect(
        read(`notes: [{ hole: 1, marks: [{ sign: ${sign}${clock} }] }]`).holes[0].marks[0].sign,
      ).toBe(sign);
    }
  });
});
