import type { SurveySource } from '../course/course.js';
import { InputFault, quoted } from '../fault.js';
import type { LengthUnit } from '../survey/crs/plane.js';
import type { ReadOptions } from '../survey/readers/file-reader.js';
import type { SourceFormat } from '../survey/readers/sniff.js';
import type { UnitSystem } from '../units.js';
import { lengthArgument } from './lengths.js';

/** How the command line says that a survey is to be read; each has a key of the same meaning in the course file. */
export interface ReadingArguments {
  readonly format: SourceFormat | undefined;
  readonly crs: string | undefined;
  readonly unit: LengthUnit | undefined;
  readonly 'vertical-unit': LengthUnit | undefined;
  readonly columns: string | undefined;
  readonly classes: string | undefined;
  readonly surface: string | undefined;
  readonly layer: string | undefined;
  readonly sheet: string | undefined;
  readonly band: number | undefined;
  /** Standard deviation of a height, with its unit. */
  readonly sigma: string | undefined;
  readonly units: UnitSystem;
  readonly outside: boolean;
}

const list = (text: string | undefined): string[] | null =>
  text === undefined ? null : text.split(/[\s,;]+/).filter((part) => part !== '');

const classesOf = (text: string | undefined): number[] | null => {
  const parts = list(text);
  if (parts === null) return null;
  return parts.map((part) => {
    const group = Number(part);
    if (!Number.isInteger(group) || group < 0 || group > 255) {
      throw new InputFault(
        { file: 'command line', place: '--classes' },
        `${quoted(part, 20)} is not a class`,
        'classes are numbers from 0 to 255: --classes 2,8',
      );
    }
    return group;
  });
};

const BARE = { imperial: 'in', metric: 'cm' } as const;

/** What the course says of its surveys serves another file of the same green; what is of one file does not. */
export const forAnotherFile = (given: SurveySource): SurveySource => ({
  ...given,
  format: null,
  columns: null,
  surface: null,
  layer: null,
  sheet: null,
  band: null,
});

/** The command line's word before the course file's; the name and the frame of the survey apart. */
export const readingOf = (
  args: ReadingArguments,
  given: SurveySource | null,
): Omit<ReadOptions, 'source' | 'plane'> => ({
  format: args.format ?? given?.format ?? null,
  crs: args.crs ?? given?.crs ?? null,
  unit: args.unit ?? given?.unit ?? null,
  verticalUnit: args['vertical-unit'] ?? given?.verticalUnit ?? null,
  columns: list(args.columns) ?? given?.columns ?? null,
  classes: classesOf(args.classes) ?? given?.classes ?? null,
  surface: args.surface ?? given?.surface ?? null,
  layer: args.layer ?? given?.layer ?? null,
  sheet: args.sheet ?? given?.sheet ?? null,
  band: args.band ?? given?.band ?? null,
  sigma:
    args.sigma === undefined
      ? (given?.sigma ?? null)
      : lengthArgument('--sigma', args.sigma, BARE[args.units]),
});

const KEYS = [
  'format',
  'crs',
  'unit',
  'verticalUnit',
  'columns',
  'classes',
  'surface',
  'layer',
  'sheet',
  'band',
] as const;

/** The lines of a course file that read a survey as it was read here. */
export const courseFileLines = (
  file: string,
  options: ReadOptions,
  crs: string | null,
): string[] => {
  // A system that the file itself spells out at length stays with the file.
  const own = crs !== null && crs.length <= 40 ? crs : null;
  const value = (key: (typeof KEYS)[number]): unknown =>
    key === 'crs' ? (options.crs ?? own) : options[key];
  const lines = KEYS.flatMap((key) => {
    const one = value(key);
    return one === null || one === undefined ? [] : [`      ${key}: ${JSON.stringify(one)}`];
  });
  const sigma = options.sigma ?? null;
  return [
    '    survey:',
    `      file: ${JSON.stringify(file)}`,
    ...lines,
    ...(sigma === null ? [] : [`      sigma: ${Number(sigma.toPrecision(6))}`]),
  ];
};
