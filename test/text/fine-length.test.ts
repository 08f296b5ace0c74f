import { describe, expect, it } from 'vitest';
import { kilometresAsFine, metresAsFine } from '../../src/text/fine-length.ts';

// 1 ft = 0.3048 m, 1 mile = 1,609.344 m (international, exact).
describe('a length as fine as it is given', () => {
  it.each([
    [50, '50 m', '160 ft'],
    [640, '640 m', '2,100 ft'],
    [2345, '2345 m', '7,694 ft'],
    [1000, '1000 m', '3,300 ft'],
    [804.672, '804.672 m', '2,640 ft'],
    [0, '0 m', '0 ft'],
    [80_000, '80000 m', '50 mi'],
  ])('%d m is %s and %s', (metres, metric, us) => {
    expect(metresAsFine(metres, 'metric')).toBe(metric);
    expect(metresAsFine(metres, 'us')).toBe(us);
  });

  it.each([
    [1000, 0, '1 km', '0.62 mi'],
    [12_470, 1, '12.5 km', '7.77 mi'],
    [12_000, 1, '12.0 km', '7.46 mi'],
    [3000, 1, '3.0 km', '1.9 mi'],
  ])('%d m with %d decimals of a kilometre is %s and %s', (metres, decimals, metric, us) => {
    expect(kilometresAsFine(metres, decimals, 'metric')).toBe(metric);
    expect(kilometresAsFine(metres, decimals, 'us')).toBe(us);
  });
});
