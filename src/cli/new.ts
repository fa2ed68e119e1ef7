import { existsSync, statSync } from 'node:fs';
import { basename, dirname, extname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { sweep, writeAll } from '../book/write-beside.js';
import { missingOfHole } from '../course/check-map.js';
import type { CourseMap, MapFinding } from '../course/course-map.js';
import { coursesOf, mapOfCourse } from '../course/courses-in-map.js';
import { ownName } from '../course/hole-numbers.js';
import { siteOfHole } from '../course/hole-site.js';
import { readMap } from '../course/read-map.js';
import { settleMap } from '../course/settle-map.js';
import type { SettledHole } from '../course/settled-hole.js';
import { soundMap } from '../course/sound-map.js';
import { InputFault } from '../fault.js';
import { DEFAULT_INKS } from '../layout/load-layout.js';
import { readNamedFile } from '../named-file.js';
import { composeCoursePicture } from '../page/front/course-picture.js';
import { measureWith, openFonts } from '../print/fonts.js';
import { writeSvg } from '../print/svg.js';
import type { UnitSystem } from '../units.js';
import { textOf } from '../user-text.js';
import { type Ask, terminalAsk } from './ask.js';
import { type NewHole, newCourseFile } from './new-course-file.js';
import { type GivenFigures, withFigures } from './new-figures.js';
import { printJson, printText } from './output.js';

export interface NewArguments extends GivenFigures {
  readonly folder: string;
  readonly map: string;
  readonly title: string | undefined;
  readonly course: string | undefined;
  readonly json: boolean;
  readonly units: UnitSystem;
}

const SCHEMA = fileURLToPath(new URL('../course/course.schema.json', import.meta.url));

/** Tags that give a hole's stroke index. */
const INDEX_TAGS = ['handicap', 'handicap:men', 'stroke_index', 'si'];

const numberTag = (
  tags: Readonly<Record<string, string>>,
  keys: readonly string[],
): number | null => {
  for (const key of keys) {
    const value = tags[key]?.trim();
    if (value !== undefined && /^\d{1,2}$/.test(value)) return Number(value);
  }
  return null;
};

const newHole = (map: CourseMap, id: string, settled: SettledHole | null): NewHole => {
  const site = siteOfHole(map, id, null);
  const index = numberTag(site.tags, INDEX_TAGS);
  return {
    hole: id,
    name: ownName(site.tags.name),
    par: numberTag(site.tags, ['par']),
    index,
    tees: site.tees.length,
    loop: settled?.loop ?? null,
    missing: [
      ...missingOfHole(map, id).filter((what) => what !== 'handicap' || index === null),
      'survey',
      'hole locations',
    ],
    confidence: settled?.confidence ?? null,
    decided: settled?.decided ?? [],
    look: settled?.look ?? [],
  };
};

/** Greens with a word for their number: practice greens. */
const practiceGreens = (map: CourseMap, holes: readonly SettledHole[]): string[] => {
  const ids = new Set(holes.map((hole) => hole.id));
  const refs = map.features.flatMap((one) => (one.kind === 'green' ? one.refs : []));
  return [...new Set(refs)].filter((ref) => !ids.has(ref) && !/^\d+$/.test(ref)).sort();
};

const refuseToOverwrite = (paths: readonly string[]): void => {
  for (const path of paths) {
    if (existsSync(path)) {
      throw new InputFault(
        { file: path },
        'is there already',
        'nothing is overwritten: choose another folder, or move it away',
      );
    }
  }
};

const holeWords = ({
  hole,
  name,
  par,
  tees,
  missing,
  confidence,
  decided,
  look,
}: NewHole): string[] => [
  `${hole.padStart(3)}  ${[
    ...(name === null ? [] : [name]),
    ...(par === null ? [] : [`par ${par}`]),
    // A practice green has none to miss.
    ...(confidence === null ? [] : [`${tees} tee${tees === 1 ? '' : 's'}`]),
    ...(confidence === null || confidence === 'sure' ? [] : [confidence]),
  ].join(', ')}; missing: ${missing.join(', ')}`,
  ...decided.map((words) => `       ${words}`),
  ...look.map((words) => `       look: ${words}`),
];

const listing = (holes: readonly NewHole[], findings: readonly MapFinding[]): string => {
  const warnings = findings.map(({ feature, problem, cure }) => `${feature}: ${problem}; ${cure}`);
  return [...holes.flatMap(holeWords), ...(warnings.length === 0 ? [] : ['', ...warnings])].join(
    '\n',
  );
};

/** The course to take of a map that may hold several: named, the only one, or asked for. */
const chosenCourse = async (
  map: CourseMap,
  args: NewArguments,
  ask: Ask | null,
): Promise<{ readonly name: string | null; readonly map: CourseMap }> => {
  const courses = coursesOf(map);
  const fault = (problem: string, cure: string): InputFault =>
    new InputFault({ file: args.map }, problem, cure);
  const take = (name: string | undefined): { name: string | null; map: CourseMap } => {
    const own = mapOfCourse(map, name ?? null, fault);
    const [boundary] = own.boundaries;
    const known = courses.find((one) => one.id === boundary?.id);
    return { name: courses.length > 1 ? (known?.name ?? null) : null, map: own };
  };
  if (args.course !== undefined || ask === null || courses.length < 2) return take(args.course);
  const list = courses.map((one, i) => `  ${i + 1}  ${one.name}, ${one.lines} holes`).join('\n');
  let words = `The map holds ${courses.length} courses:\n${list}\nWhich one (number or name)?`;
  for (;;) {
    const line = (await ask(words)).trim();
    const byNumber = /^\d+$/.test(line) ? courses[Number(line) - 1] : undefined;
    try {
      return take(byNumber?.id ?? line);
    } catch (error) {
      if (!(error instanceof InputFault) || line === '') throw error;
      words = `${error.problem}; ${error.cure}. Which one?`;
    }
  }
};

/** The ending of the copy of a map. */
const endingOf = (text: string, file: string): string =>
  text.trimStart().startsWith('<') ? '.osm' : extname(file) || '.geojson';

/** Makes the course folder; `ask` is null where no one can answer. */
export const runNew = async (
  args: NewArguments,
  ask: Ask | null = args.json ? null : terminalAsk(),
): Promise<void> => {
  if (existsSync(args.folder) && !statSync(args.folder).isDirectory()) {
    throw new InputFault({ file: args.folder }, 'is a file', 'name a folder to make');
  }
  const bytes = readNamedFile(
    args.map,
    'name a GeoJSON file, a .osm file or an Overpass JSON answer',
  );
  const text = textOf(bytes, args.map);
  const chosen = await chosenCourse(readMap(text, args.map), args, ask);
  const settled = settleMap(chosen.map);
  const findings = soundMap(settled.map);
  const mapName = `map${endingOf(text, args.map)}`;
  const coursePath = join(args.folder, 'course.yaml');
  const mapPath = join(args.folder, mapName);
  const picturePath = join(args.folder, 'course.svg');
  const ownMap = resolve(mapPath) === resolve(args.map);
  sweep(args.folder);
  refuseToOverwrite([coursePath, ...(ownMap ? [] : [mapPath]), picturePath]);
  const drafts = settled.holes.map((one) => newHole(settled.map, one.id, one));
  const holes = await withFigures(drafts, args, ask);
  const practice = practiceGreens(settled.map, settled.holes).map(
    (id): NewHole => ({
      ...newHole(settled.map, id, null),
      missing: ['bearing of the approach', 'survey', 'hole locations'],
    }),
  );
  const title = args.title ?? chosen.map.boundaries[0]?.name ?? basename(resolve(args.folder));
  const schema = relative(dirname(resolve(coursePath)), SCHEMA).replaceAll('\\', '/');
  const general = settled.findings.filter((one) => !/^hole \S+: /.test(one.problem));
  const told = [...general, ...findings];
  const fonts = openFonts();
  const picture = composeCoursePicture(
    {
      title,
      map: settled.map,
      holes: settled.holes,
      notes: told.map(
        ({ feature, problem, cure }) =>
          `${feature === args.map ? '' : `${feature}: `}${problem}; ${cure}`,
      ),
      tell: { units: args.units },
    },
    measureWith(fonts),
  );
  const svg = writeSvg(picture, DEFAULT_INKS, fonts);
  const course = newCourseFile({
    title,
    map: mapName,
    course: chosen.name,
    schema,
    holes,
    practice,
  });
  writeAll(args.folder, [
    ...(ownMap ? [] : [{ file: mapName, bytes: Buffer.from(bytes) }]),
    { file: 'course.svg', bytes: Buffer.from(svg) },
    { file: 'course.yaml', bytes: Buffer.from(course) },
  ]);
  const files = [coursePath, picturePath, ...(ownMap ? [] : [mapPath])];
  if (args.json) {
    printJson({
      folder: args.folder,
      files,
      title,
      course: chosen.name,
      holes: [...holes, ...practice],
      findings: told,
    });
    return;
  }
  printText(`${coursePath}\n${picturePath}\n${listing([...holes, ...practice], told)}`);
};
