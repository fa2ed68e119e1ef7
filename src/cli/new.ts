import { existsSync, readFileSync, statSync } from 'node:fs';
import { basename, dirname, extname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { CommandModule } from 'yargs';
import { writeBeside } from '../book/write-beside.js';
import { checkMap, holeNumbers, missingOfHole } from '../course/check-map.js';
import type { CourseMap, MapFinding } from '../course/course-map.js';
import { siteOfHole } from '../course/hole-site.js';
import { readMap } from '../course/read-map.js';
import { InputFault } from '../fault.js';
import { printJson, printText } from './output.js';

interface NewArguments {
  readonly folder: string;
  readonly map: string;
  readonly title: string | undefined;
  readonly json: boolean;
}

/** What a hole of the new course has, and lacks. */
interface NewHole {
  readonly hole: string;
  readonly name: string | null;
  readonly par: number | null;
  readonly index: number | null;
  readonly tees: number;
  readonly missing: readonly string[];
}

const SCHEMA = fileURLToPath(new URL('../course/course.schema.json', import.meta.url));

const numberTag = (tag: string | undefined): number | null =>
  tag !== undefined && /^\d+$/.test(tag.trim()) ? Number(tag) : null;

const newHole = (map: CourseMap, id: string): NewHole => {
  const site = siteOfHole(map, id, null);
  return {
    hole: id,
    name: site.tags.name ?? null,
    par: numberTag(site.tags.par),
    index: numberTag(site.tags.handicap),
    tees: site.tees.length,
    missing: [...missingOfHole(map, id), 'survey', 'hole locations'],
  };
};

/** Greens with a word for their number: practice greens. */
const practiceGreens = (map: CourseMap): string[] => {
  const holes = new Set(holeNumbers(map));
  const refs = map.features.flatMap((one) => (one.kind === 'green' ? one.refs : []));
  return [...new Set(refs)].filter((ref) => !holes.has(ref) && !/^\d+$/.test(ref)).sort();
};

const surveyName = (id: string): string => `surveys/green-${/^\d$/.test(id) ? `0${id}` : id}.csv`;

/** A text as a YAML scalar: a double-quoted scalar of JSON is one. */
const scalar = (text: string): string => JSON.stringify(text);

const entryLines = (hole: NewHole, isPractice: boolean): string[] => [
  `  - hole: ${/^\d+$/.test(hole.hole) ? hole.hole : scalar(hole.hole)}`,
  ...(hole.name === null ? [] : [`    name: ${scalar(hole.name)}`]),
  ...(isPractice
    ? ['    # approach: 90 # bearing of the line of approach, degrees from true north']
    : [
        hole.par === null ? '    # par: 4' : `    par: ${hole.par}`,
        hole.index === null ? '    # index: 1' : `    index: ${hole.index}`,
      ]),
  `    # survey: ${surveyName(hole.hole)}`,
  '    # locations:',
  '    #   A: { on: 12, left: 5 }',
];

const courseFile = (
  title: string,
  mapName: string,
  schema: string,
  holes: readonly NewHole[],
  practice: readonly NewHole[],
): string =>
  [
    `# yaml-language-server: $schema=${schema}`,
    `title: ${scalar(title)}`,
    `map: ${mapName}`,
    'use: practice',
    '# A stimp reading, in feet.',
    'greenSpeed: 10',
    '# What all surveys have in common.',
    'surveys:',
    '  # crs: EPSG:32630',
    '  unit: m',
    '',
    'holes:',
    ...holes.flatMap((hole) => entryLines(hole, false)),
    ...practice.flatMap((hole) => entryLines(hole, true)),
    '',
  ].join('\n');

const readBytes = (file: string): Buffer => {
  try {
    return readFileSync(file);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    throw new InputFault(
      { file },
      code === 'EISDIR' ? 'is a folder' : 'there is no such file, or it cannot be read',
      'name a GeoJSON file, a .osm file or an Overpass JSON answer',
    );
  }
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

const words = (holes: readonly NewHole[], findings: readonly MapFinding[]): string => {
  const lines = holes.map(
    ({ hole, name, par, tees, missing }) =>
      `${hole.padStart(3)}  ${name ?? ''}${name === null ? '' : ', '}${par === null ? '' : `par ${par}, `}${tees} tee${tees === 1 ? '' : 's'}; missing: ${missing.join(', ')}`,
  );
  const warnings = findings.map(({ feature, problem, cure }) => `${feature}: ${problem}; ${cure}`);
  return [...lines, ...(warnings.length === 0 ? [] : ['', ...warnings])].join('\n');
};

const run = (args: NewArguments): void => {
  if (existsSync(args.folder) && !statSync(args.folder).isDirectory()) {
    throw new InputFault({ file: args.folder }, 'is a file', 'name a folder to make');
  }
  const bytes = readBytes(args.map);
  const text = bytes.toString('utf8');
  const map = readMap(text, args.map);
  const findings = checkMap(map);
  const [first] = findings;
  if (first?.severity === 'fault') {
    throw new InputFault({ file: args.map, place: first.feature }, first.problem, first.cure);
  }
  const ending = text.trimStart().startsWith('<') ? '.osm' : extname(args.map) || '.geojson';
  const mapName = `map${ending}`;
  const coursePath = join(args.folder, 'course.yaml');
  const mapPath = join(args.folder, mapName);
  const ownMap = resolve(mapPath) === resolve(args.map);
  refuseToOverwrite(ownMap ? [coursePath] : [coursePath, mapPath]);
  const holes = holeNumbers(map).map((id) => newHole(map, id));
  const practice = practiceGreens(map).map(
    (id): NewHole => ({
      ...newHole(map, id),
      missing: ['bearing of the approach', 'survey', 'hole locations'],
    }),
  );
  const title = args.title ?? basename(resolve(args.folder));
  const schema = relative(dirname(resolve(coursePath)), SCHEMA).replaceAll('\\', '/');
  if (!ownMap) writeBeside(mapPath, bytes);
  writeBeside(coursePath, courseFile(title, mapName, schema, holes, practice));
  if (args.json) {
    printJson({
      folder: args.folder,
      files: [coursePath, ...(ownMap ? [] : [mapPath])],
      holes: [...holes, ...practice],
      findings,
    });
    return;
  }
  printText(`${coursePath}\n${words([...holes, ...practice], findings)}`);
};

export const newCommand: CommandModule<object, NewArguments> = {
  command: 'new <folder>',
  describe: 'make a course folder from a map',
  builder: (yargs) =>
    yargs
      .positional('folder', {
        type: 'string',
        demandOption: true,
        describe: 'folder to make; nothing in it is overwritten',
      })
      .option('map', {
        type: 'string',
        demandOption: true,
        describe: 'GeoJSON, OpenStreetMap XML or Overpass JSON with golf=* tags',
      })
      .option('title', {
        type: 'string',
        describe: "the course's name; else the folder's",
      }) as never,
  handler: run,
};
