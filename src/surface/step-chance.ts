/** A step at one place as the heights tell it: normal, with a normal prior; metres. */
export interface LikelyHeight {
  readonly height: number;
  readonly sd: number;
  /** Logarithm of how much likelier the heights are by a step there than by none. */
  readonly log: number;
}

/**
 * What the points tell of a step at one place, and what is expected of it before, each by its precision (Bayes' rule for
 * normal numbers of nought mean).
 *
 * @param told precision by the points, 1/m^2; `pull`: that times the height they tell. @param before standard deviation, metres.
 */
export const likelyHeight = (told: number, pull: number, before: number): LikelyHeight => {
  const precision = told + 1 / before ** 2;
  const height = pull / precision;
  return {
    height,
    sd: 1 / Math.sqrt(precision),
    log: 0.5 * (height * height * precision - Math.log(precision * before ** 2)),
  };
};

/** So many of all, by their weights, evenly along their order; with how often each was taken. */
export const takenByWeight = (weights: readonly number[], count: number): Map<number, number> => {
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const found = new Map<number, number>();
  let [k, reached] = [0, weights[0]];
  for (let n = 0; n < count; n++) {
    while (k + 1 < weights.length && reached < ((n + 0.5) * total) / count) reached += weights[++k];
    found.set(k, (found.get(k) ?? 0) + 1);
  }
  return found;
};
