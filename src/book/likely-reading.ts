import { statSync } from 'node:fs';
import type { GreenSite } from '../course/course.js';
import { readGreenSurvey, surveyWindow } from '../course/green-ground.js';
import type { Ring } from '../geometry.js';
import { boxOf, insideRing, signedArea } from '../geometry.js';
import { neighbouringSystems } from '../survey/crs/likely-cause.js';
import { readSurveyFile } from '../survey/read-survey.js';
import type { ReadOptions } from '../survey/readers/file-reader.js';
import { fromGreenFrame, type GreenFrame, type Survey } from '../survey/survey.js';

/** A file no longer than this is read again when it does not cover its green. */
const RETRY_BYTES = 64 * 1024 * 1024;
const RETRY_UNDER = 0.9;
/** Another reading fits better when it covers this much more of the green. */
const BETTER = 0.15;
const SQUARE = 2;

const UNIT_WORDS = { m: 'metres', ft: 'international feet', 'us-ft': 'US survey feet' } as const;

/** Share of squares of 2 m on the green that hold a point. */
const filled = ({ x, y }: Pick<Survey, 'x' | 'y'>, outline: Ring): number => {
  const box = boxOf(outline);
  const columns = Math.ceil((box.maxX - box.minX) / SQUARE);
  const hit = new Set<number>();
  for (let i = 0; i < x.length; i++) {
    if (!insideRing(outline, x[i], y[i])) continue;
    hit.add(
      Math.floor((y[i] - box.minY) / SQUARE) * columns + Math.floor((x[i] - box.minX) / SQUARE),
    );
  }
  return (hit.size * SQUARE ** 2) / Math.abs(signedArea(outline));
};

interface OtherReading {
  readonly words: string;
  readonly cure: string;
  readonly read: () => Promise<Pick<Survey, 'x' | 'y'>>;
}

/** Where a survey is read for its green: the file, how, and the green in its plane. */
export interface GreenReading {
  readonly path: string;
  readonly options: ReadOptions;
  readonly outline: Ring;
  readonly frame: GreenFrame | null;
}

const otherReadings = ({ path, options, outline, frame }: GreenReading): OtherReading[] => {
  const read = (change: Partial<ReadOptions>): Promise<Survey> =>
    frame === null
      ? readSurveyFile(path, { ...options, ...change }, surveyWindow(outline))
      : readGreenSurvey(path, { ...options, ...change }, { outline, frame });
  const verticalUnit = options.verticalUnit ?? options.unit ?? 'm';
  return [
    ...(['us-ft', 'ft', 'm'] as const)
      .filter((unit) => unit !== options.unit)
      .map((unit) => ({
        words: `in ${UNIT_WORDS[unit]}`,
        cure: 'check the unit',
        read: () => read({ unit, verticalUnit }),
      })),
    ...(options.crs == null
      ? [
          {
            words: 'with x and y exchanged',
            cure: 'check the order of the columns',
            read: async () => {
              const { x, y } = await readSurveyFile(path, options, null);
              return { x: y, y: x };
            },
          },
        ]
      : neighbouringSystems(options.crs).map((crs) => ({
          words: `in ${crs}`,
          cure: 'check the coordinate system',
          read: () => read({ crs }),
        }))),
  ];
};

/** The positions of a survey turned back from the frame of its green. */
const inPlaneOf = ({ x, y }: Survey, frame: GreenFrame): Pick<Survey, 'x' | 'y'> => {
  const back = Array.from(x, (value, i) => fromGreenFrame(frame, value, y[i]));
  return {
    x: Float64Array.from(back, ([px]) => px),
    y: Float64Array.from(back, ([, py]) => py),
  };
};

/** A survey in the frame of its green, with what its coverage tells of how it was read among its notes. */
export const withLikelyReading = async (
  survey: Survey,
  path: string,
  options: Omit<ReadOptions, 'plane'>,
  { plane, frame, outline }: Pick<GreenSite, 'plane' | 'frame' | 'outline'>,
): Promise<Survey> => {
  const notes = await likelyReading(inPlaneOf(survey, frame), {
    path,
    options: { ...options, plane },
    outline,
    frame,
  });
  return { ...survey, notes: [...(survey.notes ?? []), ...notes] };
};

/**
 * What is told of a survey that covers only a part of its green: the unit, the order of the axes or the
 * neighbouring zone by which it covers far more, if one does. Units come first, and the best of the rest.
 */
export const likelyReading = async (
  survey: Pick<Survey, 'x' | 'y'>,
  reading: GreenReading,
): Promise<string[]> => {
  const now = filled(survey, reading.outline);
  if (now >= RETRY_UNDER || statSync(reading.path).size > RETRY_BYTES) return [];
  let best: OtherReading | null = null;
  let most = now + BETTER;
  for (const other of otherReadings(reading)) {
    const points = await other.read().catch(() => null);
    const share = points === null ? 0 : filled(points, reading.outline);
    if (share <= most) continue;
    best = other;
    most = share;
  }
  if (best === null) return [];
  const percent = (share: number): string => `${Math.round(100 * Math.min(1, share))} %`;
  return [
    `the survey has points on ${percent(now)} of the green; read ${best.words} it has them on ${percent(most)}: ${best.cure}`,
  ];
};
