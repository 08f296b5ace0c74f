import { describe, expect, it } from 'vitest';
import { curveOf } from '../../src/rank/value.ts';
import { acceptability, placesIn, swapShare, type TrialPlaces } from '../../src/sampling/places.ts';
import { streamOf } from '../../src/sampling/random.ts';
import { concordance, credibility, discordance, kernel } from '../sampling/reference/electre.ts';
import { centralWeights, entropyBits, evenWeights } from '../sampling/reference/smaa.ts';
import { topsis } from '../sampling/reference/topsis.ts';

/** Ranks of alternatives by weighted sum under each row of weights, by the project's own ranking of trials. */
function bySum(values: readonly (readonly number[])[], weights: readonly (readonly number[])[]): TrialPlaces {
  const scores = values.flatMap((row) =>
    weights.map((weight) => row.reduce((sum, value, j) => sum + value * (weight[j] ?? 0), 0)),
  );
  const classes = new Uint8Array(scores.length);
  return placesIn(values.length, weights.length, classes, Float64Array.from(scores));
}

describe('the ranking of trials against published cases (sources.md §13)', () => {
  const A = [0.9, 0.1];
  const B = [0.5, 0.7];
  const stream = streamOf(7, 'even');
  const weights = Array.from({ length: 40_000 }, () => evenWeights(stream, 2));

  it('gives the shares of the case that can be solved on paper, to 1 %', () => {
    // A is ahead where 0.9w + 0.1(1 − w) > 0.5w + 0.7(1 − w), so w > 0.6: 0.4 of all weights.
    const ranks = bySum([A, B], weights);
    expect(Math.abs(acceptability(ranks, 0).firstShare / 0.4 - 1)).toBeLessThan(0.01);
    expect(Math.abs(acceptability(ranks, 1).firstShare / 0.6 - 1)).toBeLessThan(0.01);
  });

  it('has the central weights of that case, to 1 %', () => {
    const near = (found: readonly number[], wanted: readonly number[]) =>
      wanted.forEach((value, j) => {
        expect(Math.abs((found[j] ?? 0) / value - 1)).toBeLessThan(0.01);
      });
    near(centralWeights([A, B], weights, 0), [0.8, 0.2]);
    near(centralWeights([A, B], weights, 1), [0.3, 0.7]);
  });

  it('counts pairs: an alternative that is ahead in nine trials of ten (CRAN smaa)', () => {
    const scores = Float64Array.of(1, 1, 1, 1, 0, 1, 1, 1, 1, 1, ...Array<number>(10).fill(0.5));
    const ranks = placesIn(2, 10, new Uint8Array(20), scores);
    expect(swapShare(ranks, 1, 0)).toBe(0.9);
    expect(swapShare(ranks, 0, 1)).toBe(0.1);
    expect(swapShare(ranks, 0, 0)).toBe(0);
    expect(acceptability(ranks, 0).firstShare).toBe(0.9);
  });

  it('has piecewise values as those of CRAN smaa', () => {
    const cutoffs = [
      [50, 1],
      [75, 0.8],
      [90, 0.5],
      [100, 0],
    ] as const;
    [0.92, 0.8, 0.5, 0].forEach((value, i) => {
      expect(curveOf(cutoffs)([60, 75, 90, 100][i] ?? 0)).toBeCloseTo(value, 12);
    });
    expect([10, 40, 101, 120].map(curveOf(cutoffs))).toEqual([1, 1, 0, 0]);
  });

  it('has the entropy of two shares as CRAN smaa', () => {
    expect(entropyBits([0.3504, 0.6496])).toBeCloseTo(0.9344248, 6);
  });
});

describe('TOPSIS, to compare with', () => {
  it('gives the closeness of Tzeng and Huang 2011 (as scikit-criteria prints it)', () => {
    const matrix = [
      [5, 8, 4],
      [7, 6, 8],
      [8, 8, 6],
      [7, 4, 6],
    ];
    topsis(matrix, [0.3, 0.4, 0.3]).forEach((closeness, i) => {
      expect(closeness).toBeCloseTo([0.5037, 0.6581, 0.7482, 0.334][i] ?? 0, 4);
    });
  });

  it('gives the closeness without scaling', () => {
    const matrix = [
      [1, 0, 3],
      [0, 5, 6],
    ];
    topsis(matrix, [1, 1, 1], false).forEach((closeness, i) => {
      expect(closeness).toBeCloseTo([0.14639248, 0.85360752][i] ?? 0, 7);
    });
  });
});

describe('ELECTRE, to compare with', () => {
  // Cebrián and Porcar 2009, as in sources.md §13.
  const matrix = [
    [6, 5, 28, 5, 5],
    [4, 2, 25, 10, 9],
    [5, 7, 35, 9, 6],
    [6, 1, 27, 6, 7],
    [6, 8, 30, 7, 9],
    [5, 6, 26, 4, 8],
  ];
  const senses = ['max', 'max', 'min', 'max', 'max'] as const;
  const agrees = concordance(matrix, [0.25, 0.25, 0.1, 0.2, 0.2], senses);

  it('gives the concordance of Cebrián and Porcar 2009', () => {
    expect(agrees[4]?.[0]).toBeCloseTo(0.9, 12);
    expect(agrees[4]?.[1]).toBeCloseTo(0.7, 12);
    expect(agrees[0]?.[4]).toBeCloseTo(0.35, 12);
  });

  it('leaves alternative 5 alone in the kernel, as they found', () => {
    // Their thresholds are not in sources.md: these are usual ones (from memory).
    expect(kernel(agrees, discordance(matrix, senses), 0.65, 0.35)).toEqual([4]);
  });

  it('cuts the concordance by a veto: 0.7 with an objection of 0.85 leaves 0.35', () => {
    expect(credibility(0.7, [0.85])).toBeCloseTo(0.35, 12);
    expect(credibility(0.7, [0.5])).toBe(0.7);
    expect(credibility(0.7, [1])).toBe(0);
  });
});
