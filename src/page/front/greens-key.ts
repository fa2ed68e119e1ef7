import { InputFault } from '../../fault.js';
import { pointsToMm } from '../../units.js';
import type { GreenContent, OutlinedGreen } from '../book-content.js';
import { bandKeyHeight, bandKeyMarks } from '../green/band-key.js';
import { frameOnPage } from '../green/green-image.js';
import { mayBeAlike, mayTakeTurns } from '../green/outlet-spots.js';
import { scaleBarMarks } from '../green/scale-bar.js';
import { greenMark } from '../kit/green-mark.js';
import { outlinedGreens, shownReadings } from '../kit/outlined-greens.js';
import type { PageContext, PageModule } from '../kit/page-modules.js';
import { setParagraph } from '../kit/paragraph.js';
import { phrase } from '../words/words.js';

/** The greens by the scale that each is drawn at, the commonest scale first. */
const byScale = (
  { layout, side, book }: PageContext,
  greens: readonly Pick<GreenContent | OutlinedGreen, 'holeId' | 'outline'>[],
): { readonly scale: number; readonly holes: readonly string[] }[] => {
  const scales = new Map<number, string[]>();
  for (const green of greens) {
    const frame = frameOnPage(green, layout, side);
    if (frame === null) continue;
    const rounded = Math.round(frame.scale);
    scales.set(rounded, [...(scales.get(rounded) ?? []), greenMark(green.holeId, book)]);
  }
  return [...scales]
    .map(([scale, holes]) => ({ scale, holes }))
    .sort((a, b) => b.holes.length - a.holes.length || a.scale - b.scale);
};

/** What signs and figures on the greens mean, the commonest first, where no other page of the book tells it. */
const signWords = ({ book, layout }: PageContext): string[] => {
  if (layout.pages['how-to-read'] !== undefined || layout.use === 'committee') return [];
  const worths = book.greens.map(({ worth }) => worth.worth);
  const unit = phrase(book, book.units === 'metric' ? 'unit.centimetres' : 'unit.inches');
  const readings = shownReadings(book);
  return [
    ...(readings.length > 0
      ? [
          phrase(book, 'cover.drainage'),
          ...(readings.some(mayBeAlike) ? [phrase(book, 'cover.alike')] : []),
          phrase(book, 'cover.fall'),
          ...(worths.includes('tables') ? [phrase(book, 'cover.putt-signs')] : []),
          phrase(book, 'cover.heights', { unit }),
          ...(readings.some(mayTakeTurns) ? [phrase(book, 'cover.shares')] : []),
        ]
      : []),
  ];
};

/**
 * For a book whose greens have no room for keys of their own: the scale of all greens, those that are drawn
 * smaller, what the tones mean and, where there is room, the figures and signs.
 */
export const greensKeyModule: PageModule<PageContext> = (context, cell) => {
  const { book, layout, measure } = context;
  const [common, ...others] = byScale(context, [...book.greens, ...outlinedGreens(book)]);
  if (common === undefined) return [];
  const bands =
    layout.use === 'committee'
      ? undefined
      : book.greens.find(({ worth }) => worth.worth !== 'outline')?.reading.bands;
  const key = bands === undefined ? [] : bandKeyMarks(context, bands, [cell.x, cell.y], cell.width);
  const top = cell.y + (bands === undefined ? 0 : bandKeyHeight(context, bands) + 1.5);
  const bar = scaleBarMarks(context, common.scale, { x: cell.x, y: top }, 'under');
  const small = layout.type.small;
  const under = top + 3.4 + pointsToMm(small) * 2.6;
  const smaller = others.map(({ scale, holes }) =>
    phrase(book, 'cover.at-scale', { holes: holes.join(', '), scale }),
  );
  const room = cell.y + cell.height - under;
  const style = { face: 'text', size: small, leading: small * 1.3 } as const;
  const set = (words: string) => setParagraph(words, { ...cell, y: under }, style, measure);
  const wordings =
    smaller.length === 0
      ? [phrase(book, 'cover.one-scale')]
      : [
          phrase(book, 'cover.smaller', { list: smaller.join('; ') }),
          phrase(book, 'cover.smaller-short'),
        ];
  const signs = signWords(context);
  // Where not all signs have room the last go without, not all of them.
  const told = [...signs.map((_, i) => signs.slice(0, signs.length - i)), []]
    .flatMap((some) => wordings.map((words) => set([words, ...some].join(' '))))
    .find(({ height }) => height <= room);
  if (told === undefined)
    throw new InputFault(
      { file: `layout ${layout.name}`, place: 'pages.cover' },
      'the key of the greens does not fit its place',
      'give greens-key more rows',
    );
  return [...key, ...bar, ...told.marks];
};
