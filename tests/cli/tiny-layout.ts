import { writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** A layout up to its pages: letter sheets of two leaves. */
export const headOfLayout = (name: string, use: string): string =>
  `name: ${name}
title: A tiny book
use: ${use}
page: { width: 107.95, height: 177.8, margins: { top: 6, bottom: 5.5, inner: 8.5, outer: 6 } }
grid: { columns: 12, rows: 36, gutter: 2 }
tables: { lengths: [3, 10], past: 12 }
binding: { method: loose }
sheets:
  - { name: letter, paper: letter, scheme: leaves, up: 2, duplex: short edge }
`;

/** A layout of few pages and one kind of sheet, so that a run of the program is quick. */
export const writeTinyLayout = (folder: string): string => {
  const file = join(folder, 'tiny.yaml');
  writeFileSync(
    file,
    `${headOfLayout('tiny', 'practice')}pages:
  green:
    - { module: heading, columns: [1, 12], rows: [1, 4] }
    - { module: green-image, columns: [1, 12], rows: [5, 28] }
    - { module: foot, columns: [1, 12], rows: [36, 36] }
  tables:
    - { module: heading, columns: [1, 12], rows: [1, 4] }
    - { module: tables, columns: [1, 12], rows: [5, 33] }
    - { module: foot, columns: [1, 12], rows: [36, 36] }
  day-sheet:
    - { module: heading, columns: [1, 12], rows: [1, 4] }
    - { module: greens, columns: [1, 12], rows: [5, 34] }
    - { module: foot, columns: [1, 12], rows: [36, 36] }
  day-tables:
    - { module: heading, columns: [1, 12], rows: [1, 4] }
    - { module: tables, columns: [1, 12], rows: [5, 34] }
    - { module: foot, columns: [1, 12], rows: [36, 36] }
`,
  );
  return file;
};
