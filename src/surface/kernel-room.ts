import { envelopeModule } from './envelope-kernels.js';

/** What is used of WebAssembly, which Node brings and its types do not tell. */
interface WebAssemblyPart {
  readonly Memory: new (wish: {
    initial: number;
  }) => { readonly buffer: ArrayBuffer; grow(pages: number): number };
  readonly Module: new (code: Uint8Array<ArrayBuffer>) => object;
  readonly Instance: new (module: object, outside: object) => { readonly exports: unknown };
}

const PAGE = 65_536;
const { Memory, Module, Instance } = (globalThis as unknown as { WebAssembly: WebAssemblyPart })
  .WebAssembly;

/** The kernels (see envelope-kernels.ts): all numbers are addresses in the room's bytes, but for `rows`. */
interface Kernels {
  readonly factor: (table: number, rows: number, a: number) => number;
  readonly lower: (table: number, rows: number, l: number, v: number) => number;
  readonly upper: (table: number, rows: number, l: number, v: number) => number;
  readonly inverse: (table: number, rows: number, l: number, z: number, room: number) => number;
  readonly lowerAlone: (table: number, rows: number, l: number, v: number, from: number) => number;
  readonly upperAlone: (table: number, rows: number, l: number, v: number) => number;
  readonly products: (rows: number, v: number, w: number, out: number) => number;
}

const memory = new Memory({ initial: 1 });
let made: Kernels | null = null;

/** Made when it is first asked for: most commands solve nothing. */
export const kernels = (): Kernels => {
  made ??= new Instance(new Module(envelopeModule()), { outside: { memory } }).exports as Kernels;
  return made;
};

/**
 * The bytes that the kernels work on, enough for so many numbers. They keep what they hold; views of them end when a
 * later call needs more.
 */
export const kernelRoom = (numbers: number): ArrayBuffer => {
  const missing = 8 * numbers - memory.buffer.byteLength;
  if (missing > 0) memory.grow(Math.ceil(missing / PAGE));
  return memory.buffer;
};
