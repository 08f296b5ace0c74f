const CLEAR = 256;
const END = 257;
const FIRST_FREE = 258;
const LEAST_BITS = 9;
const MOST_BITS = 12;
const TABLE = 1 << MOST_BITS;

/**
 * Undoes TIFF's LZW (TIFF 6.0, section 13: most significant bit first, codes grow one early) into `out`; stops when it
 * is full or the end code comes, and gives the number of bytes written.
 *
 * Every string of the table stands in the output already, one byte longer than the string before it: so the table
 * holds places of the output, and a code is one copy forwards.
 * @throws Error where a code cannot be, or the input ends within one.
 */
export function inflateLzw(input: Uint8Array, out: Uint8Array): number {
  const starts = new Uint32Array(TABLE);
  const lengths = new Uint32Array(TABLE);
  const end = out.length;
  let held = 0;
  let heldBits = 0;
  let read = 0;
  let bits = LEAST_BITS;
  let free = FIRST_FREE;
  let written = 0;
  let lastStart = 0;
  /** 0: no code since the table was cleared. */
  let lastLength = 0;
  while (written < end) {
    while (heldBits < bits) {
      if (read >= input.length) throw new Error(`LZW data ends after ${written} of ${end} bytes`);
      held = (held << 8) | (input[read] ?? 0);
      read += 1;
      heldBits += 8;
    }
    heldBits -= bits;
    const code = (held >>> heldBits) & ((1 << bits) - 1);
    if (code === END) return written;
    if (code === CLEAR) {
      bits = LEAST_BITS;
      free = FIRST_FREE;
      lastLength = 0;
      continue;
    }
    if (lastLength === 0 ? code > END : code > free) throw new Error(`LZW data is damaged (code ${code})`);
    if (lastLength > 0 && free < TABLE) {
      starts[free] = lastStart;
      lengths[free] = lastLength + 1;
      free += 1;
      if (free + 1 >= 1 << bits && bits < MOST_BITS) bits += 1;
    } else if (code >= free) throw new Error(`LZW data is damaged (code ${code})`);
    lastStart = written;
    if (code < CLEAR) {
      out[written] = code;
      written += 1;
      lastLength = 1;
      continue;
    }
    const from = starts[code] ?? 0;
    lastLength = lengths[code] ?? 0;
    const stop = Math.min(end, written + lastLength);
    // Byte by byte: a string may run into itself.
    for (let i = from; written < stop; i += 1) {
      out[written] = out[i] ?? 0;
      written += 1;
    }
  }
  return written;
}
