import { pointsToMm } from '../../units.js';
import { footModule, headingModule, scaleBarModule, worthFootModule } from '../green/green-page.js';
import { rectSteps, stroke, strokePath, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { composePage, type GreenPageContext, type PageModule } from '../kit/page-modules.js';
import { fitOrShorten, setParagraph, wrapLines } from '../kit/paragraph.js';
import type { Mark, MeasureText, Mm, Page } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import {
  askedPutts,
  countPoints,
  edgeLetters,
  highHalves,
  outletWords,
  puttName,
  puttWords,
} from './quiz-answers.js';
import { answersImage, quizImage } from './quiz-images.js';
import { ruledWord } from './ruled-word.js';

type Module = PageModule<GreenPageContext>;

const TICK = 3;

/** A question with what is ticked or written below it; an empty tick parts two groups. */
interface Question {
  readonly words: string;
  readonly ticks: readonly string[];
  /** Words before each line that is written on. */
  readonly lines: readonly string[];
}

const questionsOf = ({ green, book }: GreenPageContext): Question[] => [
  {
    words: phrase(book, 'quiz.water'),
    ticks: edgeLetters(green.outline).map(({ letter }) => letter),
    lines: [],
  },
  {
    words: phrase(book, 'quiz.half'),
    ticks: [
      phrase(book, 'quiz.front'),
      phrase(book, 'quiz.back'),
      phrase(book, 'quiz.level'),
      '',
      phrase(book, 'quiz.left'),
      phrase(book, 'quiz.right'),
      phrase(book, 'quiz.level'),
    ],
    lines: [],
  },
  {
    words: phrase(book, 'quiz.points'),
    ticks: [],
    lines: [phrase(book, 'quiz.high'), phrase(book, 'quiz.low')],
  },
  ...askedPutts(green).map(
    (putt, k): Question => ({
      words: phrase(book, 'quiz.putt', { putt: puttName(putt, k, book) }),
      ticks: [phrase(book, 'quiz.left'), phrase(book, 'quiz.straight'), phrase(book, 'quiz.right')],
      lines: [phrase(book, 'quiz.beside'), phrase(book, 'quiz.level-putt')],
    }),
  ),
];

/** What is ticked and written, from left to right. */
const tickRow = (
  { ticks, lines }: Question,
  at: Mm,
  right: number,
  { size, measure }: { readonly size: number; readonly measure: MeasureText },
): Mark[] => {
  let x = at[0];
  const marks: Mark[] = ticks.flatMap((words): Mark[] => {
    const left = x;
    if (words === '') {
      x += 2 * TICK;
      return [];
    }
    x += TICK + 1.2 + measure(words, 'text', size) + 4;
    return [
      strokePath(rectSteps(left, at[1] - TICK + 0.3, TICK, TICK), stroke(0.2)),
      text([left + TICK + 1.2, at[1]], words, 'text', size),
    ];
  });
  const room = (right - x) / Math.max(1, lines.length);
  lines.forEach((words, i) => {
    const from = x + i * room;
    const style = { face: 'text', size, gap: 1.2 } as const;
    marks.push(...ruledWord(words, [from, at[1]], from + room - 3, style, measure));
  });
  return marks;
};

const questionsModule: Module = (context, cell) => {
  const { layout, measure } = context;
  const questions = questionsOf(context);
  const width = cell.width - 5;
  // What questions of more than one line take besides.
  const extra = (question: Question, size: number): number =>
    pointsToMm(size) * 1.2 * (wrapLines(question.words, width, 'text', size, measure).length - 1);
  const more = (size: number): number =>
    questions.reduce((sum, question) => sum + extra(question, size), 0);
  let size = layout.type.text;
  const tight = (size: number): boolean =>
    more(size) > 0 && questions.length * pointsToMm(size) * 2.9 + more(size) > cell.height;
  while (size > 6 && tight(size)) size = Math.max(6, size - 0.5);
  const step = Math.min((cell.height - more(size)) / questions.length, pointsToMm(size) * 3.4);
  let taken = 0;
  return questions.flatMap((question, i) => {
    const top = cell.y + i * step + taken;
    taken += extra(question, size);
    const words = { ...cell, x: cell.x + 5, y: top, width: cell.width - 5 };
    const style = { face: 'text', size, leading: size * 1.2 } as const;
    return [
      text([cell.x, top + pointsToMm(size) * 0.8], `${i + 1}`, 'text-bold', size),
      ...setParagraph(question.words, words, style, measure).marks,
      ...tickRow(
        question,
        [cell.x + 5, top + pointsToMm(size) * 2.25 + extra(question, size)],
        cell.x + cell.width,
        { size, measure },
      ),
    ];
  });
};

const answersModule: Module = ({ green, book, layout, measure }, cell) => {
  const { reading } = green;
  const [depth, width] = highHalves(reading, book);
  const [high, low] = [countPoints(reading, 'high'), countPoints(reading, 'low')];
  const answers = [
    outletWords(reading, edgeLetters(green.outline), book),
    phrase(book, 'quiz.halves', { depth, width }),
    phrase(book, 'quiz.counted', {
      high: phrase(book, high === 1 ? 'quiz.one-high' : 'quiz.highs', { count: high }),
      low: phrase(book, low === 1 ? 'quiz.one-low' : 'quiz.lows', { count: low }),
    }),
    ...askedPutts(green).map((putt, k) =>
      phrase(book, 'quiz.answer', { putt: puttName(putt, k, book), answer: puttWords(putt, book) }),
    ),
  ];
  const size = layout.type.text;
  const indent = 5;
  let y = cell.y;
  return answers.flatMap((words, i) => {
    const style = { face: 'text', size, leading: size * 1.2 } as const;
    const set = setParagraph(
      words,
      { ...cell, x: cell.x + indent, y, width: cell.width - indent },
      style,
      measure,
    );
    const number = text([cell.x, y + pointsToMm(size) * 0.8], `${i + 1}`, 'text-bold', size);
    y += set.height + pointsToMm(size) * 0.5;
    return [number, ...set.marks];
  });
};

const fittedTitle = (words: string, cell: Cell, { layout, measure }: GreenPageContext): Mark => {
  const size = layout.type.text;
  const style = { face: 'text-bold', size, least: 6 } as const;
  const fitted = fitOrShorten(words, cell.width, style, measure);
  return text([cell.x, cell.y + pointsToMm(size) * 0.8], fitted.text, 'text-bold', fitted.size);
};

const titled =
  (key: 'quiz.head' | 'quiz.answers-head'): Module =>
  (context, cell) => [fittedTitle(phrase(context.book, key), cell, context)];

const nameLine: Module = ({ layout, measure, book }, cell) => {
  const size = layout.type.text;
  const base = cell.y + pointsToMm(size) * 0.8;
  const half = cell.width / 2;
  return (['handout.name', 'handout.day'] as const).flatMap((key, i) => {
    const x = cell.x + i * half;
    const style = { face: 'text-italic', size, gap: 1.5 } as const;
    return ruledWord(phrase(book, key), [x, base], x + half - 4, style, measure);
  });
};

const QUIZ_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  'quiz-title': titled('quiz.head'),
  'quiz-name': nameLine,
  'quiz-image': quizImage,
  'quiz-questions': questionsModule,
  'scale-bar': scaleBarModule,
  foot: footModule,
};

const ANSWER_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  'answers-title': titled('quiz.answers-head'),
  'answers-image': answersImage,
  'answers-words': answersModule,
  'scale-bar': scaleBarModule,
  foot: worthFootModule,
};

/** The front of a handout: a green without its signs, and what is asked of it. */
export const composeQuizPage = (context: GreenPageContext): Page =>
  composePage(
    'quiz',
    {
      id: `quiz-${context.green.holeId}`,
      title: phrase(context.book, 'quiz.title', {
        number: context.green.holeId,
        name: context.green.name,
      }),
    },
    QUIZ_MODULES,
    context,
  );

/** Its back: the same green with its signs, and the answers. */
export const composeQuizAnswersPage = (context: GreenPageContext): Page =>
  composePage(
    'quiz-answers',
    {
      id: `quiz-${context.green.holeId}-answers`,
      title: phrase(context.book, 'quiz.answers-title', {
        number: context.green.holeId,
        name: context.green.name,
      }),
    },
    ANSWER_MODULES,
    context,
  );
