import { describe, expect, it } from 'vitest';
import { readDayFile, writeDayFile } from '../../src/event/day-file.js';
import { InputFault } from '../../src/fault.js';

const faultOf = (text: string): InputFault => {
  try {
    readDayFile(text, 'days.csv');
  } catch (error) {
    if (error instanceof InputFault) return error;
    throw error;
  }
  throw new Error('no fault was found');
};

describe('a file of days', () => {
  it('is read whatever the order of its columns, its separator and its line ends', () => {
    const plain = readDayFile('hole,day,on,in,side\n7,2,12,5,left\n07,3,4.5,6½,R\n', 'f');
    expect(plain).toEqual([
      { hole: '7', day: 2, on: 12, in: 5, side: 'left', line: 2 },
      { hole: '7', day: 3, on: 4.5, in: 6.5, side: 'right', line: 3 },
    ]);
    const other = readDayFile(
      '\uFEFF# day sheet\r\nDay;Side;Hole;In;On\r\n\r\n2;Left;7;5;12\r\n3; r ;"7";6,5;4,5\r\n',
      'f',
    );
    expect(other.map(({ line, ...rest }) => rest)).toEqual(plain.map(({ line, ...rest }) => rest));
    expect(other.map(({ line }) => line)).toEqual([4, 5]);
  });

  it('comes back from what is written', () => {
    const entries = [
      { hole: '1', day: 1, on: 10, in: 5, side: 'left' as const },
      { hole: 'practice', day: 2, on: 4.5, in: 3, side: 'right' as const },
    ];
    expect(readDayFile(writeDayFile(entries), 'f').map(({ line, ...rest }) => rest)).toEqual(
      entries,
    );
  });

  it.each([
    ['', 'days.csv: the file is empty; its first line is hole,day,on,in,side'],
    ['hole,day,on,in\n', 'line 1: the column "side" is missing'],
    ['hole,day,on,in,sde\n', 'line 1: unknown column "sde"'],
    ['hole,day,on,in,side,side\n', 'line 1: the column "side" stands twice'],
    ['hole,day,on,in,side\n7,2,12,5\n', 'line 2: 4 values for 5 columns'],
    ['hole,day,on,in,side\n7,0,12,5,left\n', 'line 2: "0" is no day'],
    ['hole,day,on,in,side\n7,1.5,12,5,left\n', 'line 2: "1.5" is no day'],
    ['hole,day,on,in,side\n7,1,twelve,5,left\n', 'line 2: "twelve" in column "on" is no number'],
    ['hole,day,on,in,side\n7,1,12,-5,left\n', 'line 2: "-5" in column "in" is no number'],
    ['hole,day,on,in,side\n7,1,12,,left\n', 'line 2: "" in column "in" is no number'],
    ['hole,day,on,in,side\n7,1,1e3,5,left\n', 'line 2: "1e3" in column "on" is no number'],
    ['hole,day,on,in,side\n7,1,12,5,centre\n', 'line 2: "centre" is no side; write left or right'],
    ['hole,day,on,in,side\n,1,12,5,left\n', 'line 2: the hole is missing'],
    [
      'hole,day,on,in,side\n7,1,12,5,left\n\n07,1,13,5,left\n',
      'line 4: hole 7 already has a location on day 1, in line 2',
    ],
  ])('%j has one clear fault with its line', (text, words) => {
    const { message } = faultOf(text);
    expect(message).toContain('days.csv');
    expect(message).toContain(words);
    expect(message).not.toContain('\n');
  });
});
