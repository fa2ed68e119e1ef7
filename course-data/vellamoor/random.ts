/** A seeded source of numbers (mulberry32): the same seed gives the same course on every machine. */
export interface Random {
  /** Uniform on [0, 1). */
  uniform(): number;
  /** Uniform on [low, high). */
  between(low: number, high: number): number;
  /** Normal with mean 0 and standard deviation 1 (Box and Muller). */
  normal(): number;
}

export const seeded = (seed: number): Random => {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return {
    uniform,
    between: (low, high) => low + (high - low) * uniform(),
    normal: () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
  };
};
