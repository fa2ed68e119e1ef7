import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

/**
 * The structure that DEVELOPERS.md promises, held against the code's own imports.
 */

const SRC = fileURLToPath(new URL('../src/', import.meta.url));
const GUIDE = readFileSync(new URL('../DEVELOPERS.md', import.meta.url), 'utf8');

const codeIn = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
    .sort();

const FILES = codeIn(SRC);
const textOf = (file: string): string => readFileSync(join(SRC, file), 'utf8');

/** The files of `src/` that a file imports, types too. */
const importsOf = (file: string): string[] =>
  [...textOf(file).matchAll(/(?:\bfrom|\bimport)\s*\(?\s*'(\.{1,2}\/[^']+)'/g)].map(([, path]) =>
    normalize(join(dirname(file), path)).replace(/\.js$/, '.ts'),
  );

const roomOf = (file: string): string => file.split('/')[0];

/** Room (or file at the top) to what it may import, as the guide's table has it. */
const allowed = (): Map<string, string[]> => {
  const rows = GUIDE.split('\n').filter((line) => /^\| `[\w.]+/.test(line));
  const names = (cell: string): string[] =>
    [...cell.matchAll(/`([\w./-]+)`/g)].map(([, name]) => name.replace(/\/$/, ''));
  const table = new Map<string, string[]>();
  for (const row of rows) {
    const cells = row.split('|');
    if (cells.length !== 5 || cells[1].includes('npm')) continue;
    for (const room of names(cells[1])) table.set(room, names(cells[3]));
  }
  return table;
};

const isUnder = (file: string, place: string): boolean =>
  file === place || file.startsWith(`${place}/`);

/** One circle of files that import each other, or null. */
const circleIn = (graph: ReadonlyMap<string, readonly string[]>): string[] | null => {
  const done = new Set<string>();
  const path: string[] = [];
  const visit = (file: string): string[] | null => {
    const at = path.indexOf(file);
    if (at >= 0) return [...path.slice(at), file];
    if (done.has(file)) return null;
    path.push(file);
    for (const next of graph.get(file) ?? []) {
      const found = visit(next);
      if (found !== null) return found;
    }
    path.pop();
    done.add(file);
    return null;
  };
  for (const file of graph.keys()) {
    const found = visit(file);
    if (found !== null) return found;
  }
  return null;
};

describe('the rooms of the house', () => {
  const table = allowed();
  const everyones = FILES.filter((file) => !file.includes('/'));

  it('are all in the guide', () => {
    expect([...new Set(FILES.map(roomOf))].filter((room) => !table.has(room))).toEqual([]);
    expect([...table.keys()].filter((room) => !FILES.some((f) => isUnder(f, room)))).toEqual([]);
  });

  it('import what the guide allows and nothing else', () => {
    const arrows = FILES.flatMap((file) => {
      const room = roomOf(file);
      const places = [room, ...everyones, ...(table.get(room) ?? [])];
      return importsOf(file)
        .filter((target) => !places.some((place) => isUnder(target, place)))
        .map((target) => `${file} -> ${target}`);
    });
    expect(arrows).toEqual([]);
  });

  it('hold no circle of files', () => {
    expect(circleIn(new Map(FILES.map((file) => [file, importsOf(file)])))).toBeNull();
  });

  it('finds a circle where there is one', () => {
    const graph = { a: ['b'], b: ['c'], c: ['b'] };
    expect(circleIn(new Map(Object.entries(graph)))).toEqual(['b', 'c', 'b']);
  });
});

/** The names that a file declares and exports: values and types. */
interface Exported {
  readonly file: string;
  readonly name: string;
  readonly isType: boolean;
}

const exportsOf = (file: string): Exported[] => {
  const found = [
    ...textOf(file).matchAll(
      /^export (?:declare )?(?:async )?(const|let|function\*?|class|enum|interface|type) (\w+)/gm,
    ),
  ];
  return found.map(([, kind, name]) => ({
    file,
    name,
    isType: kind === 'interface' || kind === 'type',
  }));
};

/** What a text takes from a file: each name that stands in braces before a path that ends in the file's name. */
const takenBy = (text: string, from: string): Map<string, Set<string>> => {
  const taken = new Map<string, Set<string>>();
  const add = (path: string, name: string): void => {
    const target = normalize(join(from, path)).replace(/\.js$/, '.ts');
    taken.set(target, (taken.get(target) ?? new Set()).add(name));
  };
  for (const [, names, path] of text.matchAll(
    /\b(?:import|export)\s+(?:type\s+)?\{([^}]*)\}\s+from\s+'(\.[^']+)'/g,
  )) {
    for (const name of names.split(',')) {
      add(
        path,
        name
          .trim()
          .replace(/^type\s+/, '')
          .split(/\s+as\s+/)[0],
      );
    }
  }
  // A module that is loaded when it is needed, or whole: every word of the file may be a name of it.
  for (const [, path] of text.matchAll(
    /\bimport\(\s*'(\.[^']+)'\s*\)|\* as \w+ from '(\.[^']+)'/g,
  )) {
    for (const [word] of text.matchAll(/\w+/g)) if (path !== undefined) add(path, word);
  }
  return taken;
};

/** The files whose whole content package.json offers to other programs. */
const OFFERED = new Set(
  [
    ...readFileSync(new URL('../package.json', import.meta.url), 'utf8').matchAll(
      /"default": "\.\/\.build\/([^"]+)\.js"/g,
    ),
  ].map(([, name]) => `${name}.ts`),
);

/** Exports that no other file of `src/` uses; a type counts as used where its own file speaks of it. */
const unusedExports = (): string[] => {
  const used = new Map<string, Set<string>>();
  for (const file of FILES) {
    for (const [target, names] of takenBy(textOf(file), dirname(file))) {
      used.set(target, new Set([...(used.get(target) ?? []), ...names]));
    }
  }
  const speaksOf = (file: string, name: string): boolean =>
    [...textOf(file).matchAll(new RegExp(`\\b${name}\\b`, 'g'))].length > 1;
  return FILES.filter((file) => !OFFERED.has(file))
    .flatMap(exportsOf)
    .filter(({ file, name }) => !(used.get(file)?.has(name) ?? false))
    .filter(({ file, name, isType }) => !(isType && speaksOf(file, name)))
    .map(({ file, name }) => `${file}: ${name}`);
};

/** Names that two files export. */
const doubleNames = (): string[] => {
  const files = new Map<string, Set<string>>();
  for (const { file, name } of FILES.flatMap(exportsOf)) {
    files.set(name, (files.get(name) ?? new Set()).add(file));
  }
  return [...files]
    .filter(([, of]) => of.size > 1)
    .map(([name, of]) => `${name}: ${[...of].sort().join(', ')}`)
    .sort();
};

describe('what README and the guide point to', () => {
  const ROOT = fileURLToPath(new URL('../', import.meta.url));
  const paths = ['src', 'tests', 'layouts', 'course-data'].flatMap((top) => [
    top,
    ...readdirSync(join(ROOT, top), { recursive: true, encoding: 'utf8' }).map(
      (path) => `${top}/${path}`,
    ),
  ]);
  /** Whether a path, or the end of one, is there; its `.ts` may be left out. */
  const isThere = (path: string): boolean =>
    ['', '.ts', '.test.ts'].some((end) =>
      paths.some((known) => `/${known}`.endsWith(`/${path}${end}`)),
    );
  /** What is made or stands beside, and the names by which the library is imported. */
  const MADE = /^(out|\.build|\.ci|runnel)\//;

  it.each(['README.md', 'DEVELOPERS.md'])('is there: %s', (guide) => {
    const text = readFileSync(join(ROOT, guide), 'utf8');
    const shown = [...text.matchAll(/src="([^"]+)"|\]\((?!http)([^)#]+)\)/g)]
      .map(([, image, link]) => image ?? link)
      .filter((path) => !existsSync(join(ROOT, path)));
    const named = [...text.matchAll(/`([\w.-]+(?:\/[\w.-]+)+)\/?`/g)]
      .map(([, path]) => path)
      .filter((path) => !MADE.test(path) && !isThere(path));
    expect([...shown, ...named]).toEqual([]);
  });
});

describe('the exports of src/', () => {
  it('are each used by another file of src/, or offered by package.json: what tests alone use is theirs', () => {
    expect(unusedExports()).toEqual([]);
  });

  it('have one meaning each', () => {
    expect(doubleNames()).toEqual([]);
  });
});

/** Code without its comments. */
const codeOf = (file: string): string =>
  textOf(file)
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/^\s*\/\/.*$/gm, '');

describe('the arithmetic of src/', () => {
  it('leaves no power to the engine but squares and powers of two (see power.ts)', () => {
    const left = FILES.flatMap((file) =>
      codeOf(file)
        .split('\n')
        .filter((line) => /Math\.pow\b|(?<!\b2 )\*\* (?!2\b(?!\.))/.test(line))
        .map((line) => `${file}: ${line.trim()}`),
    );
    expect(left).toEqual([]);
  });
});

describe('the words of src/', () => {
  /** Files that write what is no message: drawings, pages of the proof, metadata, a table, help; and `quoted` itself. */
  const WRITERS = /^(print\/(svg|xmp)|cli\/(books|help)|fault|proof\/(?!requests)[\w/-]+)\.ts$/;
  const bare = (file: string, code: string): string[] =>
    code
      .split('\n')
      .filter((line) => /(?<!=)"\$\{/.test(line))
      .map((line) => `${file}: ${line.trim()}`);

  it('stand in quotation marks by `quoted`, since what users wrote may hold marks, go on and on, or turn the line', () => {
    expect(
      FILES.filter((file) => !WRITERS.test(file)).flatMap((file) => bare(file, codeOf(file))),
    ).toEqual([]);
  });

  it('are found where they are not', () => {
    // biome-ignore lint/suspicious/noTemplateCurlyInString: the code that is looked for
    expect(bare('a.ts', 'fault(`"${word}" is no side`)')).toHaveLength(1);
  });
});

describe('the limits of an input', () => {
  it('stand in input-limits.ts, none with a reader of surveys or of books', () => {
    const LIMIT = /^(?:export )?const (?:\w+_)?(?:LIMIT|LONGEST|DEEPEST|MOST)(?:_\w+)? =/;
    // What is kept of a book that is read.
    const OTHER = /\b(MOST_(HELD|STREAMS|KEPT|KEPT_FORMS|UNPACKED)) =/;
    const found = FILES.filter((file) =>
      /^(survey\/readers|check|book\/logo)\//.test(file),
    ).flatMap((file) =>
      codeOf(file)
        .split('\n')
        .filter((line) => LIMIT.test(line) && !OTHER.test(line))
        .map((line) => `${file}: ${line}`),
    );
    expect(found).toEqual([]);
  });
});

describe('the tests', () => {
  const TESTS = fileURLToPath(new URL('./', import.meta.url));
  const testIn = (file: string): string => readFileSync(join(TESTS, file), 'utf8');

  it('of the long run are tagged, for it takes no others', () => {
    const untagged = codeIn(TESTS)
      .filter((file) => file.endsWith('.test.ts') && !file.startsWith('live/'))
      .filter((file) => file.startsWith('accuracy/') || /from '\.+\/depth\.js'/.test(testIn(file)))
      .filter((file) => !/tags: '(deep|long)'|@module-tag (deep|long)/.test(testIn(file)));
    expect(untagged).toEqual([]);
  });
});
