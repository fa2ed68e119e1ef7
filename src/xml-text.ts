import type { SAXParser } from 'sax';
import { INPUT_LIMITS } from './input-limits.js';

/** Characters that a parser is given at once: it keeps what it is given in one string. */
const SLICE = 4_096;

/**
 * Gives a parser some text, and a fault (`onerror`) where `<!` goes on and on and is no declaration: it looks through
 * all of that again at each character.
 */
export const writeXml = (parser: SAXParser, text: string): void => {
  for (let at = 0; at < text.length; at += SLICE) {
    parser.write(text.slice(at, at + SLICE));
    const { error, sgmlDecl } = parser as { readonly error?: unknown; readonly sgmlDecl?: string };
    // It takes nothing more after a fault.
    if (error) return;
    if ((sgmlDecl?.length ?? 0) > INPUT_LIMITS.xmlDeclaration) {
      parser.onerror(new Error('a declaration that goes on and on'));
      return;
    }
  }
};
