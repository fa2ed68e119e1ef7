import { readFileSync } from 'node:fs';

/**
 * A LAZ decoder that shares nothing with ours: laz-rs (Rust, Apache-2.0), as the loader package carries it. The
 * package gives no raw records, so that its decoder is opened by itself.
 */

interface Decompressor {
  decompress_many(out: Uint8Array): void;
  free(): void;
}

interface Module {
  initSync(module: { module: Uint8Array }): unknown;
  readonly WasmLasZipDecompressor: new (bytes: Uint8Array) => Decompressor;
}

const folder = new URL('./libs/laz-rs-wasm/', import.meta.resolve('@loaders.gl/las'));

/** All records of a LAZ file, one behind another, laid out as in LAS. */
export const recordsByLazRs = async (file: Uint8Array): Promise<Uint8Array> => {
  const module = (await import(new URL('laz_rs_wasm.js', folder).href)) as Module;
  module.initSync({ module: readFileSync(new URL('laz_rs_wasm_bg.wasm', folder)) });
  const view = new DataView(file.buffer, file.byteOffset, file.length);
  const count = Number(view.getBigUint64(247, true));
  const out = new Uint8Array(count * view.getUint16(105, true));
  const decoder = new module.WasmLasZipDecompressor(file);
  try {
    decoder.decompress_many(out);
  } finally {
    decoder.free();
  }
  return out;
};
