import { definitionOf } from './crs/definitions.js';
import { stateOfWkt } from './crs/file-crs.js';
import { combined, type Stated } from './crs/placement.js';
import { coordinateSystem } from './crs/plane.js';
import type { ReadOptions } from './readers/file-reader.js';
import type { SurveyFormat } from './readers/sniff.js';

/** Whose word on coordinates counts: the asker's, the file's, or that of a text beside it. */

/** Formats whose readers leave the coordinate system beside the file to this one. */
const PRJ_HERE: readonly SurveyFormat[] = ['points', 'las', 'xlsx', 'ply'];

/** What a file states, and where it is silent what the `.prj` beside it does. */
export const withPrj = (stated: Stated, format: SurveyFormat, options: ReadOptions): Stated => {
  const prj = options.beside?.prj;
  if (prj === undefined || stated.crs !== null || stated.degrees || !PRJ_HERE.includes(format))
    return stated;
  const other = stateOfWkt(prj);
  return {
    ...stated,
    crs: other.crs,
    unit: stated.unit ?? other.unit,
    verticalUnit: stated.verticalUnit ?? other.verticalUnit,
  };
};

/** What is known of a file's coordinates, by the asker and by the file, and what is doubtful in it. */
export const heeded = (
  options: ReadOptions,
  stated: Stated,
): { readonly known: Stated; readonly doubts: readonly string[] } => {
  const doubts: string[] = [];
  let asked: Stated = {
    crs: options.crs ?? null,
    unit: options.unit ?? null,
    verticalUnit: options.verticalUnit ?? null,
  };
  let file = stated;
  if (
    stated.degrees &&
    asked.crs !== null &&
    !coordinateSystem(asked.crs, options.source).geographic
  ) {
    doubts.push(
      'the columns are latitude and longitude: read as WGS 84, not in the system asked for',
    );
    asked = {
      crs: null,
      unit: null,
      verticalUnit: asked.verticalUnit ?? stated.verticalUnit ?? asked.unit,
    };
  }
  if (asked.crs === null && stated.crs !== null && definitionOf(stated.crs) === null) {
    // Without a frame to come to, an unknown system does no harm.
    if ((options.plane ?? null) === null) {
      file = { ...stated, crs: null };
      doubts.push(`the file's coordinate system ${stated.crs.slice(0, 60)} is not known here`);
    }
  }
  return { known: combined(asked, file), doubts };
};
