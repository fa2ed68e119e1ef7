/**
 * Code of a WebAssembly module, put together word by word: what the kernels of the banded solver need of it, no more.
 * A piece of code is its bytes; a function of pieces puts its operands before its own word, as a stack machine wants
 * them. Numbers of words: WebAssembly Core Specification 2.0 (W3C), section 5.4.
 */
export type Code = readonly number[];

/** A local of a function, by number. */
export type Local = number;

const unsigned = (n: number): Code => (n < 128 ? [n] : [(n & 127) | 128, ...unsigned(n >>> 7)]);

const signed = (n: number): Code =>
  n >= -64 && n < 64 ? [n & 127] : [(n & 127) | 128, ...signed(n >> 7)];

const word =
  (...own: number[]) =>
  (...operands: readonly Code[]): Code => [...operands.flat(), ...own];

/** A word that reads or writes memory, at an address and so many bytes on. */
const access =
  (align: number, ...own: number[]) =>
  (at: Code, offset = 0, ...value: readonly Code[]): Code => [
    ...at,
    ...value.flat(),
    ...own,
    align,
    ...unsigned(offset),
  ];

export const get = (local: Local): Code => [0x20, ...unsigned(local)];
export const set = (local: Local, value: Code): Code => [...value, 0x21, ...unsigned(local)];

export const i32 = {
  of: (n: number): Code => [0x41, ...signed(n)],
  add: word(0x6a),
  sub: word(0x6b),
  times: word(0x6c),
  over: word(0x6d),
  /** Whether the first is less than the second, both signed. */
  less: word(0x48),
  load: access(2, 0x28),
};

export const f64 = {
  load: access(3, 0x2b),
  store: access(3, 0x39),
  greater: word(0x64),
  negative: word(0x9a),
  root: word(0x9f),
  add: word(0xa0),
  sub: word(0xa1),
  times: word(0xa2),
  over: word(0xa3),
  of: (n: number): Code => [0x44, ...new Uint8Array(Float64Array.of(n).buffer)],
};

/** Pairs of numbers side by side: each is rounded by itself, as one alone would be. */
export const pair = {
  load: access(3, 0xfd, 0x00),
  /** One number, twice. */
  loadTwice: access(3, 0xfd, 0x0a),
  store: access(3, 0xfd, 0x0b),
  /** One of its two numbers. */
  half: (of: Code, which: 0 | 1): Code => [...of, 0xfd, 0x21, which],
  of: (first: number, second: number): Code => [
    ...[0xfd, 0x0c],
    ...new Uint8Array(Float64Array.of(first, second).buffer),
  ],
  add: word(0xfd, 0xf0, 0x01),
  sub: word(0xfd, 0xf1, 0x01),
  times: word(0xfd, 0xf2, 0x01),
  over: word(0xfd, 0xf3, 0x01),
};

/** Body again and again while the condition holds, which is asked first. */
export const whileTrue = (condition: Code, body: Code): Code => [
  ...[0x02, 0x40, 0x03, 0x40],
  ...[...condition, 0x45, 0x0d, 1],
  ...[...body, 0x0c, 0, 0x0b, 0x0b],
];

export const unless = (condition: Code, body: Code): Code => [
  ...[...condition, 0x45, 0x04, 0x40],
  ...[...body, 0x0b],
];

export const leaveWith = (value: Code): Code => [...value, 0x0f];

/** A function of so many whole numbers that gives one back. */
export interface Routine {
  readonly name: string;
  readonly parameters: number;
  readonly locals: Code;
  readonly body: Code;
}

const I32 = 0x7f;
const F64 = 0x7c;
const V128 = 0x7b;

/** What a routine's locals are: whole numbers, numbers and pairs, as many as its writer asks for. */
export interface Locals {
  readonly whole: () => Local;
  readonly numbers: (count: number) => Local[];
  readonly pairs: (count: number) => Local[];
}

export const routine = (
  name: string,
  parameters: number,
  write: (args: readonly Local[], locals: Locals) => Code,
): Routine => {
  const types: number[] = [];
  const next = (type: number): Local => parameters + types.push(type) - 1;
  const body = write(
    Array.from({ length: parameters }, (_, k) => k),
    {
      whole: () => next(I32),
      numbers: (count) => Array.from({ length: count }, () => next(F64)),
      pairs: (count) => Array.from({ length: count }, () => next(V128)),
    },
  );
  const locals = [...unsigned(types.length), ...types.flatMap((type) => [1, type])];
  return { name, parameters, locals, body };
};

const sized = (bytes: Code): Code => [...unsigned(bytes.length), ...bytes];
const listed = (items: readonly Code[]): Code => [...unsigned(items.length), ...items.flat()];
const section = (id: number, items: readonly Code[]): Code => [id, ...sized(listed(items))];
const named = (name: string): Code => sized([...new TextEncoder().encode(name)]);

/** The module of some routines, which takes its memory as `outside.memory`. */
export const moduleOf = (routines: readonly Routine[]): Uint8Array<ArrayBuffer> => {
  const types = routines.map(({ parameters }) => [
    0x60,
    ...listed(new Array<Code>(parameters).fill([I32])),
    ...listed([[I32]]),
  ]);
  const functions = routines.map((_, k) => unsigned(k));
  const exported = routines.map(({ name }, k) => [...named(name), 0x00, ...unsigned(k)]);
  const memory = [...named('outside'), ...named('memory'), 0x02, 0x00, 1];
  const codes = routines.map(({ locals, body }) => sized([...locals, ...body, 0x0b]));
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    ...section(1, types),
    ...section(2, [memory]),
    ...section(3, functions),
    ...section(7, exported),
    ...section(10, codes),
  ]);
};
