import { dirname } from 'node:path';
import { sweep } from '../book/write-beside.js';
import { preflight } from '../check/preflight.js';
import type { Finding } from '../check/preflight-finding.js';
import { type ReadBook, readBook } from '../check/read-book.js';
import { checkRules, type RulesReport } from '../check/rules-check.js';
import { InputFault } from '../fault.js';
import { readNamedFile } from '../named-file.js';
import { metresToInches, type UnitSystem } from '../units.js';
import { counted } from '../wording.js';
import { printJson, printText } from './output.js';

interface CheckArguments {
  readonly file: string;
  readonly units: UnitSystem;
  readonly json: boolean;
}

const CONDITIONS = {
  practice: 'practice',
  play: 'play under Rule 4.3a',
  committee: 'play under Model Local Rule G-11',
} as const;

const findingLine = ({ verdict, rule, page, words }: Finding): string =>
  `  ${verdict.padEnd(4)}  ${rule}${page === null ? '' : `, page ${page}`}: ${words}`;

const sizeWords = (width: number, height: number, units: UnitSystem): string =>
  units === 'metric'
    ? `${width.toFixed(1)} x ${height.toFixed(1)} mm`
    : `${metresToInches(width / 1000).toFixed(2)} x ${metresToInches(height / 1000).toFixed(2)} in`;

/** Equal figures on one line: "1:480 on 19 images". */
const tally = (figures: readonly string[]): string => {
  const counts = new Map<string, number>();
  for (const figure of figures) counts.set(figure, (counts.get(figure) ?? 0) + 1);
  return [...counts.entries()].map(([figure, count]) => `${figure} (${count})`).join(', ');
};

const rulesLines = (book: ReadBook, rules: RulesReport, units: UnitSystem): string[] => [
  `  page sizes: ${tally(rules.pages.map((page) => sizeWords(page.width, page.height, units)))}`,
  rules.images.length === 0
    ? book.facts === null
      ? '  no image of a green can be told from the rest'
      : '  no image of a green'
    : `  green images: ${tally(rules.images.map((image) => `1:${image.scale.toFixed(0)}`))}`,
  ...(['practice', 'play', 'committee'] as const).flatMap((use) => {
    const { met, reasons } = rules.conditions[use];
    return [
      `  ${met === null ? 'cannot tell:' : met ? 'meets ' : 'fails '} ${CONDITIONS[use]}`,
      ...reasons.map((reason) => `         ${reason}`),
    ];
  }),
  ...rules.notes.map((note) => `  note   ${note}`),
  `  ${rules.sentence}`,
];

export const runCheck = async ({ file, json, units }: CheckArguments): Promise<void> => {
  // A set of products that a killed run was renaming is completed before it is judged.
  sweep(dirname(file));
  const book = await readBook(readNamedFile(file, 'name a PDF that `runnel book` made'), file);
  const findings = preflight(book);
  const rules = checkRules(book);
  const failed = findings.filter((finding) => finding.verdict === 'fail').length;
  if (json) {
    printJson({
      file,
      layout: book.facts?.layout ?? null,
      madeFor: book.facts?.use ?? null,
      pass: failed === 0,
      preflight: findings,
      rules,
    });
  } else {
    const made =
      book.facts === null
        ? 'nothing says that this program made it'
        : `layout ${book.facts.layout}, made for ${book.facts.use}${book.facts.sheet === null ? '' : `, sheets ${book.facts.sheet}`}`;
    printText(
      [
        `${file}: ${counted(book.pages.length, 'page')}, ${made}`,
        'preflight',
        ...findings.map(findingLine),
        'Rules of Golf',
        ...rulesLines(book, rules, units),
      ].join('\n'),
    );
  }
  if (failed > 0) {
    throw new InputFault(
      { file },
      `${counted(failed, 'finding fails', 'findings fail')} the preflight`,
    );
  }
};
