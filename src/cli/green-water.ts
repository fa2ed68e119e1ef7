import { type GreenPageSetting, greenPageProduct } from '../book/green-product.js';
import { type PourFigures, pourLines } from '../book/pour-figures.js';
import type { GreenOfBook } from '../book/prepare-green.js';
import { isBare } from '../book/surveyed-only.js';
import { surveyedPour } from '../book/surveyed-pour.js';
import type { GreenSite } from '../course/course.js';
import { pointOfLocation } from '../course/frame.js';
import { InputFault } from '../fault.js';
import type { Point } from '../geometry.js';
import { INPUT_LIMITS } from '../input-limits.js';
import type { Layout } from '../layout/layout.js';
import type { BookContent } from '../page/book-content.js';
import { composeWaterPage } from '../page/green/water-page.js';
import { measureWith } from '../print/fonts.js';
import { surfaceOfStored } from '../surface/stored-surface.js';
import { ringInFrame } from '../survey/survey.js';
import { READ_DEFAULTS } from '../terrain/read-green.js';
import { pour } from '../terrain/water/pour.js';
import { waterGround } from '../terrain/water/water-ground.js';
import { pacesArgument } from './lengths.js';
import { requireWorth } from './worth-words.js';

const OPTION = '--pour';

const refuse = (what: string, cure: string): InputFault =>
  new InputFault({ file: 'command line', place: OPTION }, what, cure);

/** Places on the green, in its frame, metres. */
export const pourPlaces = (
  texts: readonly string[],
  { frame, outline }: GreenSite,
  layout: Layout,
): Point[] => {
  if (texts.length === 0) return [];
  if (texts.length > INPUT_LIMITS.pours) {
    throw refuse(
      `${texts.length} places are too many for one page`,
      `pour at ${INPUT_LIMITS.pours} at most`,
    );
  }
  if (layout.use === 'committee') {
    throw refuse(
      `layout ${layout.name} is a committee edition, which shows no drainage`,
      'choose another with --layout',
    );
  }
  const ring = ringInFrame(frame, outline);
  return texts.map((text) =>
    pointOfLocation(
      ring,
      { name: text, ...pacesArgument(OPTION, text) },
      { file: 'command line', place: OPTION },
    ),
  );
};

/** Pours water on a prepared green; nothing is told on ground without points. */
export const pourOnGreen = (
  { fit, content }: GreenOfBook,
  places: readonly Point[],
): PourFigures & { readonly content: GreenOfBook['content'] } => {
  const { holeId, reading, drains, worth } = content;
  if (worth.worth === 'outline') requireWorth(holeId, worth, 'water');
  const dry = places.findIndex((at) => isBare(worth.bare, at));
  if (dry >= 0) {
    throw refuse(
      `place ${dry + 1} lies on ground without points`,
      'no figure rests on it: survey that ground, or pour elsewhere',
    );
  }
  const ground = waterGround(surfaceOfStored(fit.surface), reading, { ...READ_DEFAULTS, drains });
  const water = surveyedPour(pour(ground, places), worth.bare);
  return { water, area: reading.area, content };
};

/** The page of the water as a file of its own. */
export const waterProduct = (
  { water, content }: ReturnType<typeof pourOnGreen>,
  book: BookContent,
  setting: GreenPageSetting,
) =>
  greenPageProduct(
    composeWaterPage({
      layout: setting.layout,
      measure: measureWith(setting.fonts),
      book,
      green: content,
      side: 'right',
      label: content.holeId,
      water,
      lines: pourLines({ water }, book),
    }),
    { ...setting, of: { file: 'water', what: 'the page of the water' } },
  );
