import { createHash } from 'node:crypto';
import { PNG } from 'pngjs';
import type { Inks } from '../layout/layout.js';
import type { ImageMark, Mark, Page, PathStep, ReadRole, Stroke } from '../page/marks/marks.js';
import { PAPER } from '../page/marks/marks.js';
import type { Fonts } from './fonts.js';
import { glyphOutlines } from './glyph-outlines.js';
import { hexOf } from './inks.js';
import { hatchLines, pathBox } from './path-geometry.js';

const escaped = (text: string): string =>
  text.replace(/[&<>"]/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c]!);

const n = (value: number): string => {
  const short = value.toFixed(4).replace(/\.?0+$/, '');
  return short === '-0' ? '0' : short;
};

const pathData = (steps: readonly PathStep[]): string =>
  steps
    .map(([command, ...at]) => `${command}${(at as readonly number[]).map(n).join(' ')}`)
    .join('');

const strokeAttributes = (stroke: Stroke, inks: Inks): string =>
  [
    `stroke="${hexOf(stroke.paint, inks)}" stroke-width="${n(stroke.width)}"`,
    stroke.cap === 'round' ? ' stroke-linecap="round"' : '',
    stroke.join === 'round' ? ' stroke-linejoin="round"' : '',
    stroke.dash === undefined ? '' : ` stroke-dasharray="${stroke.dash.map(n).join(' ')}"`,
  ].join('');

/** Groups that stand for nothing in a drawing. */
const READ_ROLES: ReadonlySet<string> = new Set<ReadRole>([
  'heading',
  'paragraph',
  'caption',
  'cell',
  'folio',
]);

/** Marks as SVG, one user unit a millimetre, and the clip paths that they name. */
export interface DrawnMarks {
  readonly definitions: readonly string[];
  readonly body: string;
}

/** Drawings may stand together in one document, so that the names of their clip paths begin with one of their own. */
export const drawMarks = (
  marks: readonly Mark[],
  prefix: string,
  inks: Inks,
  fonts: Fonts,
): DrawnMarks => {
  const definitions: string[] = [];

  const clipped = (steps: readonly PathStep[], rule: string, inner: string): string => {
    const id = `${prefix}c${definitions.length + 1}`;
    definitions.push(
      `<clipPath id="${id}"><path d="${pathData(steps)}" clip-rule="${rule}"/></clipPath>`,
    );
    return `<g clip-path="url(#${id})">${inner}</g>`;
  };

  const draw = (mark: Mark): string => {
    switch (mark.kind) {
      case 'path': {
        const fill = mark.fill === undefined ? 'none' : hexOf(mark.fill, inks);
        const rule = mark.rule === 'evenodd' ? ' fill-rule="evenodd"' : '';
        const stroke = mark.stroke === undefined ? '' : ` ${strokeAttributes(mark.stroke, inks)}`;
        return `<path d="${pathData(mark.steps)}" fill="${fill}"${rule}${stroke}/>`;
      }
      case 'hatch': {
        const lines = hatchLines(pathBox(mark.steps), mark.angle, mark.pitch)
          .map(([x1, y1, x2, y2]) => `M${n(x1)} ${n(y1)}L${n(x2)} ${n(y2)}`)
          .join('');
        return clipped(
          mark.steps,
          mark.rule ?? 'nonzero',
          `<path d="${lines}" fill="none" ${strokeAttributes(mark.stroke, inks)}/>`,
        );
      }
      case 'text': {
        const steps = glyphOutlines(fonts, mark);
        if (steps.length === 0) return '';
        const d = pathData(steps);
        const halo =
          mark.halo === undefined || mark.halo <= 0
            ? ''
            : `<path d="${d}" fill="none" ${strokeAttributes({ paint: PAPER, width: 2 * mark.halo, cap: 'round', join: 'round' }, inks)}/>`;
        return `<g role="img" aria-label="${escaped(mark.text)}">${halo}<path d="${d}" fill="${hexOf(mark.paint, inks)}"/></g>`;
      }
      case 'clip':
        return clipped(mark.steps, 'nonzero', mark.marks.map(draw).join('\n'));
      case 'group': {
        if (READ_ROLES.has(mark.role)) return mark.marks.map(draw).join('\n');
        const label = mark.alt === undefined ? '' : ` aria-label="${escaped(mark.alt)}"`;
        return `<g class="${mark.role}"${label}>\n${mark.marks.map(draw).join('\n')}\n</g>`;
      }
      case 'image':
        return drawImage(mark);
      case 'link':
        return '';
    }
  };

  return { definitions, body: marks.map(draw).join('\n') };
};

/** Shades as a picture in the document itself. */
const drawImage = ({ box, columns, rows, shades }: ImageMark): string => {
  const png = new PNG({ width: columns, height: rows, colorType: 0 });
  shades.forEach((shade, i) => {
    png.data.set([shade, shade, shade, 255], 4 * i);
  });
  const data = PNG.sync.write(png, { colorType: 0 }).toString('base64');
  return `<image x="${n(box.x)}" y="${n(box.y)}" width="${n(box.width)}" height="${n(box.height)}" href="data:image/png;base64,${data}"/>`;
};

/**
 * The page as SVG, one user unit a millimetre. Text is drawn by its outlines, so that it looks the same
 * where the typefaces are not installed; each text carries its words as a label.
 */
export const writeSvg = (page: Page, inks: Inks, fonts: Fonts): string => {
  const prefix = `p${createHash('sha256').update(page.id).digest('hex').slice(0, 6)}`;
  const { definitions, body } = drawMarks(page.marks, prefix, inks, fonts);
  const size = `${n(page.width)} ${n(page.height)}`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${n(page.width)}mm" height="${n(page.height)}mm" viewBox="0 0 ${size}" role="img" aria-label="${escaped(page.title)}">`,
    `<title>${escaped(page.title)}</title>`,
    definitions.length > 0 ? `<defs>\n${definitions.join('\n')}\n</defs>` : '',
    `<rect width="${n(page.width)}" height="${n(page.height)}" fill="${hexOf(PAPER, inks)}"/>`,
    body,
    '</svg>\n',
  ]
    .filter((part) => part !== '')
    .join('\n');
};
