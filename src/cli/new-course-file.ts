/** A hole of a new course, and what it lacks. */
export interface NewHole {
  readonly hole: string;
  readonly name: string | null;
  readonly par: number | null;
  readonly index: number | null;
  readonly tees: number;
  readonly loop: string | null;
  readonly missing: readonly string[];
  readonly confidence: string | null;
  readonly decided: readonly string[];
  readonly look: readonly string[];
}

export interface NewCourse {
  readonly title: string;
  readonly map: string;
  /** The course's name within a map of several. */
  readonly course: string | null;
  /** The path of the schema, for editors. */
  readonly schema: string;
  readonly holes: readonly NewHole[];
  readonly practice: readonly NewHole[];
}

const surveyName = (id: string): string => `surveys/green-${/^\d$/.test(id) ? `0${id}` : id}.csv`;

/** A text as a YAML scalar: a double-quoted scalar of JSON is one. */
const scalar = (text: string): string => JSON.stringify(text);

const entryLines = (hole: NewHole, isPractice: boolean): string[] => [
  ...hole.look.map((words) => `  # look: ${words.replace(/\s+/g, ' ')}`),
  `  - hole: ${/^\d+$/.test(hole.hole) ? hole.hole : scalar(hole.hole)}`,
  ...(hole.name === null ? [] : [`    name: ${scalar(hole.name)}`]),
  ...(hole.loop === null ? [] : [`    loop: ${scalar(hole.loop)}`]),
  ...(isPractice
    ? ['    # approach: 90 # bearing of the line of approach, degrees from true north']
    : [
        hole.par === null ? '    # par: 4' : `    par: ${hole.par}`,
        hole.index === null ? '    # index: 1' : `    index: ${hole.index}`,
      ]),
  `    # survey: ${surveyName(hole.hole)}`,
  '    # locations:',
  '    #   A: { on: 12, left: 5 }',
];

/** The text of the course file to start from. */
export const newCourseFile = (course: NewCourse): string =>
  [
    `# yaml-language-server: $schema=${course.schema}`,
    `title: ${scalar(course.title)}`,
    `map: ${course.map}`,
    ...(course.course === null ? [] : [`course: ${scalar(course.course)}`]),
    'use: practice',
    '# A stimp reading, in feet.',
    'greenSpeed: 10',
    '# What all surveys have in common and their files do not say.',
    '# surveys:',
    '#   crs: EPSG:32630',
    '#   unit: m',
    '',
    'holes:',
    ...course.holes.flatMap((hole) => entryLines(hole, false)),
    ...course.practice.flatMap((hole) => entryLines(hole, true)),
    '',
  ].join('\n');
