import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openSite } from '../../src/cli/proof-site.js';
import { answerTo, type ProofSite } from '../../src/proof/answers.js';
import { DRIFT, doubtedCourse, SWATHS, WAVE } from './doubted-course.js';
import { runCaptured } from './run-captured.js';
import type { SmallCourse } from './small-course.js';

/**
 * What one command knows of the doubt in a survey these tell, too: waves that were found, a drift that was taken
 * off, the edge between two swaths. All three are planted, so that each has to be found first.
 */
const TOLD: Readonly<Record<string, RegExp>> = {
  [WAVE]: /keep a wave of 3\.\d ft from crest to crest, 0\.1\d? in high/,
  [DRIFT]: /the heights drift by 0\.\d+ in along the walk/,
  [SWATHS]: /the edge between two swaths may cross the green unseen: a step of about 1\.57 in/,
};
const HOLES = Object.keys(TOLD);
const FILE: Readonly<Record<string, string>> = {
  [WAVE]: 'green-12.csv',
  [DRIFT]: 'green-01.csv',
  [SWATHS]: 'green-03.ply',
};

interface NotedGreen {
  readonly hole: string | null;
  readonly notes: readonly string[];
}

/** Every list of notes in a result, with the hole that it stands beside. */
const notesIn = (value: unknown, beside: string | null = null): NotedGreen[] => {
  if (Array.isArray(value)) return value.flatMap((one) => notesIn(one, beside));
  if (typeof value !== 'object' || value === null) return [];
  const own = value as Readonly<Record<string, unknown>>;
  const hole = typeof own.hole === 'string' ? own.hole : beside;
  return Object.entries(own).flatMap(([key, one]) =>
    key === 'notes' && Array.isArray(one)
      ? [{ hole, notes: one.map(String) }]
      : notesIn(one, HOLES.includes(key) ? key : hole),
  );
};

describe('the doubts of a survey', { tags: 'long', timeout: 600_000 }, () => {
  let course: SmallCourse;
  const more = (): string[] => ['--out', course.out];
  beforeAll(() => {
    course = doubtedCourse();
  });
  afterAll(() => course.remove());

  const said = async (...argv: string[]) => {
    const { code, stdout, stderr } = await runCaptured(argv);
    expect(code, stderr).toBe(0);
    return { stdout, stderr };
  };
  /** The result of a command tells them in words and in its data. */
  const tells = async (holes: readonly string[], ...argv: string[]): Promise<void> => {
    const words = await said(...argv);
    const data = notesIn(JSON.parse((await said(...argv, '--json')).stdout));
    for (const hole of holes) {
      expect(`${words.stdout}${words.stderr}`, hole).toMatch(TOLD[hole]);
      const notes = data.flatMap((one) =>
        one.hole === null || one.hole === hole ? one.notes : [],
      );
      expect(notes.join('\n'), hole).toMatch(TOLD[hole]);
    }
  };

  it.each(HOLES)('are told with the green of hole %s', async (hole) => {
    await tells([hole], 'green', course.folder, hole, ...more());
  });

  it('are told with the pages of a day', async () => {
    await tells(HOLES, 'day', course.folder, '--day', '1', ...more());
  });

  it.each(HOLES)('are told beside the places where hole %s could be cut', async (hole) => {
    await tells([hole], 'locate', course.folder, hole, ...more());
  });

  it.each(HOLES)('are told of the surveys that are compared on hole %s', async (hole) => {
    const file = join(course.folder, 'surveys', FILE[hole]);
    await tells(
      [hole],
      'compare',
      'course',
      file,
      '--course',
      course.folder,
      '--hole',
      hole,
      '--unit',
      'm',
      '--crs',
      'EPSG:32625',
    );
  });

  it('are told with the book', async () => {
    await tells(HOLES, 'book', course.folder, ...more());
  });

  it('are told by the proof where it is opened, and stopped by the terminal', async () => {
    const proof = ['proof', course.folder, '--port', '0', ...more()];
    /** Runs the proof until it listens for the terminal's Ctrl+C, and presses that. */
    const stopped = async (...more: string[]) => {
      const before = process.listenerCount('SIGINT');
      let over = false;
      const running = said(...proof, ...more).finally(() => {
        over = true;
      });
      while (!over && process.listenerCount('SIGINT') === before) await setTimeout(50);
      if (!over) process.emit('SIGINT');
      return running;
    };
    const words = await stopped();
    const { stdout } = await stopped('--json');
    for (const hole of HOLES) {
      expect(words.stderr, hole).toMatch(TOLD[hole]);
      const notes = notesIn(JSON.parse(stdout)).filter((one) => one.hole === hole);
      expect(notes.flatMap((one) => one.notes).join('\n'), hole).toMatch(TOLD[hole]);
    }
  });

  describe('by the pages of the proof', () => {
    let site: ProofSite;
    beforeAll(async () => {
      const given = { course: course.folder, layout: 'pocket', port: 0, out: course.out };
      const more = { locations: undefined, units: undefined, outside: false, json: false };
      site = await openSite({ ...given, ...more }, () => {});
    });

    it.each(HOLES)('are told beside the pages of hole %s', (hole) => {
      const { status, body } = answerTo(site, new URL(`http://127.0.0.1/?hole=${hole}`));
      expect(status).toBe(200);
      expect(String(body)).toMatch(TOLD[hole]);
      for (const other of HOLES) if (other !== hole) expect(String(body)).not.toMatch(TOLD[other]);
    });
  });

  it('are told with a putt', async () => {
    const argv = ['putt', '--course', course.folder, '--green', WAVE, '--stimp', '10'];
    await tells([WAVE], ...argv, '--from', '388953,3607779', '--hole', '388956,3607782', ...more());
  });
});
