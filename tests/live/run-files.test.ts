import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { outlines } from '../fuzz/course-kinds.js';
import { seeded } from '../survey/foreign-texts.js';
import { type BuiltProgram, buildProgram } from './built-program.js';

/** What a run keeps in files of its own because it is too large for memory, where there is no room for them. */

let program: BuiltProgram;
let root = '';
let old = '';

const canMount = spawnSync('unshare', ['--mount', 'true']).status === 0;
const LIST = 'sha256sum "$2"/links/*; find "$2" -name "*.runnel-*" ! -name .runnel-made';

/** A script with node, the program and a folder of products as $0, $1 and $2. */
const inShell = (script: string, out: string, within: readonly string[] = []) => {
  const [first, ...rest] = [...within, 'bash', '-c', script, process.execPath, program.main, out];
  const { status, stdout, stderr } = spawnSync(first, rest, { cwd: root, encoding: 'utf8' });
  return { status, stdout, stderr };
};

/** A picture of grey noise, which no packing makes smaller: each of seven PDFs holds its 2.5 MB. */
const largePicture = (): Buffer => {
  const image = new PNG({ width: 1600, height: 1600 });
  const random = seeded(21311);
  for (let at = 0; at < image.data.length; at += 4) {
    image.data.fill(Math.floor(256 * random()), at, at + 3);
    image.data[at + 3] = 255;
  }
  return PNG.sync.write(image, { colorType: 0 });
};

const BOOK = '"$0" "$1" book links --layout pocket --out "$2"';

beforeAll(() => {
  program = buildProgram();
  root = mkdtempSync(join(tmpdir(), 'run-files-'));
  const course = outlines(root, 'links');
  writeFileSync(join(course, 'logo.png'), largePicture());
  const file = join(course, 'course.yaml');
  const told = 'imprint: { publisher: A press, copyright: A press, logo: logo.png }';
  writeFileSync(file, `${readFileSync(file, 'utf8')}${told}\n`);
  expect(inShell(BOOK, 'old').status).toBe(0);
  old = inShell(LIST, 'old').stdout;
  expect(old.split('\n').filter((line) => line.endsWith('.pdf'))).toHaveLength(7);
  writeFileSync(file, readFileSync(file, 'utf8').replace('10 ft', '11 ft'));
}, 120_000);
afterAll(() => {
  program.remove();
  rmSync(root, { recursive: true, force: true });
});

describe('files of a run that find no room', () => {
  // Blocks of 1,024 bytes: under what is written of one document, and under what is kept of several.
  it.each([500, 3_500])(
    'of %i blocks only: one line, the old products whole, no part left',
    (blocks) => {
      const script = `mkdir cut; cp -r old/links cut; ulimit -f ${blocks}; ${BOOK}`;
      const { status, stderr } = inShell(script, 'cut');
      expect(status, stderr).toBe(3);
      expect(stderr).toMatch(
        /^runnel: cut\/\.cache: the file is too large for the system; [^\n]*\n$/,
      );
      expect(inShell(LIST, 'cut').stdout.replaceAll('cut/', 'old/')).toBe(old);
      rmSync(join(root, 'cut'), { recursive: true });
    },
  );

  it.each([300, 3_000])('on a disk with room for %i kB: the same', (kilobytes) => {
    if (!canMount) return;
    const script = `
      mkdir disk; mount -t tmpfs -o size=64m none disk && cp -r old/links disk || exit 99
      used=$(df -k disk | tail -1 | awk '{ print $3 }')
      mount -o remount,size=$((used + ${kilobytes}))k disk || exit 98
      ${BOOK}; code=$?; ${LIST}; exit $code`;
    const { status, stdout, stderr } = inShell(script, 'disk', ['unshare', '--mount']);
    rmSync(join(root, 'disk'), { recursive: true });
    expect(status, stderr).toBe(3);
    expect(stderr).toMatch(/^runnel: disk\/\.cache: the disk is full; [^\n]*\n$/);
    expect(stdout.replaceAll('disk/', 'old/')).toBe(old);
  });
});
