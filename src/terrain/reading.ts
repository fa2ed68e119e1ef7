import type { Point, Polygon } from '../geometry.js';

/** What a green's ground does. All in the frame of the green, metres; grade as a fraction. */
export interface Reading {
  readonly area: number;
  readonly bands: readonly SlopeBand[];
  readonly contours: readonly Contour[];
  readonly critical: readonly CriticalPoint[];
  readonly divides: readonly (readonly Point[])[];
  /** Where most of the water may leave, the likeliest first. */
  readonly outlets: readonly Outlet[];
  readonly streams: readonly Stream[];
  readonly arrows: readonly FallArrow[];
  readonly sections: readonly Section[];
  /** Ground where the direction of fall is not known to 45 degrees at 95 %. */
  readonly doubtful: readonly Polygon[];
  /** Lines of steepest descent from the saddles down, to a stream, a low point or the edge. */
  readonly valleys: readonly (readonly Point[])[];
  /** Closed hollows and where their water goes. */
  readonly hollows: readonly Hollow[];
}

/** A closed hollow of the ground. Metres. */
export interface Hollow {
  /** Its lowest point. */
  readonly at: Point;
  /** Height to which it fills before water leaves it. */
  readonly level: number;
  readonly depth: number;
  /** Where the water runs over; null when a drain takes it. */
  readonly spill: Point | null;
  /** 'shown': so deep that it would hold water, so the survey shows a drain (or an error). */
  readonly drain: 'declared' | 'shown' | null;
}

/** Where a green's water leaves, over four metres of its edge or by a drain. */
export interface Outlet {
  readonly at: Point;
  readonly kind: 'edge' | 'drain';
  /** Share of the grounds that the survey allows in which it takes more than any other. */
  readonly share: number;
  /** The share in which it does, and a valley leads there: it takes half of what leaves over twelve metres. */
  readonly kept: number;
  /** Grounds looked at. */
  readonly draws: number;
}

/** Ground whose grade lies in [from, to); `to` is Infinity for the steepest band. */
export interface SlopeBand {
  readonly from: number;
  readonly to: number;
  readonly polygons: readonly Polygon[];
}

export interface Contour {
  readonly height: number;
  /** Every n-th contour is an index contour, drawn heavier. */
  readonly index: boolean;
  readonly lines: readonly (readonly Point[])[];
}

export interface CriticalPoint {
  readonly kind: 'high' | 'low' | 'saddle';
  readonly at: Point;
  readonly height: number;
  /** Persistence: how far the ground must be climbed or descended to reach a higher (lower) one, metres. */
  readonly relief: number;
  /** On the outline (the highest ground of a green may lie on its edge). */
  readonly onEdge: boolean;
}

/** A line of drainage, from its head to its mouth; height never rises along it. */
export interface Stream {
  /** 1 for a stream that reaches the edge or a drain, one more for each stream it must join first (Gravelius 1914). */
  readonly order: number;
  readonly main: boolean;
  readonly points: readonly (readonly [x: number, y: number, height: number])[];
  /** Contributing area at each point, square metres. */
  readonly area: readonly number[];
  readonly mouth: 'edge' | 'drain' | 'stream';
  /** Where it is a piece of a longer line: from and to which part of that line's length, 0 to 1. */
  readonly piece?: readonly [from: number, to: number];
  /**
   * Depth of its valley, metres: mean height of the ground to both sides over the line.
   */
  readonly valley: number;
  /** Of the main line: the outlet of `Reading.outlets` that it leads to; null where it leads to none, and of others. */
  readonly outlet: Outlet | null;
}

export interface FallArrow {
  readonly at: Point;
  /** Unit vector downhill. */
  readonly toward: Point;
  readonly grade: number;
  /** A piece of the fall line with `at` in its middle, from its tail to its tip, longer the steeper the ground. */
  readonly path: readonly Point[];
}

export type SectionKind =
  | 'tier'
  | 'face'
  | 'bowl'
  | 'shelf'
  | 'crown'
  | 'swale'
  | 'false front'
  | 'false edge';

export interface Section {
  readonly kind: SectionKind;
  /** What a caddie would call it: "upper tier", "back bowl", "false front". */
  readonly name: string;
  readonly polygons: readonly Polygon[];
  readonly area: number;
  readonly meanGrade: number;
}

/** Whether most grounds that the survey allows keep a main line's outlet and its valley. */
export const isKept = ({ outlet }: Stream): boolean => outlet !== null && outlet.kept > 0.5;

/** Outlets that take turns with that of the main line. */
export const otherOutlets = ({
  outlets,
  streams,
}: Pick<Reading, 'outlets' | 'streams'>): Outlet[] => {
  const own = streams.find((stream) => stream.main && stream.outlet !== null)?.outlet ?? null;
  return outlets.filter(({ at }) => own === null || at[0] !== own.at[0] || at[1] !== own.at[1]);
};
