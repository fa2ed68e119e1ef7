import { newIntegerModel } from '../../src/survey/readers/arithmetic-decoder.js';
import { newSymbolModel, type SymbolModel } from '../../src/survey/readers/arithmetic-models.js';
import {
  type Encoder,
  encodeInteger,
  encoderOf,
  even,
  newShortModel,
  runningMedian,
} from './arithmetic-encoder.js';
import { gpsTimes } from './layered-times.js';

/**
 * The layered coding of points of formats 6 to 8 (items POINT14, RGB14, RGBNIR14 and BYTE14, version 3): each kind
 * of value has a stream of its own, and each scanner channel a context of its own. Colours and bytes of the maker's
 * own are coded for one channel; in a cloud of several they have to stay the same. Source: the open LAZ
 * Specification 1.4, from memory; two independent decoders read what it gives (`laz14.test`, `tests/live`).
 */

/** A layer: its stream, which is left out when all that it would say is "as before". */
export interface Layer {
  readonly encoder: Encoder;
  changed: boolean;
}

const layer = (changed = false): Layer => ({ encoder: encoderOf(), changed });

/** Codes one item of each point in turn. */
export interface ItemCoder {
  readonly layers: readonly Layer[];
  code(at: number): void;
}

/** Models of symbols that are made when they are first used. */
const models = (symbols: number) => {
  const made = new Map<number, SymbolModel>();
  return (k: number): SymbolModel => {
    const model = made.get(k) ?? newSymbolModel(symbols);
    made.set(k, model);
    return model;
  };
};

/**
 * Which of six running medians a return of `n` takes. The rows of up to three returns are as both decoders have
 * them, and no cloud of the tests has more.
 */
const RETURN_MAP = [
  [0, 1, 2, 3],
  [1, 0, 1, 3],
  [2, 1, 2, 4],
  [3, 3, 4, 5],
];

const newPointContext = (raw: DataView, last: number) => ({
  last,
  timeChanged: false,
  medians: Array.from({ length: 12 }, () => ({ x: runningMedian(), y: runningMedian() })),
  heights: new Int32Array(8).fill(raw.getInt32(last + 8, true)),
  intensities: new Uint16Array(8).fill(raw.getUint16(last + 12, true)),
  changes: models(128),
  channel: newSymbolModel(3),
  count: models(16),
  number: models(16),
  numberAtSameTime: newSymbolModel(13),
  x: newIntegerModel(2),
  y: newIntegerModel(22),
  z: newIntegerModel(20),
  group: models(256),
  flags: models(64),
  user: models(256),
  intensity: newShortModel(4),
  angle: newShortModel(2),
  source: newShortModel(1),
  times: gpsTimes(raw.getBigInt64(last + 22, true)),
});

type PointContext = ReturnType<typeof newPointContext>;

const returnOf = (raw: DataView, at: number): number => raw.getUint8(at + 14) & 15;
const returnsOf = (raw: DataView, at: number): number => raw.getUint8(at + 14) >> 4;
const channelOf = (raw: DataView, at: number): number => (raw.getUint8(at + 15) >> 4) & 3;
const flagsOf = (raw: DataView, at: number): number => {
  const byte = raw.getUint8(at + 15);
  return (byte & 15) | ((byte >> 2) & 0x30);
};

/** Item POINT14: thirty bytes of every point, in nine layers. */
export const pointCoder = (raw: DataView): ItemCoder => {
  const names = ['place', 'z', 'group', 'flags', 'intensity', 'angle', 'user', 'source', 'time'];
  const layers = names.map((name) => layer(name === 'place' || name === 'z'));
  const [place, z, group, flags, intensity, angle, user, source, time] = layers;
  let current = channelOf(raw, 0);
  const contexts = new Map([[current, newPointContext(raw, 0)]]);

  /** What has changed, and the context of the point's scanner channel. */
  const turn = (at: number): { context: PointContext; later: boolean } => {
    const from = current;
    const before = contexts.get(from)!;
    const channel = channelOf(raw, at);
    const [r, n] = [returnOf(raw, before.last), returnsOf(raw, before.last)];
    const kind = (r === 1 ? 1 : 0) + (r >= n ? 2 : 0) + (before.timeChanged ? 4 : 0);
    // A channel starts from the last point of the one that it takes over from.
    const context = contexts.get(channel) ?? newPointContext(raw, before.last);
    contexts.set(channel, context);
    current = channel;
    const { last } = context;
    const later = raw.getBigInt64(at + 22, true) !== raw.getBigInt64(last + 22, true);
    const step = (returnOf(raw, at) - returnOf(raw, last) + 16) % 16;
    const changes =
      (step === 0 ? 0 : step === 1 ? 1 : step === 15 ? 2 : 3) |
      (returnsOf(raw, at) !== returnsOf(raw, last) ? 4 : 0) |
      (raw.getInt16(at + 18, true) !== raw.getInt16(last + 18, true) ? 8 : 0) |
      (later ? 16 : 0) |
      (raw.getUint16(at + 20, true) !== raw.getUint16(last + 20, true) ? 32 : 0) |
      (channel !== from ? 64 : 0);
    place.encoder.symbol(before.changes(kind), changes);
    if (channel !== from) place.encoder.symbol(before.channel, ((channel - from + 4) % 4) - 1);
    if ((changes & 4) !== 0) {
      place.encoder.symbol(context.count(returnsOf(raw, last)), returnsOf(raw, at));
    }
    if ((changes & 3) === 3) {
      if (later) place.encoder.symbol(context.number(returnOf(raw, last)), returnOf(raw, at));
      else place.encoder.symbol(context.numberAtSameTime, step - 2);
    }
    return { context, later };
  };

  const codePlace = (at: number, context: PointContext, later: boolean): void => {
    const { last } = context;
    const [r, n] = [returnOf(raw, at), returnsOf(raw, at)];
    const single = n === 1 ? 1 : 0;
    const { x, y } = context.medians[2 * RETURN_MAP[n][r] + (later ? 1 : 0)];
    const dx = (raw.getInt32(at, true) - raw.getInt32(last, true)) | 0;
    const kx = encodeInteger(place.encoder, context.x, x.get(), dx, single);
    x.add(dx);
    const dy = (raw.getInt32(at + 4, true) - raw.getInt32(last + 4, true)) | 0;
    const ky = encodeInteger(place.encoder, context.y, y.get(), dy, single + even(kx, 20));
    y.add(dy);
    const level = Math.min(7, Math.abs(n - r));
    const height = raw.getInt32(at + 8, true);
    const width = single + even((kx + ky) >> 1, 18);
    encodeInteger(z.encoder, context.z, context.heights[level], height, width);
    context.heights[level] = height;
  };

  const codeRest = (at: number, context: PointContext, later: boolean): void => {
    const { last } = context;
    const [r, n] = [returnOf(raw, at), returnsOf(raw, at)];
    const kind = (r === 1 ? 2 : 0) + (r >= n ? 1 : 0);
    const [was, is] = [raw.getUint8(last + 16), raw.getUint8(at + 16)];
    group.changed ||= was !== is;
    group.encoder.symbol(context.group(((was & 31) << 1) + (kind === 3 ? 1 : 0)), is);
    flags.changed ||= flagsOf(raw, last) !== flagsOf(raw, at);
    flags.encoder.symbol(context.flags(flagsOf(raw, last)), flagsOf(raw, at));
    const light = raw.getUint16(at + 12, true);
    const slot = 2 * kind + (later ? 1 : 0);
    intensity.changed ||= light !== raw.getUint16(last + 12, true);
    encodeInteger(intensity.encoder, context.intensity, context.intensities[slot], light, kind);
    context.intensities[slot] = light;
    const [leant, leans] = [raw.getInt16(last + 18, true), raw.getInt16(at + 18, true)];
    if (leant !== leans) {
      angle.changed = true;
      encodeInteger(angle.encoder, context.angle, leant, leans, later ? 1 : 0);
    }
    const [said, says] = [raw.getUint8(last + 17), raw.getUint8(at + 17)];
    user.changed ||= said !== says;
    user.encoder.symbol(context.user(said >> 2), says);
    const [from, by] = [raw.getUint16(last + 20, true), raw.getUint16(at + 20, true)];
    if (from !== by) {
      source.changed = true;
      encodeInteger(source.encoder, context.source, from, by, 0);
    }
    if (later) {
      time.changed = true;
      context.times(time.encoder, raw.getBigInt64(at + 22, true));
    }
  };

  return {
    layers,
    code: (at) => {
      const { context, later } = turn(at);
      codePlace(at, context, later);
      codeRest(at, context, later);
      context.last = at;
      context.timeChanged = later;
    },
  };
};

const folded = (difference: number): number => (difference + 256) % 256;
const clamped = (value: number): number => Math.max(0, Math.min(255, value));

/** Item RGB14: three colours of 16 bits from `offset` on, in one layer. */
export const colourCoder = (raw: DataView, offset: number): ItemCoder => {
  const one = layer();
  const context = {
    last: 0,
    used: newSymbolModel(128),
    parts: models(256),
  };
  const bytes = (at: number): number[] =>
    Array.from({ length: 6 }, (_, k) => raw.getUint8(at + offset + k));
  return {
    layers: [one],
    code: (at) => {
      const [was, is] = [bytes(context.last), bytes(at)];
      const grey = is[0] === is[2] && is[0] === is[4] && is[1] === is[3] && is[1] === is[5];
      const used = is.reduce((sum, v, k) => sum | (v !== was[k] ? 1 << k : 0), grey ? 0 : 64);
      const { encoder } = one;
      one.changed ||= used !== 0;
      encoder.symbol(context.used, used);
      // The low bytes stand at 0, 2 and 4, the high ones at 1, 3 and 5.
      const steps = [0, 1].map((k) => {
        if ((used & (1 << k)) === 0) return 0;
        encoder.symbol(context.parts(k), folded(is[k] - was[k]));
        return is[k] - was[k];
      });
      const rest = (k: number, step: number): void => {
        if ((used & (1 << k)) !== 0) {
          encoder.symbol(context.parts(k), folded(is[k] - clamped(step + was[k])));
        }
      };
      if (!grey) {
        for (const k of [0, 1]) {
          rest(2 + k, steps[k]);
          rest(4 + k, Math.trunc((steps[k] + is[2 + k] - was[2 + k]) / 2));
        }
      }
      context.last = at;
    },
  };
};

/** Item RGBNIR14's last value: near infrared, in a layer of its own. */
export const infraredCoder = (raw: DataView, offset: number): ItemCoder => {
  const one = layer();
  const context = {
    last: 0,
    used: newSymbolModel(4),
    parts: models(256),
  };
  return {
    layers: [one],
    code: (at) => {
      const steps = [0, 1].map(
        (k) => raw.getUint8(at + offset + k) - raw.getUint8(context.last + offset + k),
      );
      const used = (steps[0] !== 0 ? 1 : 0) | (steps[1] !== 0 ? 2 : 0);
      one.changed ||= used !== 0;
      one.encoder.symbol(context.used, used);
      for (const k of [0, 1]) {
        if (steps[k] !== 0) one.encoder.symbol(context.parts(k), folded(steps[k]));
      }
      context.last = at;
    },
  };
};

/** Item BYTE14: bytes of the maker's own from `offset` on, a layer each. */
export const bytesCoder = (raw: DataView, offset: number, count: number): ItemCoder => {
  const layers = Array.from({ length: count }, () => layer());
  const context = { last: 0, parts: models(256) };
  return {
    layers,
    code: (at) => {
      layers.forEach((one, k) => {
        const step = raw.getUint8(at + offset + k) - raw.getUint8(context.last + offset + k);
        one.changed ||= step !== 0;
        one.encoder.symbol(context.parts(k), folded(step));
      });
      context.last = at;
    },
  };
};

/** One chunk: the first point as it is, the number of points, the length of each layer, the layers. */
export const layeredChunk = (raw: DataView, length: number, items: readonly ItemCoder[]) => {
  const points = raw.byteLength / length;
  for (let k = 1; k < points; k++) {
    for (const item of items) item.code(k * length);
  }
  const layers = items.flatMap((item) => item.layers);
  const streams = layers.map(({ changed, encoder }) =>
    changed ? encoder.done() : new Uint8Array(),
  );
  const head = new Uint8Array(4 + 4 * layers.length);
  const view = new DataView(head.buffer);
  view.setUint32(0, points, true);
  streams.forEach((stream, k) => {
    view.setUint32(4 + 4 * k, stream.length, true);
  });
  return [new Uint8Array(raw.buffer, raw.byteOffset, length), head, ...streams];
};
