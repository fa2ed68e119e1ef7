import { type GreenWorth, WORTH_WORDS, worthSentence } from '../appraisal/worth.js';
import { inRuns } from '../course/hole-refs.js';
import { InputFault } from '../fault.js';
import { say } from './output.js';

const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;

/** The judgement of a green as plain data for `--json`. */
export const worthJson = (own: GreenWorth): object => ({
  worth: own.worth,
  judged: own.judged,
  overruled_because: own.overruled,
  reasons: own.reasons,
  what_would_mend_it: own.mend,
  kind: own.kind,
  points_on_green: own.points,
  spacing_m: Number(own.spacing.toFixed(3)),
  noise_m: own.noise === null ? null : Number(own.noise.toFixed(5)),
  stated_sigma_m: own.statedSigma,
  covered_share: Number(own.covered.toFixed(4)),
  doubtful_cells_share: own.doubtfulCells === null ? null : Number(own.doubtfulCells.toFixed(4)),
  surveyed: own.surveyed,
  read_as: own.readAs,
  notes: own.notes,
});

/** "12  fit for fall arrows only" with the reason, what would mend it and the notes below it. */
const rowsOf = (holeId: string, own: GreenWorth, width: number): string[] => {
  const indent = ''.padEnd(width + 2);
  const doubt =
    own.doubtfulCells === null || own.doubtfulCells < 0.005
      ? ''
      : `; ${percent(own.doubtfulCells)} of the aims marked ~`;
  const overruled = own.overruled === null ? '' : ` as the course file says: ${own.overruled}`;
  return [
    `${holeId.padEnd(width)}  ${WORTH_WORDS[own.worth]}${overruled}${doubt}`,
    ...(own.judged === 'tables' ? [] : own.reasons.map((reason) => `${indent}${reason}`)),
    ...(own.mend.length === 0 ? [] : [`${indent}would mend it: ${own.mend.join('; ')}`]),
    ...own.notes.map((note) => `${indent}note: ${note}`),
  ];
};

/** The first point is another one in each survey; it is told where a survey was read like no other. */
const FIRST_POINT = /; first point [^;]*/;

/** Greens whose surveys were read alike, with the words for how. */
const waysRead = (
  greens: readonly { readonly holeId: string; readonly worth: GreenWorth }[],
): { readonly holeIds: string[]; readonly words: string }[] => {
  const ways = new Map<string, { holeIds: string[]; words: string }>();
  for (const { holeId, worth } of greens) {
    const words = worth.readAs ?? 'not told';
    const alike = words.replace(FIRST_POINT, '');
    const way = ways.get(alike);
    if (way === undefined) ways.set(alike, { holeIds: [holeId], words });
    else {
      way.holeIds.push(holeId);
      way.words = alike;
    }
  }
  return [...ways.values()];
};

/** How the survey of each green was read, and the table of greens: the end of a run, on stderr. */
export const sayWorths = (
  greens: readonly { readonly holeId: string; readonly worth: GreenWorth }[],
  tell = say,
): void => {
  if (greens.length === 0) return;
  const width = Math.max(...greens.map(({ holeId }) => holeId.length));
  tell('how the surveys were read:');
  for (const { holeIds, words } of waysRead(greens)) tell(`  ${inRuns(holeIds)}: ${words}`);
  const plain = greens.every(
    ({ worth: { worth, overruled, notes } }) =>
      worth === 'tables' && overruled === null && notes.length === 0,
  );
  if (plain && greens.length > 1) {
    tell(`all ${greens.length} greens ${WORTH_WORDS.tables}`);
    return;
  }
  tell('what the surveys are worth:');
  for (const { holeId, worth } of greens) {
    for (const row of rowsOf(holeId, worth, width)) tell(`  ${row}`);
  }
};

/** Tells how a survey was read, what it is worth where that is not all, and what its reader had to assume. */
export const sayWorth = (what: string, own: GreenWorth): void => {
  if (own.readAs !== null) say(`${what}: read as ${own.readAs}`);
  if (own.worth !== 'tables' || own.overruled !== null) say(`${what}: ${worthSentence(own)}`);
  for (const note of own.notes) say(`${what}: ${note}`);
};

/** The same of a green of a course; refuses what would rest on ground that is not known. */
export const requireWorth = (holeId: string, own: GreenWorth, wanted: string): void => {
  if (own.worth === 'outline') {
    throw new InputFault(
      { file: `green of hole ${holeId}` },
      `no ${wanted}: ${worthSentence(own)}`,
      own.mend.length > 0
        ? `survey it again with ${own.mend.join('; ')}`
        : 'the course file says so by the key "trust"',
    );
  }
  sayWorth(`green of hole ${holeId}`, own);
};
