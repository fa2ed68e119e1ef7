import type { Course } from '../../course/course.js';
import { fileOfCourse } from '../../course/course-files.js';
import { InputFault } from '../../fault.js';
import { MINIMUM_LINE } from '../../layout/load-layout.js';
import { readNamedFile } from '../../named-file.js';
import type { LogoPicture } from '../../page/marks/picture.js';
import { mmToPoints } from '../../units.js';

const PNG = [0x89, 0x50, 0x4e, 0x47];

/** The reader of a file, loaded when there is one to read: few books have a picture. */
const read = async (bytes: Buffer, file: string, width: number): Promise<LogoPicture> => {
  if (PNG.every((byte, i) => bytes[i] === byte)) {
    return (await import('./png-picture.js')).pngPicture(bytes, file, width);
  }
  if (bytes.subarray(0, 1024).includes('%PDF-')) {
    return (await import('./pdf-picture.js')).pdfPicture(bytes, file, width);
  }
  const text = bytes.toString('utf8');
  if (/^\ufeff?\s*</.test(text)) {
    return (await import('./svg-picture.js')).svgPicture(text, file, width);
  }
  throw new InputFault({ file }, 'this is neither SVG, PDF nor PNG', 'name a file that is');
};

/**
 * The picture that the imprint names, known by its bytes, in the inks of a book; null where it names none.
 *
 * @throws InputFault for what a press would not print as it is shown.
 */
export const loadLogo = async ({ folder, imprint }: Course): Promise<LogoPicture | null> => {
  if (imprint.logo === null) return null;
  const { file, width } = imprint.logo;
  const path = fileOfCourse(folder, file);
  const picture = await read(readNamedFile(path, 'check the name'), path, width);
  for (const mark of picture.marks) {
    const line = mark.kind === 'path' ? mark.stroke?.width : undefined;
    if (line !== undefined && mmToPoints(line) < MINIMUM_LINE) {
      throw new InputFault(
        { file: path },
        `a line is ${mmToPoints(line).toFixed(2)} pt wide at ${width} mm`,
        `make it ${MINIMUM_LINE} pt or more, or the picture wider`,
      );
    }
  }
  return picture;
};
