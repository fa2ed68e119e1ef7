import { InputFault, quoted } from './fault.js';
import { INPUT_LIMITS } from './input-limits.js';

/** All tokens but texts: a pattern would need the stack for those of some million letters. */
const TOKEN = /[\t\n\r ]+|[[\]{},:]|-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null/y;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;
const [QUOTE, BACKSLASH, SPACE] = [0x22, 0x5c, 0x20];

/** The index behind the text in quotes that begins at `at`; undefined where it does not end, or holds what it may not. */
const endOfText = (text: string, at: number): number | undefined => {
  for (let i = at + 1; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === QUOTE) return i + 1;
    if (code < SPACE) return undefined;
    if (code !== BACKSLASH) continue;
    ESCAPE.lastIndex = i;
    const escaped = ESCAPE.exec(text)?.[0];
    if (escaped === undefined) return undefined;
    i += escaped.length - 1;
  }
  return undefined;
};

/** The token that begins at an index; undefined where none does. */
const tokenAt = (text: string, at: number): string | undefined => {
  if (text.charCodeAt(at) === QUOTE) return text.slice(at, endOfText(text, at) ?? at) || undefined;
  TOKEN.lastIndex = at;
  return TOKEN.exec(text)?.[0];
};

type Wanted = 'value' | 'value or ]' | 'key' | 'key or }' | ':' | ', or end' | 'nothing more';

const WORDS: Readonly<Record<Wanted, string>> = {
  value: 'a value',
  'value or ]': 'a value or "]"',
  key: 'a name in double quotes',
  'key or }': 'a name in double quotes or "}"',
  ':': '":"',
  ', or end': '"," or the closing bracket',
  'nothing more': 'the end of the file',
};

const startsValue = (mark: string): boolean => !']},:'.includes(mark);

/** What is wrong at an index of the text: the first token that the grammar (RFC 8259) does not allow. */
const firstWrong = (text: string): { readonly at: number; readonly wanted: Wanted } => {
  const open: string[] = [];
  let wanted: Wanted = 'value';
  const afterValue = (): Wanted => (open.length === 0 ? 'nothing more' : ', or end');
  let at = 0;
  while (at < text.length) {
    const token = tokenAt(text, at);
    if (token === undefined) return { at, wanted };
    const mark = token[0];
    if (token.trim() === '') {
      at += token.length;
      continue;
    }
    if (mark === (open.at(-1) === '[' ? ']' : '}') && open.length > 0) {
      if (wanted === 'value' || wanted === 'key' || wanted === ':') return { at, wanted };
      open.pop();
      wanted = afterValue();
    } else if (wanted === 'value' || wanted === 'value or ]') {
      if (!startsValue(mark)) return { at, wanted };
      if (mark === '[' || mark === '{') open.push(mark);
      wanted = mark === '[' ? 'value or ]' : mark === '{' ? 'key or }' : afterValue();
    } else if (wanted === 'key' || wanted === 'key or }') {
      if (mark !== '"') return { at, wanted };
      wanted = ':';
    } else if (wanted === ':') {
      if (mark !== ':') return { at, wanted };
      wanted = 'value';
    } else {
      if (mark !== ',' || wanted === 'nothing more') return { at, wanted };
      wanted = open.at(-1) === '[' ? 'value' : 'key';
    }
    at += token.length;
  }
  return { at, wanted };
};

/** The index where lists and objects first stand deeper in each other than the limit; -1 if nowhere. */
const tooDeep = (text: string): number => {
  let depth = 0;
  let inText = false;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (inText) {
      if (code === 0x5c) i++;
      else if (code === 0x22) inText = false;
    } else if (code === 0x22) inText = true;
    else if (code === 0x5b || code === 0x7b) {
      if (++depth > INPUT_LIMITS.depth) return i;
    } else if (code === 0x5d || code === 0x7d) depth--;
  }
  return -1;
};

const placeAt = (text: string, at: number): string => {
  const before = text.slice(0, at);
  const line = before.split('\n').length;
  return `line ${line}, column ${at - before.lastIndexOf('\n')}`;
};

/**
 * The value of a JSON text.
 *
 * @throws InputFault with line and column: for a text that is no JSON, or is nested too deep.
 */
export const parseJson = (text: string, file: string): unknown => {
  const deep = tooDeep(text);
  if (deep >= 0) {
    throw new InputFault(
      { file, place: placeAt(text, deep) },
      `lists and objects stand more than ${INPUT_LIMITS.depth} deep in each other`,
      'no map is nested so deep',
    );
  }
  try {
    return JSON.parse(text);
  } catch {
    const { at, wanted } = firstWrong(text);
    const found =
      at >= text.length ? 'the file ends' : `${quoted(text.slice(at, at + 12).trim())} stands`;
    throw new InputFault(
      { file, place: placeAt(text, at) },
      `not valid JSON: ${found} where ${WORDS[wanted]} should be`,
    );
  }
};
