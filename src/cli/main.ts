#!/usr/bin/env node
import * as nodeModule from 'node:module';
import { setFlagsFromString } from 'node:v8';
import { run, tellFault } from './run.js';
import { endBySignals } from './signals.js';

// On a machine with much memory the collector lets the heap grow to four times what is alive before it looks.
setFlagsFromString('--heap-growing-percent=40');
// Each thread of a short run translates its functions anew: V8 of Node 20 makes one fast too soon, and again and again; here
// only one that runs six times as long is.
if (process.versions.v8.startsWith('11.')) setFlagsFromString('--interrupt-budget=400000');

/** Node 22 and later keep the code that they compile for the next run; what a command loads comes after this. */
(nodeModule as { readonly enableCompileCache?: () => unknown }).enableCompileCache?.();

/** A reader that goes away ends nothing: what is left to write is dropped, the products are finished. */
let lost: NodeJS.ErrnoException | undefined;
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') lost ??= Object.assign(error, { path: 'the output' });
  });
}
process.on('exit', () => {
  if (lost !== undefined) process.exitCode = tellFault(lost);
});

endBySignals();
process.exitCode = await run(process.argv.slice(2));
