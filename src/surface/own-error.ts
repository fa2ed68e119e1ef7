/** A variance that is known by so many free heights may be so many of its standard deviations more. */
const AT_MOST = 2;
/** Points that show less than this share of the error they state were smoothed, or worked out from others: they say nothing. */
const SMOOTHED = 0.5;

/**
 * The error, of what a survey states, that one point has to itself: no more than the points show, since what each has to
 * itself their residuals keep, and what neighbours have in common they do not. All that is stated where the points are
 * too few, or too smooth, to say. Metres.
 *
 * @param sigma of a point about the fit.
 * @param free heights less what the ground takes of them (the deviation of a deviation is 1 / sqrt(2 free) of it).
 */
export const ownError = (stated: number, sigma: number, free: number): number => {
  const share = 1 - AT_MOST / Math.sqrt(2 * Math.max(1, free));
  return share <= 0 || sigma < SMOOTHED * stated ? stated : Math.min(stated, sigma / share);
};
