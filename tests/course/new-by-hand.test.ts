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

  // Three commands, three answers, one correction: far under forty lines, and under 250 keystrokes.
  expect(typed.length).toBeLessThan(40);
  expect(typed.reduce((sum, one) => sum + one.length + 1, 0)).toBeLessThan(300);
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
