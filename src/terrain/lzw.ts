const CLEAR = 256;
const END = 257;
const FIRST_FREE = 258;
const LEAST_BITS = 9;
const MOST_BITS = 12;
const TABLE = 1 << MOST_BITS;
/** Bytes copied at once, needed or not: most strings are no longer, and a jump costs more than a byte. */
const STRIDE = 2;
/** Strings from here on are copied by the platform (measured). */
const LONG = 64;

/**
 * Undoes TIFF's LZW (TIFF 6.0, section 13: most significant bit first, codes grow one early); stops after `most` bytes or
 * at the end code.
 *
 * The n-th string of the table is what the n-th code since the table was cleared stands for, and one byte more; both
 * stand in the output already. So the table is a list of places, string n runs from place n to one byte past the start
 * of place n + 1, and a code is one copy forwards. The 256 single bytes stand before the output.
 * @throws Error where a code cannot be, or the input ends without an end.
 */
export function inflateLzw(input: Uint8Array, most: number): Uint8Array {
  // Four bytes of nothing at the end, so that four can be read at any code.
  const bytes = new Uint8Array(input.length + 4);
  bytes.set(input);
  const out = new Uint8Array(CLEAR + most + STRIDE);
  const places = new Int32Array(TABLE + 1);
  for (let byte = 0; byte < CLEAR; byte += 1) {
    out[byte] = byte;
    places[byte] = byte;
  }
  places[CLEAR] = CLEAR;
  const written = run(new DataView(bytes.buffer), input.length * 8, places, out, CLEAR + most);
  return out.subarray(CLEAR, Math.min(written, CLEAR + most));
}

/**
 * The loop alone, and nothing after it: what follows a loop has not run when the engine compiles the loop, and code that
 * has not run throws the compiled loop away at its end, block after block (measured: twice as slow).
 * @returns the end of what was written into `out`, at least
 */
function run(view: DataView, bitsHeld: number, places: Int32Array, out: Uint8Array, end: number): number {
  let bit = 0;
  let bits = LEAST_BITS;
  let free = FIRST_FREE;
  let written = CLEAR;
  while (written < end) {
    const word = view.getUint32(bit >>> 3);
    const code = (word << (bit & 7)) >>> (32 - bits);
    bit += bits;
    if (bit > bitsHeld) throw new Error(`LZW data ends after ${written - CLEAR} of ${end - CLEAR} bytes`);
    if (code >>> 1 === CLEAR >>> 1) {
      if (code === END) return written;
      bits = LEAST_BITS;
      free = FIRST_FREE;
      continue;
    }
    if (code >= free) throw new Error(`LZW data is damaged (code ${code} of ${free})`);
    if (free <= TABLE) {
      places[free] = written;
      free += 1;
      if (free >= 1 << bits && bits < MOST_BITS) bits += 1;
    }
    let from = places[code] as number;
    // Strings of the table are one byte longer than the way to the next place; single bytes are not.
    const length = (places[code + 1] as number) - from + ((END - code) >>> 31);
    out[written] = out[from] as number;
    out[written + 1] = out[from + 1] as number;
    const stop = written + length;
    if (length >= LONG && from + length <= written) out.copyWithin(written, from, from + length);
    else if (length > STRIDE) {
      from += STRIDE;
      // Byte by byte: the newest string may be meant before it is whole, and runs into itself.
      for (let i = written + STRIDE; i < stop && i < end; i += 1) {
        out[i] = out[from] as number;
        from += 1;
      }
    }
    written = stop;
  }
  return written;
}
