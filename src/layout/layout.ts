import type { UnitSystem } from '../units.js';

/** What a layout file says (layouts/*.yaml), checked and with all its defaults filled in. */
export interface Layout {
  readonly name: string;
  readonly title: string;
  /** Trimmed page, millimetres. */
  readonly page: { readonly width: number; readonly height: number; readonly margins: Margins };
  /** How the book is put together. */
  readonly binding: Binding;
  /** Bleed and what a press must know. */
  readonly press: PressSetting;
  /** A cover that is printed on its own and glued round the book; null where the book's own pages are its cover. */
  readonly cover: CoverPlan | null;
  /** Sheets that the pages are laid out on besides the book itself. */
  readonly sheets: readonly SheetPlan[];
  readonly grid: PrintGrid;
  /** Points. */
  readonly type: TypeSizes;
  readonly inks: Inks;
  readonly green: {
    /** Metres of ground per metre of paper: 480 is the largest image that the Rules allow (1:480). */
    readonly scale: number;
    /** Whether the greens of a book are drawn at one scale, smaller than `scale` where most would not fit. */
    readonly oneScale: boolean;
    /** Metres of height. */
    readonly contourInterval: number;
    /** Grades (fractions) between the slope bands. */
    readonly bandThresholds: readonly number[];
  };
  readonly tables: {
    /** Lengths of putts, metres. */
    readonly lengths: readonly number[];
    /** Pace past the hole, metres. */
    readonly past: number;
    /** As the length of the level putt, or as more and less than the putt's own. */
    readonly pace: 'level' | 'change';
    /** Green speeds beside the green's own, metres of stimp reading. */
    readonly speeds: readonly number[];
    /** Further ones, as more or less than the green's own, metres of stimp reading. */
    readonly speedSteps: readonly number[];
  };
  readonly use: 'practice' | 'play' | 'committee';
  /** A file of the words of its pages in another language than English. */
  readonly words?: string;
  /** Units of its pages where no one asks for others. */
  readonly units?: UnitSystem;
  /** Files of faces in place of the program's own, for scripts that these lack. */
  readonly faces?: Readonly<Partial<Record<FaceName, string>>>;
  /**
   * Which two pages of a hole lie open side by side, whatever blank pages that takes. Left out: each hole begins on a
   * left-hand page where the layout has pages for notes to fill with.
   */
  readonly facing?: FacingPages;
  /** Of a book's own layout: laid open, its folded sheet is larger than the Rules allow. */
  readonly tooLargeFlat?: boolean;
  /** Which modules stand where on each kind of page; a kind that is missing is not in the book. */
  readonly pages: Readonly<Partial<Record<PageKind, readonly Placement[]>>>;
}

/** What the pages are set in, by its use. */
export const FACE_NAMES = [
  'text',
  'text-bold',
  'text-italic',
  'title',
  'title-bold',
  'note',
] as const;

export type FaceName = (typeof FACE_NAMES)[number];

export type BindingMethod = 'loose' | 'saddle stitch' | 'perfect' | 'wire-o' | 'fold-up';

export type FacingPages = 'hole and green' | 'green and tables';

export interface Binding {
  readonly method: BindingMethod;
  /** Thickness of one leaf of the paper, millimetres. */
  readonly paper: number;
  /** What the paper is called; left out where the layout gives the bare figure. */
  readonly stock?: string;
  /** Strip along the binding edge that stays free of print (holes, glue), millimetres. */
  readonly clear: number;
}

/** A cover in one piece: back, spine and front side by side. */
export interface CoverPlan {
  /** Thickness of its board, millimetres, and what that is called; null where the layout gives the bare figure. */
  readonly board: number;
  readonly stock: string | null;
  /** Millimetres beyond the trim, and what is turned in round the edges of a board; 0: cut flush with the book. */
  readonly bleed: number;
  readonly wrap: number;
  readonly inks: Inks;
  /** Name of the printing condition in the ICC's registry. */
  readonly condition: string;
  readonly front: readonly Placement[];
  readonly back: readonly Placement[];
}

export interface PressSetting {
  /** Millimetres beyond the trim. */
  readonly bleed: number;
  /** Name of the printing condition in the ICC's registry. */
  readonly condition: string;
}

/** How pages stand on sheets. `leaves`: cut, then gather in the order of the sheet; `stack`: cut the whole stack, lay pile on pile. */
export type Scheme = 'leaves' | 'stack' | 'saddle' | 'fold-up';

/** A sheet is turned over about the edge that the printer's setting names. */
export type Duplex = 'long edge' | 'short edge' | 'one side';

export type PaperName = 'letter' | 'a4' | 'legal' | 'sra3';

export interface SheetPlan {
  /** Ends the file's name: "letter-2up". */
  readonly name: string;
  readonly paper: PaperName;
  readonly scheme: Scheme;
  /** Pages on one side of a sheet; a pair of facing pages counts as two. */
  readonly up: number;
  readonly duplex: Duplex;
  /** Millimetres between pages that are cut apart; one cut parts them where it is 0. */
  readonly gutter: number;
  /** The layout's inks in PDF/X, or plain RGB for a printer at home. */
  readonly inks: 'press' | 'home';
  /** Crop, fold and registration marks, where the sheet leaves room for them. */
  readonly marks: boolean;
}

export interface PrintGrid {
  readonly columns: number;
  readonly rows: number;
  /** Millimetres between columns; rows follow the baseline and have none. */
  readonly gutter: number;
  /** Points. */
  readonly baseline: number;
}

export interface TypeSizes {
  readonly small: number;
  readonly text: number;
  readonly table: number;
  readonly heading: number;
  readonly title: number;
}

/** Every kind of page, in the order in which the schema of a layout lists them. */
export const PAGE_KINDS = [
  'cover',
  'how-to-read',
  'card',
  'conversions',
  'surveys',
  'imprint',
  'back-cover',
  'hole',
  'green',
  'tables',
  'notes',
  'station',
  'break-map',
  'quiz',
  'quiz-answers',
  'drill',
  'day-sheet',
  'day-tables',
] as const;

export type PageKind = (typeof PAGE_KINDS)[number];

/** One module on a page's print grid: columns and rows are first and last cell, counted from 1, both included. */
export interface Placement {
  readonly module: string;
  readonly columns: readonly [first: number, last: number];
  readonly rows: readonly [first: number, last: number];
}

/** Millimetres; inner is the binding side. */
export interface Margins {
  readonly top: number;
  readonly bottom: number;
  readonly inner: number;
  readonly outer: number;
}

export interface Inks {
  readonly model: 'spot' | 'cmyk' | 'grey';
  /** Cyan, magenta, yellow, black, each 0 to 1, of the solid ink. */
  readonly dark: {
    readonly name: string;
    readonly cmyk: readonly [number, number, number, number];
  };
  readonly tint: {
    readonly name: string;
    readonly cmyk: readonly [number, number, number, number];
  };
}
