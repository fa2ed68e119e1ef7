/**
 * What a hand-written file may hold at most. Each limit lies far above any real file and below what a
 * parser takes seconds, gigabytes or the whole stack for.
 */
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
  /** Characters of what names a feature of a map. */
  mapName: 255,
  /** Positions of one line or ring of a map; the longest line or shore of a course has some thousand. */
  mapShape: 50_000,
  /** Bytes of a stream of a PDF, unpacked; a page of a book takes a hundredth. */
  pdfStream: 64 * 1024 ** 2,
  /** Bytes of all streams of objects and cross-references of a PDF of another program, unpacked. */
  pdfObjects: 16 * 1024 ** 2,
  /** Characters of an XML declaration; the longest that a file has is a DOCTYPE's name. */
  xmlDeclaration: 1_000,
} as const;

/** Characters of a message's parts, and of them all together; the input is quoted in part. */
export const MESSAGE_LIMITS = {
  ...{ file: 100, place: 80, problem: 200, cure: 240, quote: 40 },
  whole: 380,
} as const;
