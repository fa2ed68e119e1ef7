import type { Appraisal } from '../appraisal/appraise.js';
import { languageOf } from '../book/book-language.js';
import { writeBeside } from '../book/write-beside.js';
import type { Course } from '../course/course.js';
import { loadLayout } from '../layout/layout-file.js';
import { composeAppraisal } from '../page/survey/appraisal-page.js';
import { appraisalWords } from '../page/survey/appraisal-words.js';
import { measureWith, openFonts } from '../print/fonts.js';
import { writePdf } from '../print/pdf.js';
import { encodePng, rasterise } from '../print/raster.js';
import { writeSvg } from '../print/svg.js';
import type { UnitSystem } from '../units.js';
import { say } from './output.js';
import type { Subject } from './survey-subject.js';

const PNG_DPI = 200;

/** The files that the pictures go to. */
export interface SurveyPictures {
  readonly svg: string | undefined;
  readonly png: string | undefined;
  readonly units: UnitSystem;
}

/** The pictures that are asked for, in the language of the course. */
export const writeSurveyPictures = async (
  args: SurveyPictures,
  course: Course | null,
  subject: Subject,
  appraisal: Appraisal,
): Promise<void> => {
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
