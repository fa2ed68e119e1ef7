import { basename } from 'node:path';
import { type Appraisal, appraise } from '../appraisal/appraise.js';
import { lengthWordsIn } from '../appraisal/length-words.js';
import { languageOf } from '../book/book-language.js';
import { writeBeside } from '../book/write-beside.js';
import type { Course } from '../course/course.js';
import { loadCourse } from '../course/load-course.js';
import { loadLayout } from '../layout/layout-file.js';
import { composeAppraisal } from '../page/survey/appraisal-page.js';
import { appraisalWords } from '../page/survey/appraisal-words.js';
import { measureWith, openFonts } from '../print/fonts.js';
import { writePdf } from '../print/pdf.js';
import { encodePng, loadRasteriser, rasterise } from '../print/raster.js';
import { writeSvg } from '../print/svg.js';
import { type UnitsOpen, withUnits } from './course-units.js';
import { printJson, printText, say } from './output.js';
import { courseFileLines } from './survey-arguments.js';
import { readSubject, type Subject, type SubjectArguments } from './survey-subject.js';
import { appraisalJson, appraisalText } from './survey-words.js';

interface SurveyArguments extends SubjectArguments {
  readonly svg: string | undefined;
  readonly png: string | undefined;
  readonly json: boolean;
}

const PNG_DPI = 200;

/** The pictures that are asked for, in the language of the course. */
const writePictures = async (
  args: SurveyArguments,
  course: Course | null,
  subject: Subject,
  appraisal: Appraisal,
): Promise<void> => {
  if (args.svg === undefined && args.png === undefined) return;
  const fonts = openFonts();
  const layout = loadLayout('pocket');
  const { units, words, tag, told } = languageOf(course ?? {}, {}, fonts, args.units);
  for (const line of told) say(line);
  const about = appraisalWords(appraisal, subject.source, { units, words });
  const page = composeAppraisal(appraisal, subject.survey, about, measureWith(fonts));
  if (args.svg !== undefined) {
    writeBeside(args.svg, writeSvg(page, layout.inks, fonts));
    say(`wrote ${args.svg}`);
  }
  if (args.png !== undefined) {
    const pdf = await writePdf([page], layout, {
      fonts,
      edition: 'plain',
      title: page.title,
      language: tag,
    });
    const [image] = await rasterise(pdf, PNG_DPI);
    writeBeside(args.png, encodePng(image));
    say(`wrote ${args.png}`);
  }
};

export const runSurvey = async (asked: UnitsOpen<SurveyArguments>): Promise<void> => {
  if (asked.png !== undefined) await loadRasteriser();
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
  await writePictures(args, course, subject, appraisal);
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
