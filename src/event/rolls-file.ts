import { createRequire } from 'node:module';
import { type CheckedYaml, yamlReader } from '../checked-yaml.js';
import type { Course, Hole } from '../course/course.js';
import { noSuchHole } from '../course/named-hole.js';
import { quoted } from '../fault.js';
import type { Point, Ring } from '../geometry.js';
import { distance, insideRing } from '../geometry.js';
import { STIMP_RELEASE_SPEED } from '../putt/green-speed.js';
import { outlineInFrame } from './day-locations.js';
import { aimOfWords, lengthOfWords, releaseOfWords, speedOfWords } from './noted-words.js';
import { holeOfPutt, type NotedPlace, pointOfNote } from './played-putts.js';
import { LEAST_LINE, placeOffLine } from './roll-line.js';

/** A ball that was let go by a ramp or sent off by a putter, and where it lies; metres, frame of the green. */
export interface SentBall {
  readonly ball: Point;
  /** What the ramp points at, or the hole. */
  readonly toward: Point;
  /** The start line beside the hole's centre, positive left; null where it is the computed one, 0 for a ramp. */
  readonly aim: number | null;
  /** m/s; null for a putter's. */
  readonly release: number | null;
  readonly rest: Point;
  /** "rolls[2]", by which it is told. */
  readonly name: string;
}

/** What one file of measured rolls holds. */
export interface RollsOfGreen {
  readonly hole: Hole;
  readonly date: string | null;
  /** Green speed that was thought to hold, metres; null for the course file's. */
  readonly stimp: number | null;
  readonly balls: readonly SentBall[];
}

interface LyingEntry {
  readonly from: NotedPlace;
  readonly rolled?: string;
  readonly side?: string;
  readonly rest?: NotedPlace;
}

interface RollEntry extends LyingEntry {
  readonly toward: string | NotedPlace;
}

interface PuttEntry extends LyingEntry {
  readonly to: string | NotedPlace;
  readonly aim?: string;
}

interface RollsFile {
  readonly hole: number | string;
  readonly date?: string;
  readonly release?: string;
  readonly speed?: string;
  readonly rolls?: readonly RollEntry[];
  readonly putts?: readonly PuttEntry[];
}

type Place = Pick<CheckedYaml<RollsFile>, 'fault' | 'at'>;
type Path = readonly (string | number)[];

const readFile = yamlReader<RollsFile>(
  createRequire(import.meta.url)('./rolls.schema.json') as object,
);

const restOf = (
  { rolled, side, rest }: LyingEntry,
  [ball, toward]: readonly [Point, Point],
  outline: Ring,
  { fault, at, path }: Place & { readonly path: Path },
): Point => {
  const asked = (): Point => {
    if (rest !== undefined) {
      return at([...path, 'rest'], () => pointOfNote(outline, rest, 'of the ball at rest'));
    }
    const words = rolled ?? '';
    const along = lengthOfWords(words);
    if (along === null || along === 0) {
      throw fault(
        [...path, 'rolled'],
        `${quoted(words)} is no length`,
        'write as in: 9ft 2in, 2.79 m',
      );
    }
    const off = side === undefined ? 0 : aimOfWords(side);
    if (off === null) {
      throw fault(
        [...path, 'side'],
        `${quoted(side)} tells no side`,
        'write as in: 4 in left, 10 cm right',
      );
    }
    return placeOffLine(ball, toward, along, off);
  };
  const lying = asked();
  if (!insideRing(outline, lying[0], lying[1])) {
    throw fault(
      [...path, rest === undefined ? 'rolled' : 'rest'],
      'the ball lies off the green',
      'only balls that came to rest on it tell anything; leave this one out',
    );
  }
  return lying;
};

const ballsOf = (
  value: RollsFile,
  hole: Hole,
  outline: Ring,
  { fault, at }: Place,
): readonly SentBall[] => {
  const release = value.release === undefined ? STIMP_RELEASE_SPEED : releaseOfWords(value.release);
  if (release === null) {
    throw fault(
      ['release'],
      `${quoted(value.release)} is no speed at which a ramp lets a ball go`,
      'write as in: 1.83 m/s, 6 ft/s',
    );
  }
  const lineOf = (path: Path, from: NotedPlace, key: string, to: string | NotedPlace) => {
    const ball = at([...path, 'from'], () => pointOfNote(outline, from, 'of the ball'));
    const mark = at([...path, key], () => holeOfPutt(to, hole, outline));
    if (distance(ball, mark) < LEAST_LINE) {
      throw fault([...path, key], 'this is where the ball lay: it tells no direction');
    }
    return [ball, mark] as const;
  };
  const rolls = (value.rolls ?? []).map((entry, k): SentBall => {
    const path = ['rolls', k];
    const line = lineOf(path, entry.from, 'toward', entry.toward);
    const rest = restOf(entry, line, outline, { fault, at, path });
    return { ball: line[0], toward: line[1], aim: 0, release, rest, name: `rolls[${k}]` };
  });
  const putts = (value.putts ?? []).map((entry, k): SentBall => {
    const path = ['putts', k];
    const line = lineOf(path, entry.from, 'to', entry.to);
    const aim = entry.aim === undefined ? null : aimOfWords(entry.aim);
    if (aim === null && entry.aim !== undefined) {
      throw fault(
        [...path, 'aim'],
        `${quoted(entry.aim)} is no aim`,
        'write as in: 14 in left, 3.5 ft right, straight',
      );
    }
    const rest = restOf(entry, line, outline, { fault, at, path });
    return { ball: line[0], toward: line[1], aim, release: null, rest, name: `putts[${k}]` };
  });
  return [...rolls, ...putts];
};

/**
 * Reads a file of measured rolls (rolls.yaml).
 *
 * @throws InputFault with line and key: for a hole that the course lacks or that has no survey, a place off the
 * green, words that are no length, aim or speed.
 */
export const readRolls = (text: string, file: string, course: Course): RollsOfGreen => {
  const { value, fault, at } = readFile(text, file);
  const id = String(value.hole).trim();
  const hole = course.holes.find((one) => one.id === id);
  if (hole === undefined) {
    throw fault(['hole'], ...noSuchHole(course, id));
  }
  if (hole.green === null) {
    throw fault(['hole'], `hole ${id} has no survey to roll a ball on`);
  }
  const stimp = value.speed === undefined ? null : speedOfWords(value.speed);
  if (value.speed !== undefined && stimp === null) {
    throw fault(['speed'], `${quoted(value.speed)} is no green speed`, 'write as in: 10.5ft, 3.2m');
  }
  const outline = outlineInFrame(hole, course.file);
  return {
    hole,
    date: value.date ?? null,
    stimp,
    balls: ballsOf(value, hole, outline, { fault, at }),
  };
};
