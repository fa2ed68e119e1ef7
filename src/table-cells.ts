/** What separates the cells of a table's lines: a semicolon or a tab when its header has one. */
export const separatorOf = (header: string): string =>
  header.includes(';') ? ';' : header.includes('\t') ? '\t' : ',';

/** The cells of a line, without quotes round them. */
export const cellsOf = (line: string, separator: string): string[] =>
  line.split(separator).map((cell) =>
    cell
      .trim()
      .replace(/^"(.*)"$/, '$1')
      .trim(),
  );
