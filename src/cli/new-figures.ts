import { InputFault, quoted } from '../fault.js';
import { counted } from '../wording.js';
import type { Ask } from './ask.js';
import type { NewHole } from './new-course-file.js';

/** Pars and stroke indexes as the command line gives them: one a hole. */
export interface GivenFigures {
  readonly pars: string | undefined;
  readonly indexes: string | undefined;
}

/** Numbers for the holes that lack one, as typed in one line: "4 4 3 5". */
const listed = (text: string, holes: readonly string[], what: string): Map<string, number> => {
  const values = text.split(/[\s,;]+/).filter((one) => one !== '');
  const fault = (problem: string): InputFault =>
    new InputFault(
      { file: 'command line', place: `--${what}` },
      problem,
      `give ${counted(holes.length, 'number')}, one a hole in the order ${holes.slice(0, 4).join(', ')}${holes.length > 4 ? ' …' : ''}`,
    );
  if (values.length !== holes.length) {
    throw fault(`${counted(values.length, 'number')} for ${counted(holes.length, 'hole')}`);
  }
  const [least, most] = what === 'pars' ? [3, 6] : [1, 36];
  return new Map(
    values.map((value, i) => {
      const number = /^\d+$/.test(value) ? Number(value) : Number.NaN;
      if (!(number >= least && number <= most)) {
        throw fault(`${quoted(value, 20)} is none from ${least} to ${most}`);
      }
      return [holes[i], number];
    }),
  );
};

/** Asks until the line can be read; an empty line leaves it open. */
const askList = async (
  ask: Ask,
  question: string,
  holes: readonly string[],
  what: string,
): Promise<Map<string, number>> => {
  let words = question;
  for (let tries = 0; tries < 3; tries++) {
    const line = (await ask(words)).trim();
    if (line === '') break;
    try {
      return listed(line, holes, what);
    } catch (error) {
      if (!(error instanceof InputFault)) throw error;
      words = `${error.problem}; ${error.cure}:`;
    }
  }
  return new Map();
};

/** The holes with the pars and indexes that the map lacks, from the command line or from the one who sits there. */
export const withFigures = async (
  holes: readonly NewHole[],
  given: GivenFigures,
  ask: Ask | null,
): Promise<NewHole[]> => {
  const figures = async (key: 'par' | 'index'): Promise<Map<string, number>> => {
    const what = key === 'par' ? 'pars' : 'indexes';
    const said = given[what];
    const all = holes.map((hole) => hole.hole);
    if (said !== undefined) return listed(said, all, what);
    const open = holes.filter((hole) => hole[key] === null).map((hole) => hole.hole);
    if (ask === null || open.length === 0) return new Map();
    const called = key === 'par' ? 'Par' : 'Stroke index';
    const which = open.length === all.length ? 'all holes' : `holes ${open.join(' ')}`;
    return askList(ask, `${called} of ${which} in one line (empty: later):`, open, what);
  };
  const pars = await figures('par');
  const indexes = await figures('index');
  return holes.map((hole) => {
    const par = pars.get(hole.hole) ?? hole.par;
    const index = indexes.get(hole.hole) ?? hole.index;
    const missing = hole.missing.filter(
      (what) => !(what === 'par' && par !== null) && !(what === 'handicap' && index !== null),
    );
    return { ...hole, par, index, missing };
  });
};
