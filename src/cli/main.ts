#!/usr/bin/env node
import * as nodeModule from 'node:module';
import { setFlagsFromString } from 'node:v8';

// On a machine with much memory the collector lets the heap grow to four times what is alive before it looks.
setFlagsFromString('--heap-growing-percent=40');
// Each thread of a short run translates its functions anew: V8 of Node 20 makes one fast too soon, and again and again; here
// only one that runs six times as long is.
if (process.versions.v8.startsWith('11.')) setFlagsFromString('--interrupt-budget=400000');

/** Node 22 and later keep the code that they compile for the next run; what a command loads comes after this. */
(nodeModule as { readonly enableCompileCache?: () => unknown }).enableCompileCache?.();

/** Node opens the files of a program all at once: where it may not, those that tell faults cannot be loaded either. */
try {
  await import('./start.js');
} catch (error) {
  const { code } = error as NodeJS.ErrnoException;
  if (code !== 'EMFILE' && code !== 'ENFILE') throw error;
  process.stderr.write('runnel: too many files are open; raise the limit of open files\n');
  process.exitCode = 3;
}
