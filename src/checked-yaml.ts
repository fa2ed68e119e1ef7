import { Ajv2020, type ErrorObject } from 'ajv/dist/2020.js';
import leven from 'leven';
import { isNode, LineCounter, parseDocument } from 'yaml';
import { InputFault } from './fault.js';

/** The value of a YAML file that keeps its schema, and where each of its parts stands. */
export interface CheckedYaml<T> {
  readonly value: T;
  /** "line 12, holes[3].par" for the path ['holes', 3, 'par']. */
  place(path: readonly (string | number)[]): string;
  /** The fault at a path, ready to be thrown. */
  fault(path: readonly (string | number)[], problem: string, cure?: string): InputFault;
}

export type YamlReader<T> = (text: string, file: string) => CheckedYaml<T>;

const dotted = (path: readonly (string | number)[]): string =>
  path
    .map((key, i) => (typeof key === 'number' ? `[${key}]` : `${i === 0 ? '' : '.'}${key}`))
    .join('');

/** The known word that a misspelt one most likely means; undefined when none is near. */
export const nearestWord = (word: string, known: readonly string[]): string | undefined => {
  const ranked = known
    .map((one) => ({ one, off: leven(word.toLowerCase(), one.toLowerCase()) }))
    .sort((a, b) => a.off - b.off);
  return ranked.length > 0 && ranked[0].off <= Math.max(2, word.length / 3)
    ? ranked[0].one
    : undefined;
};

const pathOf = (error: ErrorObject): (string | number)[] =>
  error.instancePath
    .split('/')
    .slice(1)
    .map((key) => key.replaceAll('~1', '/').replaceAll('~0', '~'))
    .map((key) => (/^\d+$/.test(key) ? Number(key) : key));

const TYPE_WORDS: Readonly<Record<string, string>> = {
  integer: 'a whole number',
  number: 'a number',
  string: 'a text',
  array: 'a list',
  object: 'a mapping',
  boolean: 'true or false',
};

const quoted = (words: readonly unknown[]): string =>
  words.map((w) => JSON.stringify(w)).join(', ');

interface Complaint {
  readonly path: readonly (string | number)[];
  readonly problem: string;
  readonly cure: string | undefined;
  /** The fault lies with the key, not with its value. */
  readonly onKey: boolean;
}

const complaintOf = (error: ErrorObject): Complaint => {
  const path = pathOf(error);
  const schema = error.parentSchema ?? {};
  const description = typeof schema.description === 'string' ? schema.description : undefined;
  const whole = { path, onKey: false };
  switch (error.keyword) {
    case 'additionalProperties':
    case 'unevaluatedProperties': {
      const key = String(error.params.additionalProperty ?? error.params.unevaluatedProperty);
      const known = Object.keys(schema.properties ?? {});
      const near = nearestWord(key, known);
      return {
        path: [...path, key],
        problem: `unknown key "${key}"`,
        cure: near === undefined ? `known keys: ${known.join(', ')}` : `did you mean "${near}"?`,
        onKey: true,
      };
    }
    case 'required': {
      const key = String(error.params.missingProperty);
      const about = schema.properties?.[key]?.description;
      return { ...whole, problem: `the key "${key}" is missing`, cure: about };
    }
    case 'enum': {
      const near = nearestWord(String(error.data), error.params.allowedValues.map(String));
      return {
        ...whole,
        problem: `${JSON.stringify(error.data)} is not one of ${quoted(error.params.allowedValues)}`,
        cure: near === undefined ? undefined : `did you mean "${near}"?`,
      };
    }
    case 'type':
      return {
        ...whole,
        problem: `${JSON.stringify(error.data) ?? 'nothing'} is not ${[error.params.type]
          .flat()
          .map((type) => TYPE_WORDS[type] ?? type)
          .join(' or ')}`,
        cure: description,
      };
    case 'oneOf':
    case 'anyOf':
    case 'dependentRequired':
      return { ...whole, problem: 'not in a form that is known', cure: description };
    default:
      return {
        ...whole,
        problem: `${JSON.stringify(error.data)?.slice(0, 60)} ${error.message ?? 'is not allowed'}`,
        cure: description,
      };
  }
};

/**
 * A wrong key is told first, then what lies deepest: it is the narrowest description of the fault. What
 * the branches of a choice say is left to the choice itself.
 */
const worst = (errors: readonly ErrorObject[]): ErrorObject =>
  errors.find((error) => error.keyword === 'additionalProperties') ??
  errors
    .filter((error) => !/\/(oneOf|anyOf|not)\//.test(error.schemaPath))
    .sort((a, b) => b.instancePath.split('/').length - a.instancePath.split('/').length)[0];

/**
 * A reader for YAML files that keep a JSON Schema (draft 2020-12). Each fault names the file, the line,
 * the key, what is wrong and what would be right (the description in the schema).
 */
export const yamlReader = <T>(schema: object): YamlReader<T> => {
  const ajv = new Ajv2020({
    allErrors: true,
    verbose: true,
    strict: true,
    strictRequired: false,
    allowUnionTypes: true,
  });
  const validate = ajv.compile(schema);
  return (text, file) => {
    const counter = new LineCounter();
    const document = parseDocument(text, { lineCounter: counter, prettyErrors: true });
    const [syntax] = document.errors;
    if (syntax !== undefined) {
      throw new InputFault(
        { file, place: `line ${syntax.linePos?.[0].line ?? 1}` },
        `not valid YAML: ${syntax.message.split('\n')[0].replace(/ at line \d+, column \d+:?$/, '')}`,
      );
    }
    const lineOf = (path: readonly (string | number)[]): number => {
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
    const place = (path: readonly (string | number)[]): string =>
      path.length === 0 ? 'line 1' : `line ${lineOf(path)}, ${dotted(path)}`;
    const fault = (
      path: readonly (string | number)[],
      problem: string,
      cure?: string,
    ): InputFault => new InputFault({ file, place: place(path) }, problem, cure);
    const value: unknown = (() => {
      try {
        return document.toJS({ maxAliasCount: 100 });
      } catch {
        throw new InputFault(
          { file },
          'not valid YAML: its aliases refer to too much or to nothing',
        );
      }
    })();
    if (!validate(value)) {
      const { path, problem, cure } = complaintOf(worst(validate.errors ?? []));
      throw fault(path, problem, cure);
    }
    return { value: value as T, place, fault };
  };
};
