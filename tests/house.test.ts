import { readdirSync, readFileSync } from 'node:fs';
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
