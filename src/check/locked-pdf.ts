/** What trailers say of it, in the clear in every kind of them (ISO 32000-1, 7.5.5 and 7.5.8). */
const ENCRYPT = /\/Encrypt (?:\d{1,10} \d{1,5} R|<<)/;

/** Whether a PDF that the library did not read is encrypted; `source` is its bytes as Latin letters. */
export const isLockedPdf = (source: string, error: unknown): boolean =>
  ENCRYPT.test(source) || /encrypted/.test(String(error));

export const LOCKED = 'the PDF is encrypted, locked with a password';
