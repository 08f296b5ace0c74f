import { describe, expect, it } from 'vitest';
import { at, last, median, upperMedian } from '../src/array.js';

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

describe('the middle of numbers', () => {
  it('is the one in the middle of their order', () => {
    expect(median([30, 4, 5])).toBe(5);
    expect(upperMedian([30, 4, 5])).toBe(5);
  });

  it('is the mean of two, or the upper of them', () => {
    expect(median([1, 10, 2, 4])).toBe(3);
    expect(upperMedian([1, 10, 2, 4])).toBe(4);
  });

  it('is none of nothing', () => {
    expect(() => median([])).toThrow(RangeError);
    expect(() => upperMedian([])).toThrow(RangeError);
  });
});
