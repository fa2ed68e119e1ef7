import { basename } from 'node:path';
import type { Appraisal } from '../appraisal/appraise.js';
import { languageOf } from '../book/book-language.js';
import { writeBeside } from '../book/write-beside.js';
import type { Course } from '../course/course.js';
import { holeOf } from '../course/named-hole.js';
import { distance, type Point } from '../geometry.js';
import { loadLayout } from '../layout/layout-file.js';
import { composeAppraisal } from '../page/survey/appraisal-page.js';
import { appraisalWords } from '../page/survey/appraisal-words.js';
import { phrase, type Telling } from '../page/words/words.js';
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
  readonly hole: string | undefined;
  readonly svg: string | undefined;
  readonly png: string | undefined;
  readonly units: UnitSystem;
}

/** Where north lies in the plane of a survey, of unit length: to a place a hundred-thousandth of a degree farther north. */
const northOf = ({ plane }: Subject, at: Point): Point | null => {
  if (plane === null) return null;
  const [longitude, latitude] = plane.toMap(at[0], at[1]);
  const there = plane.toPlane(longitude, latitude + 1e-5);
  const away: Point = [there[0] - at[0], there[1] - at[1]];
  const far = distance(there, at);
  return far > 0 && Number.isFinite(far) ? [away[0] / far, away[1] / far] : null;
};

/** What the picture is of: the green, where the course tells it, and the file. */
const subtitleOf = (
  { source }: Subject,
  { hole }: SurveyPictures,
  course: Course | null,
  tell: Telling,
): string => {
  const file = basename(source);
  if (course === null || hole === undefined) return file;
  const { id, name } = holeOf(course, hole);
  return `${phrase(tell, 'moved.green', { number: id, name })} · ${file}`;
};

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
  const tell = { units, words };
  const source = subtitleOf(subject, args, course, tell);
  const about = appraisalWords(
    appraisal,
    { source, north: northOf(subject, appraisal.origin) },
    tell,
  );
  const page = composeAppraisal(appraisal, subject.survey, about, measureWith(fonts));
  const drawn: { readonly file: string; readonly bytes: Uint8Array | string }[] = [];
  if (args.svg !== undefined) {
    drawn.push({ file: args.svg, bytes: writeSvg(page, layout.inks, fonts) });
  }
  if (args.png !== undefined) {
    const pdf = await writePdf([page], layout, {
      fonts,
      edition: 'plain',
      title: page.title,
      language: tag,
    });
    const [image] = await rasterise(pdf, PNG_DPI);
    drawn.push({ file: args.png, bytes: encodePng(image) });
  }
  // What cannot be drawn stops both.
  for (const { file, bytes } of drawn) {
    writeBeside(file, bytes);
    say(`wrote ${file}`);
  }
};
