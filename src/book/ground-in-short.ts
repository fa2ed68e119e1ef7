import type { StoredFit } from './green-job.js';
import { rounded, shortDigest } from './short-digest.js';

/** What a book tells of a fit beside what is drawn of it. */
export interface GroundInShort {
  /** Of the fitted heights, to the tenth of a millimetre. */
  readonly digest: string;
  readonly points: number;
  readonly outliers: number;
  /** Metres. */
  readonly noise: number;
}

export const groundInShort = ({ surface, report }: StoredFit): GroundInShort => ({
  digest: shortDigest(Array.from(surface.coefficients, (z) => rounded(z, 1e4))),
  points: report.pointsUsed,
  outliers: report.outliers.length,
  noise: report.sigma,
});
