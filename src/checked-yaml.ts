import type { ErrorObject, ValidateFunction } from 'ajv/dist/2020.js';
import {
  Composer,
  type CST,
  type Document,
  type ErrorCode,
  isNode,
  isScalar,
  Lexer,
  LineCounter,
  Parser,
  visit,
  YAMLParseError,
} from 'yaml';
import { holdsUnprintable, InputFault, quotedInPart } from './fault.js';
import { INPUT_LIMITS } from './input-limits.js';
import { nearestWord } from './nearest-word.js';
import { schemaCheck } from './schema-check.js';

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
const named = (key: string): string => (/^[\p{L}\p{N}_.-]+$/u.test(key) ? key : `"${key}"`);

const dotted = (path: readonly (string | number)[]): string =>
  path
    .map((key, i) => (typeof key === 'number' ? `[${key}]` : `${i === 0 ? '' : '.'}${named(key)}`))
    .join('');

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

const quoted = (words: readonly unknown[]): string => words.map(quotedInPart).join(', ');

/** What a value does that its limit in the schema does not allow. */
const limitWords = ({ keyword, params }: ErrorObject): string => {
  const limit = String(params.limit);
  switch (keyword) {
    case 'minimum':
      return `is less than ${limit}`;
    case 'maximum':
      return `is more than ${limit}`;
    case 'exclusiveMinimum':
      return `is not over ${limit}`;
    case 'exclusiveMaximum':
      return `is not under ${limit}`;
    case 'minItems':
    case 'minProperties':
      return `has fewer entries than ${limit}`;
    case 'maxItems':
    case 'maxProperties':
      return `has more entries than ${limit}`;
    case 'minLength':
      return 'is too short';
    case 'maxLength':
      return `is longer than ${limit} characters`;
    default:
      return 'is not in the form asked for';
  }
};

/** What the parser found wrong, in our words. */
const SYNTAX: Readonly<Partial<Record<ErrorCode, string>>> = {
  BAD_ALIAS: 'an alias is written wrongly',
  BAD_DIRECTIVE: 'a directive (%) is written wrongly',
  BAD_DQ_ESCAPE: 'an escape (\\) in double quotes is not known',
  BAD_INDENT: 'the line is not indented as those around it',
  BAD_SCALAR_START: 'a text begins with a character that wants quotes around the text',
  BLOCK_AS_IMPLICIT_KEY:
    'a key stands where the value of another is expected; quote a text with ": "',
  BLOCK_IN_FLOW: 'a list or mapping over several lines stands inside brackets',
  KEY_OVER_1024_CHARS: 'a key is longer than 1024 characters',
  MISSING_CHAR: 'a quote, bracket, comma or colon is missing',
  MULTILINE_IMPLICIT_KEY: 'a key goes over several lines, or its colon is missing',
  MULTIPLE_DOCS: 'the file holds more than one document (---)',
  TAB_AS_INDENT: 'a tab indents the line; use spaces',
  TAG_RESOLVE_FAILED: 'a tag (!) is not known',
  UNEXPECTED_TOKEN: 'something stands where it may not',
};

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
        problem: `${quotedInPart(error.data)} is not one of ${quoted(error.params.allowedValues)}`,
        cure: near === undefined ? undefined : `did you mean "${near}"?`,
      };
    }
    case 'type':
      if (path.length === 0 && error.data === null) {
        return { ...whole, problem: 'the file is empty', cure: description };
      }
      return {
        ...whole,
        problem: `${quotedInPart(error.data)} is not ${[error.params.type]
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
        problem: `${quotedInPart(error.data)} ${limitWords(error)}`,
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

type Path = readonly (string | number)[];
type PlacedFault = (offset: number, problem: string, cure?: string) => InputFault;

/** What the lexer puts between the parts of the text: a document begins, a flow ends in error, a scalar follows. */
const LEXER_MARKS: readonly string[] = ['\x02', '\x18', '\x1f'];

/** Looks at the text before the parser does, which would take minutes or the stack for what is refused here. */
const refuseWhatNoFileHolds = (text: string, fault: PlacedFault): void => {
  if (text.length > INPUT_LIMITS.yamlLength) {
    throw fault(0, `the file is longer than ${INPUT_LIMITS.yamlLength} characters`);
  }
  for (let start = 0; start < text.length; ) {
    const end = text.indexOf('\n', start);
    const stop = end < 0 ? text.length : end;
    if (stop - start > INPUT_LIMITS.yamlLine) {
      throw fault(start, `the line is longer than ${INPUT_LIMITS.yamlLine} characters`);
    }
    start = stop + 1;
  }
  let offset = 0;
  let flow = 0;
  let inLine = 0;
  let parts = 0;
  for (const token of new Lexer().lex(text)) {
    if (++parts > INPUT_LIMITS.yamlParts) {
      throw fault(offset, `the file holds more than ${INPUT_LIMITS.yamlParts} parts`);
    }
    if (token === '[' || token === '{') flow++;
    else if (token === ']' || token === '}') flow = Math.max(0, flow - 1);
    else if (token === '-' || token === '?') inLine++;
    else if (token.startsWith('\n') || token.startsWith('\r')) inLine = 0;
    const indent = /^ +$/.test(token) && text[offset - 1] === '\n' ? token.length / 2 : 0;
    if (Math.max(flow, inLine, indent) > INPUT_LIMITS.depth) {
      throw fault(
        offset,
        `lists and mappings stand more than ${INPUT_LIMITS.depth} deep in each other`,
        'no file of this kind is nested so deep',
      );
    }
    if (!LEXER_MARKS.includes(token)) offset += token.length;
  }
};

/**
 * The parts of a text as the parser finds them. A text that is wrong all over is told at its first fault: the parser would
 * go on to collect them all.
 */
const partsOf = (text: string, counter: LineCounter, fault: PlacedFault): CST.Token[] => {
  const parts: CST.Token[] = [];
  const offsets: number[] = [];
  for (const token of new Parser(counter.addNewLine).parse(text)) {
    parts.push(token);
    if (token.type !== 'error') continue;
    offsets.push(token.offset);
    if (offsets.length > INPUT_LIMITS.yamlFaults) {
      throw fault(offsets[0], 'not valid YAML: something stands where it may not');
    }
  }
  return parts;
};

/** The one document of a file. */
const documentOf = (parts: readonly CST.Token[], length: number): Document => {
  const composer = new Composer({ prettyErrors: false, logLevel: 'error', uniqueKeys: false });
  const [document, another] = composer.compose([...parts], true, length);
  if (another !== undefined) {
    const [from, to] = another.range;
    document.errors.push(new YAMLParseError([from, to], 'MULTIPLE_DOCS', 'several documents'));
  }
  return document as Document;
};

/** No key stands twice in a mapping. The parser's own check compares each key with every other. */
const refuseTwinKeys = (document: Document, fault: PlacedFault): void => {
  visit(document, {
    Map(_, map) {
      const seen = new Set<string>();
      for (const { key } of map.items) {
        if (!isScalar(key) || typeof key.value === 'object') {
          throw fault(
            isNode(key) ? (key.range?.[0] ?? 0) : (map.range?.[0] ?? 0),
            'a key is a list, a mapping, an alias or nothing',
            'write a key as a plain word',
          );
        }
        const name = String(key.value);
        if (seen.has(name)) {
          throw fault(
            key.range?.[0] ?? 0,
            `not valid YAML: the key "${name}" stands twice in one mapping`,
          );
        }
        seen.add(name);
      }
    },
  });
};

/** Every alias names an anchor before it, and there are few of them. */
const refuseStrayAliases = (document: Document, fault: PlacedFault): void => {
  let count = 0;
  visit(document, {
    Alias(_, alias) {
      const at = alias.range?.[0] ?? 0;
      if (++count > INPUT_LIMITS.aliases) {
        throw fault(at, `more than ${INPUT_LIMITS.aliases} aliases`, 'write the values out');
      }
      if (alias.resolve(document) === undefined) {
        throw fault(
          at,
          `the alias "*${alias.source}" names nothing`,
          `an anchor "&${alias.source}" has to stand before it`,
        );
      }
    },
  });
};

/** Where a value holds itself, or a character that cannot be printed. */
const findUnsound = (
  value: unknown,
  path: Path,
  above: readonly unknown[],
): { readonly path: Path; readonly problem: string; readonly cure: string } | undefined => {
  if (typeof value === 'string') {
    const mark = holdsUnprintable(value);
    const code = mark?.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0');
    return code === undefined
      ? undefined
      : { path, problem: `the text holds the character U+${code}`, cure: 'it cannot be printed' };
  }
  if (typeof value !== 'object' || value === null) return undefined;
  if (above.includes(value)) {
    return { path, problem: 'an alias names what it stands in', cure: 'write the value out' };
  }
  const isList = Array.isArray(value);
  for (const [key, part] of Object.entries(value)) {
    const found =
      (isList ? undefined : findUnsound(key, path, above)) ??
      findUnsound(part, [...path, isList ? Number(key) : key], [...above, value]);
    if (found !== undefined) return found;
  }
  return undefined;
};

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
    const document = documentOf(partsOf(text, counter, faultAt), text.length);
    const [syntax] = document.errors;
    if (syntax !== undefined) {
      throw faultAt(
        syntax.pos[0],
        `not valid YAML: ${SYNTAX[syntax.code] ?? 'it cannot be understood from here on'}`,
      );
    }
    refuseTwinKeys(document, faultAt);
    refuseStrayAliases(document, faultAt);
    const lineOf = (path: Path): number => {
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
    const place = (path: Path): string =>
      path.length === 0 ? 'line 1' : `line ${lineOf(path)}, ${dotted(path)}`;
    const fault = (path: Path, problem: string, cure?: string): InputFault =>
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
      const { path, problem, cure } = complaintOf(worst(validate.errors ?? []));
      throw fault(path, problem, cure);
    }
    const at = <R>(path: Path, work: () => R): R => {
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
