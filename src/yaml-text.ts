import {
  Composer,
  type CST,
  type Document,
  type ErrorCode,
  isNode,
  isScalar,
  Lexer,
  type LineCounter,
  Parser,
  visit,
  YAMLParseError,
} from 'yaml';
import { holdsUnprintable, type InputFault, quoted } from './fault.js';
import { INPUT_LIMITS } from './input-limits.js';

/** The text of a YAML file and the document that the parser makes of it, before any schema. */

export type YamlPath = readonly (string | number)[];
export type PlacedFault = (offset: number, problem: string, cure?: string) => InputFault;

/** What the parser found wrong, in our words. */
export const YAML_SYNTAX: Readonly<Partial<Record<ErrorCode, string>>> = {
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

/** What the lexer puts between the parts of the text: a document begins, a flow ends in error, a scalar follows. */
const LEXER_MARKS: readonly string[] = ['\x02', '\x18', '\x1f'];

/** Looks at the text before the parser does, which would take minutes or the stack for what is refused here. */
export const refuseWhatNoFileHolds = (text: string, fault: PlacedFault): void => {
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
export const partsOf = (text: string, counter: LineCounter, fault: PlacedFault): CST.Token[] => {
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
export const yamlDocument = (parts: readonly CST.Token[], length: number): Document => {
  const composer = new Composer({ prettyErrors: false, logLevel: 'error', uniqueKeys: false });
  const [document, another] = composer.compose([...parts], true, length);
  if (another !== undefined) {
    const [from, to] = another.range;
    document.errors.push(new YAMLParseError([from, to], 'MULTIPLE_DOCS', 'several documents'));
  }
  return document as Document;
};

/** No key stands twice in a mapping. The parser's own check compares each key with every other. */
export const refuseTwinKeys = (document: Document, fault: PlacedFault): void => {
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
            `not valid YAML: the key ${quoted(name)} stands twice in one mapping`,
          );
        }
        seen.add(name);
      }
    },
  });
};

/** Every alias names an anchor before it, and there are few of them. */
export const refuseStrayAliases = (document: Document, fault: PlacedFault): void => {
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
export const findUnsound = (
  value: unknown,
  path: YamlPath,
  above: readonly unknown[],
): { readonly path: YamlPath; readonly problem: string; readonly cure: string } | undefined => {
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
