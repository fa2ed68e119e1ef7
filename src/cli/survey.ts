import { basename } from 'node:path';
import { type Appraisal, appraise } from '../appraisal/appraise.js';
import { lengthWordsIn } from '../appraisal/length-words.js';
import { writeBeside } from '../book/write-beside.js';
import { loadLayout } from '../layout/layout-file.js';
import type { Page } from '../page/marks/marks.js';
import { composeAppraisal } from '../page/survey/appraisal-page.js';
import { type Fonts, measureWith, openFonts } from '../print/fonts.js';
import { writePdf } from '../print/pdf.js';
import { encodePng, loadRasteriser, rasterise } from '../print/raster.js';
import { writeSvg } from '../print/svg.js';
import { feetToMetres, type UnitSystem } from '../units.js';
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

const pictureOf = (
  subject: Subject,
  appraisal: Appraisal,
  units: UnitSystem,
  fonts: Fonts,
): Page => {
  const show = lengthWordsIn(units);
  const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
  const { spacing, quality } = appraisal;
  return composeAppraisal(
    appraisal,
    subject.survey,
    {
      title: 'What this survey is worth',
      subtitle: subject.source,
      lines: [
        `Verdict: ${appraisal.verdict.line}`,
        `${spacing.onGreen} points on ${show.area(appraisal.area)}, ${show.length(spacing.mean)} apart${appraisal.noise === null ? '' : `, noise ${show.small(appraisal.noise)}`}; ${percent(spacing.coverage)} of the ground covered, ${percent(quality.level)} of it under 0.9 %.`,
        appraisal.reading === null
          ? 'Too few points to fit a surface to.'
          : `Slope known to ${(100 * quality.gradeSd).toFixed(2)} % (standard deviation); direction of fall known on ${percent(quality.directionKnown)} of the ground over 0.9 %.`,
      ],
      signed: show.signed,
      bar:
        units === 'metric'
          ? { metres: 5, words: '5 m' }
          : { metres: feetToMetres(15), words: '15 ft' },
    },
    measureWith(fonts),
  );
};

const writePictures = async (
  args: SurveyArguments,
  subject: Subject,
  appraisal: Appraisal,
): Promise<void> => {
  if (args.svg === undefined && args.png === undefined) return;
  const fonts = openFonts();
  const layout = loadLayout('pocket');
  const page = pictureOf(subject, appraisal, args.units, fonts);
  if (args.svg !== undefined) {
    writeBeside(args.svg, writeSvg(page, layout.inks, fonts));
    say(`wrote ${args.svg}`);
  }
  if (args.png !== undefined) {
    const pdf = await writePdf([page], layout, {
      fonts,
      edition: 'plain',
      title: page.title,
      language: 'en',
    });
    const [image] = await rasterise(pdf, PNG_DPI);
    writeBeside(args.png, encodePng(image));
    say(`wrote ${args.png}`);
  }
};

export const runSurvey = async (args: SurveyArguments): Promise<void> => {
  if (args.png !== undefined) await loadRasteriser();
  const subject = await readSubject(args);
  const show = lengthWordsIn(args.units);
  const judged = appraise(subject.survey, {
    outline: subject.outline,
    drains: subject.drains,
    length: show.length,
    small: show.small,
  });
  const appraisal = { ...judged, notes: [...subject.notes, ...judged.notes] };
  await writePictures(args, subject, appraisal);
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
