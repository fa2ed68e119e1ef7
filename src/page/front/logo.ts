import type { Cell } from '../kit/grid.js';
import type { PageContext, PageModule } from '../kit/page-modules.js';
import type { ImageMark, PathMark, PathStep } from '../marks/marks.js';
import { phrase } from '../words/words.js';

const placed = (
  mark: PathMark | ImageMark,
  { x, y }: Cell,
  scale: number,
): PathMark | ImageMark => {
  if (mark.kind === 'image') {
    const { box } = mark;
    return {
      ...mark,
      box: {
        x: x + scale * box.x,
        y: y + scale * box.y,
        width: scale * box.width,
        height: scale * box.height,
      },
    };
  }
  const steps = mark.steps.map(
    ([letter, ...at]) =>
      [letter, ...at.map((v, i) => scale * v + (i % 2 === 0 ? x : y))] as unknown as PathStep,
  );
  return {
    ...mark,
    steps,
    ...(mark.stroke === undefined
      ? {}
      : {
          stroke: {
            ...mark.stroke,
            width: scale * mark.stroke.width,
            ...(mark.stroke.dash === undefined
              ? {}
              : { dash: mark.stroke.dash.map((one) => scale * one) }),
          },
        }),
  };
};

/** The publisher's picture at the lower right of its cell, as wide as it is asked for or as the cell takes. */
export const logoModule: PageModule<PageContext> = ({ book }, cell) => {
  const { logo, imprint } = book;
  if (logo === undefined) return [];
  const scale = Math.min(1, cell.width / logo.width, cell.height / logo.height);
  const [width, height] = [scale * logo.width, scale * logo.height];
  const at = { x: cell.x + cell.width - width, y: cell.y + cell.height - height, width, height };
  return [
    {
      kind: 'group',
      role: 'figure',
      alt: imprint?.publisher ?? phrase(book, 'imprint.picture'),
      marks: logo.marks.map((mark) => placed(mark, at, scale)),
    },
  ];
};
