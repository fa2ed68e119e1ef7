import { InputFault } from '../fault.js';
import { MAX_CAPTURE_SPEED } from '../putt/capture.js';
import { decelerationOf, rollForSpeed, speedForRoll } from '../putt/green-speed.js';
import type { PuttSettings } from '../putt/putt.js';

/** Whether a pace past the hole is one that the hole can hold. */
export const checkPace = ({ stimp, past }: PuttSettings): void => {
  const deceleration = decelerationOf(stimp);
  const arrival = speedForRoll(deceleration, past);
  if (arrival < MAX_CAPTURE_SPEED) return;
  const most = rollForSpeed(deceleration, MAX_CAPTURE_SPEED);
  throw new InputFault(
    { file: 'command line', place: '--past' },
    `${past.toFixed(2)} m past arrives at ${arrival.toFixed(2)} m/s and the hole holds no ball over ${MAX_CAPTURE_SPEED.toFixed(2)} m/s (Holmes 1991)`,
    `ask for less than ${(Math.floor(most * 100) / 100).toFixed(2)} m`,
  );
};
