/** How sure a hole's line, green and tees are. */
export type Confidence = 'sure' | 'likely' | 'doubtful';

/** What was settled about one hole. */
export interface SettledHole {
  readonly id: string;
  /** The loop that it belongs to, when the course has several. */
  readonly loop: string | null;
  readonly lineId: string | null;
  readonly greenId: string | null;
  readonly teeIds: readonly string[];
  readonly confidence: Confidence;
  /** What was decided that the map does not say, in words. */
  readonly decided: readonly string[];
  /** What to look at, in words. */
  readonly look: readonly string[];
}
