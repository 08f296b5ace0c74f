/** A stream of seeded random numbers: the same seed and name give the same stream on every machine. */
export interface Draws {
  /** Uniform in [0, 1). */
  readonly uniform: () => number;
  /** Near normal with mean 0 and standard deviation 1, from -6 to 6. */
  readonly normal: () => number;
  /** Symmetric triangular from -1 to 1. */
  readonly triangular: () => number;
}

/** 32-bit FNV-1a hash of a text (public domain, Fowler, Noll and Vo), from memory. */
function hashText(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i += 1) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash >>> 0;
}

/**
 * The stream that belongs to `name` under `seed`. What is drawn for one name does not depend on any other, so that a
 * route added to the list or taken from it leaves the draws of the others as they were.
 */
export function drawsOf(seed: number, name: string): Draws {
  // sfc32 by Chris Doty-Humphrey (PractRand, public domain), from memory.
  let a = seed | 0;
  let b = hashText(name) | 0;
  let c = hashText(`${name}/${seed}`) | 0;
  let counter = 1;
  const uniform = (): number => {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + sum) | 0;
    return (sum >>> 0) / 4294967296;
  };
  for (let i = 0; i < 16; i += 1) uniform();
  return {
    uniform,
    // Twelve uniforms less six: near enough to normal here, and free of the platform's logarithm and cosine.
    normal: () => {
      let sum = -6;
      for (let i = 0; i < 12; i += 1) sum += uniform();
      return sum;
    },
    triangular: () => uniform() + uniform() - 1,
  };
}
