import { readdirSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';

/**
 * `npm run bench [name …]`: runs the benchmarks one after another. Each prints its figures beside a
 * reference measured in the same run; nothing is asserted here.
 */
const folder = fileURLToPath(new URL('.', import.meta.url));
const asked = process.argv.slice(2);
const names = readdirSync(folder)
  .filter((file) => file.endsWith('.ts') && file !== 'main.ts')
  .map((file) => basename(file, '.ts'))
  .filter((name) => asked.length === 0 || asked.includes(name))
  .sort();
if (names.length === 0) throw new Error(`no benchmark of that name in ${folder}`);
for (const name of names) {
  const bench = (await import(`./${name}.js`)) as { readonly run?: () => Promise<void> };
  if (bench.run === undefined) continue;
  process.stdout.write(`\n== ${name} ==\n`);
  await bench.run();
}
