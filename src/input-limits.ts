/**
 * What an input may hold at most: its depth, length and counts, and by them the memory and the time that it takes. Each
 * limit lies far above any real file and below what a parser takes seconds, gigabytes or the whole stack for. A length of
 * text is in characters, all else in bytes unless it says what it counts.
 */

/** What is written by hand, maps, logos, PDFs that are read back, and the command line. */
export const INPUT_LIMITS = {
  /** Characters of a YAML file, and its parts as the lexer sees them; a thousand greens take half. */
  yamlLength: 1_000_000,
  yamlParts: 300_000,
  /** Characters of one line of a YAML file. */
  yamlLine: 4_000,
  /** Faults of one YAML file that are looked through for the first; each costs its parser much. */
  yamlFaults: 100,
  /** Lists and mappings inside each other. */
  depth: 64,
  /** Uses of an anchor in one YAML file, and what they may multiply to. */
  aliases: 100,
  /** Characters of a word of the command line (the longest path that Linux takes), and of a length in it. */
  word: 4_096,
  length: 64,
  /** Letters of a word that is compared with what is known: it costs by their square. */
  comparedWord: 60,
  /** Letters of an edition or a buyer, buyers that covers are made for, lines of a list of books. */
  runWord: 200,
  buyers: 2_000,
  bookLines: 10_000,
  /** A line about one hole location, and a wording of the pages; the longest of English has 250. */
  locationLine: 300,
  wording: 1_000,
  /** Places that water is poured at, and balls that are told, together. */
  pours: 8,
  rolls: 24,
  /** An address that the proof is asked for; the longest of its own are a tenth of it. */
  address: 2_000,
  /** Characters of what names a feature of a map. */
  mapName: 255,
  /** Positions of one line or ring of a map; the longest line or shore of a course has some thousand. */
  mapShape: 50_000,
  /** Square metres of a green, whose half metres are looked at; the largest have some thousands (common practice, no source). */
  greenArea: 100_000,
  /** Metres that no green is longer than: putts of a table, waves of the ground (our own limit). */
  greenLength: 60,
  /** A logo's SVG, and pixels of a logo. */
  logoText: 1_000_000,
  logoPixels: 16_000_000,
  /** Bytes of a stream of a PDF, unpacked; a page of a book takes a hundredth. */
  pdfStream: 64 * 1024 ** 2,
  /** Bytes of all streams of objects and cross-references of a PDF of another program, unpacked. */
  pdfObjects: 16 * 1024 ** 2,
  /** The highest number of an object of a PDF; its pages, forms and other objects inside each other. */
  pdfNumbers: 10_000_000,
  pdfTree: 12,
  pdfForms: 12,
  pdfDepth: 24,
  /** The record that a book carries, unpacked: some kilobytes as a rule. */
  pdfRecord: 8 * 1024 ** 2,
  /** Pages of an earlier edition; comparing them costs by their square. */
  editionPages: 4_000,
  /** Characters of an XML declaration; the longest that a file has is a DOCTYPE's name. */
  xmlDeclaration: 1_000,
} as const;

/** What a survey may hold. */
export const SURVEY_LIMITS = {
  /** Points that are kept of one green, 24 bytes each, and cells of a grid that are looked at (a course at 0.1 m has fewer). */
  points: 8_000_000,
  cells: 200_000_000,
  /** Vertices that are held at once, of a LandXML surface or of a drawing. */
  vertices: 4_000_000,
  /** Places that were paced by hand: what a fit by hand takes grows with the cube. */
  placesByHand: 500,
  /** Any line (a binary file read as text would be an endless one); one of points, of readings by hand, and one that changes how the rest is read. */
  line: 1024 ** 2,
  pointLine: 10_000,
  lineByHand: 400,
  lineOfChange: 300,
  /** A number or an angle, so that no pattern meets a long text; the name of a column that means something. */
  field: 64,
  columnName: 64,
  /** What is unpacked, or is a stream and has to be held whole; files of an archive, and the list of them. */
  unpacked: 256 * 1024 ** 2,
  packedFiles: 10_000,
  packedList: 16_000_000,
  /** A file that lies beside a survey, and a mask: one bit a cell, packed. */
  beside: 1024 ** 2,
  mask: 64 * 1024 ** 2,
  /** Rows, columns and text of a cell that a sheet may have (ECMA-376 part 1, 18.3.1.73, and common practice); columns that are looked at. */
  sheetRows: 1_048_576,
  sheetColumns: 200,
  sheetCell: 32_767,
  /** Letters of all texts that sheets share, and of one sheet's cells: some two million points; the list of sheets and parts. */
  sheetText: 96 * 1024 ** 2,
  xlsxList: 4 * 1024 ** 2,
  /** The text of one element of LandXML. */
  landxmlText: 64 * 1024 ** 2,
  /** A GeoJSON survey that is read whole, and features and collections inside each other. */
  geojson: 128 * 1024 ** 2,
  geojsonDepth: 20,
  /** Heads of ASCII grids and PLY, and a line of a PLY. */
  gridHeader: 4_096,
  plyHeader: 65_536,
  plyLine: 100_000,
  /** Fields of a directory of a TIFF, and one of its blocks, decoded. */
  tiffFields: 4_096,
  tiffBlock: 256 * 1024 ** 2,
  /** A point of a cloud; packed chunks, which hold 50 000 points as a rule, and their number. */
  lasRecord: 2_048,
  lazChunk: 64 * 1024 ** 2,
  lazChunks: 2_000_000,
  /** Records between the head of a cloud and its points, and after them; a coordinate system in one. */
  lasRecords: 10_000,
  lasLateRecords: 1_000,
  lasWkt: 1024 ** 2,
} as const;

/** Characters of a message's parts, and of them all together; the input is quoted in part. */
export const MESSAGE_LIMITS = {
  ...{ file: 100, place: 80, problem: 200, cure: 240, quote: 40 },
  whole: 380,
} as const;
