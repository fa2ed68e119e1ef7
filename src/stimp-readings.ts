/** Stimp readings, metres: 2 to 20 ft. Our own limits: no green is so slow, none so fast. */
export const STIMP_READINGS = [0.6, 6.1] as const;
const [SLOWEST, FASTEST] = STIMP_READINGS;

/** What rounding in a file leaves, metres. */
const SLACK = 1e-9;

/** Whether a green speed, metres, is one that is measured on greens. */
export const isStimpReading = (metres: number): boolean =>
  metres >= SLOWEST - SLACK && metres <= FASTEST + SLACK;
