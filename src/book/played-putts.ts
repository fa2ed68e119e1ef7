import type { NoteMark, Notes } from '../event/notes-file.js';
import type { PlayedPutt } from '../event/played-putts.js';
import { aimReading } from '../putt/rounding.js';
import { solvePutt } from '../putt/solve.js';
import { spreadOfPutt } from '../putt/spread.js';
import { TWO_SIDED_95 } from '../surface/normal-distribution.js';
import { surfaceOfStored } from '../surface/stored-surface.js';
import type { UnitSystem } from '../units.js';
import type { GreenOfBook } from './prepare-green.js';
import { crossesBare } from './surveyed-only.js';

/** A putt that was holed beside the one that the book solves; metres, aims positive left. */
export interface ComparedPutt {
  readonly holeId: string;
  readonly played: PlayedPutt;
  readonly stimp: number;
  readonly past: number;
  /** Null: the book has no figure for this putt, and `why` tells why. */
  readonly solved: number | null;
  readonly why: string | null;
  /** Half of the survey's interval of 95 %; null when it is not known. */
  readonly doubt: number | null;
  /** Whether the aim that holed it lies in that interval; null when there is none. */
  readonly within: boolean | null;
}

const compared = (
  played: PlayedPutt,
  { content, fit }: GreenOfBook,
  past: number,
): ComparedPutt => {
  const stimp = played.stimp ?? content.stimp;
  const told = { holeId: content.holeId, played, stimp, past };
  const none = (why: string): ComparedPutt => ({
    ...told,
    solved: null,
    why,
    doubt: null,
    within: null,
  });
  if (content.worth.worth !== 'tables') return none('the survey is not fit for break tables');
  const surface = surfaceOfStored(fit.surface);
  const putt = solvePutt(surface, played.ball, played.hole, { stimp, past });
  if (crossesBare(content.worth.bare, putt.path)) return none('its way was not surveyed');
  if (crossesBare(content.worth.unsure, putt.path)) {
    return none('it crosses a face that the survey does not tell');
  }
  if (putt.status !== 'holed') return none('no pace holds it at this speed');
  const sd = spreadOfPutt(surface, putt, { stimp, past })?.aimSd ?? null;
  const doubt = sd === null || !Number.isFinite(sd) ? null : TWO_SIDED_95 * sd;
  const off = Math.abs(played.aim - putt.aimOffset);
  return {
    ...told,
    solved: putt.aimOffset,
    why: null,
    doubt,
    within: doubt === null ? null : off <= doubt,
  };
};

/** The putts of the notes beside what the book solves for the same ball, hole and green speed, in their order. */
export const comparePlayed = (
  notes: Notes | undefined,
  greens: readonly GreenOfBook[],
  past: number,
): ComparedPutt[] =>
  (notes?.holes ?? []).flatMap(({ holeId, putts }) => {
    const green = greens.find((one) => one.content.holeId === holeId);
    return green === undefined ? [] : putts.map((putt) => compared(putt, green, past));
  });

/** "14″ L", "28 R" in centimetres. */
const aimWords = (aim: number, units: UnitSystem): string => {
  const { figure, side } = aimReading(aim, units);
  const short = figure.replace(/ in$/, '″').replace(/ ft$/, '′').replace(/ cm$/, '');
  return side === 'straight' ? short : `${short} ${side === 'left' ? 'L' : 'R'}`;
};

/** "14″ L held; book 9″ L ± 3″, outside": both aims, and whether the one lies in the interval of the other. */
export const comparedWords = (one: ComparedPutt, units: UnitSystem): string => {
  const { played, solved, why, doubt, within } = one;
  const held = `${aimWords(played.aim, units)} held`;
  if (solved === null) return `${held}; book none, ${why}`;
  if (doubt === null) return `${held}; book ${aimWords(solved, units)}`;
  const interval = `${aimWords(solved, units)} ± ${aimWords(doubt, units).replace(/ [LR]$/, '')}`;
  return `${held}; book ${interval}, ${within === true ? 'within' : 'outside'}`;
};

/** "3′, book 6′ L": in the fewest words, for the green. */
const markWords = ({ played, solved }: ComparedPutt, units: UnitSystem): string => {
  const held = aimWords(played.aim, units);
  if (solved === null) return held;
  const book = aimWords(solved, units);
  const isOneSide = held.slice(-2) === book.slice(-2);
  return `${isOneSide ? held.replace(/ [LR]$/, '') : held}, book ${book}`;
};

/** The sign at the ball: a tick where book and putt agree, a cross where they do not. */
const markOf = (one: ComparedPutt, units: UnitSystem): NoteMark => ({
  sign: one.within === null ? 'ring' : one.within ? 'tick' : 'cross',
  at: one.played.ball,
  clock: null,
  text: markWords(one, units),
});

/** The notes with a mark and a line of words for each putt that was compared. */
export const withPlayed = (
  notes: Notes,
  putts: readonly ComparedPutt[],
  units: UnitSystem,
): Notes => ({
  ...notes,
  holes: notes.holes.map((hole) => {
    const own = putts.filter(({ holeId }) => holeId === hole.holeId);
    return {
      ...hole,
      marks: [...hole.marks, ...own.map((one) => markOf(one, units))],
      found: own.map((one) => `${one.played.words}: ${comparedWords(one, units)}`),
    };
  }),
});
