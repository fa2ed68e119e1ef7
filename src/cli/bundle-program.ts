import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { join, relative } from 'node:path';
import { build, type Plugin } from 'esbuild';
import { leanPackages } from './lean-packages.js';

/** Where Node starts: the program, and the threads that it starts (`book/start-thread`). */
const ENTRIES = [
  'cli/main',
  'cli/book-worker',
  'cli/proof-worker',
  'book/green-worker',
  'book/check-worker',
];

/** Packages that few runs load, or that read files of their own. */
const APART = [
  '@expo-google-fonts/*',
  '@hyzyla/pdfium',
  'ajv',
  'bwip-js',
  'esbuild',
  'geotiff',
  'laz-perf',
  'osm2geojson-lite',
  'svg-path-commander',
  'zstddec',
];

/** Code that was written for CommonJS asks for Node's own modules in its manner. */
const REQUIRE = `import { createRequire as requireFrom } from 'node:module';
const require = requireFrom(import.meta.url);`;

/** Our files stay where they are for what they look up beside themselves. */
const knowingTheirPlace = (program: string, folder: string): Plugin => ({
  name: 'knowing their place',
  setup: (bundler) => {
    bundler.onLoad({ filter: /\.js$/ }, ({ path }) => {
      const way = relative(program, path);
      if (way.startsWith('..') || way.includes('node_modules')) return null;
      const from = JSON.stringify(relative(folder, path).replaceAll('\\', '/'));
      const contents = readFileSync(path, 'utf8').replaceAll(
        'import.meta.url',
        `new URL(${from}, import.meta.url).href`,
      );
      return { contents, loader: 'js' };
    });
  },
});

/** The folder of the package that a file belongs to; null for a file of none. */
const packageOf = (path: string): string | null => {
  const parts = path.split(/[\\/]/);
  const at = parts.lastIndexOf('node_modules');
  if (at < 0) return null;
  return parts.slice(0, at + (parts[at + 1].startsWith('@') ? 3 : 2)).join('/');
};

interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly license?: string;
  readonly author?: string | { readonly name: string };
}

/** What a package asks to be kept with copies of it; one that has no such file says it in its manifest. */
const licenceOf = (folder: string): string => {
  const { name, version, license, author }: Manifest = JSON.parse(
    readFileSync(join(folder, 'package.json'), 'utf8'),
  );
  const file = readdirSync(folder)
    .sort()
    .find((one) => /^(licen[cs]e|copying)/i.test(one));
  const by = typeof author === 'object' ? author.name : author;
  const words =
    file === undefined
      ? `${license ?? 'licence not told'}${by === undefined ? '' : `, ${by}`}`
      : readFileSync(join(folder, file), 'utf8').trim();
  return `${name} ${version}\n\n${words}\n`;
};

const RULE = `\n${'-'.repeat(72)}\n\n`;

/**
 * Puts the compiled program into few files, with the packages that most runs load: Node looks up, reads and links hundreds of files
 * in the time that a small command has. What each part needs is still loaded when it is asked for. The compiled files stay: the
 * library is made of them. Beside the bundle lie the licences of what is in it.
 *
 * @param compiled the folder of the compiled rooms.
 */
export const bundleProgram = async (compiled: string): Promise<void> => {
  const program = realpathSync(compiled);
  const folder = join(program, 'bundled');
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder);
  const { metafile } = await build({
    absWorkingDir: program,
    entryPoints: ENTRIES.map((entry) => join(program, `${entry}.js`)),
    outdir: folder,
    ...{ entryNames: '[name]', chunkNames: 'part-[hash]' },
    ...{ bundle: true, splitting: true, format: 'esm', platform: 'node', target: 'node20' },
    ...{ minifyWhitespace: true, legalComments: 'none', metafile: true, logLevel: 'error' },
    external: APART,
    banner: { js: REQUIRE },
    plugins: [leanPackages, knowingTheirPlace(program, folder)],
  });
  // npm links the bin as it is; it is written without the execute bit.
  chmodSync(join(folder, 'main.js'), 0o755);
  const packages = Object.keys(metafile.inputs)
    .map((path) => packageOf(join(program, path)))
    .filter((one) => one !== null && existsSync(join(one, 'package.json')));
  const licences = [...new Set(packages.map((one) => licenceOf(one as string)))].sort();
  writeFileSync(join(folder, 'licences.txt'), licences.join(RULE));
};
