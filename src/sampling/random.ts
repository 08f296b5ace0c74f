import { at, numberAt } from '../array.ts';

/** A stream of seeded random numbers: the same seed and name give the same stream on every machine. */
export interface RandomStream {
  /** Uniform in [0, 1). */
  readonly uniform: () => number;
  /** Near normal with mean 0 and standard deviation 1, from -6 to 6. */
  readonly normal: () => number;
  /** Fills a column with symmetric triangular ones, from -1 to 1. */
  readonly triangulars: (into: Float64Array) => void;
}

/** 32-bit FNV-1a hash of a text (public domain, Fowler, Noll and Vo), from memory. */
function hashText(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i += 1) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash >>> 0;
}

/**
 * sfc32 by Chris Doty-Humphrey (PractRand, public domain), from memory; its state is three words and a counter. Many at
 * a time are many times quicker than one by one.
 */
function fillUniform(state: Int32Array, into: Float64Array): void {
  let [a, b, c, counter] = [at(state, 0), at(state, 1), at(state, 2), at(state, 3)];
  for (let i = 0; i < into.length; i += 1) {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + sum) | 0;
    into[i] = (sum >>> 0) / 4294967296;
  }
  state[0] = a;
  state[1] = b;
  state[2] = c;
  state[3] = counter;
}

/**
 * The stream that belongs to `name` under `seed`. What comes for one name does not depend on any other, so that a
 * route added to the list or taken from it leaves those of the others as they were.
 */
export function streamOf(seed: number, name: string): RandomStream {
  const state = Int32Array.of(seed, hashText(name), hashText(`${name}/${seed}`), 1);
  const one = new Float64Array(1);
  const uniform = (): number => {
    fillUniform(state, one);
    return numberAt(one, 0);
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
    triangulars: (into) => {
      const pairs = new Float64Array(2 * into.length);
      fillUniform(state, pairs);
      for (let i = 0; i < into.length; i += 1)
        into[i] = numberAt(pairs, 2 * i) + numberAt(pairs, 2 * i + 1) - 1;
    },
  };
}
