import { createRequire } from 'node:module';
import { yamlReader } from '../checked-yaml.js';
import type { Course } from '../course/course.js';
import type { MapFeature } from '../course/course-map.js';
import {
  type MeasuredEntry,
  measuredFeature,
  notMeasured,
  withTee,
} from '../course/measured-features.js';
import { noSuchHole } from '../course/named-hole.js';
import { quoted } from '../fault.js';
import type { Point } from '../geometry.js';
import { outlineInFrame } from './day-locations.js';
import {
  type NotedPlace,
  type PlayedPutt,
  type PuttEntry,
  playedPutt,
  pointOfNote,
} from './played-putts.js';

/** The signs that a note can draw; those in `POINTING` have a direction. */
export type NoteSign =
  | 'ring'
  | 'cross'
  | 'tick'
  | 'star'
  | 'drop'
  | 'step'
  | 'arrow'
  | 'wind'
  | 'grain'
  | 'hop';

const POINTING: readonly NoteSign[] = ['arrow', 'wind', 'grain', 'hop'];

export interface NoteMark {
  readonly sign: NoteSign;
  /** In the frame of the green, metres; null for a mark beside the text. */
  readonly at: Point | null;
  /** Clock hours, 12 up the page; null for a sign without direction. */
  readonly clock: number | null;
  readonly text: string | null;
}

/** What a caddie noted of one hole. */
export interface HoleNotes {
  readonly holeId: string;
  readonly text: string | null;
  readonly marks: readonly NoteMark[];
  /** Putts that were holed, to be compared with the solved ones. */
  readonly putts: readonly PlayedPutt[];
  /** What comparing them found, a line each; absent before that. */
  readonly found?: readonly string[];
  /** What was measured on the round and stands in no map. */
  readonly measured: readonly MapFeature[];
}

export interface Notes {
  /** Whose they are; null when the file does not say. */
  readonly by: string | null;
  readonly holes: readonly HoleNotes[];
}

interface NotesFile {
  readonly by?: string;
  readonly notes: readonly NoteEntry[];
}

interface NoteEntry {
  readonly hole: number | string;
  readonly text?: string;
  readonly marks?: readonly MarkEntry[];
  readonly felt?: readonly FeltEntry[];
  readonly putts?: readonly PuttEntry[];
  readonly measured?: readonly MeasuredEntry[];
}

/** A slope felt: per cent, and where it falls to by clock. */
interface FeltEntry extends NotedPlace {
  readonly grade: number;
  readonly clock: number;
}

interface MarkEntry {
  readonly sign: NoteSign;
  readonly on?: number;
  readonly left?: number;
  readonly right?: number;
  readonly clock?: number;
  readonly text?: string;
}

const readFile = yamlReader<NotesFile>(
  createRequire(import.meta.url)('./notes.schema.json') as object,
);

/** What the notes say of a measurement that has a date. */
/** A text that more words follow ends as a sentence does. */
const ended = (words: string, more: NoteEntry['measured']): string =>
  more?.some(({ date }) => date !== undefined) && /[\p{L}\p{N}]$/u.test(words)
    ? `${words}.`
    : words;

const measuredWords = ({ kind, name, date }: MeasuredEntry): string[] =>
  date === undefined ? [] : [`${name ?? kind} measured ${date}.`];

/** The course with what its notes measured drawn into its map. */
export const withMeasured = <T extends Pick<Course, 'map' | 'holes'>>(
  course: T,
  notes: Notes | undefined,
): T => {
  const measured = notes?.holes.flatMap((one) => one.measured) ?? [];
  if (measured.length === 0) return course;
  const holes = course.holes.map((hole) => {
    const own = measured.filter((one) => one.refs.includes(hole.id));
    const site = own.reduce(withTee, hole.site);
    return site === hole.site ? hole : { ...hole, site };
  });
  const map = { ...course.map, features: [...course.map.features, ...measured] };
  return { ...course, holes, map };
};

/**
 * Reads a caddie's notes (notes.yaml). `checkText` may throw an InputFault for a text that cannot be
 * printed.
 *
 * @throws InputFault with line and key: for a hole that the course lacks, a mark off its green, a sign
 * without the direction that it needs.
 */
export const readNotes = (
  text: string,
  file: string,
  course: Course,
  checkText: (words: string) => void = () => {},
): Notes => {
  const { value, fault, at } = readFile(text, file);
  const seen = new Set<string>();
  const holes = value.notes.map((entry, i): HoleNotes => {
    const id = String(entry.hole).trim();
    const hole = course.holes.find((one) => one.id === id);
    if (hole === undefined) {
      throw fault(['notes', i, 'hole'], ...noSuchHole(course, id));
    }
    if (seen.has(id)) {
      throw fault(['notes', i, 'hole'], `hole ${id} stands twice`, 'write all of it in one entry');
    }
    seen.add(id);
    if (entry.text !== undefined) {
      const words = entry.text;
      at(['notes', i, 'text'], () => checkText(words));
    }
    const marks = (entry.marks ?? []).map((mark, k): NoteMark => {
      const path = ['notes', i, 'marks', k];
      const points = POINTING.includes(mark.sign);
      if (points !== (mark.clock !== undefined)) {
        throw fault(
          [...path, points ? 'sign' : 'clock'],
          points
            ? `the sign ${quoted(mark.sign)} needs a direction`
            : `the sign ${quoted(mark.sign)} has none`,
          points
            ? 'give it by clock: 12 is up the page, 3 to the right'
            : `only ${POINTING.join(', ')} point anywhere`,
        );
      }
      if (mark.text !== undefined) {
        const words = mark.text;
        at([...path, 'text'], () => checkText(words));
      }
      let place: Point | null = null;
      if (mark.on !== undefined) {
        const noted = { ...mark, on: mark.on };
        place = at([...path, 'on'], () =>
          pointOfNote(outlineInFrame(hole, course.file), noted, `of the ${mark.sign}`),
        );
      }
      return { sign: mark.sign, at: place, clock: mark.clock ?? null, text: mark.text ?? null };
    });
    const felt = (entry.felt ?? []).map((one, k) =>
      at(
        ['notes', i, 'felt', k],
        (): NoteMark => ({
          sign: 'arrow',
          at: pointOfNote(outlineInFrame(hole, course.file), one, 'of the slope felt'),
          clock: one.clock,
          text: `${one.grade} %`,
        }),
      ),
    );
    const putts = (entry.putts ?? []).map((one, k) =>
      at(['notes', i, 'putts', k], () => playedPutt(one, hole, outlineInFrame(hole, course.file))),
    );
    let { site } = hole;
    const measured = (entry.measured ?? []).map((one, k): MapFeature => {
      const found = measuredFeature(id, site, one, k + 1);
      if (found.kind !== 'feature') {
        const { path, problem, cure } = notMeasured(found, id, one);
        throw fault(['notes', i, 'measured', k, ...path], problem, cure);
      }
      site = withTee(site, found.feature);
      // Those of the course file are numbered too.
      return { ...found.feature, id: `${found.feature.id} by the notes` };
    });
    const words = [
      ...(entry.text === undefined ? [] : [ended(entry.text.trim(), entry.measured)]),
      ...(entry.measured ?? []).flatMap(measuredWords),
    ];
    return {
      holeId: id,
      text: words.length === 0 ? null : words.join(' '),
      marks: [...marks, ...felt],
      putts,
      measured,
    };
  });
  return { by: value.by ?? null, holes };
};
