import type { PathStep, TextMark } from '../page/marks/marks.js';
import { degreesToRadians, pointsToMm } from '../units.js';
import type { Fonts } from './fonts.js';

/** Where a text starts when its anchor is the middle or the end, in millimetres along its baseline. */
export const startOf = (fonts: Fonts, mark: TextMark): number => {
  const width = pointsToMm((fonts[mark.face].set(mark.text).width * mark.size) / 1000);
  return mark.align === 'left' ? 0 : mark.align === 'centre' ? -width / 2 : -width;
};

const outlinesOf = (fonts: Fonts, mark: TextMark): PathStep[] => {
  const { font, scale, set, guard } = fonts[mark.face];
  const mm = pointsToMm(mark.size) / 1000;
  const turn = degreesToRadians(mark.turn ?? 0);
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  let pen = startOf(fonts, mark);
  const steps: PathStep[] = [];
  for (const glyph of set(mark.text).glyphs) {
    const put = (gx: number, gy: number): readonly [number, number] => {
      const x = pen + (gx * scale + glyph.dx) * mm;
      const y = (gy * scale + glyph.dy) * mm;
      return [mark.at[0] + x * cos - y * sin, mark.at[1] - x * sin - y * cos];
    };
    let here: readonly [number, number] = [0, 0];
    for (const { command, args } of guard(() => font.getGlyph(glyph.id).path.commands)) {
      if (command === 'moveTo' || command === 'lineTo') {
        here = [args[0], args[1]];
        steps.push([command === 'moveTo' ? 'M' : 'L', ...put(here[0], here[1])]);
      } else if (command === 'quadraticCurveTo') {
        const [qx, qy, x, y] = args;
        steps.push([
          'C',
          ...put(here[0] + (2 / 3) * (qx - here[0]), here[1] + (2 / 3) * (qy - here[1])),
          ...put(x + (2 / 3) * (qx - x), y + (2 / 3) * (qy - y)),
          ...put(x, y),
        ]);
        here = [x, y];
      } else if (command === 'bezierCurveTo') {
        const [x1, y1, x2, y2, x, y] = args;
        steps.push(['C', ...put(x1, y1), ...put(x2, y2), ...put(x, y)]);
        here = [x, y];
      } else {
        steps.push(['Z']);
      }
    }
    pen += glyph.advance * mm;
  }
  return steps;
};

const known = new WeakMap<
  TextMark,
  { readonly fonts: Fonts; readonly steps: readonly PathStep[] }
>();

/** The outlines of a text mark as paths on the page, millimetres, y down; made once for all that draw it. */
export const glyphOutlines = (fonts: Fonts, mark: TextMark): readonly PathStep[] => {
  let made = known.get(mark);
  if (made?.fonts !== fonts) {
    made = { fonts, steps: outlinesOf(fonts, mark) };
    known.set(mark, made);
  }
  return made.steps;
};
