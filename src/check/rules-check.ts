import { fetchedRecord } from '../fetched-record.js';
import type { Box } from '../geometry.js';
import { HOLES_ON_A_LARGER_SHEET, isPageWithin, LARGEST_SCALE } from '../layout/rules-limits.js';
import { pointsToMm } from '../units.js';
import type { ReadBook } from './read-book.js';
import { changedPages, type ReadPage } from './read-page.js';

/** Rounding of the figures in a PDF. */
const SCALE_SLACK = 1e-4;

const COMMITTEE_SENTENCE =
  'Whether this book may be carried in a competition is the Committee’s decision under the Rules in force.';

/** What a committee edition's green may show. Source: Model Local Rule G-11 (since 2022; Committee Procedures, Section 8): minimal detail only. */
const MINIMAL: ReadonlySet<string> = new Set(['sections', 'paces-grid', 'hole-locations']);
/** What is said of a page, and shows nothing of a green. */
const NO_DETAIL: ReadonlySet<string> = new Set(['notes', 'for-practice']);

export interface MeasuredImage {
  /** The book's page, or the PDF's, counted from 1. */
  readonly page: number;
  readonly green: string;
  /** Metres of ground to a metre of paper, in the direction in which the image is larger. */
  readonly scale: number;
  readonly withinLimit: boolean;
}

export interface MeasuredPage {
  readonly page: number;
  /** Millimetres. */
  readonly width: number;
  readonly height: number;
  readonly greens: number;
  readonly withinLimit: boolean;
}

export interface Condition {
  /** Null: what would tell it is not in the file. */
  readonly met: boolean | null;
  readonly reasons: readonly string[];
}

export interface RulesReport {
  readonly pages: readonly MeasuredPage[];
  readonly images: readonly MeasuredImage[];
  readonly conditions: {
    readonly practice: Condition;
    readonly play: Condition;
    readonly committee: Condition;
  };
  /** What is within the limits only by an exception. */
  readonly notes: readonly string[];
  readonly sentence: string;
}

/** A page of the book, or a whole sheet that is folded and not cut. */
interface Piece {
  readonly page: number;
  readonly trim: Box;
  readonly drawn: ReadPage['drawn'];
  readonly asMade: boolean;
  /** Which of the PDF page's placed pages it is; null for all of it. */
  readonly on: number | null;
}

const piecesOf = (book: ReadBook): Piece[] =>
  book.pages.flatMap((page, i): Piece[] => {
    const { trim, media, asMade } = page;
    // What a page draws may lie packed: no piece holds it.
    const piece = (told: Pick<Piece, 'page' | 'trim' | 'on'>): Piece =>
      fetchedRecord({ ...told, asMade }, { drawn: () => page.drawn });
    const whole = { page: i + 1, trim: trim ?? media, on: null };
    if (book.facts?.sheet == null) return [piece(whole)];
    const { placed } = page.drawn;
    if (book.facts.binding === 'fold-up') return placed.length === 0 ? [] : [piece(whole)];
    return placed.map((one, on) => piece({ page: one.number, trim: one.trim, on }));
  });

const belongs = (piece: Piece, on: number | null): boolean => piece.on === null || piece.on === on;

const scaleOf = (width: number, height: number, drawn: Box): number => {
  const across = (width * 1000) / pointsToMm(drawn.maxX - drawn.minX);
  const along = (height * 1000) / pointsToMm(drawn.maxY - drawn.minY);
  const scale = Math.min(across, along);
  // Drawn as a mere point it has none.
  return Number.isFinite(scale) ? scale : 0;
};

const measureImages = (pieces: readonly Piece[]): MeasuredImage[] =>
  pieces.flatMap((piece) =>
    piece.drawn.grounds
      .filter((ground) => ground.kind === 'green-image' && belongs(piece, ground.on))
      .map(({ id, width, height, outline }) => {
        const scale = outline === null ? 0 : scaleOf(width, height, outline);
        return {
          page: piece.page,
          green: id,
          scale,
          withinLimit: scale >= LARGEST_SCALE * (1 - SCALE_SLACK),
        };
      }),
  );

/** The pages that are one piece of paper with it: of a sheet that is folded and not cut both sides. */
const onOnePaper = (piece: Piece, pieces: readonly Piece[], book: ReadBook): readonly number[] => {
  const sides = book.facts?.binding === 'fold-up' ? book.facts.sides : 0;
  if (sides < 2) return [piece.page];
  const first = Math.floor(pieces.indexOf(piece) / sides) * sides;
  return pieces.slice(first, first + sides).map(({ page }) => page);
};

const measurePage = (
  piece: Piece,
  images: readonly MeasuredImage[],
  paper: readonly number[],
): MeasuredPage => {
  const { trim } = piece;
  const width = pointsToMm(trim.maxX - trim.minX);
  const height = pointsToMm(trim.maxY - trim.minY);
  const greens = new Set(images.filter((i) => paper.includes(i.page)).map((i) => i.green)).size;
  return {
    page: piece.page,
    width,
    height,
    greens,
    withinLimit: isPageWithin(width, height) || greens >= HOLES_ON_A_LARGER_SHEET,
  };
};

const list = (numbers: readonly number[]): string => {
  const unique = [...new Set(numbers)].sort((a, b) => a - b);
  const shown = unique.slice(0, 6).join(', ');
  return unique.length > 6 ? `${shown} and ${unique.length - 6} more` : shown;
};

/** What a book breaks is told from any file; that it breaks nothing, only where its marks say what they are. */
const condition = (reasons: readonly string[], lost: string | null): Condition =>
  reasons.length > 0 || lost === null
    ? { met: reasons.length === 0, reasons }
    : { met: null, reasons: [lost] };

/** Why a file does not say what its marks mean; null where all of them do. */
const lostIn = ({ facts, pages }: ReadBook): string | null => {
  if (facts === null) return LOST;
  const changed = changedPages(pages);
  return changed.length === 0
    ? null
    : `what the marks mean is not known of pages that were changed since, or are of another file: ${list(changed)}`;
};

const LOST =
  'what its marks mean is not in the file: another program made or rewrote it; check the book as it was made';

const playReasons = (
  pages: readonly MeasuredPage[],
  images: readonly MeasuredImage[],
): string[] => {
  const large = images.filter((image) => !image.withinLimit);
  const wide = pages.filter((page) => !page.withinLimit);
  return [
    ...(large.length === 0
      ? []
      : [
          `green images larger than 1:${LARGEST_SCALE} on pages ${list(large.map((i) => i.page))} (the largest 1:${Math.min(...large.map((i) => i.scale)).toFixed(1)})`,
        ]),
    ...(wide.length === 0
      ? []
      : [`pages larger than 4 1/4 x 7 in: ${list(wide.map((p) => p.page))}`]),
  ];
};

const committeeReasons = (pieces: readonly Piece[]): string[] => {
  const found = new Map<string, number[]>();
  const note = (what: string, page: number): void => {
    found.set(what, [...(found.get(what) ?? []), page]);
  };
  for (const piece of pieces) {
    const { shows, grounds } = piece.drawn;
    for (const { what, on } of shows) {
      if (belongs(piece, on) && !MINIMAL.has(what) && !NO_DETAIL.has(what)) note(what, piece.page);
    }
    for (const ground of grounds) {
      if (ground.kind !== 'green-image' || !belongs(piece, ground.on)) continue;
      for (const what of ground.shows) if (what === 'unnamed') note(what, piece.page);
    }
  }
  return [...found.entries()]
    .sort(([a], [b]) => a.localeCompare(b))
    .map(([what, pages]) =>
      what === 'unnamed'
        ? `greens hold marks that do not say what they show, on pages ${list(pages)}`
        : `measured green-reading detail (${what}) on pages ${list(pages)}`,
    );
};

/** Sheets that may be larger than a book, and why. */
const exceptions = (pages: readonly MeasuredPage[]): string[] => {
  const large = pages.filter((page) => page.withinLimit && !isPageWithin(page.width, page.height));
  return large.length === 0
    ? []
    : [
        `larger than 4 1/4 x 7 in, as a hole-location sheet of nine or more holes may be: pages ${list(large.map((page) => page.page))}`,
      ];
};

/** A page that breaks a limit must say that it is for practice. */
const practiceReasons = (
  pieces: readonly Piece[],
  pages: readonly MeasuredPage[],
  images: readonly MeasuredImage[],
): string[] => {
  const broken = new Set([
    ...images.filter((image) => !image.withinLimit).map((image) => image.page),
    ...pages.filter((page) => !page.withinLimit).map((page) => page.page),
  ]);
  const unmarked = pieces
    .filter(
      (piece) =>
        broken.has(piece.page) &&
        piece.drawn.paints.some((p) => !p.printerMark && belongs(piece, p.on)),
    )
    .filter(
      (piece) => !piece.drawn.shows.some((s) => belongs(piece, s.on) && s.what === 'for-practice'),
    )
    .map((piece) => piece.page);
  return unmarked.length === 0
    ? []
    : [`pages that break a limit are not marked for practice: ${list(unmarked)}`];
};

/**
 * Measures a book against the Rules. Sizes come from the trim of each page and scales from the outline of
 * each green as it is drawn, against the extent that its ground has; settings are not looked at.
 */
export const checkRules = (book: ReadBook): RulesReport => {
  const pieces = piecesOf(book);
  const images = measureImages(pieces);
  const pages = pieces.map((piece) => measurePage(piece, images, onOnePaper(piece, pieces, book)));
  const play = playReasons(pages, images);
  const committee = committeeReasons(pieces);
  // Some pages may have kept what their marks are, and others lost it, where the file does not say who made it.
  const lost = lostIn(book);
  // That no page says so in words that are known tells nothing of a page whose marks are not.
  const known = book.facts === null ? [] : pieces.filter(({ asMade }) => asMade);
  return {
    pages,
    images,
    conditions: {
      practice: condition(practiceReasons(known, pages, images), lost),
      play: condition(play, lost),
      committee: condition([...play, ...committee], lost),
    },
    notes: exceptions(pages),
    sentence: COMMITTEE_SENTENCE,
  };
};
