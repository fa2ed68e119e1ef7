import { existsSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { InputFault } from '../fault.js';
import { kindOfFile } from '../named-file.js';
import { isStimpReading } from '../stimp-readings.js';
import { feetToMetres } from '../units.js';
import { readTextFile } from '../user-text.js';
import type { Course, GreenSite, Hole, HoleSite, SurveySource } from './course.js';
import {
  type CourseFile,
  type FaultAt,
  type HoleEntry,
  type Path,
  readCourseFile,
  type SourceEntry,
} from './course-file.js';
import { type NamedFileCheck, NOTES, namedFiles } from './course-files.js';
import { type MapFeature, packedMap } from './course-map.js';
import { greenSite, outlineSite } from './green-site.js';
import { numberedName, ownName } from './hole-numbers.js';
import { siteOfHole } from './hole-site.js';
import { imprintOf } from './imprint.js';
import { measuredFeature, notMeasured, withTee } from './measured-features.js';
import { holeAsWritten } from './named-hole.js';
import {
  holeIdOf,
  type Remember,
  rememberNothing,
  settledCourse,
  settlingOf,
} from './settled-course.js';

const DEFAULT_SPEED = 10;

/** A stimp reading in metres from a number of feet or a text such as "3.2 m". */
const stimpOf = (entry: number | string, path: Path, fault: FaultAt): number => {
  const metres =
    typeof entry === 'string' && entry.trim().endsWith('m')
      ? Number.parseFloat(entry)
      : feetToMetres(Number.parseFloat(String(entry)));
  if (!isStimpReading(metres)) {
    throw fault(
      path,
      `${entry} is no green speed`,
      'a stimp reading lies between 2 and 20 ft; write metres as "3.2 m"',
    );
  }
  return metres;
};

const sourceOf = (
  entry: SourceEntry,
  common: CourseFile['surveys'],
  named: NamedFileCheck,
  path: Path,
  fault: FaultAt,
): SurveySource => {
  const own = typeof entry === 'string' ? { file: entry } : entry;
  named(own.file, path, fault, 'files beside');
  if (own.crs !== undefined && own.tie !== undefined) {
    throw fault([...path, 'tie'], 'the survey has both a crs and a tie', 'give one of them');
  }
  return {
    format: null,
    crs: null,
    unit: null,
    verticalUnit: null,
    sigma: null,
    columns: null,
    classes: null,
    surface: null,
    layer: null,
    sheet: null,
    band: null,
    tie: null,
    surveyed: null,
    ...common,
    // A survey has one frame: its own takes the place of the common one.
    ...(own.tie === undefined ? {} : { crs: null }),
    ...(own.crs === undefined ? {} : { tie: null }),
    ...own,
  };
};

const integerTag = (tag: string | undefined): number | null =>
  tag !== undefined && /^\d+$/.test(tag.trim()) ? Number(tag) : null;

const nameOf = (entry: HoleEntry, site: HoleSite, id: string): string =>
  entry.name ?? ownName(site.tags.name) ?? numberedName(id);

/** The course file of a course: the file itself, or `course.yaml` in the folder. */
export const courseFileOf = (course: string): string => {
  if (!existsSync(course)) {
    throw new InputFault(
      { file: course },
      'there is no such course',
      'name a folder that holds a course.yaml, or the file itself',
    );
  }
  const file = statSync(course).isDirectory() ? join(course, 'course.yaml') : course;
  if (kindOfFile(file) !== 'a file') {
    throw new InputFault(
      { file: course },
      file === course ? 'this is not a file' : 'the folder holds no course.yaml',
      '`runnel new FOLDER --map FILE` makes one from a map',
    );
  }
  return file;
};

/** What the course file adds to the map in its place on each hole, and the holes with the tees among it. */
const withAdded = (
  holes: readonly Hole[],
  entries: readonly HoleEntry[],
  fault: (i: number, path: Path, problem: string, cure?: string) => InputFault,
): { readonly added: MapFeature[]; readonly holes: Hole[] } => {
  const added: MapFeature[] = [];
  const all = holes.map((hole, i): Hole => {
    let { site } = hole;
    (entries[i].add ?? []).forEach((measured, k) => {
      const found = measuredFeature(hole.id, site, measured, k + 1);
      if (found.kind === 'feature') {
        added.push(found.feature);
        site = withTee(site, found.feature);
        return;
      }
      const { path, problem, cure } = notMeasured(found, hole.id, measured);
      throw fault(i, ['add', k, ...path], problem, cure);
    });
    return site === hole.site ? hole : { ...hole, site };
  });
  return { added, holes: all };
};

interface LoadOptions {
  readonly outside?: boolean;
  readonly remember?: Remember;
}

/**
 * Reads and checks a course: `course` is its folder or its course file. The map is read, every survey is
 * known to exist, every hole location lies on its green; no survey is read yet. `outside` allows files
 * outside the course's folder; `remember` takes over what settling the map gave in an earlier run.
 *
 * @throws InputFault with file, line and key.
 */
export const loadCourse = (
  course: string,
  { outside = false, remember = rememberNothing }: LoadOptions = {},
): Course => {
  const file = courseFileOf(course);
  const folder = dirname(file);
  const { value, fault } = readCourseFile(readTextFile(file), file);
  const nameFile = namedFiles(folder, outside);
  const mapPath = nameFile(value.map, ['map'], fault);
  if (value.days !== undefined) nameFile(value.days, ['days'], fault);
  // The notes are named by no key, but are the course's all the same.
  if (kindOfFile(join(folder, NOTES)) !== undefined) nameFile(NOTES, [], fault);
  const settling = settlingOf(value, mapPath);
  const known = remember(JSON.stringify(settling), () => settledCourse(settling, mapPath, fault));
  const { named, settled, findings } = known;
  const map = { ...packedMap(known.map), file: mapPath };
  const stimp = stimpOf(value.greenSpeed ?? DEFAULT_SPEED, ['greenSpeed'], fault);
  const seen = new Map<string, number>();
  const mapped = value.holes.map((entry, i): Hole => {
    const id = holeIdOf(entry.hole);
    const first = seen.get(id);
    if (first !== undefined) {
      throw fault(
        ['holes', i, 'hole'],
        `hole ${holeAsWritten(id)} stands twice`,
        'each hole has its own number',
      );
    }
    seen.set(id, i);
    const site = siteOfHole(map, id, named.get(id) ?? null);
    if (site.line === null && site.green === null) {
      throw fault(
        ['holes', i, 'hole'],
        `the map has neither a line of play nor a green for hole ${holeAsWritten(id)}`,
        `give golf=hole and golf=green the tag ref=${holeAsWritten(id)}, or name the green's id by the key "green"`,
      );
    }
    const faultOfHole: FaultAt = (path, problem, cure) =>
      fault(['holes', i, ...path], problem, cure);
    const green: GreenSite | null =
      entry.survey === undefined
        ? null
        : greenSite({
            id,
            entry,
            site,
            source: sourceOf(entry.survey, value.surveys, nameFile, ['holes', i, 'survey'], fault),
            stimp:
              entry.greenSpeed === undefined
                ? stimp
                : stimpOf(entry.greenSpeed, ['holes', i, 'greenSpeed'], fault),
            fault: faultOfHole,
          });
    return {
      id,
      name: nameOf(entry, site, id),
      par: entry.par ?? integerTag(site.tags.par),
      strokeIndex: entry.index ?? integerTag(site.tags.handicap),
      loop: entry.loop ?? settled.find((one) => one.id === id)?.loop ?? null,
      site,
      green,
      outline: green === null ? outlineSite({ id, entry, site, fault: faultOfHole }) : null,
    };
  });
  const { added, holes } = withAdded(mapped, value.holes, (i, path, problem, cure) =>
    fault(['holes', i, ...path], problem, cure),
  );
  return {
    title: value.title,
    setting: value.setting ?? '',
    folder,
    file,
    use: value.use ?? 'practice',
    ...(value.words === undefined ? {} : { words: nameFile(value.words, ['words'], fault) }),
    ...(value.units === undefined ? {} : { units: value.units }),
    stimp,
    map: added.length === 0 ? map : { ...map, features: [...map.features, ...added] },
    findings,
    settled,
    ground:
      value.ground === undefined
        ? null
        : sourceOf(value.ground, value.surveys, nameFile, ['ground'], fault),
    dayFile: value.days ?? null,
    imprint: imprintOf(value, holes, nameFile, fault),
    holes,
  };
};
