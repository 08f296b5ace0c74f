/** Undoes PackBits (TIFF 6.0, section 9) into `out`, until it is full or the input ends; gives the number of bytes written. */
export function inflatePackBits(input: Uint8Array, out: Uint8Array): number {
  let written = 0;
  for (let read = 0; read < input.length && written < out.length; ) {
    const head = input[read] ?? 0;
    read += 1;
    if (head < 128) {
      const run = input.subarray(read, read + head + 1).subarray(0, out.length - written);
      out.set(run, written);
      written += run.length;
      read += head + 1;
    } else if (head > 128) {
      if (read >= input.length) break;
      const stop = Math.min(out.length, written + 257 - head);
      out.fill(input[read] ?? 0, written, stop);
      written = stop;
      read += 1;
    }
    // 128 does nothing.
  }
  return written;
}
