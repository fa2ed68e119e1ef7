import type { Box } from '../geometry.js';
import type { PathStep } from '../page/marks/marks.js';
import {
  CROP_TAG,
  FOLD_TAG,
  IMAGE_TAG,
  OUTLINE_TAG,
  PAGE_TAG,
  REGISTRATION_TAG,
  SHOWS_TAG,
} from '../print/marked-content.js';
import { pathBox } from '../print/path-geometry.js';
import { POINTS_PER_INCH } from '../units.js';
import type { ContentSink } from './content-sink.js';
import { type DrawnColour, isPaper } from './drawn-colour.js';
import type { DrawnFont } from './drawn-fonts.js';
import { meet } from './graphics-state.js';
import { applyToSteps, scaleOf } from './matrix.js';
import { bytesOf, nameOf, numberOf, type Operand } from './pdf-operators.js';

/** What a page of a PDF draws, found by running its content. Points, in the page's own space. */
export interface DrawnPage {
  readonly texts: readonly DrawnText[];
  readonly strokes: readonly DrawnStroke[];
  readonly paints: readonly DrawnPaint[];
  readonly images: readonly DrawnImage[];
  /** What makes the page transparent, in words. */
  readonly transparency: readonly string[];
  /** Pages of the book that stand on this sheet. */
  readonly placed: readonly PlacedPage[];
  readonly grounds: readonly DrawnGround[];
  readonly crops: readonly (readonly [x1: number, y1: number, x2: number, y2: number])[];
  /** What groups of marks say they show. */
  readonly shows: readonly DrawnShows[];
  /** Pairs of texts, by their order, that run into each other, where that has been found out already. */
  readonly touching?: readonly (readonly [number, number])[];
}

export interface DrawnText {
  readonly font: DrawnFont;
  /** Points, as it stands on the page. */
  readonly size: number;
  readonly text: string;
  readonly box: Box;
  readonly colour: DrawnColour;
  /** Which page on the sheet it belongs to: an index of `placed`, or null. */
  readonly on: number | null;
  readonly missing: boolean;
}

export interface DrawnStroke {
  readonly width: number;
  readonly colour: DrawnColour;
  readonly box: Box;
  readonly on: number | null;
  /** Printer's marks are outside the page. */
  readonly printerMark: boolean;
}

export interface DrawnPaint {
  readonly colour: DrawnColour;
  readonly overprint: boolean;
  readonly box: Box;
  readonly on: number | null;
  readonly printerMark: boolean;
}

export interface DrawnImage {
  readonly columns: number;
  readonly rows: number;
  /** Pixels to an inch, the smaller of both directions. */
  readonly resolution: number;
}

export interface PlacedPage {
  /** Counted from 1 in reading order. */
  readonly number: number;
  readonly trim: Box;
}

export interface DrawnGround {
  readonly kind: string;
  readonly id: string;
  /** Metres. */
  readonly width: number;
  readonly height: number;
  /** Extent of the outline as it is drawn; null when none is. */
  readonly outline: Box | null;
  readonly on: number | null;
  /** What its groups of marks show; "unnamed" for marks outside any such group. */
  readonly shows: ReadonlySet<string>;
}

export interface DrawnShows {
  readonly what: string;
  readonly on: number | null;
}

interface Ground extends Omit<DrawnGround, 'outline' | 'shows'> {
  outline: Box | null;
  readonly shows: Set<string>;
}

interface Tag {
  readonly name: string;
  readonly ground: Ground | null;
  readonly shows: string | null;
}

const PRINTER_TAGS: readonly string[] = [CROP_TAG, FOLD_TAG, REGISTRATION_TAG];
const isEmpty = ({ minX, minY, maxX, maxY }: Box): boolean => minX > maxX || minY > maxY;

const utf16Of = (bytes: Uint8Array): string =>
  bytes[0] === 0xfe && bytes[1] === 0xff
    ? new TextDecoder('utf-16be').decode(bytes.subarray(2))
    : new TextDecoder('latin1').decode(bytes);

type Line = readonly [x1: number, y1: number, x2: number, y2: number];
const linesOf = (steps: readonly PathStep[]): Line[] =>
  steps.flatMap((step, i): Line[] => {
    const before = steps[i - 1];
    return step[0] === 'L' && before?.[0] === 'M' ? [[before[1], before[2], step[1], step[2]]] : [];
  });

/** What has been noted of a page so far. */
interface Notes {
  readonly texts: DrawnText[];
  readonly strokes: DrawnStroke[];
  readonly paints: DrawnPaint[];
  readonly images: DrawnImage[];
  readonly transparency: Set<string>;
  readonly placed: PlacedPage[];
  readonly grounds: Ground[];
  readonly crops: Line[];
  readonly shows: DrawnShows[];
  /** The groups of marks that are open, the outermost first. */
  readonly tags: Tag[];
  /** The page of the book that is open: an index of `placed`. */
  on: number | null;
}

const nothingNoted = (): Notes => ({
  texts: [],
  strokes: [],
  paints: [],
  images: [],
  transparency: new Set(),
  placed: [],
  grounds: [],
  crops: [],
  shows: [],
  tags: [],
  on: null,
});

const inTag = ({ tags }: Notes, name: string): boolean => tags.some((tag) => tag.name === name);

const ofPrinter = ({ tags }: Notes): boolean => tags.some((tag) => PRINTER_TAGS.includes(tag.name));

const openGround = ({ tags }: Notes): Ground | null =>
  tags.reduce<Ground | null>((found, tag) => tag.ground ?? found, null);

const noteShown = (notes: Notes): void => {
  const { tags, shows, on } = notes;
  const named = tags.reduce<string | null>((found, tag) => tag.shows ?? found, null);
  openGround(notes)?.shows.add(named ?? 'unnamed');
  if (named !== null && !shows.some((s) => s.what === named && s.on === on)) {
    shows.push({ what: named, on });
  }
};

type NotedBy<K extends Exclude<keyof ContentSink, 'isTold'>> = (
  notes: Notes,
  ...told: Parameters<ContentSink[K]>
) => void;

type Properties = ReadonlyMap<string, Operand>;

const openPage = (notes: Notes, properties: Properties): void => {
  const trim = properties.get('Trim');
  const [minX, minY, maxX, maxY] = Array.isArray(trim) ? trim.map(numberOf) : [];
  if (![minX, minY, maxX, maxY].every(Number.isFinite)) {
    throw new Error('a page of the book has no trim that can be read');
  }
  // The trim is in the page's own space; the matrix of its form brings it to the sheet.
  notes.placed.push({
    number: numberOf(properties.get('Number')),
    trim: { minX, minY, maxX, maxY },
  });
  notes.on = notes.placed.length - 1;
};

const openImage = (notes: Notes, properties: Properties): Ground => {
  const ground: Ground = {
    kind: nameOf(properties.get('Kind')),
    id: utf16Of(bytesOf(properties.get('Id'))),
    width: numberOf(properties.get('Width')),
    height: numberOf(properties.get('Height')),
    outline: null,
    on: notes.on,
    shows: new Set(),
  };
  notes.grounds.push(ground);
  return ground;
};

const notePath: NotedBy<'paint'> = (notes, steps, { fill, stroke }, state) => {
  const whole = pathBox(steps);
  const box = meet(whole, state.clip);
  if (isEmpty(box)) return;
  const { on, paints, strokes, crops } = notes;
  const printerMark = ofPrinter(notes);
  if (fill) {
    paints.push({ colour: state.fill, overprint: state.fillOverprint, box, on, printerMark });
  }
  if (stroke) {
    // Where the matrix has no bounds, 0 times it is no number: a line without width.
    const width = state.width * scaleOf(state.matrix) || 0;
    strokes.push({ width, colour: state.stroke, box, on, printerMark });
    paints.push({ colour: state.stroke, overprint: state.strokeOverprint, box, on, printerMark });
  }
  if (inTag(notes, CROP_TAG)) crops.push(...linesOf(steps));
  const ground = openGround(notes);
  if (ground !== null && inTag(notes, OUTLINE_TAG)) ground.outline = whole;
  else if ((fill && !isPaper(state.fill)) || (stroke && !isPaper(state.stroke))) noteShown(notes);
};

const noteText: NotedBy<'text'> = (notes, { words, missing, size, box }, state) => {
  if (words.trim() === '' && !missing) return;
  const { fill: colour, fillOverprint: overprint, font } = state;
  const { on, texts, paints } = notes;
  texts.push({ font: font!, size, text: words, box, colour, on, missing });
  paints.push({ colour, overprint, box, on, printerMark: ofPrinter(notes) });
  noteShown(notes);
};

const noteImage: NotedBy<'image'> = (notes, columns, rows, { matrix: [a, b, c, d] }) => {
  const perPoint = Math.min(columns / Math.hypot(a, b), rows / Math.hypot(c, d));
  notes.images.push({ columns, rows, resolution: POINTS_PER_INCH * perPoint });
  noteShown(notes);
};

/** A form that holds a page of the book: its matrix tells where on the sheet that page's trim lies. */
const noteForm: NotedBy<'form'> = ({ on, tags, placed }, { matrix }) => {
  if (on === null || tags[tags.length - 1]?.name !== PAGE_TAG) return;
  const { number, trim } = placed[on];
  const corners = applyToSteps(matrix, [
    ['M', trim.minX, trim.minY],
    ['L', trim.maxX, trim.maxY],
  ]);
  placed[on] = { number, trim: pathBox(corners) };
};

const openTag: NotedBy<'open'> = (notes, name, properties) => {
  if (name === PAGE_TAG) openPage(notes, properties);
  notes.tags.push({
    name,
    ground: name === IMAGE_TAG ? openImage(notes, properties) : null,
    shows: name === SHOWS_TAG ? nameOf(properties.get('What')) : null,
  });
};

/** What a content draws, noted as it runs. */
export interface NotedDrawing {
  readonly sink: ContentSink;
  /** Which of the pages placed so far is open, by its index, where nothing else is open on it; null where none is. */
  readonly on: () => number | null;
  /** Takes over what was drawn elsewhere. */
  readonly add: (drawn: DrawnPage) => void;
  readonly give: () => DrawnPage;
}

export const startDrawing = (): NotedDrawing => {
  const notes = nothingNoted();
  const sink: ContentSink = {
    paint: (...drawn) => notePath(notes, ...drawn),
    text: (...drawn) => noteText(notes, ...drawn),
    image: (...drawn) => noteImage(notes, ...drawn),
    form: (...drawn) => noteForm(notes, ...drawn),
    open: (...opened) => openTag(notes, ...opened),
    close: () => {
      if (notes.tags.pop()?.name === PAGE_TAG) notes.on = null;
    },
    transparent: (why) => notes.transparency.add(why),
  };
  const lists = ['texts', 'strokes', 'paints', 'images', 'grounds', 'crops', 'shows'] as const;
  return {
    sink,
    on: () => (notes.tags.length === 1 ? notes.on : null),
    add: (drawn) => {
      for (const list of lists) for (const one of drawn[list]) notes[list].push(one as never);
      for (const why of drawn.transparency) notes.transparency.add(why);
    },
    give: () => {
      const { tags: _, on: __, ...drawn } = notes;
      return { ...drawn, transparency: [...notes.transparency] };
    },
  };
};
