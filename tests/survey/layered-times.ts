import { newIntegerModel } from '../../src/survey/readers/arithmetic-decoder.js';
import { newSymbolModel } from '../../src/survey/readers/arithmetic-models.js';
import { type Encoder, encodeInteger } from './arithmetic-encoder.js';

/** The coding of times of points (formats 6 to 10): steps of up to four sequences. Source: see `layered-points`. */

const MULTI = 500;
const MULTI_MINUS = -10;
const FULL = MULTI - MULTI_MINUS + 1;

interface Sequence {
  last: bigint;
  step: number;
  extremes: number;
}

const fits = (step: bigint): boolean => BigInt.asIntN(32, step) === step;
const high = (bits: bigint): number => Number(BigInt.asIntN(32, bits >> 32n));

/** Codes times, as the bits of a double each, starting from the first point's. */
export const gpsTimes = (first: bigint) => {
  const several = newSymbolModel(FULL + 4);
  const still = newSymbolModel(5);
  const model = newIntegerModel(9);
  const sequences: Sequence[] = [first, 0n, 0n, 0n].map((last) => ({ last, step: 0, extremes: 0 }));
  let at = 0;
  let newest = 0;

  const known = (one: Sequence, step: number, encoder: Encoder): void => {
    if (one.step === 0) {
      encoder.symbol(still, 0);
      encodeInteger(encoder, model, 0, step, 0);
      one.step = step;
      one.extremes = 0;
      return;
    }
    const ratio = Math.fround(Math.fround(step) / Math.fround(one.step));
    const multi = ratio >= 0 ? Math.floor(ratio + 0.5) : Math.ceil(ratio - 0.5);
    const used = Math.max(MULTI_MINUS, Math.min(MULTI, multi));
    encoder.symbol(several, used >= 0 ? used : MULTI - used);
    const context =
      used === 1
        ? 1
        : used === MULTI
          ? 4
          : used >= 10
            ? 3
            : used > 0
              ? 2
              : used === 0
                ? 7
                : used > MULTI_MINUS
                  ? 5
                  : 6;
    encodeInteger(encoder, model, (used * one.step) | 0, step, context);
    if (used === 1) one.extremes = 0;
    if (context === 4 || context === 6 || context === 7) {
      one.extremes += 1;
      if (one.extremes > 3) {
        one.step = step;
        one.extremes = 0;
      }
    }
  };

  const code = (encoder: Encoder, time: bigint): void => {
    const one = sequences[at];
    const step = BigInt.asIntN(64, time - one.last);
    if (fits(step)) {
      known(one, Number(step), encoder);
      one.last = time;
      return;
    }
    const mark = one.step === 0 ? still : several;
    const base = one.step === 0 ? 1 : FULL;
    for (let k = 1; k < 4; k++) {
      if (fits(BigInt.asIntN(64, time - sequences[(at + k) & 3].last))) {
        encoder.symbol(mark, base + k);
        at = (at + k) & 3;
        code(encoder, time);
        return;
      }
    }
    encoder.symbol(mark, base);
    encodeInteger(encoder, model, high(one.last), high(time), 8);
    encoder.bits(32, Number(BigInt.asUintN(32, time)));
    newest = (newest + 1) & 3;
    at = newest;
    sequences[at] = { last: time, step: 0, extremes: 0 };
  };
  return code;
};
