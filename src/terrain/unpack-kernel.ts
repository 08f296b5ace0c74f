import { UNPACK_MODULE } from './unpack-module.ts';

/** The inner loops of unpacking (`unpack.wat`) with the memory that they work in. */
export interface UnpackKernel {
  /** The whole memory; the first `FREE` bytes are the kernel's own. */
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** @returns bytes written, and why no more were: 0 all was well, 1 the input ended, 2 a code cannot be */
  inflateLzw(input: number, inputBits: number, out: number, end: number): readonly [number, 0 | 1 | 2];
  undoFloatDifferences(from: number, to: number, width: number, rows: number, row: number): void;
  markVoids(at: number, count: number, lowest: number, highest: number, nodata: number): void;
}

type Loops = Pick<UnpackKernel, 'undoFloatDifferences' | 'markVoids'> & {
  readonly inflateLzw: (
    table: number,
    ...rest: Parameters<UnpackKernel['inflateLzw']>
  ) => ReturnType<UnpackKernel['inflateLzw']>;
};

const PAGE = 65_536;
/** Memory never shrinks: one that grew beyond is let go after its block (design: a block of 1,024² floats fits). */
const MOST_KEPT_BYTES = 16 * 2 ** 20;

// The table of addresses (unpack.wat) and the single bytes to which its first ones lead.
const TABLE = 0;
const TABLE_ENTRIES = 4096 + 1;
const SINGLES = TABLE + TABLE_ENTRIES * 4;
const SINGLE_COUNT = 256;
/** Where callers may put what they have. */
export const FREE = 32_768;

let module: WebAssembly.Module | null = null;
let kept: { readonly instance: WebAssembly.Instance; readonly memory: WebAssembly.Memory } | null = null;

/** The kernel with room for so many bytes from `FREE` on; what an earlier call left there is lost. */
export function kernelWithRoom(bytes: number): UnpackKernel {
  const { instance, memory } = kept ?? start();
  const missing = FREE + bytes - memory.buffer.byteLength;
  if (missing > 0) memory.grow(Math.ceil(missing / PAGE));
  kept = FREE + bytes <= MOST_KEPT_BYTES ? { instance, memory } : null;
  const loops = instance.exports as unknown as Loops;
  return {
    ...loops,
    bytes: new Uint8Array(memory.buffer),
    inflateLzw: (input, inputBits, out, end) => loops.inflateLzw(TABLE, input, inputBits, out, end),
  };
}

function start() {
  module ??= new WebAssembly.Module(Buffer.from(UNPACK_MODULE, 'base64'));
  const instance = new WebAssembly.Instance(module);
  const memory = instance.exports.memory as WebAssembly.Memory;
  const table = new Int32Array(memory.buffer, TABLE, SINGLE_COUNT + 1);
  const singles = new Uint8Array(memory.buffer, SINGLES, SINGLE_COUNT);
  for (let byte = 0; byte < SINGLE_COUNT; byte += 1) {
    table[byte] = SINGLES + byte;
    singles[byte] = byte;
  }
  table[SINGLE_COUNT] = SINGLES + SINGLE_COUNT;
  return { instance, memory };
}
