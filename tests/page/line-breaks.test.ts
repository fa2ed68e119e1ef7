import { describe, expect, it } from 'vitest';
import { wrapLines } from '../../src/page/kit/paragraph.js';
import type { Face } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { randomBy } from '../course/untidy-course.js';

const measure = measureWith(openFonts());

/** The rule itself: a word goes on the line while the line with it fits. */
const oneByOne = (words: string, width: number, face: Face, size: number): string[] => {
  const lines: string[] = [];
  for (const word of words.split(/\s+/).filter((one) => one !== '')) {
    const longer = `${lines.at(-1)} ${word}`;
    if (lines.length > 0 && measure(longer, face, size) <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
};

const FACES: readonly Face[] = ['note', 'text', 'text-italic', 'title-bold'];

/** Words of one to twelve letters, narrow and wide ones. */
const madeUp = (random: () => number): string =>
  Array.from({ length: Math.floor(random() * 30) }, () =>
    Array.from({ length: 1 + Math.floor(random() ** 2 * 12) }, () => {
      const letters = random() < 0.5 ? 'il.1tf,' : 'mWeoaMw8';
      return letters[Math.floor(random() * letters.length)];
    }).join(''),
  ).join(random() < 0.2 ? '  ' : ' ');

describe('lines of a paragraph', () => {
  it('break where one word more does not fit, in each face, from the narrowest line to the widest', () => {
    for (let seed = 171000; seed < 171024; seed++) {
      const random = randomBy(seed);
      const words = madeUp(random);
      const face = FACES[seed % FACES.length];
      const [width, size] = [3 + random() * 90, 6 + random() * 6];
      expect(wrapLines(words, width, face, size, measure), `seed ${seed}`).toEqual(
        oneByOne(words, width, face, size),
      );
    }
  });

  it('begin with no point between sayings', () => {
    const words = 'speed 3.2 m · pace 30 cm past · ~ aim not known · survey · practice only';
    for (let width = 8; width < 60; width += 0.5) {
      const lines = wrapLines(words, width, 'note', 8, measure);
      expect(lines.join(' ')).toBe(words);
      expect(lines.filter((line) => line.startsWith('·'))).toEqual([]);
    }
  });

  it('are few to measure beside the words', () => {
    const words = Array.from({ length: 20 }, () => 'the ball breaks to the low side here').join(
      ' ',
    );
    let measured = 0;
    const lines = wrapLines(words, 60, 'note', 8, (...asked) => {
      measured += 1;
      return measure(...asked);
    });
    expect(lines.length).toBeGreaterThan(10);
    expect(measured).toBeLessThan(3 * lines.length);
  });
});
