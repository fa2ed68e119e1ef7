import { parentPort, workerData } from 'node:worker_threads';
import type { EditionRecord } from '../book/edition-record.js';
import { packFault, type ThreadFault } from '../book/thread-fault.js';
import { changesJson, sayChanges } from './book-manifest.js';
import { type BookAsked, bookOfCourse } from './book-of-course.js';

/** A book that a thread has made, with what is to be told of it; its files are written by the thread that asked. */
export interface BookMadeApart {
  readonly title: string;
  readonly layout: string;
  /** Of the book as it is bound. */
  readonly pages: number;
  readonly leaves: number;
  /** Whether it is a sheet that is folded small: its leaves are its sheets. */
  readonly isFoldUp: boolean;
  readonly thickness: number;
  readonly worths: Readonly<Record<string, number>>;
  readonly told: readonly string[];
  readonly record: EditionRecord;
  /** Against an earlier edition; null where none is named, or nothing has changed. */
  readonly changes: object | null;
  readonly products: Awaited<ReturnType<typeof bookOfCourse>>['made']['products'];
}

export type BookWord = { readonly book: BookMadeApart } | ThreadFault;

const tell = (word: BookWord): void => parentPort?.postMessage(word);

try {
  const told: string[] = [];
  const asked = workerData as BookAsked;
  const tellLine = (line: string): number => told.push(line);
  const book = await bookOfCourse(asked, { tell: tellLine, threads: 0 });
  const { course, layout, greens, made, bound } = book;
  sayChanges(book, asked.since, tellLine);
  const worths: Record<string, number> = {};
  for (const { content } of greens) {
    worths[content.worth.worth] = (worths[content.worth.worth] ?? 0) + 1;
  }
  const isFoldUp = layout.binding.method === 'fold-up';
  if (bound.warning !== null) told.push(`binding: ${bound.warning}`);
  tell({
    book: {
      title: course.title,
      layout: layout.name,
      pages: bound.pages,
      leaves: isFoldUp ? bound.sheets : Math.ceil(bound.pages / 2),
      isFoldUp,
      thickness: Number(bound.thickness.toFixed(3)),
      worths,
      told,
      record: made.record,
      changes: made.changes === null ? null : changesJson(made.changes),
      products: made.products,
    },
  });
} catch (error) {
  tell(packFault(error));
}
