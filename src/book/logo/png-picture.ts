import { PNG } from 'pngjs';
import { InputFault } from '../../fault.js';
import { INPUT_LIMITS } from '../../input-limits.js';
import type { LogoPicture } from '../../page/marks/picture.js';
import { MM_PER_INCH } from '../../units.js';

/** Pixels to an inch that a picture in shades needs on a press; common practice, no source. */
const LEAST_RESOLUTION = 300;
/** Parts of a grey pixel may differ so much by the rounding of who saved it, of 255. */
const GREY = 3;

const sizeOf = (bytes: Uint8Array): readonly [number, number] => {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return bytes.length < 24 ? [0, 0] : [view.getUint32(16), view.getUint32(20)];
};

/**
 * A PNG picture in greys, so many millimetres wide.
 *
 * @throws InputFault for colours, for see-through pixels and for fewer than 300 pixels to an inch.
 */
export const pngPicture = (bytes: Uint8Array, file: string, width: number): LogoPicture => {
  const [columns, rows] = sizeOf(bytes);
  const fault = (problem: string, cure: string): InputFault =>
    new InputFault({ file }, problem, cure);
  const wanted = Math.ceil((width / MM_PER_INCH) * LEAST_RESOLUTION);
  if (columns * rows > INPUT_LIMITS.logoPixels) {
    throw fault(`${columns} x ${rows} pixels are too many`, `${wanted} pixels across will do`);
  }
  let data: Uint8Array;
  try {
    ({ data } = PNG.sync.read(Buffer.from(bytes)));
  } catch {
    throw fault('the PNG is damaged', 'save it again');
  }
  if (columns < wanted) {
    throw fault(
      `${columns} pixels across are ${Math.floor((columns / width) * MM_PER_INCH)} to an inch at ${width} mm`,
      `give ${wanted} pixels or more, for ${LEAST_RESOLUTION} to an inch, or a smaller "width"`,
    );
  }
  const shades = new Uint8Array(columns * rows);
  for (let i = 0; i < shades.length; i++) {
    const [r, g, b, a] = data.subarray(4 * i, 4 * i + 4);
    const at = `pixel ${(i % columns) + 1} of row ${Math.floor(i / columns) + 1}`;
    if (Math.max(r, g, b) - Math.min(r, g, b) > GREY && a > 0) {
      throw fault(`${at} is coloured`, 'save it in greys: a press has the inks of the book alone');
    }
    if (a !== 255 && a !== 0) throw fault(`${at} is half see-through`, 'lay it on white');
    shades[i] = a === 0 ? 255 : g;
  }
  const height = (width * rows) / columns;
  const box = { x: 0, y: 0, width, height };
  return { width, height, marks: [{ kind: 'image', box, columns, rows, shades }] };
};
