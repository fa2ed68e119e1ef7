import { run, tellFault } from './run.js';
import { endBySignals } from './signals.js';

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
