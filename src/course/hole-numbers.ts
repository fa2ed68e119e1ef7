/** How mappers write the number of a hole: "7", "07", "Hole 7", "No. 7", "#7", "7th", "A7", "Red 7", "7 The Burn". */

/** No course numbers its holes higher, loops told apart by a word. */
const HIGHEST = 72;
/** Words before or after a number that say no more than that it is one. */
const WORDS = String.raw`(?:golf\s+)?(?:hole|green|number|nummer|num|no|nr|n)`;
const BARE = new RegExp(
  String.raw`^(?:${WORDS})?[\s.:#№º°]*0*(\d{1,2})(?:st|nd|rd|th)?[\s.]*(?:hole|green)?$`,
  'i',
);

const inRange = (digits: string | undefined): string | null =>
  digits !== undefined && Number(digits) >= 1 && Number(digits) <= HIGHEST
    ? String(Number(digits))
    : null;

/** The number of a hole that a text is no more than; null for any other text. */
export const bareNumber = (text: string): string | null => inRange(BARE.exec(text.trim())?.[1]);

/** What a hole is called in the map beyond its number; null where that is no more than a number. */
export const ownName = (name: string | undefined): string | null =>
  name === undefined || bareNumber(name) !== null ? null : name;

/** Whether an id is a number, or a loop's letter and a number: no practice green's. */
export const isNumbered = (id: string): boolean => /\d$/.test(id) && !id.includes(' ');

/** What a hole or a practice green without a name of its own is called; by a book in another language, see `plainHoleName`. */
export const numberedName = (id: string): string =>
  isNumbered(id) ? `Hole ${id}` : `${id.charAt(0).toUpperCase()}${id.slice(1)} green`;

/** A word before a number, such as a loop's: "Red 7", "North Hole 7"; null for any other text. */
export const wordAndNumber = (
  text: string,
): { readonly word: string; readonly number: string } | null => {
  const found = new RegExp(
    String.raw`^(\p{L}[\p{L}\s'’.-]*?)[\s#:.-]*(?:${WORDS}[\s.:#]*)?(?<=[\s#:.-])0*(\d{1,2})$`,
    'iu',
  ).exec(text.trim());
  const number = inRange(found?.[2]);
  const word = found?.[1].trim() ?? '';
  return number === null || word === '' || bareNumber(text) !== null ? null : { word, number };
};

/** The number that the name of a hole begins or ends with: "7 The Burn", "7th: The Burn", "The Burn (7)"; null for none. */
export const numberInName = (name: string): string | null => {
  const text = name.trim();
  const bare = bareNumber(text);
  if (bare !== null) return bare;
  const head = new RegExp(
    String.raw`^(?:${WORDS})?[\s.:#]*0*(\d{1,2})(?:st|nd|rd|th)?(?:\s*[-–—:.,(/]|\s+\p{L})`,
    'iu',
  ).exec(text)?.[1];
  return inRange(head) ?? inRange(/[\s(#-]0*(\d{1,2})\)?$/.exec(text)?.[1]);
};

/** The number of the hole before the name of a tee: "7 White", "Hole 7 - White"; null for none. */
export const numberOfTee = (name: string): string | null =>
  inRange(
    new RegExp(
      String.raw`^(?:${WORDS})?[\s.:#]*0*(\d{1,2})(?:st|nd|rd|th)?[\s.:–—-]+\p{L}`,
      'iu',
    ).exec(name.trim())?.[1],
  );

/** A part of a ref as the hole that it names: "7" for all that says no more, "A7" for a letter and a number. */
export const refOfText = (text: string): string => {
  const bare = bareNumber(text);
  if (bare !== null) return bare;
  const lettered = /^(\p{L})[\s.-]*0*(\d{1,2})$/u.exec(text);
  return lettered === null ? text : `${lettered[1].toUpperCase()}${Number(lettered[2])}`;
};
