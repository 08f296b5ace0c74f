/** Student's t with any degrees of freedom above 0, by the incomplete beta function ([DLMF] 8.17); good to 1e-12. */

import { LRUCache } from 'lru-cache';
import { at } from '../array.ts';

// Lanczos' approximation of ln Γ with g = 7 and nine terms (coefficients of P. Godfrey, 2001): to 1e-14 for z ≥ 1/2.
const LANCZOS = [
  676.5203681218851, -1259.1392167224028, 771.3234287776531, -176.6150291621406, 12.507343278686905,
  -0.13857109526572012, 9.984369578019572e-6, 1.5056327351493116e-7,
];

function logGamma(z: number): number {
  const sum = LANCZOS.reduce((all, term, i) => all + term / (z + i), 0.9999999999998099);
  const base = z + 6.5;
  return Math.log(2 * Math.PI) / 2 + (z - 0.5) * Math.log(base) - base + Math.log(sum);
}

/** ln B(ν/2, 1/2) */
const logBetaOf = (freedom: number): number =>
  logGamma(freedom / 2) + Math.log(Math.PI) / 2 - logGamma((freedom + 1) / 2);

/** Far more than are needed: some 20, and 150 with 10,000 degrees of freedom. */
const MOST_STEPS = 10_000;

/**
 * The incomplete beta function over its complete one, by the continued fraction [DLMF] 8.17.22 and Lentz's method
 * (Thompson and Barnett, *J. Comput. Phys.* 64, 1986); for x up to (a + 1) / (a + b + 2), where it is quick.
 * @param y 1 − x
 */
function betaShare(x: number, y: number, a: number, b: number, logBeta: number): number {
  if (x === 0) return 0;
  let c = 1;
  let d = 0;
  let fraction = 1;
  for (let n = 1; n < MOST_STEPS; n += 1) {
    const m = n >> 1;
    const term =
      n % 2 === 0
        ? (m * (b - m) * x) / ((a + n - 1) * (a + n))
        : (-(a + m) * (a + b + m) * x) / ((a + n - 1) * (a + n));
    d = 1 / (1 + term * d);
    c = 1 + term / c;
    fraction *= c * d;
    if (Math.abs(c * d - 1) <= Number.EPSILON) break;
  }
  return Math.exp(a * Math.log(x) + b * Math.log(y) - logBeta) / (a * fraction);
}

/** Probability of more than `t` ≥ 0. */
function upperTail(t: number, freedom: number, logBeta: number): number {
  const [x, y] = [freedom / (freedom + t * t), (t * t) / (freedom + t * t)];
  const [a, b] = [freedom / 2, 0.5];
  const share =
    x <= (a + 1) / (a + b + 2) ? betaShare(x, y, a, b, logBeta) : 1 - betaShare(y, x, b, a, logBeta);
  return share / 2;
}

export function studentTProbability(t: number, freedom: number): number {
  const tail = upperTail(Math.abs(t), freedom, logBetaOf(freedom));
  return t > 0 ? 1 - tail : tail;
}

/** What is not exceeded with probability `p`; ±∞ for 0 and 1. */
export function studentTQuantile(p: number, freedom: number): number {
  const wanted = Math.min(p, 1 - p);
  if (wanted === 0) return p === 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const logBeta = logBetaOf(freedom);
  // The tail is convex: Newton's steps from the middle come nearer from one side and never go too far.
  let t = 0;
  for (let n = 0; n < MOST_STEPS; n += 1) {
    const logDensity = -logBeta - Math.log(freedom) / 2 - ((freedom + 1) / 2) * Math.log1p((t * t) / freedom);
    const step = (upperTail(t, freedom, logBeta) - wanted) / Math.exp(logDensity);
    t += step;
    if (!(step > t * 1e-14)) break;
  }
  return p < 0.5 ? -t : t;
}

/** Within so many scales of the middle the distribution is tabled, in so many steps each (design). */
const REACH = 8;
const STEPS_EACH = 200;
const LAST = 2 * REACH * STEPS_EACH;

/** Tables kept: the degrees of freedom grow with a group's outings, one by one. */
const tables = new LRUCache<number, Float64Array>({ max: 32 });

function tableOf(degreesOfFreedom: number): Float64Array {
  const known = tables.get(degreesOfFreedom);
  if (known !== undefined) return known;
  const table = Float64Array.from({ length: LAST + 1 }, (_, i) =>
    studentTProbability(i / STEPS_EACH - REACH, degreesOfFreedom),
  );
  tables.set(degreesOfFreedom, table);
  return table;
}

/**
 * The Student-t distribution for those who ask it often: cubic between the points of a table (Lagrange, four points),
 * off by less than 1e-10 (tested); beyond the table the distribution itself.
 *
 * @returns the probability of at most so many scales above the middle
 */
export function chanceOf(degreesOfFreedom: number): (deviate: number) => number {
  const table = tableOf(degreesOfFreedom);
  return (deviate) => {
    const place = (deviate + REACH) * STEPS_EACH;
    if (!(place >= 1 && place < LAST - 1)) return studentTProbability(deviate, degreesOfFreedom);
    const i = Math.floor(place);
    const x = place - i;
    return (
      (-at(table, i - 1) * x * (x - 1) * (x - 2)) / 6 +
      (at(table, i) * (x + 1) * (x - 1) * (x - 2)) / 2 -
      (at(table, i + 1) * (x + 1) * x * (x - 2)) / 2 +
      (at(table, i + 2) * (x + 1) * x * (x - 1)) / 6
    );
  };
}
