import { PDFDocument, PDFName, type PDFRef } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import { readFont } from '../../src/check/drawn-fonts.js';
import type { DrawnPage } from '../../src/check/drawn-page.js';
import { readDrawnPage } from '../../src/check/read-drawing.js';
import { CROP_TAG, IMAGE_TAG, OUTLINE_TAG, SHOWS_TAG } from '../../src/print/marked-content.js';

/**
 * What operators of a content stream do, each on a page written here by hand. Sections are those of ISO 32000-1:2008,
 * as remembered; figures follow from the operands by the matrices and the widths given.
 */
const drawn = async (content: string): Promise<DrawnPage> => {
  const document = await PDFDocument.create();
  const page = document.addPage([300, 300]);
  const { context } = document;
  page.node.set(PDFName.of('Contents'), context.register(context.stream(content)));
  const font = context.obj({ Type: 'Font', Subtype: 'Type1', BaseFont: 'Helvetica' });
  page.node.set(PDFName.of('Resources'), context.obj({ Font: { F1: font } }));
  return readDrawnPage(context, page.node);
};

const boxesOf = async (content: string): Promise<number[][]> =>
  (await drawn(content)).paints.map(({ box }) => [box.minX, box.minY, box.maxX, box.maxY]);

describe('paths (8.5.2)', () => {
  it('re: a corner, a width and a height', async () => {
    expect(await boxesOf('10 20 30 50 re f')).toEqual([[10, 20, 40, 70]]);
  });

  it.each([
    ['c, both control points', '10 20 m 10 80 70 100 90 20 c S', [10, 80, 70, 100]],
    [
      'v, the first control point where the path stands',
      '10 20 m 70 100 90 20 v S',
      [10, 20, 70, 100],
    ],
    ['y, the second control point at its end', '10 20 m 10 80 90 20 y S', [10, 80, 90, 20]],
  ])('%s', async (_what, content, [x1, y1, x2, y2]) => {
    // Bernstein's polynomials, sampled.
    const at = (t: number, [p0, p1, p2, p3]: readonly number[]): number =>
      p0 * (1 - t) ** 3 + 3 * p1 * t * (1 - t) ** 2 + 3 * p2 * t * t * (1 - t) + p3 * t ** 3;
    const ts = Array.from({ length: 20_001 }, (_, i) => i / 20_000);
    const xs = ts.map((t) => at(t, [10, x1, x2, 90]));
    const ys = ts.map((t) => at(t, [20, y1, y2, 20]));
    const [box] = await boxesOf(content);
    const asked = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
    asked.forEach((value, i) => {
      expect(box[i]).toBeCloseTo(value, 4);
    });
  });

  it('stand where the matrix puts them, their lines as wide as it makes them (8.3.4)', async () => {
    const { strokes } = await drawn('2 0 0 8 5 7 cm 0.5 w 1 2 m 4 6 l S');
    expect(strokes).toEqual([
      {
        width: 2,
        colour: { space: 'DeviceGray', plate: null, components: [0] },
        box: { minX: 7, minY: 23, maxX: 13, maxY: 55 },
        on: null,
        printerMark: false,
      },
    ]);
    expect(await boxesOf('0 1 -1 0 100 0 cm 10 20 m 10 20 10 50 10 50 c S')).toEqual([
      [50, 10, 80, 10],
    ]);
  });

  it('are cut by a clip, from the next path on and until it is undone (8.5.4)', async () => {
    expect(await boxesOf('q 10 20 30 40 re W n 0 0 25 25 re f Q 0 0 25 25 re f')).toEqual([
      [10, 20, 25, 25],
      [0, 0, 25, 25],
    ]);
  });

  it.each([
    ['n', 0, 0],
    ['S', 1, 1],
    ['s', 1, 1],
    ['f', 1, 0],
    ['F', 1, 0],
    ['f*', 1, 0],
    ['B', 2, 1],
    ['B*', 2, 1],
    ['b', 2, 1],
    ['b*', 2, 1],
  ])('%s fills and strokes %i paints, %i strokes (8.5.3)', async (operator, paints, strokes) => {
    const page = await drawn(`0 0 10 10 re ${operator}`);
    expect([page.paints.length, page.strokes.length]).toEqual([paints, strokes]);
  });
});

describe('texts (9.4)', () => {
  /** A font without widths is taken to be half as wide as high. */
  const textsOf = async (content: string): Promise<[string, number, number][]> =>
    (await drawn(`BT /F1 10 Tf ${content} ET`)).texts.map(({ text, box }) => [
      text,
      box.minX,
      box.maxX,
    ]);

  it('Tj: one string goes on where the last ended', async () => {
    expect(await textsOf('100 200 Td (ab) Tj (c) Tj')).toEqual([
      ['ab', 100, 110],
      ['c', 110, 115],
    ]);
  });

  it('TJ: numbers move the next string, in thousandths of the size', async () => {
    expect(await textsOf('100 200 Td [(a) -1000 (b)] TJ (c) Tj')).toEqual([
      ['ab', 100, 120],
      ['c', 120, 125],
    ]);
  });

  it('TD, T*, quotes: lines below each other by the leading (9.4.2)', async () => {
    const placed = async (content: string): Promise<[string, number, number][]> =>
      (await drawn(`BT /F1 8 Tf ${content} ET`)).texts.map(({ text, box }) => [
        text,
        box.minX,
        // A quarter of the size stands below the line.
        box.minY + 2,
      ]);
    expect(await placed('10 TL 100 200 Td (a) Tj T* (b) Tj (c) \' 1 2 (d) "')).toEqual([
      ['a', 100, 200],
      ['b', 100, 190],
      ['c', 100, 180],
      ['d', 100, 170],
    ]);
    expect(await placed('100 200 TD 3 -12 TD (a) Tj T* (b) Tj')).toEqual([
      ['a', 103, 188],
      ['b', 103, 176],
    ]);
  });

  it('of what is null, or of nothing, are none', async () => {
    expect(await textsOf('null Tj [null] TJ TJ /Own null BDC (a) Tj EMC')).toEqual([['a', 0, 5]]);
  });

  it('Tc: room after every character', async () => {
    expect(await textsOf('2 Tc 100 200 Td (ab) Tj')).toEqual([['ab', 100, 114]]);
  });
});

describe('fonts', () => {
  const fontFrom = async (
    dictionary: Readonly<Record<string, unknown>>,
    toUnicode: string | null,
  ) => {
    const { context } = await PDFDocument.create();
    const font = context.obj(dictionary as Record<string, string>);
    if (toUnicode !== null) {
      const map: PDFRef = context.register(context.stream(toUnicode));
      font.set(PDFName.of('ToUnicode'), map);
    }
    return readFont(context, font);
  };

  it('tell characters by single codes and by ranges (9.10.3)', async () => {
    const font = await fontFrom(
      { Type: 'Font', Subtype: 'Type0', BaseFont: 'ABCDEF+Own' },
      '1 beginbfchar <0003> <00660069> endbfchar 1 beginbfrange <0010> <001A> <0041> endbfrange',
    );
    expect([3, 0x0f, 0x10, 0x1a, 0x1b].map(font.charactersOf)).toEqual(['fi', '', 'A', 'K', '']);
    expect([font.name, font.subset, font.hasUnicode, font.codeLength]).toEqual([
      'Own',
      true,
      true,
      2,
    ]);
  });

  it('without a map are read as they stand; one whose map leaves a code out says nothing of it', async () => {
    const simple = { Type: 'Font', Subtype: 'Type1', BaseFont: 'Helvetica' };
    expect((await fontFrom(simple, null)).charactersOf(65)).toBe('A');
    const mapped = await fontFrom(simple, '1 beginbfchar <41> <0062> endbfchar');
    expect([65, 66].map(mapped.charactersOf)).toEqual(['b', '']);
  });

  it('tell widths one by one and by ranges (9.7.4.3)', async () => {
    const descendant = { Type: 'Font', Subtype: 'CIDFontType2', W: [3, [500, 600], 7, 9, 250] };
    const font = await fontFrom(
      { Type: 'Font', Subtype: 'Type0', BaseFont: 'Own', DescendantFonts: [descendant] },
      null,
    );
    expect([2, 3, 4, 5, 6, 7, 8, 9, 10].map(font.widthOf)).toEqual([
      0, 500, 600, 0, 0, 250, 250, 250, 0,
    ]);
  });
});

describe('colours (8.6)', () => {
  it.each([
    ['0.2 g', 'DeviceGray', [0.2]],
    ['1 0 0 rg', 'DeviceRGB', [1, 0, 0]],
    ['/DeviceRGB cs 1 0 0 sc', 'DeviceRGB', [1, 0, 0]],
    ['/DeviceCMYK cs 0 0 0 1 scn', 'DeviceCMYK', [0, 0, 0, 1]],
    ['/Own cs 1 scn', 'unknown', [1]],
  ])('%s', async (operators, space, components) => {
    const [paint] = (await drawn(`${operators} 0 0 9 9 re f`)).paints;
    expect(paint.colour).toEqual({ space, plate: null, components });
  });

  it('a pattern is told by its name', async () => {
    const [paint] = (await drawn('/Pattern cs 0 0 9 9 re f')).paints;
    expect(paint.colour.space).toBe('Pattern');
  });
});

describe('groups of marks', () => {
  it('of a cut are its lines', async () => {
    const { crops } = await drawn(`/${CROP_TAG} BMC 1 2 m 3 5 l S EMC 7 8 m 9 9 l S`);
    expect(crops).toEqual([[1, 2, 3, 5]]);
  });

  it.each([
    ['0 g 0 0 5 5 re f', true],
    ['1 g 0 0 5 5 re f', false],
    // Black would fill, but nothing is filled.
    ['0 g 1 G 0 0 5 5 re S', false],
    ['1 g 0 G 0 0 5 5 re S', true],
    ['1 g 0 G 0 0 5 5 re B', true],
  ])('show something where ink is left: %s %s', async (paths, shown) => {
    const { shows } = await drawn(`/${SHOWS_TAG} << /What /slope >> BDC ${paths} EMC`);
    expect(shows).toEqual(shown ? [{ what: 'slope', on: null }] : []);
  });

  it('of a green hold its outline uncut, and what stands in it', async () => {
    const { grounds } = await drawn(
      `10 10 20 20 re W n /${IMAGE_TAG} << /Kind /green-image /Id (7) /Width 30 /Height 20 >> BDC ` +
        `/${OUTLINE_TAG} BMC 0 0 60 40 re S EMC 12 12 3 3 re f EMC`,
    );
    expect(grounds).toEqual([
      {
        kind: 'green-image',
        id: '7',
        width: 30,
        height: 20,
        outline: { minX: 0, minY: 0, maxX: 60, maxY: 40 },
        on: null,
        shows: new Set(['unnamed']),
      },
    ]);
  });
});
