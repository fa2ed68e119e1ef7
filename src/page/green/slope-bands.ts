import { scaleLinear } from 'd3-scale';
import type { SlopeBand } from '../../terrain/reading.js';
import { fillPath, hatch, stroke } from '../kit/draw.js';
import type { Mark, PathStep } from '../marks/marks.js';
import { decimal, phrase, type Worded } from '../words/words.js';
import { areaSteps, type GroundFrame } from './ground-frame.js';

/** How one slope band is printed: a tone of the tint, and strokes of the dark ink on steeper ground. */
export interface BandStyle {
  readonly tone: number;
  /** Millimetres between strokes; null for none. */
  readonly pitch: number | null;
}

const STROKE_WIDTH = 0.1;
/** Across the run of most contours, which lie along the width of a green. */
const STROKE_ANGLE = 60;
const LIGHTEST_TONE = 0.16;
const HEAVIEST_TONE = 0.74;

/** Tones of all bands but the first, which is bare paper, in even steps. */
const toneOf = (count: number) => scaleLinear([1, count - 1], [LIGHTEST_TONE, HEAVIEST_TONE]);

/**
 * Bands grow heavier with grade: the gentlest is bare paper, the tone rises evenly, and the two
 * steepest carry strokes as well, so that each reads in grey and without any colour.
 */
export const bandStyle = (index: number, count: number): BandStyle => {
  if (index === 0) return { tone: 0, pitch: null };
  const fromTop = count - 1 - index;
  return {
    tone: count <= 2 ? HEAVIEST_TONE : toneOf(count)(index),
    pitch: fromTop === 0 ? 0.62 : fromTop === 1 && count > 3 ? 1.25 : null,
  };
};

export const bandMarks = (steps: readonly PathStep[], style: BandStyle): Mark[] => {
  const marks: Mark[] = [];
  if (style.tone > 0) {
    marks.push(fillPath(steps, { ink: 'tint', tone: style.tone }, { rule: 'evenodd' }));
  }
  if (style.pitch !== null)
    marks.push(hatch(steps, STROKE_ANGLE, style.pitch, stroke(STROKE_WIDTH)));
  return marks;
};

export const slopeBandMarks = (frame: GroundFrame, bands: readonly SlopeBand[]): Mark[] =>
  bands.flatMap((band, i) => {
    const steps = band.polygons.flatMap((polygon) => areaSteps(frame, polygon));
    return steps.length === 0 ? [] : bandMarks(steps, bandStyle(i, bands.length));
  });

/** How much of their tone bands keep below other drawings. */
const PALE = 0.42;

/** The bands as a pale ground for what is drawn over them, without strokes. */
export const paleBandMarks = (frame: GroundFrame, bands: readonly SlopeBand[]): Mark[] =>
  bands.flatMap((band, i) => {
    const steps = band.polygons.flatMap((polygon) => areaSteps(frame, polygon));
    const { tone } = bandStyle(i, bands.length);
    return steps.length === 0 || tone === 0
      ? []
      : [fillPath(steps, { ink: 'tint', tone: tone * PALE }, { rule: 'evenodd' })];
  });

const percent = (grade: number): string => `${Number((grade * 100).toFixed(1))}`;

/** "under 1 %", "1–2 %", "over 4 %". */
export const bandName = (from: number, to: number, tell: Worded): string => {
  if (from === 0) return phrase(tell, 'green.under', { percent: percent(to) });
  if (to === Infinity) return phrase(tell, 'green.over', { percent: percent(from) });
  return `${decimal(percent(from), tell)}–${decimal(percent(to), tell)} %`;
};
