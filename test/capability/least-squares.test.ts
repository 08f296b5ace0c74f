import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { solveBayes } from '../../src/capability/least-squares.ts';

const unit = { mean: [0], covariance: [[1]], degreesOfFreedom: 4 };

describe('solveBayes', () => {
  it('returns the prior where nothing was observed', () => {
    expect(solveBayes([], [], [], unit)).toEqual({
      mean: [0],
      covariance: [[1]],
      degreesOfFreedom: 4,
      scale: 1,
    });
  });

  it('weighs one observation against the prior by their precisions', () => {
    // Normal mean with known variance (Gelman et al., Bayesian Data Analysis, 3rd ed., eq. 2.10): prior N(0,1),
    // one observation 3 with variance 2 -> mean (3/2)/(1 + 1/2) = 1, variance 2/3.
    const posterior = solveBayes([[1]], [3], [[2]], unit);
    expect(posterior.mean[0]).toBeCloseTo(1, 12);
    expect(posterior.covariance[0]?.[0]).toBeCloseTo(2 / 3, 12);
    // Misfit (3−1)²/2 + 1² = 3; scale (4·1 + 3)/5
    expect(posterior.degreesOfFreedom).toBe(5);
    expect(posterior.scale).toBeCloseTo(7 / 5, 12);
  });

  it('comes to the generalised least squares answer where the prior says nothing', () => {
    const rows = [
      [1, 2],
      [3, 1],
      [2, 5],
    ];
    const posterior = solveBayes(
      rows,
      [5, 5, 12],
      [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
      {
        mean: [0, 0],
        covariance: [
          [1e9, 0],
          [0, 1e9],
        ],
        degreesOfFreedom: 1,
      },
    );
    const plain = solve(new Matrix(rows), Matrix.columnVector([5, 5, 12]), true).to1DArray();
    posterior.mean.forEach((value, i) => {
      expect(value).toBeCloseTo(plain[i] ?? Number.NaN, 5);
    });
  });

  it('splits what two collinear columns cannot tell apart by the prior, not at random', () => {
    // ml-matrix 6.15.1 calls such a system full rank and returns one arbitrary solution.
    const posterior = solveBayes(
      [
        [1, 2],
        [2, 4],
      ],
      [5, 10],
      [
        [0.01, 0],
        [0, 0.01],
      ],
      {
        mean: [0, 0],
        covariance: [
          [1, 0],
          [0, 1],
        ],
        degreesOfFreedom: 4,
      },
    );
    expect((posterior.mean[1] ?? 0) / (posterior.mean[0] ?? 1)).toBeCloseTo(2, 9);
  });

  it('refuses numbers that are not finite', () => {
    expect(() => solveBayes([[Number.NaN]], [1], [[1]], unit)).toThrow(RangeError);
  });
});
