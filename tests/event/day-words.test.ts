import { describe, expect, it } from 'vitest';
import { readDayFile } from '../../src/event/day-file.js';
import { lineInWords } from '../../src/event/day-words.js';
import { teesOfCourse } from '../../src/event/todays-tees.js';
import { windArgument } from '../../src/event/wind.js';

describe('a line of a sheet in words', () => {
  it.each([
    ['7 12 5L', ['7', 12, 5, 'left', false]],
    ['07, 12, L5', ['7', 12, 5, 'left', false]],
    ['Hole 7: 12 on, 5 left', ['7', 12, 5, 'left', false]],
    ['3) 12½ on 4.5 from the left', ['3', 12.5, 4.5, 'left', false]],
    ['12: back 6, right 4 1/2', ['12', 6, 4.5, 'right', true]],
    ['7\t4 from back\t3 m from right', ['7', 4, 3.281, 'right', true]],
    ['9 36ft 15ft right', ['9', 12, 5, 'right', false]],
    ['18 F12 R6', ['18', 12, 6, 'right', false]],
    ['1 Front 14 Left 5', ['1', 14, 5, 'left', false]],
    ['10 14 on / 6 in from left edge', ['10', 14, 6, 'left', false]],
    ['4 22 yards from front 6 yards right', ['4', 22, 6, 'right', false]],
    ['practice 4 3 left', ['practice', 4, 3, 'left', false]],
    ['b7 12 on 5 left', ['B7', 12, 5, 'left', false]],
    ['Hole A9: 12 on, 5 left', ['A9', 12, 5, 'left', false]],
    ['7, 12, 5, L', ['7', 12, 5, 'left', false]],
    ['7,12,L,5', ['7', 12, 5, 'left', false]],
    ['7;12,5;5;R', ['7', 12.5, 5, 'right', false]],
    ['7 | 12 | L5', ['7', 12, 5, 'left', false]],
    ['7-12-5L', ['7', 12, 5, 'left', false]],
    ['7) 12 - L-5', ['7', 12, 5, 'left', false]],
    ['10th 12 5 rt', ['10', 12, 5, 'right', false]],
  ] as const)('%j', (line, [hole, on, inn, side, fromBack]) => {
    const found = lineInWords(line)!;
    expect([found.hole, found.side, found.fromBack ?? false]).toEqual([hole, side, fromBack]);
    expect(found.on).toBeCloseTo(on, 3);
    expect(found.in).toBeCloseTo(inn, 3);
  });

  it.each(['7 12 C', '7: 12 on, centre', 'Hole 7 12 ctr', '7 on 12 / in the middle'])(
    '%j is half way between the sides',
    (line) => expect(lineInWords(line)).toMatchObject({ hole: '7', on: 12, isCentred: true }),
  );

  it.each([
    '7 12 5 C',
    '7 C',
    '7 12 C 5',
    '7 12 5',
    '7 12L',
    'hole,day,on,in,side',
    '7 twelve 5 left',
    'left',
    '7 12 L5R',
    '',
  ])('%j is none', (line) => expect(lineInWords(line)).toBeNull());

  it('is told from one at once, however long its blanks', () => {
    expect(lineInWords(`7${' '.repeat(100_000)}12 5 up`)).toBeNull();
    expect(lineInWords(`7 ${'1'.repeat(100_000)} 5 left`)).toBeNull();
  });
});

describe('a file read for one day', () => {
  const odd = 'hole,day,on,in,side\n7,1,12,5,left\n7,4,twelve,5,left\n8,4\n8,Sunday,1,1,up\n';

  it('is not stopped by a line of another', () => {
    expect(readDayFile(odd, 'f', { day: 1 })).toHaveLength(1);
    expect(() => readDayFile(odd, 'f')).toThrow(/line 3: "twelve" in column "on"/);
    expect(() => readDayFile(odd, 'f', { day: 4 })).toThrow(/line 3: "twelve" in column "on"/);
  });

  it('may be a sheet in words, or leave the day and the side out of its header', () => {
    const words = readDayFile('# Thursday\n1 8 6L\n\n2: 12 on, 6 right\n', 'f', { day: 2 });
    expect(words.map(({ hole, day, on, side, line }) => [hole, day, on, side, line])).toEqual([
      ['1', 2, 8, 'left', 2],
      ['2', 2, 12, 'right', 4],
    ]);
    const table = readDayFile('Hole;Front (m);In\n1;7,3;5L\n2;20;right 4\n', 'f', { day: 2 });
    expect(table[0].on).toBeCloseTo(7.3 / 0.9144, 9);
    expect(table.map(({ in: inn, side }) => [inn, side])).toEqual([
      [5, 'left'],
      [4, 'right'],
    ]);
  });

  it('may say in words or in a cell that the hole is half way between the sides', () => {
    const isCentred = true;
    const header = 'hole,on,in,side\n';
    expect(readDayFile('1 8 6L\n2 9 C\n', 'f', { day: 1 })[1]).toMatchObject({ on: 9, isCentred });
    for (const cells of ['2,9,,C', '2,9,0,centre', '2,9,-,middle']) {
      expect(readDayFile(`${header}${cells}\n`, 'f', { day: 1 })).toMatchObject([
        { on: 9, isCentred },
      ]);
    }
    expect(readDayFile('hole,on,in\n2,9,Ctr\n', 'f', { day: 1 })).toMatchObject([{ isCentred }]);
    for (const cells of ['2,9,5,C', '2,9,C,left']) {
      expect(() => readDayFile(`${header}${cells}\n`, 'f', { day: 1 })).toThrow(/line 2: /);
    }
  });

  it('names the line that is none, and a column that is misspelt', () => {
    expect(() => readDayFile('1 8 6L\n2 12 6\n', 'f', { day: 2 })).toThrow(
      /f, line 2: "2 12 6" is no hole location; write as in: 7 12 on 5 left/,
    );
    expect(() => readDayFile('hole,day,on,in,sid\n', 'f')).toThrow(/did you mean "side"\?/);
    expect(() => readDayFile('1 8 6L\n', 'f')).toThrow(/line 1: unknown column/);
  });

  it('counts from the back, and takes the tees along', () => {
    const [entry] = readDayFile('hole,back,in,side,tees\n7,4,5,left,Moor -10\n', 'f', { day: 1 });
    expect(entry).toMatchObject({ on: 4, fromBack: true, tees: 'Moor -10' });
  });

  it('takes a dash after the hole for no sign of a figure', () => {
    const text = 'Hole 2 - 8 from the back, 6R\n3 \u2013 12 on, 5 left\n';
    expect(readDayFile(text, 'f', { day: 2 })).toMatchObject([
      { hole: '2', on: 8, in: 6, side: 'right', fromBack: true },
      { hole: '3', on: 12, in: 5, side: 'left' },
    ]);
    expect(() => readDayFile('1 8 6L\n2 -8 6R\n', 'f', { day: 2 })).toThrow(
      /line 2: .* is no hole/,
    );
  });

  it('takes the side before the depth where the line says which is which', () => {
    const text = '1: 5 left, 12 on\n2) 6.5R 9 on\n3 4 m from right / 7 from back\n4 7L on 21\n';
    const told = readDayFile(text, 'f', { day: 2 }).map(
      (one) => [one.hole, one.on, one.in, one.side, one.fromBack ?? false] as const,
    );
    expect(told.map(([hole, on, , side, back]) => [hole, on, side, back])).toEqual([
      ['1', 12, 'left', false],
      ['2', 9, 'right', false],
      ['3', 7, 'right', true],
      ['4', 21, 'left', false],
    ]);
    expect(told.map(([, , inn]) => Number(inn.toFixed(2)))).toEqual([5, 6.5, 4.37, 7]);
    expect(() => readDayFile('1 8 6L\n2 6L 8\n', 'f', { day: 2 })).toThrow(
      /line 2: "2 6L 8" is no/,
    );
  });

  it('takes a column for each side, of which one is filled', () => {
    const read = (lines: string) =>
      readDayFile(`hole;front;left;right (m)\n${lines}`, 'f', { day: 2 }).map(
        (one) => `${one.hole}: ${one.on} ${one.in.toFixed(2)} ${one.side}`,
      );
    expect(read('1;10;5;\n2;14;;4\n')).toEqual(['1: 10 5.00 left', '2: 14 4.37 right']);
    expect(() => read('1;10;5;3\n')).toThrow(/line 2: left and right are both filled/);
    expect(() => read('1;10;;\n')).toThrow(/line 2: neither left nor right is filled/);
    expect(() => readDayFile('hole,on,in,left\n', 'f', { day: 2 })).toThrow(
      /line 1: columns for left or right stand beside "in" or "side"/,
    );
  });

  it('passes over the titles of a sheet in a file and tells them, but not a header gone wrong', () => {
    const titles: string[] = [];
    const onTitle = (line: number, words: string) => titles.push(`${line} ${words}`);
    const sheet = 'Friday, 28 November\nSecond round\n1: 12 on, 5 left\n';
    expect(readDayFile(sheet, 'f', { day: 2, onTitle })).toMatchObject([{ hole: '1', line: 3 }]);
    expect(titles).toEqual(['1 Friday, 28 November', '2 Second round']);
    expect(() => readDayFile('hole,on,in,sid\n7,12,5,left\n', 'f', { day: 2, onTitle })).toThrow(
      /line 1: unknown column "sid"; did you mean "side"/,
    );
    expect(() => readDayFile('Friday\n', 'f', { day: 2, onTitle })).toThrow(/unknown column/);
  });

  it('takes few keys: eighteen holes are typed in 90 seconds', () => {
    const typed = Array.from({ length: 18 }, (_, i) => `${i + 1} ${8 + i} 6${i % 2 ? 'L' : 'R'}`);
    expect(readDayFile(typed.join('\n'), 'f', { day: 2 })).toHaveLength(18);
    const command = 'runnel day course --day 2 --speed 10.5 --paste';
    const keys = command.length + 1 + typed.reduce((sum, line) => sum + line.length + 1, 0) + 1;
    // 40 words of five letters a minute, an ordinary typist's (common practice, no source).
    expect(keys / (200 / 60)).toBeLessThan(90);
  });
});

describe('lines that are pasted', () => {
  const paste = (text: string): { holes: string[]; titles: string[] } => {
    const titles: string[] = [];
    const onTitle = (line: number, words: string) => titles.push(`${line} ${words}`);
    const entries = readDayFile(text, 'the lines pasted', { day: 2, onTitle, isPasted: true });
    const holes = entries.map(
      (one) => `${one.hole}: ${one.fromBack ? '-' : ''}${one.on} ${one.in} ${one.side}`,
    );
    return { holes, titles };
  };

  it('may begin with titles, each of which is told', () => {
    const { holes, titles } = paste(
      'Club trophy, round 2\n\nHole  On  Side\n1  11  5R\n2 4 from back 6 left\n',
    );
    expect(holes).toEqual(['1: 11 5 right', '2: -4 6 left']);
    expect(titles).toEqual(['1 Club trophy, round 2', '3 Hole  On  Side']);
  });

  it('keep the columns that a heading names, also where the lines could be words', () => {
    expect(paste('hole,in,on,side\n1,5,11,right\n').holes).toEqual(['1: 11 5 right']);
    expect(paste('hole,back,in\n7,4,5L\n')).toEqual({ holes: ['7: -4 5 left'], titles: [] });
  });

  it.each([
    ['Hole Back In\n7 4 5L\n', /line 1: "Hole Back In" may name columns/],
    ['Hole  In  On\n7 4 5L\n', /line 1: "Hole +In +On" may name columns/],
    ['Hole On (ft) In\n7 40 15L\n', /line 1: .* may name columns/],
    [
      '7 twelve on 5 left\n8 12 on 5 left\n',
      /line 1: "7 twelve on 5 left" is no hole location; write as in/,
    ],
    ['1 11 on 5 right\n2 see you there\n', /line 2: "2 see you there" is no hole location/],
    ['Loch;In;Auf;Seite\n1;5;12;L\n', /line 1: "Loch;In;Auf;Seite" may name columns/],
    ['hole | in | on\n1 | 5 | 12L\n', /line 1: "hole \| in \| on" may name columns/],
    ['nonsense\n', /line 1: "nonsense" is no hole location/],
    ['\n\n', /the lines pasted: there are none; write as in: 7 12 on 5 left/],
  ])('%j is refused', (text, fault) => {
    expect(() => paste(text)).toThrow(fault);
  });
});

describe('lines of a sheet that are about no hole', () => {
  const titlesOf = (text: string) => {
    const titles: string[] = [];
    const found = readDayFile(text, 'f', {
      day: 1,
      onTitle: (line, words) => titles.push(`${line} ${words}`),
    });
    return [found.map(({ hole }) => hole), titles];
  };

  it('are passed over between locations and below them, and told', () => {
    expect(titlesOf('1 8 6L\nOut\nBack 9\n10 4 5R\n\nIssued by the Committee\n')).toEqual([
      ['1', '10'],
      ['2 Out', '3 Back 9', '6 Issued by the Committee'],
    ]);
  });

  it('are none where they have a figure that may be meant', () => {
    expect(() => titlesOf('1 8 6L\nBack 9 5\n')).toThrow(/line 2: "Back 9 5" is no hole location/);
    expect(() => titlesOf('hole,on,in\n1,8,6L\nOut\n')).toThrow(/line 3: /);
  });

  it('are remarks in a file, and locations where they are pasted with the sign of a number', () => {
    const text = '#1 8 6L\n2 9 5R\n# 3 for later\n';
    expect(readDayFile(text, 'f', { day: 1 }).map(({ hole }) => hole)).toEqual(['2']);
    expect(readDayFile(text, 'f', { day: 1, isPasted: true }).map(({ hole }) => hole)).toEqual([
      '1',
      '2',
    ]);
  });
});

describe('a column of sides, or of depths', () => {
  it('holds figure and side together where no other column has the figure', () => {
    const [entry] = readDayFile('hole,depth,on,l/r\n7,31,12,5 L\n', 'f', { day: 1 });
    expect(entry).toMatchObject({ depth: 31, on: 12, in: 5, side: 'left' });
  });
});

describe('the tees of a day', () => {
  it('are named for all, and for single holes, with yards or metres', () => {
    const { all, ofHole } = teesOfCourse('Moor, 7:+6, 12:Shore \u221210, 3:-5m', '--tees');
    expect(all).toEqual({ name: 'Moor', behind: 0 });
    expect(ofHole.get('7')).toEqual({ name: null, behind: 6 * 0.9144 });
    expect(ofHole.get('12')!.name).toBe('Shore');
    expect(ofHole.get('12')!.behind).toBeCloseTo(-9.144, 9);
    expect(ofHole.get('3')!.behind).toBe(-5);
  });

  it('are refused where a number has no sign', () => {
    expect(() => teesOfCourse('7:6', '--tees')).toThrow(/--tees: "6" names no tees; write as in/);
  });
});

describe('a wind', () => {
  it('is a speed and where it comes from', () => {
    expect(windArgument('--wind', '12mph,240')).toEqual({ speed: '12 mph', from: 240 });
    expect(windArgument('--wind', ' 5 m/s , SW ')).toEqual({ speed: '5 m/s', from: 225 });
  });

  it.each(['12mph', '240,12mph', '12mph,361', ''])('%j is none', (text) => {
    expect(() => windArgument('--wind', text)).toThrow(/is no wind; write its speed and where/);
  });
});
