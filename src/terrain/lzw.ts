import { FREE, kernelWithRoom } from './unpack-kernel.ts';

/** Bytes past the input that may be read. */
const READ_BEYOND = 8;
/** Bytes past the output that may be written: the longest string of the table, and what is copied at once. */
const WRITTEN_BEYOND = 4096 + 32;

/**
 * Undoes TIFF's LZW (`unpack.wat`); stops after `most` bytes or at the end code.
 * @throws Error where a code cannot be, or the input ends without an end.
 */
export function inflateLzw(input: Uint8Array, most: number): Uint8Array<ArrayBuffer> {
  const out = FREE + input.length + READ_BEYOND;
  const kernel = kernelWithRoom(out - FREE + most + WRITTEN_BEYOND);
  kernel.bytes.set(input, FREE);
  const [written, fault] = kernel.inflateLzw(FREE, input.length * 8, out, out + most);
  if (fault === 1) throw new Error(`LZW data ends after ${written} of ${most} bytes`);
  if (fault === 2) throw new Error(`LZW data is damaged after ${written} of ${most} bytes`);
  return kernel.bytes.slice(out, out + Math.min(written, most));
}
