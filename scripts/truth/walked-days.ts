/** Days drawn from a pace model: what the printed probabilities are checked against. */
import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { type PaceModel, steepGround } from '../../src/capability/pace-model.ts';
import type { Stretch } from '../../src/day/walking.ts';
import type { Random } from '../demo-range/random.ts';
import { gaussian } from './pace-worlds.ts';

/** Minutes of a stretch on one drawn day, stops in. The same day times every stretch asked about. */
export type DrawnDay = (stretch: Stretch) => number;

/** Rounding leaves a covariance a last digit off symmetric, which the decomposition refuses. */
const symmetric = (table: readonly (readonly number[])[]): number[][] =>
  table.map((row, i) => row.map((value, j) => (value + (table[j]?.[i] ?? value)) / 2));

/** Draws days of a group: its rates, the day, each leg, the shape of the rule, the ground, the gain, the hands and the stops, all in doubt. */
export function dayDrawer(
  pace: PaceModel,
  doubt: { readonly ground: number; readonly climbShare: number },
): (random: Random) => DrawnDay {
  const { mean, covariance, scale, degreesOfFreedom } = pace.posterior;
  const factor = new CholeskyDecomposition(new Matrix(symmetric(covariance))).lowerTriangularMatrix;
  const { dayNoise, legNoise, shapeNoise } = pace.noise;
  return (random) => {
    let chiSquare = 0;
    for (let i = 0; i < Math.round(degreesOfFreedom); i += 1) chiSquare += gaussian(random) ** 2;
    const sd = Math.sqrt((scale * degreesOfFreedom) / chiSquare);
    const z = mean.map(() => gaussian(random));
    const rates = mean.map((rate, i) => {
      const step = z.reduce((sum, value, j) => sum + factor.get(i, j) * value, 0);
      return Math.max(0.05 * rate, rate + sd * step);
    });
    const day = sd * dayNoise * gaussian(random);
    const part = () => 1 + day + sd * legNoise * gaussian(random) + sd * shapeNoise * gaussian(random);
    const [up, down] = [part(), part()];
    const ground = sd * doubt.ground * gaussian(random);
    const climb = 1 + doubt.climbShare * gaussian(random);
    const steep = gaussian(random);
    const rockMinPerM = pace.rock.minPerM * (1 + pace.rock.doubt * gaussian(random));
    const stops = pace.stopsMinPerHour + pace.stopsSpreadMinPerHour * gaussian(random);
    const standing = 1 + Math.max(0, stops) / 60;
    return ({ walk, rockM }) => {
      const [upKm = 0, upM = 0, downKm = 0, downM = 0] = rates;
      const climbing = walk.upKm * upKm + walk.upM * climb * upM;
      const descending = walk.downKm * downKm + walk.downM * downM;
      const walked = Math.max(0, climbing * (up + ground)) + Math.max(0, descending * (down + ground));
      const { moreMin, doubtMin } = steepGround(pace, walk);
      return standing * Math.max(0, walked + moreMin + steep * doubtMin + rockM * rockMinPerM);
    };
  };
}
