import { join } from 'node:path';
import type { Cache } from '../book/cache.js';
import type { MadeBook } from '../book/kept-book.js';
import { type ComparedPutt, comparedWords } from '../book/played-putts.js';
import type { GreenOfBook } from '../book/prepare-green.js';
import type { requireBound } from '../layout/binding.js';
import type { Layout } from '../layout/layout.js';
import { counted } from '../wording.js';
import { changesJson, sayChanges } from './book-manifest.js';
import { bookOfCourse, type OneBookArguments, requirePng } from './book-of-course.js';
import { madeFiles } from './made-files.js';
import { say, showProgress } from './output.js';
import { sayWorths, worthJson } from './worth-words.js';
import { setOfBook, writeSaid } from './write-said.js';

const playedJson = ({
  holeId,
  played,
  stimp,
  past,
  solved,
  doubt,
  within,
}: ComparedPutt): object => ({
  hole: holeId,
  putt: played.words,
  date: played.date,
  stimp_m: stimp,
  past_m: past,
  held_aim_m: played.aim,
  solved_aim_m: solved,
  interval_m: solved === null || doubt === null ? null : [solved - doubt, solved + doubt],
  within,
});

const bindingJson = (
  { binding }: Layout,
  { sheets, thickness, creep, warning }: ReturnType<typeof requireBound>,
): object => ({
  method: binding.method,
  sheets,
  thickness_mm: thickness,
  creep_mm: creep,
  ...(warning === null ? {} : { warning }),
});

const greenJson = ({ hole, content, ground }: GreenOfBook): object => ({
  hole: content.holeId,
  name: content.name,
  points: ground.points,
  outliers: ground.outliers,
  noise_m: ground.noise,
  // Those of its pages, which may lie in a file with all that is told of them.
  locations: (hole.green?.locations ?? []).map((location) => location.name),
  ...worthJson(content.worth),
});

/** The files of the book, and the folders of pages with how many they hold. */
const sayFiles = (
  folder: string,
  products: MadeBook['products'],
  tell: (line: string) => void,
): void => {
  for (const { file, what } of products.filter((one) => !one.file.includes('/'))) {
    tell(`${join(folder, file)}  ${what}`);
  }
  const folders = new Set(products.flatMap(({ file }) => file.split('/').slice(0, -1)));
  for (const name of folders) {
    const count = products.filter(({ file }) => file.startsWith(`${name}/`)).length;
    tell(`${join(folder, name)}  ${counted(count, 'page')}`);
  }
};

/** A book that was made and written: what is printed of it as JSON, and under which key it is kept; null for not. */
export interface WrittenBook {
  readonly json: object;
  readonly key: string | null;
}

/** Makes and writes a book; `tell` gets each line for the reader. */
export const makeBook = async (
  args: OneBookArguments & { readonly folder: string },
  tell: (line: string) => void,
  cache?: Cache,
): Promise<WrittenBook> => {
  await requirePng(args.png);
  const folder = join(args.out, args.folder);
  const book = await bookOfCourse(args, { onProgress: showProgress, tell, cache });
  const { course, layout, units, greens, played, made, bound, key } = book;
  const { pages, products } = made;
  // Nothing is written before everything is made: a fault above leaves the old book as it was.
  // What is taken away is no word of the book, which another run would tell again.
  writeSaid(folder, products, setOfBook(made.record), say);
  const json = {
    course: course.title,
    layout: layout.name,
    pages,
    binding: bindingJson(layout, bound),
    greens: greens.map(greenJson),
    ...(played.length === 0 ? {} : { putts_of_notes: played.map(playedJson) }),
    ...(args.since === undefined
      ? {}
      : { changes: made.changes === null ? null : changesJson(made.changes) }),
    files: madeFiles(folder, products),
  };
  if (args.json) return { json, key };
  sayFiles(folder, products, tell);
  for (const one of played) {
    tell(`hole ${one.holeId}, ${one.played.words}: ${comparedWords(one, { units })}`);
  }
  sayChanges(book, args.since, tell);
  if (bound.warning !== null) tell(`binding: ${bound.warning}`);
  sayWorths(
    greens.map(({ content }) => content),
    tell,
  );
  return { json, key };
};
