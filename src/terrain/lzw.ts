const CLEAR = 256;
const END = 257;
const FIRST_STRING = 258;
const MOST_BITS = 12;
const MOST_STRINGS = 2 ** MOST_BITS;

/**
 * Undoes TIFF's LZW (TIFF 6.0, section 13: most significant bit first, codes grow one early); stops after `most` bytes or
 * at the end code.
 *
 * The n-th string of the table is what the n-th code since the table was cleared stands for, and one byte more; both
 * stand in the output already. So the table is a list of places: string n runs from `starts[n]` to one byte past
 * `starts[n + 1]`, and a code is one copy. Reads are not checked: each index is in range by what is tested here.
 * @throws Error where a code cannot be, or the input ends without an end.
 */
export function inflateLzw(input: Uint8Array, most: number): Uint8Array<ArrayBuffer> {
  // The last string may reach past the end by its whole length.
  const out = new Uint8Array(most + MOST_STRINGS);
  const starts = new Int32Array(MOST_STRINGS + 1);
  let written = 0;
  let strings = FIRST_STRING;
  let bits = 9;
  let read = 0;
  let held = 0;
  let heldBits = 0;
  while (written < most) {
    while (heldBits < bits) {
      if (read === input.length) throw new Error(`LZW data ends after ${written} of ${most} bytes`);
      held = (held << 8) | (input[read] as number);
      read += 1;
      heldBits += 8;
    }
    heldBits -= bits;
    const code = (held >>> heldBits) & ((1 << bits) - 1);
    if (code === END) break;
    if (code === CLEAR) {
      strings = FIRST_STRING;
      bits = 9;
      continue;
    }
    if (code >= strings) throw new Error(`LZW data is damaged after ${written} of ${most} bytes`);
    if (strings <= MOST_STRINGS) {
      starts[strings] = written;
      strings += 1;
      if (strings === 1 << bits && bits < MOST_BITS) bits += 1;
    }
    if (code < CLEAR) {
      out[written] = code;
      written += 1;
    } else {
      // Byte by byte: the newest string may be meant before it is whole, and its last byte is its first.
      const from = starts[code] as number;
      const end = starts[code + 1] as number;
      for (let k = from; k <= end; k += 1) {
        out[written] = out[k] as number;
        written += 1;
      }
    }
  }
  return out.slice(0, Math.min(written, most));
}
