import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { Plugin } from 'esbuild';

const find = createRequire(import.meta.url);

/** Parts of packages that take long to get ready and that few runs ask anything of: what stands here gets them ready when asked. */
const LATER: Readonly<Record<string, string>> = {
  // The dictionary of fonts packed for the web.
  'brotli/decompress.js': `module.exports = (...asked) => require('brotli/decompress.js')(...asked);`,
  // Tables of characters, each unpacked as it is made.
  'unicode-trie': `module.exports = class {
  constructor(packed) {
    this.packed = packed;
  }
  get(code) {
    this.trie ??= new (require('unicode-trie'))(this.packed);
    return this.trie.get(code);
  }
};`,
  // The parser lays out its own help for nobody (see \`run\`), in English: one column a letter.
  'string-width': 'export default (text) => text.length;',
};

/** Who asks for them. */
const ASKING = /[\\/]node_modules[\\/](fontkit|unicode-properties|yargs|cliui)[\\/]/;

/** What is used of the PDF library but by who reads a foreign file whole, and where it lies in the package. */
const PDF_PARTS: Readonly<Record<string, readonly string[]>> = {
  document: ['PDFCrossRefSection', 'PDFHeader', 'PDFTrailer', 'PDFTrailerDict'],
  objects: [
    ...['PDFArray', 'PDFBool', 'PDFDict', 'PDFHexString', 'PDFName', 'PDFNumber'],
    ...['PDFRawStream', 'PDFRef', 'PDFStream', 'PDFString'],
  ],
  parser: ['PDFObjectParser'],
};

/** The file that reads foreign files whole. */
const WHOLE_READER = /[\\/]check[\\/]load-pdf\.js$/;

const partsOfPdf = (core: string): string => {
  const own = Object.entries(PDF_PARTS).flatMap(([folder, names]) =>
    names.map((name) => [name, join(core, folder, `${name}.js`)]),
  );
  const all = [['PDFContext', join(core, 'PDFContext.js')], ...own];
  const lines = all.map(
    ([name, path]) => `export { default as ${name} } from ${JSON.stringify(path)};`,
  );
  const decode = JSON.stringify(join(core, 'streams', 'decode.js'));
  return [...lines, `export { decodePDFRawStream } from ${decode};`].join('\n');
};

/**
 * Lets a program load less of its packages: parts are got ready when they are asked for, and the PDF library's forms, pictures and
 * metrics of fonts lie beside what reads a foreign file whole.
 */
export const leanPackages: Plugin = {
  name: 'lean packages',
  setup: (bundler) => {
    bundler.onResolve({ filter: /^(brotli\/decompress\.js|unicode-trie|string-width)$/ }, (one) =>
      ASKING.test(one.importer)
        ? { path: one.path, namespace: 'later', pluginData: one.resolveDir }
        : null,
    );
    bundler.onLoad({ filter: /.*/, namespace: 'later' }, ({ path, pluginData }) => ({
      contents: LATER[path],
      loader: 'js',
      resolveDir: pluginData,
    }));
    const pdf = join(dirname(find.resolve('pdf-lib')), '..', 'es');
    bundler.onResolve({ filter: /^pdf-lib$/ }, ({ importer }) =>
      WHOLE_READER.test(importer)
        ? { path: join(pdf, 'index.js') }
        : { path: 'parts', namespace: 'pdf' },
    );
    bundler.onLoad({ filter: /^parts$/, namespace: 'pdf' }, () => ({
      contents: partsOfPdf(join(pdf, 'core')),
      loader: 'js',
      resolveDir: pdf,
    }));
    // Of the metrics of fonts, which are unpacked at once, most of it wants the names alone.
    const metrics = createRequire(join(pdf, 'index.js')).resolve('@pdf-lib/standard-fonts');
    bundler.onResolve({ filter: /^@pdf-lib\/standard-fonts$/ }, ({ importer }) =>
      importer === join(pdf, 'utils', 'objects.js')
        ? { path: 'names', namespace: 'pdf' }
        : { path: metrics },
    );
    bundler.onLoad({ filter: /^names$/, namespace: 'pdf' }, () => {
      const { FontNames } = find(metrics) as { readonly FontNames: object };
      return { contents: `export const FontNames = ${JSON.stringify(FontNames)};`, loader: 'js' };
    });
  },
};
