import { at } from '../array.ts';
import type { Design } from '../design.ts';
import { handOuting } from './hand-outing.ts';
import { conditionOf } from './least-squares.ts';
import type { Outing } from './outing.ts';
import { fitPaceModel, type PaceModel, predictMoving, quantileMin } from './pace-model.ts';
import { NO_WALK, type Quantities } from './quantities.ts';
import { tradeRuleMin } from './rules/trade-rule.ts';

export interface PaceDiagnostics {
  readonly clockedOutings: number;
  /** Time of a plain mountain day (6 km and 700 m, up and down apart) over that of the prior: 1 is as the trade rule. */
  readonly upOfPrior: number;
  readonly downOfPrior: number;
  /** How many of the prior's standard deviations that is. */
  readonly upPriorSd: number;
  readonly downPriorSd: number;
  /** Width of the 80 % interval of that day over its middle. */
  readonly relativeWidth: number;
  /** The outing without which that day's time would change most, and by how much, as a share; `null` below two. */
  readonly strongestPull: { readonly date: string; readonly share: number } | null;
  /** Singular values of the outings' scaled quantities, largest over smallest; `null` where fewer than two quantities were walked. */
  readonly condition: number | null;
  /** Whether kilometres and metres can be told apart from these outings, not only from the prior. */
  readonly isWellConditioned: boolean;
  /** The training day that would narrow the doubt of that day most. */
  readonly sharpenBy: {
    readonly distanceM: number;
    readonly gainM: number;
    readonly narrowsBy: number;
    readonly kind: 'level' | 'steep' | 'long';
    /** What it takes by the trade rule, minutes. */
    readonly tradeMin: number;
  };
}

const UP: Quantities = { ...NO_WALK, upKm: 6, upM: 700 };
const DOWN: Quantities = { ...NO_WALK, downKm: 6, downM: 700 };
/** A plain mountain day, by which paces are compared. */
export const DAY: Quantities = { upKm: 6, upM: 700, downKm: 6, downM: 700 };

/** Days that a group could walk next (design). */
const CANDIDATES = [
  { distanceM: 12_000, gainM: 200, kind: 'level' },
  { distanceM: 6000, gainM: 700, kind: 'steep' },
  { distanceM: 12_000, gainM: 800, kind: 'long' },
] as const;

/** Beyond this the outings are too much alike to tell kilometres from metres (design). */
const ILL_CONDITIONED = 30;

function widthOf(model: PaceModel): number {
  const estimate = predictMoving(model, DAY);
  return (quantileMin(estimate, 0.9) - quantileMin(estimate, 0.1)) / estimate.meanMin;
}

/** A day as it would be recorded at the model's own pace. */
function imagined(model: PaceModel, distanceM: number, gainM: number): Outing {
  const up = { ...NO_WALK, upKm: distanceM / 2000, upM: gainM };
  const down = { ...NO_WALK, downKm: distanceM / 2000, downM: gainM };
  const parts = [up, down].map((quantities) => {
    return { quantities, movingMin: predictMoving(model, quantities).meanMin };
  });
  const day = handOuting({ date: '', distanceM, gainM });
  return { ...day, parts, climbElevationM: model.trainingElevationM };
}

export function paceDiagnostics(
  outings: readonly Outing[],
  design: Design,
  weightOf: (outing: Outing) => number = () => 1,
): PaceDiagnostics {
  const clocked = outings.filter((outing) => outing.parts.length > 0 && weightOf(outing) > 0);
  const model = fitPaceModel(clocked, design, weightOf);
  const prior = fitPaceModel([], design);
  const meanMin = (pace: PaceModel, walk: Quantities) => predictMoving(pace, walk).meanMin;
  const sdOfPrior = (walk: Quantities, ratio: number) => {
    const x = [walk.upKm, walk.upM, walk.downKm, walk.downM];
    const variance = prior.prior.covariance.reduce(
      (sum, row, i) => sum + row.reduce((all, value, j) => all + at(x, i) * at(x, j) * value, 0),
      0,
    );
    return ((ratio - 1) * meanMin(prior, walk)) / Math.sqrt(variance);
  };
  const upOfPrior = meanMin(model, UP) / meanMin(prior, UP);
  const downOfPrior = meanMin(model, DOWN) / meanMin(prior, DOWN);

  const full = meanMin(model, DAY);
  const pulls = clocked.map((outing) => {
    const without = fitPaceModel(
      clocked.filter((other) => other !== outing),
      design,
      weightOf,
    );
    return { date: outing.date, share: meanMin(without, DAY) / full - 1 };
  });
  const [strongest] = pulls.sort((a, b) => Math.abs(b.share) - Math.abs(a.share));

  const ways = [false, true].map((descending) => {
    const rows = clocked.flatMap(({ parts }) =>
      parts.flatMap(({ quantities: { upKm, upM, downKm, downM } }) => {
        // Scaled to the prior's minutes, so that kilometres and metres weigh alike.
        const km = (descending ? downKm : upKm) * at(prior.prior.mean, descending ? 2 : 0);
        const m = (descending ? downM : upM) * at(prior.prior.mean, descending ? 3 : 1);
        return km + m > 0 ? [[km / (km + m), m / (km + m)]] : [];
      }),
    );
    return rows.length < 2 ? null : conditionOf(rows);
  });
  const known = ways.filter((condition) => condition !== null);
  const condition = known.length === 0 ? null : Math.max(...known);

  const width = widthOf(model);
  const [best] = CANDIDATES.map(({ distanceM, gainM, kind }) => {
    const after = fitPaceModel([...clocked, imagined(model, distanceM, gainM)], design, (outing) =>
      outing.date === '' ? 1 : weightOf(outing),
    );
    return { distanceM, gainM, kind, narrowsBy: Math.max(0, 1 - widthOf(after) / width) };
  }).sort((a, b) => b.narrowsBy - a.narrowsBy);
  if (best === undefined) throw new RangeError('no candidate day');
  return {
    clockedOutings: model.outings,
    upOfPrior,
    downOfPrior,
    upPriorSd: sdOfPrior(UP, upOfPrior),
    downPriorSd: sdOfPrior(DOWN, downOfPrior),
    relativeWidth: width,
    strongestPull: clocked.length < 2 || strongest === undefined ? null : strongest,
    condition,
    isWellConditioned: condition !== null && known.length === 2 && condition <= ILL_CONDITIONED,
    sharpenBy: { ...best, tradeMin: tradeRuleMin(best.distanceM, best.gainM) },
  };
}
