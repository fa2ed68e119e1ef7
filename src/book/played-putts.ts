import type { NoteMark, Notes } from '../event/notes-file.js';
import type { NotedPlace, PlayedPutt } from '../event/played-putts.js';
import { decimal, phrase, type Telling, type Worded } from '../page/words/words.js';
import { aimReading } from '../putt/rounding.js';
import { solvePutt } from '../putt/solve.js';
import { spreadOfPutt } from '../putt/spread.js';
import { TWO_SIDED_95 } from '../surface/normal-distribution.js';
import { surfaceOfStored } from '../surface/stored-surface.js';
import type { GreenOfBook } from './prepare-green.js';
import { crossesBare } from './surveyed-only.js';

/** Why the book has no figure for a putt. */
type NoFigure = 'unfit' | 'bare' | 'face' | 'no-pace';

/** A putt that was holed beside the one that the book solves; metres, aims positive left. */
export interface ComparedPutt {
  readonly holeId: string;
  readonly played: PlayedPutt;
  readonly stimp: number;
  readonly past: number;
  /** Null: the book has no figure for this putt, and `why` tells why. */
  readonly solved: number | null;
  readonly why: NoFigure | null;
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
  const none = (why: NoFigure): ComparedPutt => ({
    ...told,
    solved: null,
    why,
    doubt: null,
    within: null,
  });
  if (content.worth.worth !== 'tables') return none('unfit');
  const surface = surfaceOfStored(fit.surface);
  const putt = solvePutt(surface, played.ball, played.hole, { stimp, past });
  if (crossesBare(content.worth.bare, putt.path)) return none('bare');
  if (crossesBare(content.worth.unsure, putt.path)) {
    return none('face');
  }
  if (putt.status !== 'holed') return none('no-pace');
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

/** An aim and the letter of its side, as short as a table has it: "14″", "L". */
const aimParts = (
  aim: number,
  tell: Telling,
): { readonly figure: string; readonly side: string } => {
  const { figure, side } = aimReading(aim, tell.units);
  const short = decimal(figure.replace(/ in$/, '″').replace(/ ft$/, '′').replace(/ cm$/, ''), tell);
  return {
    figure: short,
    side: side === 'straight' ? '' : phrase(tell, side === 'left' ? 'aim.L' : 'aim.R'),
  };
};

/** "14″ L", "28 R" in centimetres. */
const aimWords = (aim: number, tell: Telling): string => {
  const { figure, side } = aimParts(aim, tell);
  return side === '' ? figure : `${figure} ${side}`;
};

/** "14″ L held; book 9″ L ± 3″, outside": both aims, and whether the one lies in the interval of the other. */
export const comparedWords = (one: ComparedPutt, tell: Telling): string => {
  const { played, solved, why, doubt, within } = one;
  const aim = aimWords(played.aim, tell);
  if (solved === null) {
    return phrase(tell, 'played.none', { aim, why: phrase(tell, `played.${why ?? 'unfit'}`) });
  }
  const book = aimWords(solved, tell);
  if (doubt === null) return phrase(tell, 'played.held', { aim, book });
  const given = { aim, book, doubt: aimParts(doubt, tell).figure };
  return phrase(tell, within === true ? 'played.within' : 'played.outside', given);
};

/** "3′, book 6′ L": in the fewest words, for the green. */
const markWords = ({ played, solved }: ComparedPutt, tell: Telling): string => {
  const held = aimWords(played.aim, tell);
  if (solved === null) return held;
  const [own, other] = [aimParts(played.aim, tell), aimParts(solved, tell)];
  const aim = own.side === other.side ? own.figure : held;
  return phrase(tell, 'played.mark', { aim, book: aimWords(solved, tell) });
};

/** The sign at the ball: a tick where book and putt agree, a cross where they do not. */
const markOf = (one: ComparedPutt, tell: Telling): NoteMark => ({
  sign: one.within === null ? 'ring' : one.within ? 'tick' : 'cross',
  at: one.played.ball,
  clock: null,
  text: markWords(one, tell),
});

const placeWords = ({ on, left, right }: NotedPlace, tell: Worded): string =>
  left === undefined
    ? phrase(tell, 'played.right', { on, in: right ?? 0 })
    : phrase(tell, 'played.left', { on, in: left });

/** "12 on, 5 left to A: 14″ L held; book 9″ L". */
const foundWords = (one: ComparedPutt, tell: Telling): string => {
  const { from, to } = one.played;
  const hole = typeof to === 'string' ? to : placeWords(to, tell);
  return phrase(tell, 'played.found', {
    putt: phrase(tell, 'played.putt', { from: placeWords(from, tell), hole }),
    compared: comparedWords(one, tell),
  });
};

/** The notes with a mark and a line of words for each putt that was compared. */
export const withPlayed = (notes: Notes, putts: readonly ComparedPutt[], tell: Telling): Notes => ({
  ...notes,
  holes: notes.holes.map((hole) => {
    const own = putts.filter(({ holeId }) => holeId === hole.holeId);
    return {
      ...hole,
      marks: [...hole.marks, ...own.map((one) => markOf(one, tell))],
      found: own.map((one) => foundWords(one, tell)),
    };
  }),
});
