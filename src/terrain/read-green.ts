import type { Point } from '../geometry.js';
import { signedArea } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { doubtfulGround, wrongWayField } from './doubt.js';
import { fallArrows } from './fall-arrows.js';
import { sampleGround, stepOn } from './ground-grid.js';
import { findExtremes } from './points/extremes.js';
import type { Reading } from './reading.js';
import { contourLines } from './regions/contour-lines.js';
import { slopeBands, squaredGrade } from './regions/slope-bands.js';
import { sectionsOf } from './sections/sections.js';
import { divideLines, valleyLines } from './water/divides.js';
import { drainGround } from './water/drainage.js';
import { mainOutlets } from './water/main-outlet.js';
import { streamsOf } from './water/streams.js';

/** How a green is to be read; metres, square metres, grades as fractions. */
export interface ReadingOptions {
  /** Grades between the slope bands, rising. */
  readonly bandThresholds: readonly number[];
  readonly contourInterval: number;
  /** Every n-th contour is an index contour. */
  readonly indexEvery: number;
  /** Known drains, in the frame of the green. */
  readonly drains: readonly Point[];
  /** Distance of nodes; wider on ground that is larger than any common green. */
  readonly gridStep: number;
  /** Least relief of a high or low point. */
  readonly minRelief: number;
  /** A high or low point must also stand out by this many standard deviations of its relief. */
  readonly reliefSigmas: number;
  /** A hollow deeper than this is taken for one with a drain. */
  readonly shownDrainDepth: number;
  /** Islands of a slope band smaller than this are left to the band round them. */
  readonly minIsland: number;
  /** Area that must drain through a stream, share of the green. */
  readonly streamShare: number;
  /** Length of ground above a stream's head. */
  readonly headLength: number;
  /** Streams other than the main one are at least this long. */
  readonly leastStream: number;
  /** Height of the ground beside such a stream over the stream, on average. */
  readonly leastValley: number;
  /** How far a spur must stand over the lower of the valleys beside it, along the edge. */
  readonly minSpur: number;
  readonly leastDivide: number;
  /** Distance between fall arrows. */
  readonly arrowSpacing: number;
  /** Ground more level than this gets no arrow. */
  readonly leastGrade: number;
  /** Grade over which ground is a face; null: by the median grade of the green. */
  readonly faceGrade: number | null;
  /** Least height from the foot of a face to its brow. */
  readonly leastFaceRise: number;
  /** A level part smaller than this share of the green is a shelf, larger a tier. */
  readonly shelfShare: number;
  /** Bend across the fall line from which ground counts as hollow or crowned, 1/m. */
  readonly hollowBend: number;
}

export const READ_DEFAULTS: ReadingOptions = {
  bandThresholds: [0.01, 0.02, 0.03, 0.04],
  contourInterval: 0.05,
  indexEvery: 5,
  drains: [],
  gridStep: 0.25,
  minRelief: 0.01,
  reliefSigmas: 3,
  shownDrainDepth: 0.05,
  minIsland: 0.5,
  streamShare: 0.05,
  headLength: 2.5,
  leastStream: 3,
  leastValley: 0.01,
  minSpur: 0.03,
  leastDivide: 3,
  arrowSpacing: 2.5,
  leastGrade: 0.002,
  faceGrade: null,
  leastFaceRise: 0.15,
  shelfShare: 0.15,
  hollowBend: 0.005,
};

/** Reads the ground of one green. */
export const readGreen = (surface: Surface, options: Partial<ReadingOptions> = {}): Reading => {
  const o: ReadingOptions = { ...READ_DEFAULTS, ...options };
  const grid = sampleGround(surface, stepOn(surface.outline, o.gridStep));
  const area = Math.abs(signedArea(surface.outline));
  const trust = surface.trust;
  const extremes = findExtremes(
    grid,
    trust === null
      ? null
      : (a, b) => Math.hypot(trust.heightSd(a[0], a[1]), trust.heightSd(b[0], b[1])),
    o,
  );
  const squared = squaredGrade(grid);
  const drainage = drainGround(grid, extremes.graph, o);
  const outlets = mainOutlets(surface, o);
  const streams = streamsOf(drainage, area, outlets, o);
  const divides = divideLines(drainage, extremes, streams, o);
  const chance = wrongWayField(grid, trust);
  const lines = [...divides, ...streams.map((stream) => stream.points)];
  return {
    area,
    bands: slopeBands(grid, squared, o.bandThresholds, o.minIsland, area),
    contours: contourLines(grid, o.contourInterval, o.indexEvery),
    critical: extremes.points,
    divides,
    outlets,
    streams,
    arrows: fallArrows(grid, chance, lines, o),
    sections: sectionsOf(
      { graph: extremes.graph, critical: extremes.points, drainage, area, squared, streams },
      o,
    ),
    doubtful: doubtfulGround(grid, chance, o.minIsland / 2, area),
    valleys: valleyLines(drainage, extremes, streams),
    hollows: drainage.hollows,
  };
};
