import { inverse, Matrix, SingularValueDecomposition } from 'ml-matrix';

export interface Prior {
  readonly mean: readonly number[];
  /** For noise scale 1. */
  readonly covariance: readonly (readonly number[])[];
  readonly degreesOfFreedom: number;
}

/** The posterior of the coefficients for unit noise scale (multiply by `scale`), and of the scale itself. */
export interface Posterior extends Prior {
  /** Squared noise scale: 1 is what the prior expects. */
  readonly scale: number;
}

/**
 * Conjugate Bayesian linear regression: y ~ N(Xβ, s·R), β ~ N(m, s·V), s ~ scaled-inverse-χ²(ν, 1).
 * (Gelman et al., Bayesian Data Analysis, 3rd ed., ch. 14; normal–inverse-χ² with known R.)
 *
 * V is positive definite, so a collinear column cannot make the solution arbitrary: in ml-matrix 6.15.1 a singular
 * system is solved silently, which is why plain least squares is not used.
 *
 * @param rows X, one row an observation; @param values y; @param noise R, positive definite
 * @throws RangeError when a result is not finite
 */
export function solveBayes(
  rows: readonly (readonly number[])[],
  values: readonly number[],
  noise: readonly (readonly number[])[],
  prior: Prior,
): Posterior {
  const copy = (table: readonly (readonly number[])[]) => new Matrix(table.map((row) => [...row]));
  const priorPrecision = inverse(copy(prior.covariance));
  const priorMean = Matrix.columnVector([...prior.mean]);
  if (rows.length === 0) return { ...prior, scale: 1 };
  const x = copy(rows);
  const y = Matrix.columnVector([...values]);
  const noisePrecision = inverse(copy(noise));
  const xtW = x.transpose().mmul(noisePrecision);
  const covariance = inverse(Matrix.add(priorPrecision, xtW.mmul(x)));
  const mean = covariance.mmul(Matrix.add(priorPrecision.mmul(priorMean), xtW.mmul(y)));
  const residual = Matrix.sub(y, x.mmul(mean));
  const shift = Matrix.sub(mean, priorMean);
  const misfit =
    residual.transpose().mmul(noisePrecision).mmul(residual).get(0, 0) +
    shift.transpose().mmul(priorPrecision).mmul(shift).get(0, 0);
  const degreesOfFreedom = prior.degreesOfFreedom + rows.length;
  const result = {
    mean: mean.to1DArray(),
    covariance: covariance.to2DArray(),
    degreesOfFreedom,
    scale: (prior.degreesOfFreedom + misfit) / degreesOfFreedom,
  };
  if (![...result.mean, ...result.covariance.flat(), result.scale].every(Number.isFinite)) {
    throw new RangeError('regression gave a number that is not finite');
  }
  return result;
}

/**
 * Largest over smallest singular value of the rows: 1 for rows at right angles, without bound for rows all alike. By
 * SVD, since ml-matrix 6.15.1 calls collinear columns full rank. At most 1e12, so that it can be told.
 */
export function conditionOf(rows: readonly (readonly number[])[]): number {
  const { diagonal } = new SingularValueDecomposition(new Matrix(rows.map((row) => [...row])), {
    autoTranspose: true,
  });
  const largest = Math.max(...diagonal);
  const smallest = Math.min(...diagonal);
  return smallest > largest * 1e-12 ? largest / smallest : 1e12;
}
