import { InputFault } from '../fault.js';
import type { Point, Ring } from '../geometry.js';
import { SURVEY_LIMITS } from '../input-limits.js';
import { heightsOfFalls } from '../survey/heights-of-falls.js';
import { type HandReading, readByHand } from '../survey/readers/by-hand.js';
import {
  fromGreenFrame,
  type GreenFrame,
  type PlaneParts,
  ringInFrame,
  type Survey,
} from '../survey/survey.js';
import { degreesToRadians, pacesToMetres } from '../units.js';
import { counted } from '../wording.js';
import { sidesAt } from './frame.js';

/** What a level, or a telephone laid on a board, reads a grade to: one standard deviation (set; common practice, no source). */
const GRADE_SIGMA = 0.004;
/**
 * And the direction of a fall by a clock: at each place, and that of the line of approach from which all are counted, as it
 * is sighted; radians (set; common practice, no source). Hours are mostly told by halves, which are fifteen degrees.
 */
const TURN_SIGMA = degreesToRadians(9);
const SIGHT_SIGMA = degreesToRadians(4);
/** A height read with a level and a tape, and where a pace is meant to be: metres and metres (set; common practice, no source). */
const HEIGHT_SIGMA = 0.008;
const PACE_SIGMA = 0.45;
/** By which part one who paces takes all paces longer, or shorter, than they are counted (set; common practice, no source). */
const STRIDE_SIGMA = 0.05;
/** Falls that are so far from those of the heights about them are told (set): ground bends between the places. */
const TOLD_BEYOND = 0.008;
/** Fewer places make no ground. */
const LEAST_PLACES = 6;

/** Places and slopes in the frame of the green as vectors of its plane. */
const partsOnPlane = (frame: GreenFrame, vectors: readonly Point[]): PlaneParts => {
  const turned = vectors.map(([x, y]) => fromGreenFrame({ ...frame, origin: [0, 0] }, x, y));
  return { x: Float64Array.from(turned, (v) => v[0]), y: Float64Array.from(turned, (v) => v[1]) };
};

/** Where a reading was taken, in the frame of the green. */
const placeOf = (outline: Ring, reading: HandReading, file: string): Point => {
  const y = pacesToMetres(reading.on);
  const sides = sidesAt(outline, y);
  const step = pacesToMetres(reading.in);
  if (sides === null || step > sides[1] - sides[0]) {
    throw new InputFault(
      { file, place: `line ${reading.line}` },
      `${reading.on} on, ${reading.in} in from the ${reading.side} is off the green`,
      sides === null
        ? 'count the paces from the front edge along the line of approach'
        : 'count the paces in from the edge at that depth',
    );
  }
  return [reading.side === 'left' ? sides[0] + step : sides[1] - step, y];
};

/** How far a place was paced, in the frame of the green. */
const walkedTo = (reading: HandReading): Point => {
  const within = pacesToMetres(reading.in);
  return [reading.side === 'left' ? within : -within, pacesToMetres(reading.on)];
};

const gradientOf = ({ grade, clock }: NonNullable<HandReading['fall']>): Point => {
  const angle = degreesToRadians(30 * clock);
  // The ground rises against the way it falls.
  return [-grade * Math.sin(angle), -grade * Math.cos(angle)];
};

/** Slope of heights over the places: how much a misplaced pace costs, metres a metre. */
const steepness = (places: readonly Point[], heights: readonly number[]): number => {
  const n = places.length;
  const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / n;
  const [mx, my, mz] = [
    mean(places.map((p) => p[0])),
    mean(places.map((p) => p[1])),
    mean(heights),
  ];
  let [sxx, sxy, syy, sxz, syz] = [1e-9, 0, 1e-9, 0, 0];
  places.forEach(([x, y], i) => {
    const [u, v, w] = [x - mx, y - my, heights[i] - mz];
    sxx += u * u;
    sxy += u * v;
    syy += v * v;
    sxz += u * w;
    syz += v * w;
  });
  const det = sxx * syy - sxy * sxy || 1;
  return Math.hypot((syy * sxz - sxy * syz) / det, (sxx * syz - sxy * sxz) / det);
};

/**
 * A rough survey by hand as a survey of the green, in the plane of its outline: heights where they were
 * paced, or heights that agree with the falls measured. Its error is large, and stated: that of the level,
 * of the paces, and of what lies between the places.
 *
 * @throws InputFault with the line, for a place off the green, and when there are too few.
 */
export const surveyByHand = (
  text: string,
  source: string,
  statedSigma: number | null,
  outline: Ring,
  frame: GreenFrame,
): Survey => {
  const readings = readByHand(text, source);
  if (readings.length < LEAST_PLACES) {
    throw new InputFault(
      { file: source },
      `${counted(readings.length, 'place is', 'places are')} too few`,
      `measure at ${LEAST_PLACES} or more, spread over the whole green`,
    );
  }
  if (readings.length > SURVEY_LIMITS.placesByHand) {
    throw new InputFault(
      { file: source },
      `${readings.length} places are more than are paced by hand`,
      `keep ${SURVEY_LIMITS.placesByHand} at most, or give measured points as x,y,z`,
    );
  }
  const inFrame = ringInFrame(frame, outline);
  const places = readings.map((reading) => placeOf(inFrame, reading, source));
  const byHeight = readings.every((reading) => reading.height !== null);
  const falls = byHeight
    ? null
    : readings.map(({ fall }, i) => ({ at: places[i], gradient: gradientOf(fall!) }));
  const { heights, sigma, beyond } =
    falls === null
      ? { heights: readings.map((reading) => reading.height!), sigma: HEIGHT_SIGMA, beyond: 0 }
      : heightsOfFalls(falls, GRADE_SIGMA);
  const own = Math.hypot(sigma, PACE_SIGMA * steepness(places, heights));
  const worse = statedSigma === null ? 1 : statedSigma / own;
  const slopes = falls?.map(({ gradient }) => gradient);
  const onPlane = places.map((place) => fromGreenFrame(frame, place[0], place[1]));
  return {
    source,
    kind: 'points',
    x: Float64Array.from(onPlane, (p) => p[0]),
    y: Float64Array.from(onPlane, (p) => p[1]),
    z: Float64Array.from(heights),
    statedSigma: statedSigma ?? own,
    paced: {
      placeSd: PACE_SIGMA,
      heightSd: statedSigma ?? HEIGHT_SIGMA,
      walked: partsOnPlane(frame, readings.map(walkedTo)),
      strideSd: STRIDE_SIGMA,
      lines: readings.map(({ line }) => line),
      falls:
        slopes === undefined
          ? null
          : {
              ...partsOnPlane(frame, slopes),
              gradeSd: worse * GRADE_SIGMA,
              turnSd: TURN_SIGMA,
              sightSd: SIGHT_SIGMA,
            },
    },
    breaklines: [],
    cellSize: null,
    crs: null,
    how: `a survey by hand: ${readings.length} places in paces on from the front edge and in from a side, ${byHeight ? 'heights' : 'falls'} as written (by the names); coordinate system of the green`,
    notes: [
      `a rough survey by hand: ${readings.length} places by paces, ${byHeight ? 'heights' : 'falls'} good to ${Math.round(1000 * (statedSigma ?? own))} mm`,
      ...(beyond < TOLD_BEYOND
        ? []
        : [
            `the falls are ${(100 * beyond).toFixed(1)} % off those between their neighbours: the ground bends between the places, or some are wrong; measure closer`,
          ]),
      ...(byHeight && readings.some(({ fall }) => fall !== null)
        ? ['it holds heights and falls: the heights are used, the falls are not']
        : []),
    ],
  };
};
