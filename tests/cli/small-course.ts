import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseDocument, type YAMLMap, type YAMLSeq } from 'yaml';

const DEMO = 'course-data/vellamoor';

export interface SmallCourse {
  readonly folder: string;
  readonly root: string;
  readonly out: string;
  /** The course file's text, to be changed and written back. */
  read(): string;
  write(text: string): void;
  remove(): void;
}

/** A copy of some of the demo's holes in a folder of its own, so that a whole run is quick. */
export const smallCourse = (holes: readonly (number | string)[]): SmallCourse => {
  const root = mkdtempSync(join(tmpdir(), 'runnel-test-'));
  const folder = join(root, 'links');
  mkdirSync(folder);
  const document = parseDocument(readFileSync(join(DEMO, 'course.yaml'), 'utf8'));
  const entries = document.get('holes') as YAMLSeq<YAMLMap>;
  entries.items = entries.items.filter((hole) =>
    holes.includes(hole.get('hole') as number | string),
  );
  for (const hole of entries.items) {
    const given = hole.get('survey') as string | YAMLMap;
    const survey = typeof given === 'string' ? given : String(given.get('file'));
    cpSync(join(DEMO, survey), join(folder, survey));
  }
  for (const key of ['map', 'ground']) {
    const file = document.get(key);
    if (typeof file === 'string') cpSync(join(DEMO, file), join(folder, file));
  }
  const days = String(document.get('days'));
  const [head, ...lines] = readFileSync(join(DEMO, days), 'utf8').split('\n');
  const kept = lines.filter((line) => holes.map(String).includes(line.split(',')[0]));
  writeFileSync(join(folder, days), [head, ...kept, ''].join('\n'));
  const file = join(folder, 'course.yaml');
  writeFileSync(file, String(document));
  return {
    folder,
    root,
    out: join(root, 'out'),
    read: () => readFileSync(file, 'utf8'),
    write: (text) => writeFileSync(file, text),
    remove: () => rmSync(root, { recursive: true, force: true }),
  };
};
