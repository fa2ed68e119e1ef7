import { say } from './output.js';

/**
 * A signal ends the run with a word, and then as the signal does. Files are written without a pause, so that
 * it finds the old set of products or the new one. A command that listens itself ends itself.
 */
export const endBySignals = (): void => {
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
    process.once(signal, () => {
      say(`runnel: stopped by ${signal}`);
      if (process.listenerCount(signal) === 0) process.kill(process.pid, signal);
    });
  }
};
