import { describe, expect, it } from 'vitest';
import { readSurvey, readSurveys } from '../../src/survey/read-survey.js';

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const read = (text: string, options: object = {}) =>
  readSurvey(bytes(text), { source: 'points.csv', ...options });

const three = { x: [1.5, 2.5, 3.25], y: [10, 20.5, 30], z: [0.125, 0.25, -0.5] };
const expectThree = async (text: string, options: object = {}): Promise<void> => {
  const survey = await read(text, options);
  expect([...survey.x]).toEqual(three.x);
  expect([...survey.y]).toEqual(three.y);
  expect([...survey.z]).toEqual(three.z);
};

describe('points as text', () => {
  it('reads every delimiter', async () => {
    for (const d of [',', ';', '\t', '|', ' ', '   ', ', ', ':']) {
      const rows = three.x.map((x, k) => [x, three.y[k], three.z[k]].join(d));
      await expectThree(rows.join('\n'));
      await expectThree(`${rows.join('\r\n')}\r\n\r\n`);
    }
  });

  it('reads a decimal comma with every delimiter but the comma', async () => {
    for (const d of [';', '\t', '|', ' ', '; ', ':']) {
      const rows = three.x.map((x, k) =>
        [x, three.y[k], three.z[k]].map((v) => String(v).replace('.', ',')).join(d),
      );
      await expectThree(rows.join('\n'));
    }
  });

  it('finds the columns by a header in any order and language of case', async () => {
    await expectThree(
      'Point,Elevation (m),NORTHING,Easting,Code\nA1,0.125,10,1.5,GR\nA2,0.25,20.5,2.5,GR\nA3,-0.5,30,3.25,EDGE\n',
    );
    await expectThree(
      '"id";"Z_m";"POINT_Y";"POINT_X"\n"1";"0,125";"10";"1,5"\n2;0,25;20,5;2,5\n3;-0,5;30;3,25',
    );
  });

  it('takes the columns that the asker names', async () => {
    const rows = '1,10,1.5,0.125,gr\n2,20.5,2.5,0.25,gr\n3,30,3.25,-0.5,gr\n';
    await expectThree(rows, { columns: ['id', 'north', 'east', 'height', 'code'] });
    await expectThree(rows, { columns: ['PNEZD'] });
    await expectThree(`a,b,c,d,e\n${rows}`, { columns: ['PNEZD'] });
    await expectThree(`a,hoch,rechts,kote,e\n${rows}`, { columns: ['rechts', 'hoch', 'kote'] });
  });

  it('skips comments, blank lines and a byte order mark, and reads UTF-16', async () => {
    const text = '\ufeff# made up\n\nx,y,z\n1.5,10,0.125\n// note\n2.5,20.5,0.25\n3.25,30,-0.5';
    await expectThree(text);
    const wide = new Uint8Array(Buffer.from(text, 'utf16le'));
    const survey = await readSurvey(wide, { source: 'wide.txt' });
    expect([...survey.z]).toEqual(three.z);
  });

  it('refuses an order that nothing settles, with both readings and the option that settles it', async () => {
    const text = '1,1.5,10,0.125\n2,2.5,20.5,0.25\n7,3.25,30,-0.5\n';
    await expect(read(text)).rejects.toThrow(
      'points.csv, line 1: columns 2 and 3 may be north and east, or east and north: nothing says which; write --columns "id north east height" or --columns "id east north height", or the key columns in the course file',
    );
    await expectThree(text, { columns: ['id', 'east', 'north', 'height'] });
  });

  it('settles the order by where the points lie', async () => {
    const window = { minX: 0, minY: 8, maxX: 5, maxY: 40 };
    for (const [a, b] of [
      [0, 1],
      [1, 0],
    ]) {
      const rows = three.x.map((x, k) => {
        const at = [x, three.y[k]];
        return `${k * k + 1},${at[a]},${at[b]},${three.z[k]},gr`;
      });
      const [survey] = await readSurveys(bytes(rows.join('\n')), { source: 'p' }, [window]);
      expect([...survey.x]).toEqual(three.x);
      expect(survey.how).toContain('by the map');
    }
    const both = { minX: 0, minY: 0, maxX: 40, maxY: 40 };
    const text = '1,1.5,10,0.125\n2,2.5,20.5,0.25\n';
    await expect(readSurveys(bytes(text), { source: 'p' }, [both])).rejects.toThrow('--columns');
  });

  it('knows the names of the trade in many languages', async () => {
    const survey = await read('rechts;hoch;kote\n1,5;10;0,125\n2,5;20,5;0,25\n');
    expect([...survey.x]).toEqual([1.5, 2.5]);
    expect(survey.how).toContain('column 2 "hoch" north');
  });

  it('brings feet to metres, the vertical unit apart', async () => {
    const survey = await read('100,200,10\n', { unit: 'us-ft', verticalUnit: 'ft' });
    expect(survey.x[0]).toBeCloseTo((100 * 1200) / 3937, 12);
    expect(survey.z[0]).toBeCloseTo(3.048, 12);
  });

  it('takes the units that the names of the columns state, unless the asker knows better', async () => {
    const text = 'Easting (ft),Northing (ft),Height_ftUS\n100,200,10\n';
    const stated = await read(text);
    expect(stated.x[0]).toBeCloseTo(30.48, 12);
    expect(stated.z[0]).toBeCloseTo(12000 / 3937, 12);
    const asked = await read(text, { unit: 'm', verticalUnit: 'm' });
    expect([asked.x[0], asked.z[0]]).toEqual([100, 10]);
    const mixed = await read('e [m];n [m];elev [ft]\n1,5;2;10\n');
    expect([mixed.x[0], mixed.z[0]]).toEqual([1.5, 3.048]);
  });

  it('strings breaklines together by their column', async () => {
    const survey = await read(
      'x,y,z,line\n0,0,1,wall\n5,5,2,\n1,0,1,wall\n2,0,1,wall\n9,9,9,lone\n',
    );
    expect(survey.breaklines).toEqual([
      [
        [0, 0, 1],
        [1, 0, 1],
        [2, 0, 1],
      ],
    ]);
  });

  it.each([
    ['', 'the file is empty'],
    ['x,y,z\n', 'points.csv, line 1'],
    ['1,2,3\n1,2,x\n', 'line 2: "x" in column 3 is not a number'],
    ['1,2,3\n1,2\n', 'line 2: column 3 is missing'],
    ['1,2,3\n1,2,high\n', 'line 2: "high"'],
    ['1,2,1e308\n', 'line 1: the height'],
    ['1e308,2,1\n', 'line 1: the position'],
    ['hello\nworld\n', 'no line of the file holds three numbers'],
    ['PK\u0003\u0004', 'the directory of the archive is missing'],
  ])('refuses %j in one line', async (text, message) => {
    await expect(read(text)).rejects.toThrow(message);
    await expect(read(text)).rejects.toThrow(/^[^\n]*$/);
  });

  it('says of a YAML file that it is no survey, with no word on columns', async () => {
    await expect(
      readSurveys(bytes('title: A course\n'), { source: 'notes.yaml' }, [null]),
    ).rejects.toThrow(
      'notes.yaml: it is a YAML file, not a survey; name a file of measured points or a grid of heights',
    );
  });

  it('cuts several windows out in one pass', async () => {
    const rows = Array.from({ length: 100 }, (_, i) => `${i} ${i} ${i / 10}`).join('\n');
    const box = (a: number, b: number) => ({ minX: a, minY: a, maxX: b, maxY: b });
    const surveys = await readSurveys(bytes(rows), { source: 'p' }, [box(10, 12), box(50, 50)]);
    expect(surveys.map((s) => [...s.x])).toEqual([[10, 11, 12], [50]]);
    await expect(readSurveys(bytes(rows), { source: 'p' }, [box(200, 300)])).rejects.toThrow(
      'the points land 143 m from the places asked for; check the places, the unit',
    );
  });
});

describe('ESRI ASCII grid', () => {
  const head = 'ncols 3\nnrows 2\nxllcorner 100\nyllcorner 200\ncellsize 2\nNODATA_value -9999\n';

  it('places the centres of cells, north row first, and leaves out nodata', async () => {
    const survey = await read(`${head}1 2 3\n4 -9999 6\n`);
    expect(survey.kind).toBe('grid');
    expect(survey.cellSize).toBe(2);
    expect([...survey.x]).toEqual([101, 103, 105, 101, 105]);
    expect([...survey.y]).toEqual([203, 203, 203, 201, 201]);
    expect([...survey.z]).toEqual([1, 2, 3, 4, 6]);
  });

  it('takes corner and centre, oblong cells, and values broken over lines', async () => {
    const survey = await read(
      'NCOLS 2\r\nNROWS 2\r\nXLLCENTER 10\r\nYLLCENTER 20\r\nDX 1\r\nDY 2\r\n1,5\r\n2 3\r\n\r\n4',
    );
    expect([...survey.x]).toEqual([10, 11, 10, 11]);
    expect([...survey.y]).toEqual([22, 22, 20, 20]);
    expect([...survey.z]).toEqual([1.5, 2, 3, 4]);
  });

  it('reads only the window', async () => {
    const [survey] = await readSurveys(bytes(`${head}1 2 3\n4 5 6\n`), { source: 'g' }, [
      { minX: 103, minY: 200, maxX: 110, maxY: 202 },
    ]);
    expect([...survey.z]).toEqual([5, 6]);
  });

  it.each([
    [`${head}1.25 2.5 3\n4 5.5\n`, 'row 2, column 3: the values end after 5 of 6'],
    [`${head}1 2 3\n4 5 6 7\n`, 'more values than the 3 x 2'],
    [`${head}1 2 3\n4 x 6\n`, 'row 2, column 2: "x" is not a number'],
    ['ncols 100000\nnrows 100000\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2 3', 'promises'],
    ['ncols -3\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 1\n1', 'ncols is -3'],
    ['ncols 3\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 0\n1 1 1 1 1 1', 'not positive'],
    ['ncols 3\nnrows 2\nyllcorner 0\ncellsize 1\n1 1 1 1 1 1', 'no xllcorner'],
    ['ncols 3\nwidth 2\n', 'unknown keyword "width"'],
  ])('refuses a damaged grid in one line', async (text, message) => {
    await expect(read(text)).rejects.toThrow(message);
  });
});
