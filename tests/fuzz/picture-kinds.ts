import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { degrees, PDFDocument, rgb } from 'pdf-lib';
import { PNG } from 'pngjs';
import { loadLogo } from '../../src/book/logo/load-logo.js';
import { writeSet } from '../../src/book/made-sets.js';
import type { Course } from '../../src/course/course.js';
import { seed } from './course-kinds.js';
import { damagedBinary, damagedPdf, damagedText } from './damage.js';
import { WrongRead } from './judge.js';
import type { Kind, Seed } from './kinds.js';

const SVG = `<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20">
<g transform="translate(10 0), scale(2)" fill="#fff"><rect width="5" height="5"/></g>
<path d="M0 0h10v10h-10z m1 1a2 2 0 1 0 3 3z" style="fill:rgb(10,90,160); fill-rule: evenodd"/>
<circle cx="30" cy="10" r="5" fill="none" stroke="black" stroke-width="2" stroke-dasharray="4, 2"/>
<g transform="rotate(90, 20, 10)"><polygon points="10,10 20,10 20,12"/></g></svg>`;

const png = (): Buffer => {
  const image = new PNG({ width: 12, height: 8 });
  image.data.forEach((_, i) => {
    image.data[i] = i % 4 === 3 ? 255 : (i * 7) % 256;
  });
  return PNG.sync.write(image);
};

const pdf = async (useObjectStreams: boolean): Promise<Seed> => {
  const document = await PDFDocument.create();
  const page = document.addPage([80, 40]);
  page.drawRectangle({ ...{ x: 5, y: 5, width: 20, height: 20 }, color: rgb(0.1, 0.4, 0.6) });
  page.drawEllipse({ x: 50, y: 20, xScale: 12, yScale: 8, rotate: degrees(20), borderWidth: 2 });
  const bytes = Buffer.from(await document.save({ useObjectStreams }));
  return { name: useObjectStreams ? 'pdf of object streams' : 'pdf', bytes };
};

/** The picture that an imprint names. */
const logoKind: Kind = {
  name: 'logo',
  damage: (bytes, random, others) =>
    bytes[0] === 0x3c
      ? damagedText(bytes, random, [bytes])
      : bytes[0] === 0x25
        ? damagedPdf(bytes, random, others)
        : damagedBinary(bytes, random, others),
  seeds: async () => [
    seed('svg', SVG),
    { name: 'png', bytes: png() },
    await pdf(false),
    await pdf(true),
  ],
  read: async (bytes, _seed, { folder }) => {
    writeFileSync(join(folder, 'logo'), bytes);
    const imprint = { logo: { file: 'logo', width: 20 } };
    await loadLogo({ folder, imprint } as unknown as Course);
  },
};

const MARKS = { title: 'Links', at: [0, 50], outlines: ['a', 'b'] } as const;
const KEPT = 'kept';
const digest = createHash('sha256').update(KEPT).digest('hex');

/** What a folder of products says of itself: nothing that it names outside of its folder may go. */
const madeKind: Kind = {
  name: 'made',
  damage: damagedText,
  seeds: () => [
    seed(
      'made',
      JSON.stringify(
        {
          course: MARKS,
          sets: {
            a6: { 'a6.pdf': digest, '../beside.txt': digest },
            day: { 'day.pdf': digest, 'svg/day.svg': digest },
          },
        },
        null,
        1,
      ),
    ),
  ],
  read: async (bytes, _seed, { folder }) => {
    const [place, beside] = [join(folder, 'made-of', 'out'), join(folder, 'made-of', 'beside.txt')];
    mkdirSync(join(place, 'svg'), { recursive: true });
    for (const path of [beside, join(place, 'a6.pdf'), join(place, 'mine.txt')]) {
      writeFileSync(path, KEPT);
    }
    writeFileSync(join(place, '.runnel-made'), bytes);
    const product = { file: 'new.pdf', bytes: Buffer.from('new') };
    writeSet(place, [product], { course: { ...MARKS, at: [0, 50] }, name: 'a6' });
    const kept = [beside, join(place, 'mine.txt')].map((path) => readFileSync(path, 'utf8'));
    if (kept.some((text) => text !== KEPT)) throw new WrongRead('a file of the user is gone');
  },
};

/** Pictures, and what is known of products. */
export const PICTURE_KINDS: readonly Kind[] = [logoKind, madeKind];
