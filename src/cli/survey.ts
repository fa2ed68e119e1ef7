import { basename } from 'node:path';
import { appraise } from '../appraisal/appraise.js';
import { lengthWordsIn } from '../appraisal/length-words.js';
import { loadCourse } from '../course/load-course.js';
import { type UnitsOpen, withUnits } from './course-units.js';
import { printJson, printText } from './output.js';
import { courseFileLines } from './survey-arguments.js';
import { readSubject, type SubjectArguments } from './survey-subject.js';
import { appraisalJson, appraisalText } from './survey-words.js';

interface SurveyArguments extends SubjectArguments {
  readonly svg: string | undefined;
  readonly png: string | undefined;
  readonly json: boolean;
}

export const runSurvey = async (asked: UnitsOpen<SurveyArguments>): Promise<void> => {
  if (asked.png !== undefined) await (await import('../print/raster.js')).loadRasteriser();
  const course = asked.course === undefined ? null : loadCourse(asked.course, asked);
  const args = withUnits<SurveyArguments>(asked, course);
  const subject = await readSubject(args, course);
  const show = lengthWordsIn(args.units);
  const judged = appraise(subject.survey, {
    outline: subject.outline,
    drains: subject.drains,
    length: show.length,
    small: show.small,
  });
  const appraisal = { ...judged, notes: [...subject.notes, ...judged.notes] };
  if (args.svg !== undefined || args.png !== undefined) {
    const { writeSurveyPictures } = await import('./survey-pictures.js');
    await writeSurveyPictures(args, course, subject, appraisal);
  }
  const { how, crs } = subject.survey;
  const paste =
    subject.outline === null && args.file !== undefined && args.file !== ''
      ? courseFileLines(basename(args.file), subject.options, crs ?? null)
      : [];
  if (args.json) {
    printJson({
      ...appraisalJson(subject.source, appraisal, subject.plane),
      read_as: how ?? null,
      ...(paste.length === 0 ? {} : { course_file: paste }),
    });
    return;
  }
  printText(
    [
      appraisalText({
        source: subject.source,
        appraisal,
        plane: subject.plane,
        units: args.units,
        how: how ?? '',
      }),
      ...(paste.length === 0 ? [] : ['for course.yaml, in the entry of the hole:', ...paste]),
    ].join('\n'),
  );
};
