import type { Random } from '../../scripts/demo-range/random.ts';

/** A damaged copy, and in words what was done to it. */
export interface Mutant {
  readonly bytes: Buffer;
  readonly what: string;
}

const EXTREMES = [0, 1, 0x7fff, 0xffff, 0x7fffffff, 0x80000000, 0xffffffff];

const below = ({ uniform }: Random, count: number): number =>
  Math.min(count - 1, Math.floor(uniform() * count));

/** Flips, cuts, moves or overwrites some bytes from `first` up to `last`. */
export function mutant(whole: Buffer, random: Random, first = 0, last = whole.length): Mutant {
  const bytes = Buffer.from(whole);
  const at = () => first + below(random, last - first);
  switch (below(random, 6)) {
    case 0: {
      const place = at();
      return { bytes: bytes.subarray(0, place), what: `cut at ${place}` };
    }
    case 1: {
      const place = Math.min(at(), bytes.length - 4);
      const value = EXTREMES[below(random, EXTREMES.length)] ?? 0;
      if (random.uniform() < 0.5) bytes.writeUInt32LE(value, place);
      else bytes.writeUInt16LE(value & 0xffff, place);
      return { bytes, what: `${value} at ${place}` };
    }
    case 2: {
      const [from, to] = [at(), at()];
      const length = Math.min(64, last - Math.max(from, to));
      bytes.copy(bytes, to, from, from + length);
      return { bytes, what: `${length} bytes from ${from} to ${to}` };
    }
    default: {
      const count = 1 + below(random, 4);
      const places = Array.from({ length: count }, at);
      for (const place of places) bytes[place] = (bytes[place] ?? 0) ^ (1 << below(random, 8));
      return { bytes, what: `bits at ${places.join(', ')}` };
    }
  }
}
