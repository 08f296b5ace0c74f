import { describe, expect, it } from 'vitest';
import { studentTProbability, studentTQuantile } from '../../src/capability/student-t.ts';

describe("Student's t", () => {
  it('has its closed form with one and with two degrees of freedom', () => {
    for (let t = -30; t <= 30; t += 0.37) {
      expect(studentTProbability(t, 1)).toBeCloseTo(0.5 + Math.atan(t) / Math.PI, 13);
      expect(studentTProbability(t, 2)).toBeCloseTo(0.5 + t / (2 * Math.sqrt(2 + t * t)), 13);
    }
    for (const p of [0.001, 0.05, 0.3, 0.5, 0.9, 0.975, 0.9999]) {
      expect(studentTQuantile(p, 1) / Math.tan(Math.PI * (p - 0.5)) || 1).toBeCloseTo(1, 11);
      const exact = (2 * p - 1) * Math.sqrt(2 / (4 * p * (1 - p)));
      expect(studentTQuantile(p, 2)).toBeCloseTo(exact, 10);
    }
  });

  it('agrees with the values of @stdlib/stats-base-dists-t 0.2.3 between whole degrees of freedom', () => {
    for (const [t, freedom, p] of [
      [1.3, 7, 0.8826160823038114],
      [-0.4, 12.5, 0.34795394205057784],
      [2.2, 4.2, 0.9552889831312555],
      [8, 31, 0.9999999975298681],
    ] as const)
      expect(studentTProbability(t, freedom)).toBeCloseTo(p, 12);
    for (const [p, freedom, t] of [
      [0.9, 7, 1.414923927650509],
      [0.75, 12.5, 0.6946222139927906],
      [0.1, 4.2, -1.519206438446972],
      [0.95, 31, 1.6955187825458649],
    ] as const)
      expect(studentTQuantile(p, freedom)).toBeCloseTo(t, 12);
  });

  it('is near the normal distribution with many degrees of freedom', () => {
    expect(studentTQuantile(0.975, 1e6)).toBeCloseTo(1.959964, 5);
  });

  it('comes back from a quantile to its probability, and has no end', () => {
    for (const freedom of [0.7, 3, 8.4, 60, 5000])
      for (const p of [1e-6, 0.1, 0.5, 0.75, 0.9, 0.999999])
        expect(studentTProbability(studentTQuantile(p, freedom), freedom)).toBeCloseTo(p, 12);
    expect(studentTQuantile(0, 5)).toBe(Number.NEGATIVE_INFINITY);
    expect(studentTQuantile(1, 5)).toBe(Number.POSITIVE_INFINITY);
    expect(studentTProbability(Number.POSITIVE_INFINITY, 5)).toBe(1);
  });
});
