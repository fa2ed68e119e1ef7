import { cacheLimit, clearCache, type KeptFile, KINDS, keptFiles } from '../book/cache.js';
import { cacheFolder } from '../book/course-cache.js';
import { counted } from '../wording.js';
import { printJson, printText } from './output.js';

interface CacheArguments {
  readonly out: string;
  readonly clear: boolean;
  readonly json: boolean;
}

const WORDS: Readonly<Record<(typeof KINDS)[number], string>> = {
  fit: 'fitted ground',
  ground: 'fitted ground in short',
  reading: 'readings of ground',
  worth: 'judgements of surveys',
  putts: 'solved putts',
  shapes: 'words as they are set',
  pages: 'pages that passed the check',
  streams: 'pages as they are packed',
  drawn: 'pages as they were drawn',
  made: 'finished books',
  course: 'whose book it is',
  told: 'what runs told',
  settled: 'maps as they are settled',
  figures: 'figures of holes',
  bars: 'bar codes',
};

const bytesOf = (files: readonly KeptFile[]): number =>
  files.reduce((sum, { bytes }) => sum + bytes, 0);

const megabytes = (bytes: number): string => `${(bytes / 1024 ** 2).toFixed(1)} MB`;

/** What the cache holds, by kind, and its bound; with `clear`, after all of it is removed. */
export const runCache = ({ out, clear, json }: CacheArguments): void => {
  const folder = cacheFolder(out);
  const limit = cacheLimit();
  const removed = clear ? clearCache(folder) : [];
  const files = keptFiles(folder);
  const kinds = KINDS.map((kind) => [kind, files.filter((one) => one.kind === kind)] as const);
  if (json) {
    printJson({
      folder,
      files: files.length,
      bytes: bytesOf(files),
      limit_bytes: limit,
      kinds: Object.fromEntries(
        kinds.map(([kind, own]) => [kind, { files: own.length, bytes: bytesOf(own) }]),
      ),
      ...(clear ? { removed: removed.length, removed_bytes: bytesOf(removed) } : {}),
    });
    return;
  }
  if (clear) {
    printText(
      `${folder}: ${counted(removed.length, 'file')} removed, ${megabytes(bytesOf(removed))}`,
    );
    return;
  }
  printText(
    [
      `${folder}: ${counted(files.length, 'file')}, ${megabytes(bytesOf(files))} of ${megabytes(limit)} at most`,
      ...kinds
        .filter(([, own]) => own.length > 0)
        .map(
          ([kind, own]) =>
            `  ${WORDS[kind]}: ${counted(own.length, 'file')}, ${megabytes(bytesOf(own))}`,
        ),
    ].join('\n'),
  );
};
