import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFDocument } from 'pdf-lib';
import { afterAll, describe, expect, it } from 'vitest';
import {
  keepMarks,
  readEarlierEdition,
  refuseOtherCourse,
} from '../../src/book/earlier-edition.js';
import { changesSince } from '../../src/book/edition-changes.js';
import type { EditionRecord, HoleRecord, PageRecord } from '../../src/book/edition-record.js';
import { fileDigest } from '../../src/book/file-digest.js';
import { recordOfPdf } from '../../src/check/read-record.js';
import { changesJson } from '../../src/cli/book-manifest.js';
import { changeLines, coverChangeWords, leafLines } from '../../src/page/kit/change-words.js';
import { openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { ownLayout, samplePages } from '../print/sample-pages.js';
import { SAMPLE_RECORD } from './sample-record.js';

const HOLE: HoleRecord = {
  id: '1',
  names: 'n',
  survey: ['file', 'ground'],
  outline: 'o',
  tees: [
    ['White', 'w'],
    ['Red', 'r'],
  ],
  line: 'l',
  map: 'm',
  ground: 'g',
  locations: [['A', 'a']],
  speed: 3,
  worth: 'tables',
  notes: null,
};

const bookOf = (digests: string, more: Partial<EditionRecord> = {}): EditionRecord => ({
  ...SAMPLE_RECORD,
  pages: [...digests].map((digest, i): PageRecord => [`page-${digest}`, `${i + 1}`, digest]),
  holes: [HOLE],
  ...more,
});

const ofHole = (change: Partial<HoleRecord>) =>
  changesSince(bookOf('ab'), bookOf('ab', { holes: [{ ...HOLE, ...change }] }))?.holes ?? [];

const NOTHING = { folder: null };

describe('what has changed of a hole', () => {
  it.each<[Partial<HoleRecord>, string]>([
    [{ survey: ['other', 'other'] }, 'survey'],
    [{ outline: 'x' }, 'outline'],
    [{ line: 'x' }, 'line'],
    [{ map: 'x' }, 'map'],
    [{ ground: 'x' }, 'ground'],
    [{ speed: 3.1 }, 'speed'],
    [{ worth: 'arrows' }, 'worth'],
    [{ names: 'x' }, 'names'],
    [{ notes: 'x' }, 'notes'],
  ])('is told by its kind: %j', (change, kind) => {
    expect(ofHole(change)).toEqual([{ kind, hole: '1', of: [] }]);
  });

  it('names tees and hole locations that moved, came or went', () => {
    const tees = [
      ['Red', 'r'],
      ['White', 'moved'],
      ['Blue', 'b'],
    ] as const;
    expect(ofHole({ tees })).toEqual([{ kind: 'tees', hole: '1', of: ['White', 'Blue'] }]);
    expect(ofHole({ locations: [] })).toEqual([{ kind: 'locations', hole: '1', of: ['A'] }]);
  });

  it('is no new survey where the file alone, or the ground alone, is another', () => {
    expect(ofHole({ survey: ['other', 'ground'] })).toEqual([]);
    expect(ofHole({ survey: ['file', 'other'] })).toEqual([]);
  });

  it('is a hole that came, or went', () => {
    const two = bookOf('ab', { holes: [HOLE, { ...HOLE, id: '2' }] });
    expect(changesSince(bookOf('ab'), two)?.holes).toEqual([{ kind: 'new', hole: '2', of: [] }]);
    expect(changesSince(two, bookOf('ab'))?.gone).toEqual(['2']);
  });

  it('is nothing where nothing has changed, or no edition is named', () => {
    expect(changesSince(bookOf('ab'), bookOf('ab'))).toBeNull();
    expect(changesSince(null, bookOf('ab'))).toBeNull();
  });
});

/** Puts the new leaves into an old book as its buyer would, leaf by leaf. */
const putIn = (old: string, now: string): string => {
  const changes = changesSince(bookOf(old), bookOf(now));
  if (changes === null) return old;
  const leaf = (pages: string, i: number): string => pages.slice(2 * i, 2 * i + 2);
  const gone = new Set([...changes.out, ...changes.leaves.flatMap((one) => one.replaces ?? [])]);
  const count = Math.ceil(old.length / 2);
  const stay = Array.from({ length: count }, (_, i) => i).filter((i) => !gone.has(i + 1));
  const book: string[] = [];
  for (const { front, back } of changes.leaves) {
    book[front / 2] = now[front] + (back === null ? '' : now[back]);
  }
  for (let i = 0; stay.length > 0 || i < book.length; i++) book[i] ??= leaf(old, stay.shift()!);
  return book.join('');
};

describe('the leaves that are put in', () => {
  it('make the new book of the old one, whatever came, went or changed', () => {
    // Seeds 118000 to 118399: a plain generator, the same in every run.
    for (let seed = 118_000; seed < 118_400; seed++) {
      let state = seed;
      const under = (most: number): number => {
        state = (Math.imul(state, 1_103_515_245) + 12_345) & 0x7fffffff;
        return (state >> 8) % most;
      };
      const page = (): string => 'abcdefgh'[under(8)];
      const old = Array.from({ length: 1 + under(14) }, page);
      const now = old.flatMap((one) => {
        const what = under(8);
        return what === 0 ? [] : what === 1 ? [one, page()] : what === 2 ? [page()] : [one];
      });
      if (now.length === 0) continue;
      expect(putIn(old.join(''), now.join('')), `seed ${seed}`).toBe(now.join(''));
    }
  });

  it('are no more than what changed', () => {
    const changes = changesSince(bookOf('abcdefgh'), bookOf('abcXefgh'))!;
    expect(changes.leaves).toEqual([{ front: 2, back: 3, replaces: 2 }]);
    expect(leafLines(changes, {})).toEqual([
      'Put in the place of the old leaf: leaf 2 (pages 3 and 4).',
    ]);
  });

  it('are none of a book that is one sheet, which is put in whole', () => {
    const changes = changesSince(bookOf('abcd'), bookOf('abcX'), true)!;
    expect(changes.whole).toBe(true);
    expect(changesJson(changes)).toMatchObject({ whole_sheet: true, leaves: [], taken_out: [] });
    expect(changesSince(bookOf('abcd'), bookOf('abcd'), true)).toBeNull();
  });

  it('tell where they go when leaves came or went, and that page numbers stay', () => {
    const came = changesSince(bookOf('abcd'), bookOf('abxycd'))!;
    expect(leafLines(came, {})).toEqual([
      'Leaf 2 (pages 3 and 4) is put in behind leaf 1 of the new book.',
      'Leaves that stay keep their page numbers, which the new book counts otherwise.',
    ]);
    expect(leafLines(changesSince(bookOf('abxycd'), bookOf('abcd'))!, {})[0]).toBe(
      'Old leaves that are taken out: 2.',
    );
  });
});

describe('the words of what has changed', () => {
  it('name every hole in the list, and count many on the cover', () => {
    const holes = Array.from({ length: 18 }, (_, i) => ({ ...HOLE, id: `${i + 1}` }));
    const now = holes.map((hole) => ({ ...hole, survey: ['other', 'other'] as const, line: 'x' }));
    const pages = { pages: bookOf('ab').pages };
    const changes = changesSince(
      bookOf('ab', { holes, edition: 'edition 1' }),
      bookOf('aX', { holes: now.slice(0, 7), ...pages }),
    )!;
    expect(changeLines(changes).join('\n')).toContain(
      'New survey of the green: 1, 2, 3, 4, 5, 6, 7.',
    );
    expect(changeLines(changes).join('\n')).toContain('No longer in the book: 8, 9, 10');
    expect(coverChangeWords(changes, {})).toMatch(
      /^Changed since edition 1: new survey: 7 holes; /,
    );
  });
});

describe('the record that a PDF carries', () => {
  const root = mkdtempSync(join(tmpdir(), 'runnel-since-'));
  afterAll(() => rmSync(root, { recursive: true, force: true }));
  const layout = ownLayout('pocket');
  const words = { fonts: openFonts(), title: 'Links', language: 'en' };
  const write = (record?: string, edition: 'screen' | 'press' = 'screen') =>
    writePdf(samplePages(layout, 2), layout, {
      ...words,
      edition,
      ...(record === undefined ? {} : { record }),
    });
  const asked = { folder: 'links', layout: 'pocket' };
  const file = join(root, 'old');
  const read = (bytes: Uint8Array | string, of = asked) => {
    writeFileSync(file, bytes);
    return readEarlierEdition(file, of);
  };

  it('comes back from screen and press editions, and after another program wrote the file again', async () => {
    const record = { ...bookOf('ab'), title: 'Línks – ø' };
    for (const edition of ['screen', 'press'] as const) {
      const bytes = await write(JSON.stringify(record), edition);
      expect(await read(bytes)).toEqual(record);
      const again = await (await PDFDocument.load(bytes)).save({ useObjectStreams: false });
      expect(await read(again)).toEqual(record);
    }
  });

  it('comes back from the manifest of a run, the book by its folder and layout', async () => {
    const books = [
      { folder: 'moor', record: bookOf('cd') },
      { folder: 'links', record: bookOf('ef', { layout: ['a6', '0'] }) },
      { folder: 'links', record: bookOf('ab') },
    ];
    expect(await read(JSON.stringify({ books }))).toEqual(bookOf('ab'));
    await expect(read(JSON.stringify({ books }), { ...asked, folder: 'sea' })).rejects.toThrow(
      'it tells of no book in the folder sea of the layout pocket',
    );
  });

  it.each<[string, () => Promise<Uint8Array | string>]>([
    ['it carries no record', () => write()],
    ['its record of what the pages rest on is damaged', () => write('{"form":1}')],
    ['is of form 2, and this program reads form 1', () => write('{"form":2}')],
    ['not valid JSON', () => write('{"form"')],
    [
      'it is the book of layout a6',
      () => write(JSON.stringify(bookOf('a', { layout: ['a6', '0'] }))),
    ],
    ['this is no PDF that can be read', async () => 'points\n'],
    ['it has no list "books"', async () => '{}'],
    ['its record of what', async () => '{"books":[null,{"folder":"links","record":{}}]}'],
  ])('is refused in one line: %s', async (problem, bytes) => {
    await expect(read(await bytes())).rejects.toThrow(problem);
  });

  it('is read of nothing that is not there', async () => {
    await expect(readEarlierEdition(join(root, 'none.pdf'), asked)).rejects.toThrow('no such file');
    expect(await recordOfPdf(await write(), 'old.pdf')).toBeNull();
  });

  const place = (more: object) => JSON.stringify({ ...bookOf('ab'), at: [10, 50], ...more });
  const refuse = async (record: string | undefined) => {
    writeFileSync(file, await write(record));
    await refuseOtherCourse(file, { title: 'Links', at: [10, 50], outlines: ['o', 'p'] }, NOTHING);
  };
  const other = { holes: [{ ...HOLE, outline: 'q' }] };

  it.each([
    ['of another name', place({ ...other, title: 'Moor' })],
    ['of the same name that lies elsewhere', place({ ...other, at: [10.2, 50] })],
  ])('keeps a course from writing over the book of one %s', async (_, record) => {
    await expect(refuse(record)).rejects.toThrow('it is the book of another course, "');
  });

  it.each([
    ['bears another name now', place({ title: 'Moor', at: [10.2, 50] })],
    ['is drawn anew', place({ ...other, at: [10.002, 50.001] })],
    ['says nothing of itself', undefined],
    ['is damaged', '{'],
    ['lies across the antimeridian', place({ ...other, at: [370, 50] })],
  ])('lets a course write over its own book, which %s', async (_, record) => {
    await refuse(record);
  });

  it('lets it write where nothing is, and over what is no book', async () => {
    const marks = { title: 'Links', at: null, outlines: ['o'] };
    await refuseOtherCourse(join(root, 'none.pdf'), marks, NOTHING);
    writeFileSync(file, 'no PDF');
    await refuseOtherCourse(file, marks, NOTHING);
  });

  it('knows a book that a run has made, and no other, without reading it', async () => {
    const [own, foreign] = [Buffer.from('its own'), Buffer.from('of another')];
    const cache = { folder: join(root, 'cache') };
    keepMarks(cache, fileDigest(own), bookOf('ab') as never);
    keepMarks(cache, fileDigest(foreign), JSON.parse(place({ ...other, title: 'Moor' })));
    const over = async (bytes: Buffer) => {
      writeFileSync(file, bytes);
      await refuseOtherCourse(file, { title: 'Links', at: [10, 50], outlines: ['o'] }, cache);
    };
    await over(own);
    await expect(over(foreign)).rejects.toThrow('it is the book of another course, "Moor"');
  });
});
