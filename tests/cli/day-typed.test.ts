import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadCourse } from '../../src/course/load-course.js';
import { atDepth } from '../depth.js';
import { shareFits } from '../fitted-demo.js';
import { runCaptured } from './run-captured.js';
import { type SmallCourse, smallCourse } from './small-course.js';

/** 40 words of five letters a minute, an ordinary typist's (common practice, no source); keys a second. */
const TYPED = 200 / 60;
const EIGHTEEN = Array.from({ length: 18 }, (_, i) => i + 1);
/** In most runs some holes are printed, which other tests have fitted; the keys are counted of all eighteen in any run. */
const PRINTED = atDepth([7, 12], [3, 9, 12], EIGHTEEN);

describe('a day from an empty file to the printed sheet', { tags: 'deep' }, () => {
  let course: SmallCourse;
  beforeAll(() => {
    course = smallCourse(PRINTED);
    shareFits(course.out);
  });
  afterAll(() => course.remove());

  it('takes less than 90 seconds of typing', async () => {
    // Keys into an empty file, as from the sheet that the Committee hands out.
    const lines = EIGHTEEN.map((hole) => `${hole} ${8 + (hole % 3)} 6${hole % 2 ? 'L' : 'R'}\n`);
    const command = 'runnel day links --day 2 --speed 10.5 --locations d';
    const keys = [...lines.join(''), ...command, '\n'];
    expect(keys.length / TYPED).toBeLessThan(90);

    // The same keys, one after the other, into a file and onto a command line.
    const file = join(course.root, 'd');
    writeFileSync(file, '');
    const own = new Set(loadCourse(course.folder).holes.map(({ id }) => id));
    const typed = keys.slice(0, lines.join('').length).join('').split('\n');
    for (const line of typed.filter((words) => own.has(words.split(' ')[0]))) {
      for (const key of `${line}\n`) writeFileSync(file, key, { flag: 'a' });
    }
    const said = keys.slice(lines.join('').length, -1).join('').split(' ').slice(1);
    const argv = said.map((word) =>
      word === 'links' ? course.folder : word === 'd' ? file : word,
    );
    const { code, stderr } = await runCaptured([...argv, '--out', course.out]);
    expect(code, stderr).toBe(0);

    for (const name of ['day-2.pdf', 'day-2-letter-fold.pdf', 'day-2-a4-fold.pdf']) {
      const made = join(course.out, 'links', name);
      expect(existsSync(made), name).toBe(true);
      expect((await runCaptured(['check', made])).code, name).toBe(0);
    }
    expect(readFileSync(file, 'utf8').trim().split('\n')).toHaveLength(PRINTED.length);
  });
});
