import { createHash, type Hash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { basename, dirname, extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { TrustEntry } from '../appraisal/worth.js';
import type { Course, GreenSite } from '../course/course.js';
import { fileOfCourse } from '../course/course-files.js';
import { filesBeside } from '../survey/readers/byte-source.js';
import type { ReadingOptions } from '../terrain/read-green.js';
import { digestOfFile } from './file-digest.js';
import type { HolesRequest } from './green-job.js';

/** The program's own files, of which what is kept depends on some. */
const PROGRAM = fileURLToPath(new URL('../', import.meta.url));
const ROOMS_THAT_READ = [
  'survey',
  'surface',
  'terrain',
  'putt',
  'course',
  'appraisal',
  'event',
  'book',
];
const FILES_THAT_READ = ['units', 'geometry', 'page/book-content'];

const hexOf = (hash: Hash): string => hash.digest('hex');

/** Parts told apart whatever they hold. */
export const digestOfParts = (parts: readonly string[]): string =>
  hexOf(createHash('sha256').update(JSON.stringify(parts)));

const codeIn = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter(
      (name) =>
        ['.js', '.ts', '.json'].includes(extname(name)) &&
        !name.endsWith('.d.ts') &&
        name !== BUILT,
    )
    .sort()
    .map((name) => join(folder, name));

/** The folder of a dependency, as Node finds it from a file in `from`; null when it is not installed. */
const folderOf = (name: string, from: string): string | null => {
  const own = join(from, 'node_modules', name);
  if (existsSync(join(own, 'package.json'))) return own;
  return dirname(from) === from ? null : folderOf(name, dirname(from));
};

interface Manifest {
  readonly version: string;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly optionalDependencies?: Readonly<Record<string, string>>;
}

/** The packages that run with a program, each with its version: its dependencies, theirs, and so on. */
const installedVersions = (root: string): string[] => {
  const seen = new Map<string, string>();
  const manifestOf = (folder: string): Manifest =>
    JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const visit = (folder: string, { dependencies, optionalDependencies }: Manifest): void => {
    for (const name of Object.keys({ ...dependencies, ...optionalDependencies })) {
      const found = folderOf(name, folder);
      if (found === null || seen.has(found)) continue;
      const manifest = manifestOf(found);
      seen.set(found, `${name} ${manifest.version}`);
      visit(found, manifest);
    }
  };
  visit(root, manifestOf(root));
  return [...seen.values()].sort();
};

/** What the lockfile says of the packages; installed without one, what is installed. */
const packagesOf = (root: string): string => {
  const lockfile = join(root, 'package-lock.json');
  return existsSync(lockfile)
    ? readFileSync(lockfile, 'utf8')
    : JSON.stringify(installedVersions(root));
};

/** Digests of the program's code. */
interface CodeDigests {
  /** Of what fits and readings depend on. */
  readonly reading: string;
  readonly whole: string;
}

const digestOfFiles = (files: readonly string[]): string => {
  const hash = createHash('sha256');
  for (const file of files) hash.update(readFileSync(file));
  return hexOf(hash);
};

const CODE: Readonly<Record<keyof CodeDigests, (program: string) => string[]>> = {
  reading: (program) => [
    ...FILES_THAT_READ.map((name) => join(program, `${name}${extname(import.meta.url)}`)),
    ...ROOMS_THAT_READ.flatMap((room) => codeIn(join(program, room))),
  ],
  whole: codeIn,
};

/** Where the build leaves the digests of the code that it has made. */
const BUILT = 'code-digests.json';

/** Milliseconds by which what was installed together may differ in age; compiling takes longer. */
const TOGETHER = 1000;

/** What the build says of the code, unless it was compiled again since. */
const builtDigests = (program: string): CodeDigests | null => {
  const path = join(program, BUILT);
  try {
    const [told, compiled] = [path, fileURLToPath(import.meta.url)].map((file) => statSync(file));
    if (told.mtimeMs + TOGETHER < compiled.mtimeMs) return null;
    return JSON.parse(readFileSync(path, 'utf8'));
  } catch {
    return null;
  }
};

/** Leaves the digests of the code beside it: reading hundreds of files takes as long as a small command. */
export const buildCodeDigests = (program = PROGRAM): void => {
  const digests: CodeDigests = {
    reading: digestOfFiles(CODE.reading(program)),
    whole: digestOfFiles(CODE.whole(program)),
  };
  writeFileSync(join(program, BUILT), JSON.stringify(digests));
};

/** Of code, and of what runs it. */
const digestOf = (part: keyof CodeDigests, program: string): string => {
  const root = join(program, '..');
  const code = builtDigests(program)?.[part] ?? digestOfFiles(CODE[part](program));
  const manifest = readFileSync(join(root, 'package.json'));
  return hexOf(
    createHash('sha256')
      .update(process.versions.node)
      .update(code)
      .update(manifest)
      .update(packagesOf(root)),
  );
};

/** The program that runs does not change: it is read once. */
const ownOnce = (part: keyof CodeDigests): ((program?: string) => string) => {
  let own: string | undefined;
  return (program) => {
    if (program !== undefined) return digestOf(part, program);
    own ??= digestOf(part, PROGRAM);
    return own;
  };
};

/**
 * The version of the program that matters to a fit or a reading: a digest of the code that makes them, of
 * the packages it uses and of the engine that runs it, so that no result outlives a change of any.
 *
 * @param program the folder of the rooms, in the folder of package.json.
 */
export const programDigest = ownOnce('reading');

/** The same of all of the program's code: what a finished product depends on. */
export const wholeProgramDigest = ownOnce('whole');

/** Of a survey and of the files beside it that are read with it. */
const digestsOfSurvey = (path: string): string[] => [
  digestOfFile(path),
  ...filesBeside(path)
    .filter((name) => existsSync(name) && statSync(name).isFile())
    .map((name) => `${basename(name)} ${digestOfFile(name)}`),
];

/** Of surveys by their paths, each taken once in a run: many greens may share one file. */
export type Digests = Map<string, readonly string[]>;

const digestsOnce = (path: string, digests: Digests): readonly string[] => {
  const known = digests.get(path) ?? digestsOfSurvey(path);
  digests.set(path, known);
  return known;
};

/** All that a green's fit depends on: the survey's bytes, how it is read, and the green's place in it. */
export const fitKey = (
  course: Course,
  site: GreenSite,
  program: string,
  digests: Digests = new Map(),
): string =>
  digestOfParts([
    program,
    ...digestsOnce(fileOfCourse(course.folder, site.survey.file), digests),
    JSON.stringify(site.survey),
    JSON.stringify([site.plane.name, site.plane.definition]),
    JSON.stringify([site.outline, site.frame]),
  ]);

/** All that the figures of a course's holes depend on: its map, its holes as the map shows them, and its ground model. */
export const figuresKey = ({ folder, map, holes, ground }: Course): string =>
  digestOfParts([
    programDigest(),
    ...(ground === null ? [] : digestsOfSurvey(fileOfCourse(folder, ground.file))),
    JSON.stringify([ground, map.features, map.boundaries]),
    JSON.stringify(
      holes.map(({ id, name, par, strokeIndex, loop, site }) => [
        ...[id, name, par, strokeIndex, loop ?? null],
        site,
      ]),
    ),
  ]);

/** Of a survey alone: its bytes and how they are read, whatever it is called and whatever program reads it. */
export const surveyDigest = (course: Course, site: GreenSite, digests: Digests): string => {
  const { file, surveyed: _, ...read } = site.survey;
  const bytes = digestsOnce(fileOfCourse(course.folder, file), digests);
  return digestOfParts([...bytes, JSON.stringify(read)]).slice(0, 8);
};

export const readingKey = (fit: string, options: Partial<ReadingOptions>): string =>
  digestOfParts([fit, JSON.stringify(options)]);

/** The putts of a green, as a layout and a course file want them, wherever its holes are. */
export const puttsKey = (
  fit: string,
  trust: TrustEntry | null,
  { locations: _, ...asked }: HolesRequest,
): string => digestOfParts([fit, JSON.stringify(trust), JSON.stringify(asked)]);

/** Of what is kept of pages of a course and layout, by their names. */
export const pagesKey = (
  kind: 'pages' | 'streams' | 'drawn' | 'bars',
  of: readonly string[],
): string => digestOfParts([kind, wholeProgramDigest(), ...of]);

/** The judgement of a survey, in the words of a system of units. */
export const worthKey = (fit: string, units: string): string => digestOfParts([fit, units]);
