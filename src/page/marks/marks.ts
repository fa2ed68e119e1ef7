/**
 * The display list of a page. Millimetres, origin at the top left corner of the trimmed page, y down.
 * PDF, SVG and the browser proof draw the same marks.
 */

export type Mm = readonly [x: number, y: number];

/** One of the two inks (or bare paper), at a tone of 0 to 1. */
export interface Paint {
  readonly ink: 'dark' | 'tint' | 'paper';
  readonly tone: number;
}

export const DARK: Paint = { ink: 'dark', tone: 1 };
export const TINT: Paint = { ink: 'tint', tone: 1 };
export const PAPER: Paint = { ink: 'paper', tone: 1 };

export interface Stroke {
  readonly paint: Paint;
  /** Millimetres. */
  readonly width: number;
  readonly dash?: readonly number[];
  readonly cap?: 'butt' | 'round';
  readonly join?: 'miter' | 'round';
}

/** Subpaths of straight and cubic segments: M x y, L x y, C x1 y1 x2 y2 x y, Z. */
export type PathStep =
  | readonly ['M', number, number]
  | readonly ['L', number, number]
  | readonly ['C', number, number, number, number, number, number]
  | readonly ['Z'];

export type Face = 'text' | 'text-bold' | 'text-italic' | 'title' | 'title-bold' | 'note';

export interface PathMark {
  readonly kind: 'path';
  readonly steps: readonly PathStep[];
  readonly fill?: Paint;
  readonly rule?: 'nonzero' | 'evenodd';
  readonly stroke?: Stroke;
}

/** Parallel strokes clipped to a path: `angle` in degrees from +x, counter-clockwise on the page. */
export interface HatchMark {
  readonly kind: 'hatch';
  readonly steps: readonly PathStep[];
  readonly rule?: 'nonzero' | 'evenodd';
  readonly angle: number;
  /** Millimetres between strokes. */
  readonly pitch: number;
  readonly stroke: Stroke;
}

export interface TextMark {
  readonly kind: 'text';
  /** Anchor point, on the baseline. */
  readonly at: Mm;
  readonly text: string;
  readonly face: Face;
  /** Points. */
  readonly size: number;
  readonly paint: Paint;
  readonly align: 'left' | 'centre' | 'right';
  /** Degrees, counter-clockwise on the page. */
  readonly turn?: number;
  /** Strokes the text in paper below it, so that it reads on lines and tints. Millimetres. */
  readonly halo?: number;
}

export interface ClipMark {
  readonly kind: 'clip';
  readonly steps: readonly PathStep[];
  readonly marks: readonly Mark[];
}

/**
 * What a group of marks says about a green. The committee edition may hold `sections`, `paces-grid` and
 * `hole-locations` only; all else is measured green-reading detail. `for-practice` is no detail but the line by which a
 * page says, in whatever language, that it is for practice only.
 */
export type Shown =
  | 'sections'
  | 'paces-grid'
  | 'hole-locations'
  | 'slope'
  | 'contours'
  | 'fall'
  | 'drainage'
  | 'lanes'
  | 'spots'
  | 'putts'
  | 'notes'
  | 'for-practice';

/** What a group is to those who have the page read to them; such groups draw nothing of their own. */
export type ReadRole = 'heading' | 'paragraph' | 'caption' | 'cell' | 'folio';

/** The place of a cell in its table; rows and columns from 0. A place that has no cell is a blank one. */
export interface CellPlace {
  readonly row: number;
  readonly column: number;
  /** Columns that it takes, one where left out. */
  readonly columns?: number;
  /** A head of its column or of its row. */
  readonly heads?: 'Column' | 'Row';
}

/** Marks that belong together; `role` tells a checker and a screen reader what they are. */
export interface GroupMark {
  readonly kind: 'group';
  readonly role:
    | 'green-image'
    | 'hole-image'
    | 'table'
    | 'figure'
    | 'text'
    | 'decoration'
    | ReadRole;
  /** Alternate text. */
  readonly alt?: string;
  /** Its words as one would read them, where the texts drawn are several, or signs. */
  readonly words?: string;
  /** Of a cell. Texts of a table stand in cells or in its caption. */
  readonly cell?: CellPlace;
  /** Of a table: the groups of a page with the same name are one table, rows below rows. */
  readonly part?: string;
  /** For images of ground: the outline's extent on the ground, metres, so that a checker can compute the scale drawn. */
  readonly ground?: {
    readonly id: string;
    readonly outline: readonly PathStep[];
    readonly width: number;
    readonly height: number;
  };
  /** For pictures of ground whose scale is not measured, as a hole's map: the hole that they are of. */
  readonly names?: string;
  readonly shows?: Shown;
  readonly marks: readonly Mark[];
}

/** A link inside the screen edition, or a place to link to. */
export interface LinkMark {
  readonly kind: 'link';
  readonly box: {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
  };
  readonly toPage: string;
}

/** A picture in shades of the dark ink; a byte a pixel from the top left, row by row, 0 is solid ink and 255 none. */
export interface ImageMark {
  readonly kind: 'image';
  readonly box: LinkMark['box'];
  readonly columns: number;
  readonly rows: number;
  readonly shades: Uint8Array;
}

export type Mark = PathMark | HatchMark | TextMark | ClipMark | GroupMark | LinkMark | ImageMark;

export interface Page {
  /** Stable name, unique in the book: "green-07". */
  readonly id: string;
  /** For the bookmark and the window title. */
  readonly title: string;
  /** Printed page label: "7", "ii". */
  readonly label: string;
  /** The hole or the green that it tells of; left out for the book's own pages. */
  readonly hole?: string;
  /** Trimmed size, millimetres. */
  readonly width: number;
  readonly height: number;
  readonly marks: readonly Mark[];
  /** The words of what had no room on it; left out where all had. */
  readonly leftOut?: readonly string[];
  /** Its texts that were cut at their end, where they are known without its marks. */
  readonly shortened?: readonly string[];
  /** Of a screen edition; left out where it has none. */
  readonly links?: readonly LinkMark[];
  /** What is known of it without its marks, so that they need not be asked for. */
  readonly memory?: PageMemory;
}

/** The names under which a page's content is kept: tagged for a screen, plain, in a layout's inks, for a press. */
export type Drawing = 'screen' | 'plain' | 'inked' | 'press';

/** A glyph as a content shows it: its code there, its number in the face, what it stands for, and its width in thousandths of the size. */
export interface ShownGlyph {
  readonly code: number;
  readonly id: number;
  readonly characters: string;
  readonly width: number;
}

/** The glyphs of a content by their faces. */
export type ShownGlyphs = readonly (readonly [Face, readonly ShownGlyph[]])[];

/** A page without what it draws, as plain data. */
export interface PageMemory {
  /** A digest of what it draws. */
  readonly digest: string;
  /** Its texts, in the groups that they stand in. */
  readonly words: readonly Mark[];
  /** All glyphs that its content shows; null: not known, or their codes are not the same in every file. */
  glyphs: ShownGlyphs | null;
  /** Of each drawing the digest of its content; left out while it has not been drawn. */
  readonly drawings: Partial<Record<Drawing, string>>;
}

/** Width of a text in millimetres, measured with the real font, tabular figures on. */
export type MeasureText = (text: string, face: Face, size: number) => number;
