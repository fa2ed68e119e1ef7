import { existsSync } from 'node:fs';
import { Worker, type WorkerOptions } from 'node:worker_threads';

/** Whether this is compiled code; the sources are translated by a loader, which each thread has to load first. */
export const IS_COMPILED = import.meta.url.endsWith('.js');

/** The module as the build has bundled it; as it was compiled where there is no bundle. */
const compiled = ({ href }: URL): URL => {
  const bundled = new URL(`../bundled/${href.slice(href.lastIndexOf('/') + 1)}.js`, href);
  return existsSync(bundled) ? bundled : new URL(`${href}.js`);
};

/** A thread that runs a module (its address without an ending): compiled code as it is, the sources through their loader. */
export const startThread = (module: URL, options: WorkerOptions = {}): Worker => {
  if (IS_COMPILED) return new Worker(compiled(module), options);
  const entry = JSON.stringify(`${module.href}.ts`);
  return new Worker(
    `import('tsx/esm/api').then((loader) => { loader.register(); return import(${entry}); });`,
    { ...options, eval: true },
  );
};
