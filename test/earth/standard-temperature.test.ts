import { describe, expect, it } from 'vitest';
import {
  colderByK,
  DRY_LAPSE_K_PER_M,
  standardTemperatureC,
  windChillC,
} from '../../src/earth/standard-temperature.ts';

describe('the standard atmosphere', () => {
  it.each([
    // US Standard Atmosphere 1976, table by geometric height, from memory.
    [0, 15],
    [1000, 8.501],
    [3000, -4.491],
    [5000, -17.474],
  ])('has at %i m %f °C, as its table prints', (elevationM, expectedC) => {
    expect(Math.abs(standardTemperatureC(elevationM) - expectedC)).toBeLessThan(0.05);
  });

  it('is colder by 6.5 K for each kilometre climbed, and not warmer for a place below', () => {
    expect(colderByK(700, 1700)).toBeCloseTo(6.5, 9);
    expect(colderByK(1700, 700)).toBe(0);
    expect(colderByK(-100, 0)).toBeCloseTo(0.65, 9);
    expect(colderByK(0, 1000, DRY_LAPSE_K_PER_M)).toBeCloseTo(9.76, 9);
  });
});

describe('the wind chill', () => {
  it.each([
    // Environment Canada wind chill table, whole degrees, from memory.
    [0, 20, -5],
    [0, 40, -7],
    [-10, 20, -18],
    [-10, 40, -21],
    [-20, 40, -34],
  ])('of %i °C in %i km/h is the printed %i', (airC, windKmPerH, printed) => {
    expect(Math.round(windChillC(airC, windKmPerH) ?? Number.NaN)).toBe(printed);
  });

  it('is not stated where the index does not hold', () => {
    expect(windChillC(10.1, 40)).toBeNull();
    expect(windChillC(0, 4)).toBeNull();
    expect(windChillC(0, 0)).toBeNull();
  });
});
