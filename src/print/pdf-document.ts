// The PDF library has had no release since 2021. It stays because what is used of it is small and done: objects,
// references, streams and a writer; what it lacks (subset fonts, tags, PDF/X) is our own. The way out, should it
// break, is its kept fork `@cantoo/pdf-lib`, which takes its place with the imports swapped (tried).
import { createHash } from 'node:crypto';
import {
  type PDFArray,
  PDFContext,
  type PDFDict,
  PDFHexString,
  PDFName,
  PDFRawStream,
  type PDFRef,
  PDFString,
} from 'pdf-lib';
import type { PiecedBytes } from '../file-bytes.js';
import type { Inks } from '../layout/layout.js';
import type { StoreBlock } from './byte-store.js';
import { deflatedStream, type PackedStream, packedStream } from './deflated.js';
import { type DocumentParts, startParts } from './document-parts.js';
import type { DocumentWords } from './document-words.js';
import type { FontBook } from './font-embedding.js';
import type { ColourModel } from './inks.js';
import { dateOf, madeMark, ownData, PRODUCER } from './made-page.js';
import { packedFile, plainFile } from './write-document.js';
import { xmpPacket } from './xmp.js';

/** A registered printing condition; PDF/X-1a:2003 lets a file name one without embedding its profile. */
export interface PressCondition {
  readonly identifier: string;
  readonly info: string;
}

/** Points, as a PDF wants them: left, bottom, right, top. */
export type PdfBox = readonly [number, number, number, number];

/** The operators of a page, or what is known of them packed. */
export type PageContent = string | PackedStream;

export interface PdfPage {
  readonly content: PageContent;
  readonly media: PdfBox;
  readonly trim: PdfBox;
  readonly bleed: PdfBox;
  /** Forms that the content places, by name. */
  readonly forms?: Readonly<Record<string, PDFRef>>;
  readonly extra?: Readonly<Record<string, unknown>>;
}

export interface Bookmark {
  readonly title: string;
  /** Index of the page. */
  readonly page: number;
}

/** A document under construction. */
export interface PdfDraft {
  readonly context: PDFContext;
  readonly parts: DocumentParts;
  readonly book: FontBook;
  readonly resources: PDFRef;
  /** Colour spaces, which sheets share with the pages on them. */
  readonly spaces: PDFRef;
  readonly pageTree: PDFRef;
  readonly pages: PDFRef[];
  /** Keys of the forms' contents. */
  readonly forms: Map<PDFRef, string>;
  readonly words: DocumentWords;
  readonly hash: ReturnType<typeof createHash>;
}

/** Starts a document; `store` keeps what is written of it until it is finished. */
export const startDocument = (
  book: FontBook,
  words: DocumentWords,
  store?: StoreBlock,
): PdfDraft => {
  const context = PDFContext.create();
  const parts = startParts(context, store);
  return {
    context,
    parts,
    book,
    resources: context.nextRef(),
    spaces: context.nextRef(),
    pageTree: context.nextRef(),
    pages: [],
    forms: new Map(),
    words,
    hash: createHash('sha256'),
  };
};

/** A text string that every reader shows right; plain ASCII stays legible in the file. */
export const pdfText = (text: string): PDFString | PDFHexString =>
  /^[\x20-\x7e]*$/.test(text)
    ? PDFString.of(text.replace(/([\\()])/g, '\\$1'))
    : PDFHexString.fromText(text);

/** A compressed stream of operators, and its key, which counts toward the document's identifier. */
const contentStream = (
  draft: PdfDraft,
  content: PageContent,
  dictionary: Record<string, unknown> = {},
): { readonly ref: PDFRef; readonly key: string } => {
  const stream = typeof content === 'string' ? packedStream(content) : content;
  draft.hash.update(stream.key);
  const ref = draft.context.register(deflatedStream(draft.context, stream, dictionary));
  return { ref, key: stream.key };
};

/** `ref` is the page's place in the file, when something has had to name it before. */
export const addPage = (
  draft: PdfDraft,
  page: PdfPage,
  ref: PDFRef = draft.context.nextRef(),
): PDFRef => {
  const { context } = draft;
  const { ref: contents, key } = contentStream(draft, page.content);
  const placed = new Map(
    Object.entries(page.forms ?? {}).map(([name, form]) => [name, draft.forms.get(form) ?? '']),
  );
  const resources =
    page.forms === undefined
      ? draft.resources
      : context.obj({
          ColorSpace: draft.spaces,
          XObject: page.forms as Record<string, PDFRef>,
        });
  context.assign(
    ref,
    context.obj({
      Type: 'Page',
      Parent: draft.pageTree,
      MediaBox: [...page.media],
      BleedBox: [...page.bleed],
      TrimBox: [...page.trim],
      Resources: resources,
      Contents: contents,
      ...(madeMark(draft.words, key, placed) as Record<string, never>),
      ...(page.extra as Record<string, never>),
    }),
  );
  draft.pages.push(ref);
  return ref;
};

/** A page's content as a form, to be placed on sheets any number of times. */
export const addForm = (draft: PdfDraft, content: PageContent, box: PdfBox): PDFRef => {
  const { ref, key } = contentStream(draft, content, {
    Type: 'XObject',
    Subtype: 'Form',
    FormType: 1,
    BBox: [...box],
    Resources: draft.resources,
  });
  draft.forms.set(ref, key);
  return ref;
};

const separation = (context: PDFContext, name: string, cmyk: readonly number[]): PDFArray =>
  context.obj([
    'Separation',
    PDFName.of(name),
    'DeviceCMYK',
    { FunctionType: 2, Domain: [0, 1], C0: [0, 0, 0, 0], C1: [...cmyk], N: 1 },
  ]) as PDFArray;

/** The colour spaces and graphics states that contents name. `registration` adds the colour of all plates. */
const writeResources = (
  draft: PdfDraft,
  inks: Inks,
  model: ColourModel,
  registration: boolean,
): void => {
  const { context, book } = draft;
  const spaces: Record<string, PDFArray> = {};
  if (model === 'spot') {
    spaces.InkDark = separation(context, inks.dark.name, inks.dark.cmyk);
    spaces.InkTint = separation(context, inks.tint.name, inks.tint.cmyk);
  }
  if (registration) spaces.AllPlates = separation(context, 'All', [1, 1, 1, 1]);
  context.assign(draft.spaces, context.obj(spaces));
  const states =
    model === 'spot' || model === 'cmyk'
      ? {
          ExtGState: {
            Overprint: { Type: 'ExtGState', OP: true, op: true, OPM: 1 },
            Knockout: { Type: 'ExtGState', OP: false, op: false, OPM: 1 },
          },
        }
      : {};
  context.assign(
    draft.resources,
    context.obj({
      ProcSet: ['PDF', 'Text'],
      ColorSpace: draft.spaces,
      ...states,
      Font: book.embed(context),
    }),
  );
};

const writeBookmarks = (draft: PdfDraft, bookmarks: readonly Bookmark[]): PDFRef | null => {
  if (bookmarks.length === 0) return null;
  const { context } = draft;
  const root = context.nextRef();
  const refs = bookmarks.map(() => context.nextRef());
  bookmarks.forEach((bookmark, i) => {
    context.assign(
      refs[i],
      context.obj({
        Title: pdfText(bookmark.title),
        Parent: root,
        Dest: [draft.pages[bookmark.page], 'Fit'],
        ...(i > 0 ? { Prev: refs[i - 1] } : {}),
        ...(i < refs.length - 1 ? { Next: refs[i + 1] } : {}),
      }),
    );
  });
  context.assign(
    root,
    context.obj({
      Type: 'Outlines',
      First: refs[0],
      Last: refs[refs.length - 1],
      Count: refs.length,
    }),
  );
  return root;
};

/** The record of what a document's pages rest on, as its own data. */
const recordOf = (draft: PdfDraft, record: string): Record<string, unknown> => {
  draft.hash.update(record);
  const stream = draft.context.register(deflatedStream(draft.context, Buffer.from(record), {}));
  return ownData(draft.words, stream);
};

export interface Finish {
  readonly inks: Inks;
  readonly model: ColourModel;
  readonly bookmarks: readonly Bookmark[];
  readonly labels: readonly string[];
  /** Set for a press file: PDF/X-1a:2003. */
  readonly press: PressCondition | null;
  readonly registration: boolean;
  readonly catalog?: Readonly<Record<string, unknown>>;
  /** Facts about the book that `check` reads back; written into the document information. */
  readonly facts: Readonly<Record<string, string>>;
}

/** What the document says of itself counts toward its identifier. */
const hashWords = ({ hash, words }: PdfDraft, { labels, facts, model }: Finish): void => {
  hash.update(
    JSON.stringify([
      words.title,
      words.language,
      words.subject ?? '',
      labels,
      facts,
      model,
      ...(words.date === undefined ? [] : [words.date]),
    ]),
  );
};

/** Writes what is left and gives the file, which is put together as it is asked for. */
export const finishDocument = (draft: PdfDraft, finish: Finish): PiecedBytes => {
  const { context, words } = draft;
  const { press } = finish;
  writeResources(draft, finish.inks, finish.model, finish.registration);
  context.assign(
    draft.pageTree,
    context.obj({ Type: 'Pages', Kids: draft.pages, Count: draft.pages.length }),
  );
  const outlines = writeBookmarks(draft, finish.bookmarks);
  const labels = finish.labels.flatMap((label, i) => [i, context.obj({ P: pdfText(label) })]);
  const packet = new TextEncoder().encode(xmpPacket(words, PRODUCER, press !== null));
  const metadata = context.register(
    PDFRawStream.of(
      context.obj({ Type: 'Metadata', Subtype: 'XML', Length: packet.length }) as PDFDict,
      packet,
    ),
  );
  const catalog = context.register(
    context.obj({
      Type: 'Catalog',
      Version: press === null ? '1.7' : '1.4',
      Pages: draft.pageTree,
      Lang: PDFString.of(words.language),
      Metadata: metadata,
      PageLabels: { Nums: labels },
      ViewerPreferences: { DisplayDocTitle: true },
      ...(outlines === null ? {} : { Outlines: outlines, PageMode: 'UseOutlines' }),
      ...(press === null
        ? {}
        : {
            OutputIntents: [
              {
                Type: 'OutputIntent',
                S: 'GTS_PDFX',
                OutputConditionIdentifier: PDFString.of(press.identifier),
                OutputCondition: PDFString.of(press.info),
                Info: PDFString.of(press.info),
                RegistryName: PDFString.of('http://www.color.org'),
              },
            ],
          }),
      ...(words.record === undefined
        ? {}
        : (recordOf(draft, words.record) as Record<string, never>)),
      ...(finish.catalog as Record<string, never>),
    }),
  );
  const facts = Object.fromEntries(
    Object.entries(finish.facts).map(([key, value]) => [key, pdfText(value)]),
  );
  const info = context.register(
    context.obj({
      Title: pdfText(words.title),
      ...(words.subject === undefined ? {} : { Subject: pdfText(words.subject) }),
      Creator: PDFString.of(PRODUCER),
      Producer: PDFString.of(PRODUCER),
      CreationDate: dateOf(words),
      ModDate: dateOf(words),
      Trapped: 'False',
      ...(press === null ? {} : { GTS_PDFXVersion: PDFString.of('PDF/X-1a:2003') }),
      ...facts,
    }),
  );
  hashWords(draft, finish);
  const id = PDFHexString.of(draft.hash.digest('hex').slice(0, 32).toUpperCase());
  context.trailerInfo.Root = catalog;
  context.trailerInfo.Info = info;
  context.trailerInfo.ID = context.obj([id, id]);
  // PDF 1.4 knows no object streams; elsewhere they halve a tagged file.
  return press === null ? packedFile(draft.parts) : plainFile(draft.parts);
};
