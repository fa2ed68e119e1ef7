export interface StructTable {
  readonly caption: string;
  /** A cell that spans several columns has its words in the first of them. */
  readonly rows: readonly (readonly string[])[];
}

/** The tables in what poppler's `pdfinfo -struct-text` prints. */
export const structTables = (printed: string): StructTable[] => {
  interface Cell {
    words: string[];
    span: number;
  }
  const tables: { caption: string[]; rows: Cell[][] }[] = [];
  let into: string[] | null = null;
  for (const line of printed.split('\n')) {
    const table = tables[tables.length - 1];
    const row = table?.rows[table.rows.length - 1];
    const [, type = ''] = /^ +([A-Z][A-Za-z0-9]*)\b/.exec(line) ?? [];
    const words = /^ +"(.*)"$/.exec(line)?.[1];
    const span = /\/ColSpan (\d+)/.exec(line)?.[1];
    if (words !== undefined) into?.push(words);
    else if (span !== undefined) row[row.length - 1].span = Number(span);
    else if (type === 'Table') tables.push({ caption: [], rows: [] });
    else if (type === 'Caption') into = table.caption;
    else if (type === 'TR') table.rows.push([]);
    else if (type === 'TH' || type === 'TD') {
      row.push({ words: [], span: 1 });
      into = row[row.length - 1].words;
    } else if (type !== '') into = null;
  }
  return tables.map(({ caption, rows }) => ({
    caption: caption.join(' '),
    rows: rows.map((row) =>
      row.flatMap(({ words, span }) => [words.join(' '), ...Array<string>(span - 1).fill('')]),
    ),
  }));
};
