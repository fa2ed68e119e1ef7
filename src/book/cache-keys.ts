import { createHash, type Hash } from 'node:crypto';
import { closeSync, openSync, readdirSync, readFileSync, readSync } from 'node:fs';
import { extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Course, GreenSite } from '../course/course.js';
import type { ReadingOptions } from '../terrain/read-green.js';

/** The program's own files, of which fits and readings depend on some. */
const PROGRAM = fileURLToPath(new URL('../', import.meta.url));
const ROOMS_THAT_READ = ['survey', 'surface', 'terrain', 'course'];
const FILES_THAT_READ = ['units', 'geometry'];

const hexOf = (hash: Hash): string => hash.digest('hex');

/** Parts told apart whatever they hold. */
const digestOfParts = (parts: readonly string[]): string =>
  hexOf(createHash('sha256').update(JSON.stringify(parts)));

const codeIn = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => ['.js', '.ts', '.json'].includes(extname(name)) && !name.endsWith('.d.ts'))
    .sort()
    .map((name) => join(folder, name));

/**
 * The version of the program that matters to a fit or a reading: a digest of the code that makes them and
 * of the engine that runs it, so that no result outlives a change of either.
 */
export const programDigest = (): string => {
  const hash = createHash('sha256').update(process.versions.node);
  const files = [
    ...FILES_THAT_READ.map((name) => join(PROGRAM, `${name}${extname(import.meta.url)}`)),
    ...ROOMS_THAT_READ.flatMap((room) => codeIn(join(PROGRAM, room))),
    join(PROGRAM, '..', 'package.json'),
  ];
  for (const file of files) hash.update(readFileSync(file));
  return hexOf(hash);
};

const CHUNK = 1 << 20;

/** Digest of a file's bytes, of any size. */
const digestOfFile = (path: string): string => {
  const hash = createHash('sha256');
  const chunk = Buffer.alloc(CHUNK);
  const file = openSync(path, 'r');
  try {
    for (;;) {
      const got = readSync(file, chunk, 0, CHUNK, null);
      if (got === 0) return hexOf(hash);
      hash.update(chunk.subarray(0, got));
    }
  } finally {
    closeSync(file);
  }
};

/** All that a green's fit depends on: the survey's bytes, how it is read, and the green's place in it. */
export const fitKey = (course: Course, site: GreenSite, program: string): string =>
  digestOfParts([
    program,
    digestOfFile(join(course.folder, site.survey.file)),
    JSON.stringify(site.survey),
    JSON.stringify([site.plane.name, site.plane.definition]),
    JSON.stringify([site.outline, site.frame]),
  ]);

export const readingKey = (fit: string, options: Partial<ReadingOptions>): string =>
  digestOfParts([fit, JSON.stringify(options)]);
