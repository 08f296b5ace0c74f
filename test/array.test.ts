import { describe, expect, it } from 'vitest';
import { at, last } from '../src/array.js';

describe('an array read in a checked way', () => {
  it('gives the value that stands there, undefined and 0 too', () => {
    expect(at([4, 5, 6], 1)).toBe(5);
    expect(at(Float64Array.of(0, 2), 0)).toBe(0);
    expect(at([undefined], 0)).toBeUndefined();
    expect(last('abc')).toBe('c');
  });

  it('throws where nothing stands, with the index and the length', () => {
    expect(() => at([1, 2], 2)).toThrow(new RangeError('no element 2 in an array of 2'));
    expect(() => at(Float32Array.of(1), -1)).toThrow(RangeError);
    expect(() => at([1], 0.5)).toThrow(RangeError);
    expect(() => at([1], Number.NaN)).toThrow(RangeError);
    expect(() => last([])).toThrow(RangeError);
    expect(() => at('abc', 3)).toThrow(RangeError);
  });
});
