import { describe, expect, it } from 'vitest';
import { lengthArgument } from '../src/cli/lengths.js';
import { readDayFile } from '../src/event/day-file.js';
import { loadLayout } from '../src/layout/layout-file.js';
import { planBook } from '../src/page/book-pages.js';
import { pressCondition } from '../src/print/press-conditions.js';
import { readSurvey } from '../src/survey/read-survey.js';
import { readByHand } from '../src/survey/readers/by-hand.js';

/** Words that stand in every object of JavaScript, and in no table of ours. */
const WORDS = ['constructor', 'toString', '__proto__', 'valueOf', 'hasOwnProperty'];

const messageOf = async (act: () => unknown): Promise<string> => {
  try {
    await act();
  } catch (error) {
    return (error as Error).message;
  }
  return 'taken';
};

const read = (text: string): Promise<unknown> =>
  readSurvey(new TextEncoder().encode(text), { source: 'file' });

describe.each(WORDS)('the word %s of a file or a person', (word) => {
  const acts: Readonly<Record<string, readonly [() => unknown, RegExp]>> = {
    'first element of XML': [() => read(`<${word}/>`), /^file.*XML|LandXML|no surface/],
    'unit of XML': [
      () =>
        read(
          `<LandXML version="1.2"><Units><Imperial linearUnit="${word}" elevationUnit="${word}"/></Units><Surfaces/></LandXML>`,
        ),
      /unit|surface/,
    ],
    'side of a reading by hand': [
      () => readByHand(`on,in,side,grade,clock\n2,1,${word},2.1,6\n`, 'hand.csv'),
      /hand\.csv.*left/,
    ],
    'side of a day': [
      () => readDayFile(`hole,day,on,in,side\n1,1,5,4,${word}\n`, 'days.csv'),
      /days\.csv.*left/,
    ],
    'printing condition': [() => pressCondition(word), /use one of: FOGRA39/],
    'unit of a length': [() => lengthArgument('--pace', `3${word}`, 'in'), /--pace/],
    module: [
      () => {
        const layout = loadLayout('pocket');
        const place = { module: word, columns: [1, 2] as const, rows: [1, 2] as const };
        const book = {
          ...{ title: 't', setting: 's', use: 'play' as const, units: 'imperial' as const },
          ...{ stimp: 3, past: 0.3, greens: [] },
        };
        return planBook(book, { ...layout, pages: { cover: [place] } }, () => 1)[0].compose();
      },
      /there is no module/,
    ],
  };

  it.each(Object.keys(acts))('as the %s is refused in our words', async (where) => {
    const [act, told] = acts[where];
    const message = await messageOf(act);
    expect(message).toMatch(told);
    expect(message).not.toMatch(/undefined|NaN|is not a function|\[object|native code/);
  });
});
