import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { startThread } from '../book/start-thread.js';
import { unpackFault } from '../book/thread-fault.js';
import { writeAll } from '../book/write-beside.js';
import { InputFault } from '../fault.js';
import { machineFault } from '../machine-fault.js';
import { type ManifestFile, manifestFile } from './book-manifest.js';
import { type BookArguments, type BookAsked, requirePng } from './book-of-course.js';
import type { BookMadeApart, BookWord } from './book-worker.js';
import { type ListedBook, readBookList, withFolders } from './books-list.js';
import { printJson, say, showProgress } from './output.js';
import { setOfBook, writeSaid } from './write-said.js';

type Asked = BookAsked & { readonly place: string; readonly stem: string };

/** What became of a book of several. */
interface Outcome {
  readonly asked: Asked;
  readonly book: Omit<BookMadeApart, 'products'> | null;
  readonly files: readonly ManifestFile[];
  readonly error: Error | null;
}

/** Makes one book on a thread of its own, whose memory goes with it. */
const makeApart = (asked: Asked): Promise<BookMadeApart> =>
  new Promise((resolve, reject) => {
    const thread = startThread(new URL('book-worker', import.meta.url), { workerData: asked });
    thread.once('message', (word: BookWord) => {
      if ('book' in word) resolve(word.book);
      else reject(unpackFault(word));
      void thread.terminate();
    });
    thread.once('error', reject);
    thread.once('exit', () => reject(new Error('a thread ended before its book was made')));
  });

const outcomeOf = async (asked: Asked): Promise<Outcome> => {
  try {
    const { products, ...book } = await makeApart(asked);
    const gone: string[] = [];
    const folder = join(asked.out, asked.folder);
    writeSaid(folder, products, setOfBook(book.record), (line) => gone.push(line));
    const files = products.map((product) => manifestFile(product, asked.folder));
    return { asked, book: { ...book, told: [...book.told, ...gone] }, files, error: null };
  } catch (error) {
    const told = error instanceof Error ? error : new Error(String(error));
    return { asked, book: null, files: [], error: told };
  }
};

/** As many at once as there are cores; outcomes in the order of the list. */
const allOutcomes = async (all: readonly Asked[]): Promise<Outcome[]> => {
  const outcomes: Outcome[] = [];
  let next = 0;
  let done = 0;
  const work = async (): Promise<void> => {
    while (next < all.length) {
      const i = next++;
      outcomes[i] = await outcomeOf(all[i]);
      done += 1;
      showProgress(`${all[i].folder}, ${all[i].stem}`, done, all.length);
    }
  };
  const threads = Math.min(availableParallelism(), all.length);
  await Promise.all(Array.from({ length: threads }, work));
  return outcomes;
};

const faultWords = ({ error }: Outcome): string =>
  error === null ? '' : (machineFault(error) ?? error.message.split('\n')[0]);

const worthWords = ({ worths }: Omit<BookMadeApart, 'products'>): string =>
  Object.entries(worths)
    .map(([worth, count]) => `${count} ${worth}`)
    .join(', ');

const leafWords = ({ leaves, isFoldUp }: Omit<BookMadeApart, 'products'>): string => {
  const [one, more] = isFoldUp ? ['folded sheet', 'folded sheets'] : ['leaf', 'leaves'];
  return `${leaves} ${leaves === 1 ? one : more}`;
};

/** A line a book: where it lies, what it is, or why it is not there. */
const tableOf = (outcomes: readonly Outcome[]): string[] => {
  const rows = outcomes.map((one): string[] => {
    const { asked, book, files } = one;
    return book === null
      ? [asked.folder, asked.stem, `not made: ${faultWords(one)}`]
      : [
          asked.folder,
          asked.stem,
          `${book.pages} pages, ${leafWords(book)}, ${book.thickness} mm, ${files.length} files; greens: ${worthWords(book) || 'none surveyed'}`,
        ];
  });
  const widths = [0, 1].map((c) => Math.max(...rows.map((row) => row[c].length)));
  return rows.map((row) => [row[0].padEnd(widths[0]), row[1].padEnd(widths[1]), row[2]].join('  '));
};

const manifestOf = (outcomes: readonly Outcome[]): object => ({
  books: outcomes.map((one) => {
    const { asked, book, files } = one;
    const { folder, stem, use = null, units } = asked;
    return book === null
      ? { folder, layout: stem, use, units, made: false, fault: faultWords(one) }
      : {
          folder,
          layout: stem,
          use,
          units,
          made: true,
          title: book.title,
          pages: book.pages,
          leaves: book.leaves,
          thickness_mm: book.thickness,
          greens: book.worths,
          notes: book.told,
          ...(asked.since === undefined ? {} : { changes: book.changes }),
          files,
          record: book.record,
        };
  }),
});

const csvCell = (value: string | number | null): string => {
  const words = value === null ? '' : String(value);
  return /[",\n]/.test(words) ? `"${words.replaceAll('"', '""')}"` : words;
};

/** A row a file (RFC 4180); thickness is that of the bound book, and stands with its press file. */
const manifestTable = (outcomes: readonly Outcome[]): string =>
  [
    [
      'folder',
      'layout',
      'title',
      'file',
      'bytes',
      'sha256',
      'pages',
      'sheets',
      'thickness_mm',
      'checked',
    ],
    ...outcomes.flatMap(({ asked, book, files }) =>
      files.map(({ file, bytes, sha256, pages, sheets, checked }) => [
        asked.folder,
        asked.stem,
        book?.title ?? '',
        file,
        bytes,
        sha256,
        pages,
        sheets,
        file.endsWith('-press.pdf') ? (book?.thickness ?? null) : null,
        checked.join('; '),
      ]),
    ),
  ]
    .map((row) => row.map(csvCell).join(','))
    .join('\r\n')
    .concat('\r\n');

const listedBooks = ({
  course = [],
  list,
  layout,
  out,
  use,
  units,
  edition,
  buyer,
  date,
  buyers,
  since,
}: BookArguments): ListedBook[] => {
  const common = { layout, out, use, units, edition, buyer, date, buyers, since };
  return [
    ...course.map((one): ListedBook => ({ ...common, course: one, place: one })),
    ...(list === undefined ? [] : readBookList(list, common)),
  ];
};

/**
 * Several books in one run, each in its own folder. One that fails stops no other; the run ends with a table and
 * a manifest of all, and with the fault of a machine or of the program's own where there was one.
 */
export const runBooks = async (args: BookArguments): Promise<void> => {
  const { svg, png, outside, out, json } = args;
  await requirePng(png);
  const all = withFolders(listedBooks(args)).map((book): Asked => ({ ...book, svg, png, outside }));
  const outcomes = await allOutcomes(all);
  writeAll(out, [
    { file: 'books.json', bytes: utf8(`${JSON.stringify(manifestOf(outcomes), null, 2)}\n`) },
    { file: 'books.csv', bytes: utf8(manifestTable(outcomes)) },
  ]);
  if (json) printJson(manifestOf(outcomes));
  for (const { asked, book } of outcomes) {
    for (const line of book?.told ?? []) say(`${asked.folder}: ${line}`);
  }
  for (const line of tableOf(outcomes)) say(line);
  say(`${join(out, 'books.json')} and ${join(out, 'books.csv')}  what was made, file by file`);
  const failed = outcomes.flatMap(({ error }) => error ?? []);
  const worse = failed.find(
    (error) => !(error instanceof InputFault) && machineFault(error) === null,
  );
  const refused = failed.find((error) => machineFault(error) !== null);
  if (worse !== undefined || refused !== undefined) throw worse ?? refused;
  if (failed.length > 0) {
    throw new InputFault(
      { file: 'books' },
      `${failed.length} of ${all.length} are not made`,
      'the table above says why',
    );
  }
};

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
