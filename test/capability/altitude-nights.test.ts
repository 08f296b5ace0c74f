import { describe, expect, it } from 'vitest';
import { ascentRateColumn, wmsColumn } from '../../src/capability/altitude.ts';

// WMS 2024 (Luks et al., Wilderness Environ Med 35(1S):2S-19S), the row on the rate of ascent
describe('ascentRateColumn', () => {
  it.each([
    [[3000, 3400, 3800, 3800, 4200], 'low'],
    [[3000, 3600, 3600, 4200], 'moderate'],
    [[3000, 3700, 4400], 'high'],
    [[3000, 3450, 3900, 4350], 'moderate'],
    [[500, 3200], 'low'],
  ] as const)('nights at %j: %s', (nights, column) => {
    expect(ascentRateColumn(nights)).toBe(column);
  });

  it('says nothing of nights below 3,000 m, or of one night', () => {
    expect(ascentRateColumn([500, 1800, 2900])).toBeNull();
    expect(ascentRateColumn([3600])).toBeNull();
    expect(ascentRateColumn([])).toBeNull();
  });

  it('decides where it is the highest column', () => {
    const found = wmsColumn({
      sleepElevationM: 3400,
      history: 'none',
      summitM: 3400,
      homeM: null,
      nightsM: [2000, 2600, 3000, 3700, 4400, 3400],
    });
    expect(found.column).toBe('high');
    expect(found.grounds.map(({ by }) => by)).toEqual(['ascent']);
  });
});
