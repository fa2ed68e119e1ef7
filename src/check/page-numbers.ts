import { PDFArray, type PDFDict, PDFName, PDFNumber } from 'pdf-lib';

/** A number of an array; the library reads one that is damaged as NaN. */
const soundNumber = (list: PDFArray, i: number): number => {
  const value = list.lookup(i, PDFNumber).asNumber();
  if (Number.isFinite(value)) return value;
  throw new Error('a box or a matrix holds what is no number');
};

/** Points in a unit of the page's space: its UserUnit, 1 where it has none (ISO 32000-1, 14.11.2 and table 30). */
export const unitOfPage = (page: PDFDict): number => {
  const unit = page.lookup(PDFName.of('UserUnit'));
  const points = unit instanceof PDFNumber ? unit.asNumber() : 1;
  if (points > 0 && Number.isFinite(points)) return points;
  throw new Error('the unit of a page is no number over zero');
};

/** The numbers of a list that a dictionary holds; null where it holds none. Throws where one is damaged. */
export const numbersOf = (dictionary: PDFDict, key: string): number[] | null => {
  const list = dictionary.lookup(PDFName.of(key));
  return list instanceof PDFArray
    ? Array.from({ length: list.size() }, (_, i) => soundNumber(list, i))
    : null;
};
