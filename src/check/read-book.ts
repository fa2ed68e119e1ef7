import {
  PDFArray,
  PDFBool,
  type PDFContext,
  PDFDict,
  type PDFDocument,
  PDFHexString,
  PDFName,
  PDFRef,
  PDFString,
} from 'pdf-lib';
import { InputFault, quoted } from '../fault.js';
import { type FilePart, fileBytesOf } from '../file-bytes.js';
import { machineFault } from '../machine-fault.js';
import { oneByOne } from '../others-turn.js';
import type { DrawnFonts } from './content-runner.js';
import type { KnownPages } from './known-pages.js';
import { openLazily } from './lazy-objects.js';
import { isLockedPdf, LOCKED } from './locked-pdf.js';
import { startPageDigests } from './page-digest.js';
import type { FormDrawings } from './read-drawing.js';
import { type ReadPage, readPage } from './read-page.js';

/** A PDF as the check sees it. */
export interface ReadBook {
  readonly file: string;
  readonly version: string;
  readonly title: string | null;
  readonly language: string | null;
  /** "PDF/X-1a:2003" where the file says so. */
  readonly standard: string | null;
  readonly trapped: string | null;
  readonly outputCondition: string | null;
  readonly hasIdentifier: boolean;
  readonly hasMetadata: boolean;
  readonly hasBookmarks: boolean;
  readonly hasLabels: boolean;
  readonly tagged: boolean;
  /** Entries that act when the file is opened or clicked. */
  readonly actions: readonly string[];
  /** What the program that made the book wrote of it; null for a file that it did not make. */
  readonly facts: BookFacts | null;
  readonly pages: readonly ReadPage[];
}

export interface BookFacts {
  readonly layout: string;
  readonly use: string;
  readonly binding: string;
  /** Pages of the book, before they are laid out on sheets. */
  readonly pages: number;
  /** Strip at the binding edge that stays free of print, millimetres. */
  readonly clear: number;
  /** Thickness of a leaf and the inner margin, millimetres; 0 in books that do not tell them. */
  readonly paper: number;
  readonly inner: number;
  /** Which pages are to lie side by side; null where the book does not ask. */
  readonly facing: string | null;
  /** Name of the sheet plan; null for a file of single pages. */
  readonly sheet: string | null;
  /** Of a file of sheets: printed sides of each; 0 in others. */
  readonly sides: number;
  /** Of a file of covers, millimetres and pages of the book inside; null for all others. */
  readonly cover: { readonly spine: number; readonly block: number; readonly board: number } | null;
}

const text = (value: unknown): string | null =>
  value instanceof PDFString || value instanceof PDFHexString
    ? value.decodeText()
    : value instanceof PDFName
      ? value.decodeText()
      : null;

/** A PDF whose objects can be looked up. */
interface OpenedPdf {
  readonly context: PDFContext;
  readonly catalog: PDFDict;
  readonly info: unknown;
  readonly pages: () => Iterable<PDFDict>;
}

/** A figure that a book tells of itself; 0 where it tells none. Throws InputFault for what no book of ours tells. */
const figureOf = (told: string | null, key: string, file: string): number => {
  const figure = told === null ? 0 : Number(told);
  if (figure >= 0 && Number.isFinite(figure)) return figure;
  throw new InputFault(
    { file, place: key },
    `${quoted(told)} is not a figure`,
    'make the book again',
  );
};

const factsOf = (info: PDFDict | undefined, file: string): BookFacts | null => {
  const get = (key: string): string | null =>
    info === undefined ? null : text(info.lookup(PDFName.of(key)));
  const figure = (key: string): number => figureOf(get(key), key, file);
  const layout = get('RunnelLayout');
  if (layout === null) return null;
  return {
    layout,
    use: get('RunnelUse') ?? '',
    binding: get('RunnelBinding') ?? '',
    pages: figure('RunnelPages'),
    clear: figure('RunnelClear'),
    paper: figure('RunnelPaper'),
    inner: figure('RunnelInner'),
    facing: get('RunnelFacing'),
    sheet: get('RunnelSheet'),
    sides: figure('RunnelSides'),
    cover:
      get('RunnelSpine') === null
        ? null
        : {
            spine: figure('RunnelSpine'),
            block: figure('RunnelBlock'),
            board: figure('RunnelBoard'),
          },
  };
};

/** What is damaged: our own reader of page contents says where; what the library says is for its authors. */
const damageOf = (error: unknown): string =>
  error instanceof Error && error.message.startsWith('content stream, ')
    ? error.message
    : 'its catalogue or a page is damaged';

/** What trailers say, in the clear in every kind of them (ISO 32000-1, 7.5.5 and 7.5.8). */
const INFO = /\/Info (\d{1,10}) (\d{1,5}) R/;

/** The library keeps the last trailer it meets: of a file in order of its pages that one names no information. */
const infoOf = ({ context }: PDFDocument, source: string): unknown => {
  if (context.trailerInfo.Info !== undefined) return context.lookup(context.trailerInfo.Info);
  const found = INFO.exec(source);
  return found === null ? undefined : context.lookup(PDFRef.of(Number(found[1]), Number(found[2])));
};

/** The PDF that the bytes hold. Throws InputFault where they are none that can be read. */
const openWhole = async (bytes: Uint8Array, file: string): Promise<OpenedPdf> => {
  const source = new TextDecoder('latin1').decode(bytes);
  // Not loaded by who reads our own files.
  const { loadPdf } = await import('./load-pdf.js');
  try {
    const document = await loadPdf(bytes, { throwOnInvalidObject: true });
    const { context, catalog } = document;
    const pages = (): PDFDict[] => document.getPages().map(({ node }) => node);
    return { context, catalog, info: infoOf(document, source), pages };
  } catch (error) {
    const locked = isLockedPdf(source, error);
    throw new InputFault(
      { file },
      locked ? LOCKED : 'the PDF is broken and cannot be read',
      locked ? 'check an open copy' : 'make it again',
    );
  }
};

/** A PDF that this program has just written, of which no more is held at a time than a page takes. */
const openOwn = (pdf: Uint8Array | FilePart): OpenedPdf => {
  const { context, catalog, pages } = openLazily(pdf);
  return { context, catalog, info: context.lookup(context.trailerInfo.Info), pages };
};

/** Reads pages one after the other; those that are known are not run again. */
const pageReader = (
  context: PDFContext,
  known: KnownPages | undefined,
): ((page: PDFDict) => ReadPage) => {
  const fonts: DrawnFonts = new Map();
  if (known === undefined) return (page) => readPage(page, context, fonts);
  const { ofPage, ofForm } = startPageDigests(context, known.meetForm);
  const forms: FormDrawings = (form, read) => {
    const digest = ofForm(form);
    return digest === null ? null : known.form(digest, read);
  };
  return (page) => {
    const digest = ofPage(page);
    const before = digest === null ? null : known.recall(digest);
    if (before !== null) return before;
    const read = readPage(page, context, fonts, forms);
    // In short it takes a part of the room, and all rules find the same.
    return digest === null ? read : known.note(digest, read);
  };
};

/** All that a PDF tells beside its pages. */
type BookToldOf = Omit<ReadBook, 'pages'>;

const toldOf = (
  { context, catalog, info }: OpenedPdf,
  { file, version }: Pick<ReadBook, 'file' | 'version'>,
): BookToldOf => {
  const infoDictionary = info instanceof PDFDict ? info : undefined;
  const inCatalog = (key: string): unknown => catalog.lookup(PDFName.of(key));
  const intents = inCatalog('OutputIntents');
  const intent = intents instanceof PDFArray ? intents.lookup(0) : undefined;
  const marked = inCatalog('MarkInfo');
  const isMarked = marked instanceof PDFDict ? marked.lookup(PDFName.of('Marked')) : undefined;
  const ofInfo = (key: string): string | null =>
    infoDictionary === undefined ? null : text(infoDictionary.lookup(PDFName.of(key)));
  return {
    file,
    version,
    title: ofInfo('Title'),
    language: text(inCatalog('Lang')),
    standard: ofInfo('GTS_PDFXVersion'),
    trapped: ofInfo('Trapped'),
    outputCondition:
      intent instanceof PDFDict
        ? text(intent.lookup(PDFName.of('OutputConditionIdentifier')))
        : null,
    hasIdentifier: context.trailerInfo.ID !== undefined,
    hasMetadata: catalog.has(PDFName.of('Metadata')),
    hasBookmarks: catalog.has(PDFName.of('Outlines')),
    hasLabels: catalog.has(PDFName.of('PageLabels')),
    tagged: isMarked instanceof PDFBool && isMarked.asBoolean(),
    actions: ['OpenAction', 'AA', 'AcroForm'].filter((key) => catalog.has(PDFName.of(key))),
    facts: factsOf(infoDictionary, file),
  };
};

/** Does what reads a PDF; what is damaged is told by the file. */
const readable = async <T>(file: string, read: () => T | Promise<T>): Promise<T> => {
  try {
    return await read();
  } catch (error) {
    // What is known of pages may find no room in a file of the run.
    const isSystems = error instanceof Error && 'code' in error && machineFault(error) !== null;
    if (error instanceof InputFault || isSystems) throw error;
    throw new InputFault({ file }, `the PDF cannot be read: ${damageOf(error)}`, 'make it again');
  }
};

const versionOf = (pdf: Uint8Array | FilePart, file: string): string => {
  const head = new TextDecoder('latin1').decode(fileBytesOf(pdf).read(0, 1024));
  const version = /%PDF-(\d\.\d)/.exec(head)?.[1];
  if (version !== undefined) return version;
  throw new InputFault({ file }, 'this is not a PDF', 'name a book that `runnel book` made');
};

/**
 * Reads a PDF for the check. Throws InputFault for bytes that are no PDF, and for a PDF that is locked, broken or
 * without a page.
 *
 * @param known pages that need not be run again, of a file that this program has just written; of these the book tells no
 * more than whether they pass.
 */
export const readBook = async (
  pdf: Uint8Array | FilePart,
  file: string,
  known?: KnownPages,
): Promise<ReadBook> => {
  const version = versionOf(pdf, file);
  const opened = await (known === undefined
    ? openWhole(fileBytesOf(pdf).read(0, pdf.length), file)
    : readable(file, () => openOwn(pdf)));
  const book = await readable(file, async () => ({
    ...toldOf(opened, { file, version }),
    pages: await oneByOne(opened.pages(), pageReader(opened.context, known)),
  }));
  if (book.pages.length === 0) {
    throw new InputFault({ file }, 'the PDF holds no pages', 'make it again');
  }
  return book;
};

/**
 * Reads a file that this program has just written some pages at a time: books of those pages, each with the index of its
 * first. `step` is even, so that a page lies on the side of its leaf that it lies on in the file.
 */
export function* readOwnInParts(
  pdf: Uint8Array | FilePart,
  file: string,
  step: number,
): Generator<{ readonly from: number; readonly book: ReadBook }> {
  const opened = openOwn(pdf);
  const told = toldOf(opened, { file, version: versionOf(pdf, file) });
  const read = pageReader(opened.context, undefined);
  let [from, pages]: [number, ReadPage[]] = [0, []];
  for (const page of opened.pages()) {
    pages.push(read(page));
    if (pages.length < step) continue;
    yield { from, book: { ...told, pages } };
    [from, pages] = [from + pages.length, []];
  }
  if (pages.length > 0) yield { from, book: { ...told, pages } };
}
