import type { ValidateFunction } from 'ajv/dist/2020.js';
import { isNode, LineCounter } from 'yaml';
import { InputFault, quoted } from './fault.js';
import { INPUT_LIMITS } from './input-limits.js';
import { schemaCheck } from './schema-check.js';
import { complaintOf, worstOf } from './schema-complaint.js';
import {
  findUnsound,
  type PlacedFault,
  partsOf,
  refuseStrayAliases,
  refuseTwinKeys,
  refuseWhatNoFileHolds,
  YAML_SYNTAX,
  type YamlPath,
  yamlDocument,
} from './yaml-text.js';

/** The value of a YAML file that keeps its schema, and where each of its parts stands. */
export interface CheckedYaml<T> {
  readonly value: T;
  /** "line 12, holes[3].par" for the path ['holes', 3, 'par']. */
  place(path: readonly (string | number)[]): string;
  /** The fault at a path, ready to be thrown. */
  fault(path: readonly (string | number)[], problem: string, cure?: string): InputFault;
  /** Does some work; a fault in it is told at the path. */
  at<T>(path: readonly (string | number)[], work: () => T): T;
}

export type YamlReader<T> = (text: string, file: string) => CheckedYaml<T>;

/** A key of the user's own that is more than one word stands in quotes. */
const named = (key: string): string => (/^[\p{L}\p{N}_.-]+$/u.test(key) ? key : quoted(key));

const dotted = (path: readonly (string | number)[]): string =>
  path
    .map((key, i) => (typeof key === 'number' ? `[${key}]` : `${i === 0 ? '' : '.'}${named(key)}`))
    .join('');

const schemas: object[] = [];

/** The schemas of all readers that there are so far. */
export const schemasOfReaders = (): readonly object[] => schemas;

/**
 * A reader for YAML files that keep a JSON Schema (draft 2020-12), which is compiled when the first file is
 * read. Each fault names the file, the line, the key, what is wrong and what would be right (the
 * description in the schema).
 */
export const yamlReader = <T>(schema: object): YamlReader<T> => {
  schemas.push(schema);
  let validate: ValidateFunction | undefined;
  return (text, file) => {
    const counter = new LineCounter();
    const lineAt = (offset: number): number => text.slice(0, offset).split('\n').length;
    const faultAt: PlacedFault = (offset, problem, cure) =>
      new InputFault({ file, place: `line ${lineAt(offset)}` }, problem, cure);
    refuseWhatNoFileHolds(text, faultAt);
    const document = yamlDocument(partsOf(text, counter, faultAt), text.length);
    const [syntax] = document.errors;
    if (syntax !== undefined) {
      throw faultAt(
        syntax.pos[0],
        `not valid YAML: ${YAML_SYNTAX[syntax.code] ?? 'it cannot be understood from here on'}`,
      );
    }
    refuseTwinKeys(document, faultAt);
    refuseStrayAliases(document, faultAt);
    const lineOf = (path: YamlPath): number => {
      for (let depth = path.length; depth > 0; depth--) {
        const parent = document.getIn(path.slice(0, depth - 1), true);
        const key = path[depth - 1];
        const pair = (
          parent as { items?: { key?: { value?: unknown; range?: number[] } }[] } | undefined
        )?.items?.find?.((item) => String(item?.key?.value ?? '') === String(key));
        const node = document.getIn(path.slice(0, depth), true);
        const offset = pair?.key?.range?.[0] ?? (isNode(node) ? node.range?.[0] : undefined);
        if (offset !== undefined) return counter.linePos(offset).line;
      }
      return 1;
    };
    const place = (path: YamlPath): string =>
      path.length === 0 ? 'line 1' : `line ${lineOf(path)}, ${dotted(path)}`;
    const fault = (path: YamlPath, problem: string, cure?: string): InputFault =>
      new InputFault({ file, place: place(path) }, problem, cure);
    const value: unknown = (() => {
      try {
        return document.toJS({ maxAliasCount: INPUT_LIMITS.aliases });
      } catch {
        throw new InputFault({ file }, 'its aliases multiply to too much', 'write the values out');
      }
    })();
    const unsound = findUnsound(value, [], []);
    if (unsound !== undefined) throw fault(unsound.path, unsound.problem, unsound.cure);
    validate ??= schemaCheck(schema);
    if (!validate(value)) {
      const { path, problem, cure } = complaintOf(worstOf(validate.errors ?? []));
      throw fault(path, problem, cure);
    }
    const at = <R>(path: YamlPath, work: () => R): R => {
      try {
        return work();
      } catch (error) {
        if (error instanceof InputFault) throw fault(path, error.problem, error.cure);
        throw error;
      }
    };
    return { value: value as T, place, fault, at };
  };
};
