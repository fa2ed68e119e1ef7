import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test, vi } from 'vitest';
import { runNew } from '../../src/cli/new.js';
import { courseFigures } from '../../src/course/course-figures.js';
import { loadCourse } from '../../src/course/load-course.js';
import { UNTIDY } from './untidy-corpus.js';
import { changed, without } from './untidy-course.js';
import { writtenAs } from './untidy-writers.js';

const root = mkdtempSync(join(tmpdir(), 'by-hand-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const quiet = async (run: () => Promise<void>): Promise<string> => {
  let said = '';
  const out = vi.spyOn(process.stdout, 'write').mockImplementation((chunk) => {
    said += String(chunk);
    return true;
  });
  try {
    await run();
  } finally {
    out.mockRestore();
  }
  return said;
};

/**
 * Seconds a keystroke of one who does not know the keyboard, and of an average typist who is no secretary (40 words a
 * minute), and the pause before each word that is thought of. Source: Card, Moran and Newell, The keystroke-level
 * model, Communications of the ACM 23 (1980), quoted from memory. What the program takes itself is not counted.
 */
const KEY = { slowest: 1.2, average: 0.28 };
const THOUGHT = 1.35;

/** Minutes at the keyboard for lines typed by hand: every character and the return, and a pause before each word. */
const minutesFor = (lines: readonly string[], key: number): number =>
  lines.reduce(
    (sum, line) => sum + (line.length + 1) * key + line.trim().split(/\s+/).length * THOUGHT,
    0,
  ) / 60;

const PARS = '4 3 5 4 4 3 4 5 4 4 3 5 4 4 3 4 5 4';
const INDEXES = '7 17 3 11 5 15 9 1 13 8 18 4 12 6 16 10 2 14';

test('eighteen holes from the untidiest map: what a person types, line by line', async () => {
  // The worst of the corpus, and no par or index in it.
  const untidy = UNTIDY.find((one) => one.name === 'all of it together')!.made(905);
  const map = changed(untidy, (one) => without(one, 'par', 'handicap'));
  const file = join(root, 'extract.osm');
  writeFileSync(file, writtenAs('osm', map));
  const folder = join(root, 'tarn');

  /** Every line that a hand types, commands and answers and lines of the course file. */
  const typed: string[] = [];
  const answers = ['tarn', PARS, INDEXES];
  const questions: string[] = [];
  typed.push('runnel new tarn --map extract.osm');
  const said = await quiet(() =>
    runNew(
      {
        folder,
        map: file,
        title: undefined,
        course: undefined,
        pars: undefined,
        indexes: undefined,
        units: 'imperial',
        json: false,
      },
      async (question) => {
        questions.push(question);
        const answer = answers.shift()!;
        typed.push(answer);
        return answer;
      },
    ),
  );
  expect(questions[0]).toMatch(
    /holds 2 courses:\n {2}1 {2}Heron Marsh, 18 holes\n {2}2 {2}Tarn Side/,
  );
  expect(questions[1]).toMatch(/^Par of all holes/);
  expect(questions[2]).toMatch(/^Stroke index of all holes/);

  // One hole was told to be looked at; the picture shows it, and one line says that it is right.
  expect(said).toMatch(/look: its line had no number and is taken for hole/);
  const course = join(folder, 'course.yaml');
  const [, doubted] = /look: its line had no number and is taken for hole (\d+)/.exec(said)!;
  const green = untidy.holes.find((hole) => hole.id === doubted)!.green;
  const site = loadCourse(folder).holes.find((hole) => hole.id === doubted)!.site;
  expect(site.green?.tags.uid).toBe(green);
  const line = `    green: ${site.green!.id}`;
  typed.push(line);
  writeFileSync(
    course,
    readFileSync(course, 'utf8').replace(
      `  - hole: ${doubted}\n`,
      `  - hole: ${doubted}\n${line}\n`,
    ),
  );
  typed.push('runnel book tarn', 'runnel check out/tarn/pocket.pdf');

  const made = loadCourse(folder);
  expect(made.title).toBe('Tarn Side');
  expect(made.holes.map((hole) => hole.par).join(' ')).toBe(PARS);
  expect(made.holes.map((hole) => hole.strokeIndex).join(' ')).toBe(INDEXES);
  for (const truth of untidy.holes) {
    const hole = made.holes.find((one) => one.id === truth.id)!;
    expect(hole.site.green?.tags.uid, truth.id).toBe(truth.green);
  }
  expect(made.findings.filter((one) => one.problem.startsWith(`hole ${doubted}:`))).toEqual([]);
  const names = new Set(courseFigures(made, null).flatMap((one) => one.tees.map((t) => t.name)));
  expect([...names]).toEqual(['Tee 1', 'Tee 2', 'Tee 3']);

  // Three commands, three answers, one correction: far under forty lines, and under ten minutes for the slowest hand.
  expect(typed).toHaveLength(7);
  expect(typed.length).toBeLessThan(40);
  const minutes = minutesFor(typed, KEY.slowest);
  expect(minutes).toBeLessThan(10);
  expect(minutes).toBeGreaterThan(minutesFor(typed, KEY.average));
  // By the average hand it is under three; forty lines of such length would take the slowest too long.
  expect(minutesFor(typed, KEY.average)).toBeLessThan(3);
  expect(minutesFor(Array.from({ length: 6 }, () => typed).flat(), KEY.slowest)).toBeGreaterThan(
    10,
  );
});

test('a wrong answer is asked again, with what is wrong', async () => {
  const file = join(root, 'plain.geojson');
  const map = changed(UNTIDY[0].made(31), (one) => without(one, 'par'));
  writeFileSync(file, writtenAs('geojson', map));
  const questions: string[] = [];
  const answers = ['4 4', PARS];
  await quiet(() =>
    runNew(
      {
        folder: join(root, 'again'),
        map: file,
        title: 'Again',
        course: undefined,
        pars: undefined,
        indexes: undefined,
        units: 'imperial',
        json: false,
      },
      async (question) => {
        questions.push(question);
        return answers.shift()!;
      },
    ),
  );
  expect(questions[1]).toMatch(/2 numbers for 18 holes; give 18 numbers/);
  expect(loadCourse(join(root, 'again')).holes[1].par).toBe(3);
});
