import { at } from '../array.ts';
/** Undoes PackBits (TIFF 6.0, section 9) until there are `most` bytes or the input ends. */
export function inflatePackBits(input: Uint8Array, most: number): Uint8Array {
  const out = new Uint8Array(most);
  let written = 0;
  for (let read = 0; read < input.length && written < out.length; ) {
    const head = at(input, read);
    read += 1;
    if (head < 128) {
      const run = input.subarray(read, read + head + 1).subarray(0, out.length - written);
      out.set(run, written);
      written += run.length;
      read += head + 1;
    } else if (head > 128) {
      if (read >= input.length) break;
      const stop = Math.min(out.length, written + 257 - head);
      out.fill(at(input, read), written, stop);
      written = stop;
      read += 1;
    }
    // 128 does nothing.
  }
  return out.subarray(0, written);
}
