const CLEAR = 256;
const END = 257;
const FIRST_FREE = 258;
const LEAST_BITS = 9;
const MOST_BITS = 12;
const TABLE = 1 << MOST_BITS;

/** Bytes copied at once, needed or not: most strings are no longer, and a jump costs more than a byte. */
const STRIDE = 2;

/**
 * Undoes TIFF's LZW (TIFF 6.0, section 13: most significant bit first, codes grow one early); stops after `most` bytes or
 * at the end code.
 *
 * Every string of the table stands in the output already, one byte longer than the string before it: so the table
 * holds places of the output, and a code is one copy forwards. The 256 single bytes stand before the output.
 * @throws Error where a code cannot be, or the input ends without an end.
 */
export function inflateLzw(input: Uint8Array, most: number): Uint8Array {
  // Two bytes of nothing at the end, so that reading two at a time stays inside.
  const bytes = new Uint8Array(input.length + 2);
  bytes.set(input);
  const out = new Uint8Array(CLEAR + most + STRIDE);
  const starts = new Int32Array(TABLE);
  const lengths = new Int32Array(TABLE);
  for (let byte = 0; byte < CLEAR; byte += 1) {
    out[byte] = byte;
    starts[byte] = byte;
    lengths[byte] = 1;
  }
  const end = CLEAR + most;
  let held = 0;
  let heldBits = 0;
  let read = 0;
  let bits = LEAST_BITS;
  let free = FIRST_FREE;
  let written = CLEAR;
  let lastStart = 0;
  /** 0: no code since the table was cleared. */
  let lastLength = 0;
  while (written < end) {
    if (heldBits < bits) {
      if (read >= input.length) throw new Error(`LZW data ends after ${written - CLEAR} of ${most} bytes`);
      held = (held << 16) | ((bytes[read] as number) << 8) | (bytes[read + 1] as number);
      read += 2;
      heldBits += 16;
    }
    heldBits -= bits;
    const code = (held >>> heldBits) & ((1 << bits) - 1);
    if (code === CLEAR) {
      bits = LEAST_BITS;
      free = FIRST_FREE;
      lastLength = 0;
      continue;
    }
    if (code === END) break;
    if (lastLength > 0) {
      // The newest string may be meant before it is whole: it runs into itself.
      if (code > free || code === TABLE) throw new Error(`LZW data is damaged (code ${code} of ${free})`);
      if (free < TABLE) {
        starts[free] = lastStart;
        lengths[free] = lastLength + 1;
        free += 1;
        if (free + 1 >= 1 << bits && bits < MOST_BITS) bits += 1;
      }
    } else if (code > END) throw new Error(`LZW data is damaged (code ${code} after a cleared table)`);
    let from = starts[code] as number;
    lastLength = lengths[code] as number;
    lastStart = written;
    out[written] = out[from] as number;
    out[written + 1] = out[from + 1] as number;
    written += lastLength;
    if (lastLength > STRIDE) {
      const stop = written < end ? written : end;
      from += STRIDE;
      for (let i = lastStart + STRIDE; i < stop; i += 1) {
        out[i] = out[from] as number;
        from += 1;
      }
    }
  }
  return out.subarray(CLEAR, Math.min(written, end));
}
