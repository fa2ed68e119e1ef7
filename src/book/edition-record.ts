import type { Course, Hole } from '../course/course.js';
import type { HoleFigures } from '../course/hole-figures.js';
import type { Notes } from '../event/notes-file.js';
import type { Layout } from '../layout/layout.js';
import { oneByOne } from '../others-turn.js';
import type { Mark, Page } from '../page/marks/marks.js';
import type { UnitSystem } from '../units.js';
import { mapPlace, outlineOf, placedShape, whereOf } from './place-digests.js';
import type { GreenOfBook } from './prepare-green.js';
import { rounded, shortDigest } from './short-digest.js';

/** The form of a record; another one is not read. */
export const RECORD_FORM = 1;

/** By name: what a digest is of. */
type Named = readonly (readonly [name: string, digest: string])[];

/** What the pages of one hole rest on: digests, each null where the hole has no such thing. */
export interface HoleRecord {
  readonly id: string;
  /** Number, name, par and stroke index. */
  readonly names: string;
  /** The survey's bytes and how they are read; the ground that was fitted to them. */
  readonly survey: readonly [file: string, ground: string] | null;
  readonly outline: string | null;
  readonly tees: Named;
  readonly line: string | null;
  /** Hazards, fairways and landmarks of the map. */
  readonly map: string;
  /** The ground along the line of play. */
  readonly ground: string | null;
  readonly locations: Named;
  /** Metres of stimp reading; null where no putt is told. */
  readonly speed: number | null;
  /** What is printed of the survey. */
  readonly worth: string | null;
  readonly notes: string | null;
}

/** A page: its id, its number and a digest of all that is drawn on it but that number. */
export type PageRecord = readonly [id: string, label: string, digest: string];

/** What a book carries so that a later edition can tell what has changed. */
export interface EditionRecord {
  readonly form: number;
  readonly title: string;
  /** About where the course lies: longitude and latitude to a thousandth of a degree; null where the map tells nothing. */
  readonly at: readonly [number, number] | null;
  /** What the edition calls itself; null where it has no name. */
  readonly edition: string | null;
  readonly layout: readonly [name: string, digest: string];
  readonly use: string;
  readonly units: string;
  readonly pages: readonly PageRecord[];
  readonly holes: readonly HoleRecord[];
}

/** What the map shows of a hole beside its tees, its green and its line, in an order of its own. */
const mapOf = (figures: HoleFigures | undefined): string =>
  shortDigest(
    (figures?.features ?? [])
      .filter(({ kind }) => kind !== 'tee' && kind !== 'green' && kind !== 'hole')
      .map((feature) => JSON.stringify([feature.kind, feature.name, placedShape(feature)]))
      .sort(),
  );

/** A hole of the course with what was made of it. */
interface HoleParts {
  readonly hole: Hole;
  readonly figures: HoleFigures | undefined;
  readonly green: GreenOfBook | undefined;
  readonly notes: Notes | undefined;
}

const holeRecord = ({ hole, figures, green, notes }: HoleParts): HoleRecord => {
  const { id, name, par, strokeIndex } = hole;
  const noted = notes?.holes.filter(({ holeId }) => holeId === id) ?? [];
  // Where they lie: what is told of putts to them is brought for nothing.
  const locations = (green === undefined ? hole.outline : hole.green)?.locations ?? [];
  const worth = green?.content.worth.worth ?? null;
  return {
    id,
    names: shortDigest([name, par, strokeIndex]),
    survey: green === undefined ? null : [green.surveyDigest, green.ground.digest],
    outline: outlineOf(hole),
    tees: (figures?.tees ?? []).map((tee) => [tee.name, shortDigest(mapPlace(tee.at))]),
    line: figures === undefined ? null : shortDigest(figures.line.map(mapPlace)),
    map: mapOf(figures),
    ground:
      figures === undefined || figures.heights.length === 0
        ? null
        : shortDigest(
            figures.heights.map(({ along, rise }) => [along, rise].map((v) => rounded(v, 10))),
          ),
    locations: locations.map((one) => [
      one.name,
      shortDigest([one.on, one.in, one.side, ...one.at.map((v) => rounded(v, 100))]),
    ]),
    speed: worth === 'tables' ? rounded(green?.content.stimp ?? 0, 1e4) : null,
    worth,
    notes: noted.length === 0 ? null : shortDigest(noted),
  };
};

/** A page's number is no part of what it tells: pages before it may have come or gone. */
const isFolio = (mark: Mark): boolean => mark.kind === 'group' && mark.role === 'folio';

const withoutFolio = (marks: readonly Mark[]): Mark[] => marks.filter((mark) => !isFolio(mark));

/** A digest of what a page draws, to a hundredth of a millimetre. */
export const pageDigest = ({ width, height, marks }: Page): string =>
  shortDigest(
    JSON.stringify([width, height, withoutFolio(marks)], (_, value) =>
      typeof value === 'number' ? rounded(value, 100) : value,
    ),
  );

const pageRecord = (page: Page): PageRecord => [
  page.id,
  page.label,
  page.memory?.digest ?? pageDigest(page),
];

/** What a record is made of; pages as they are without any word of what has changed. */
export interface RecordedBook {
  readonly course: Course;
  readonly layout: Layout;
  readonly units: UnitSystem;
  readonly greens: readonly GreenOfBook[];
  readonly holes: readonly HoleFigures[];
  readonly notes: Notes | undefined;
  readonly pages: readonly Page[];
}

/** The record of a book. The same book has the same record wherever and whenever it is made. */
export const editionRecord = async (book: RecordedBook): Promise<EditionRecord> => {
  const { course, layout, units, greens, holes, notes, pages } = book;
  return {
    form: RECORD_FORM,
    title: course.title,
    at: whereOf(course),
    edition: course.imprint.edition,
    layout: [layout.name, shortDigest(layout)],
    use: layout.use,
    units,
    pages: await oneByOne(pages, pageRecord),
    holes: course.holes.map((hole) =>
      holeRecord({
        hole,
        figures: holes.find(({ id }) => id === hole.id),
        green: greens.find((green) => green.hole.id === hole.id),
        notes,
      }),
    ),
  };
};
