import { type PaceModel, predictMoving, quantileMin } from '../capability/pace-model.ts';
import type { Design } from '../design.ts';
import { chanceOf } from './chance.ts';
import { CRITERION_NAMES } from './criterion.ts';
import { drawsOf } from './draws.ts';
import { NOT_YET } from './outcome.ts';
import { acceptability, type RankDraws, rankDraws, swapShare } from './rank-draws.ts';
import type { CohortRecord, Readiness } from './rank-routes.ts';
import { redrawnRoute, type Shift } from './redrawn.ts';
import type { RouteFigures } from './route-figures.ts';

/** How sure a whole list's order is. */
export interface OrderDoubt {
  readonly draws: number;
  /** Whether the first route is first in half of the draws or more; `null` where nothing in the list can be chosen yet. */
  readonly clearWinner: boolean | null;
  /** Places in the list, first and last, of routes whose order among themselves is within the doubt. */
  readonly level: readonly { readonly from: number; readonly to: number }[];
}

/** How sure a route's place is. `null` numbers: so far down that it was not drawn. */
export interface Standing {
  readonly firstShare: number | null;
  /** The places it takes in the middle nine tenths of the draws, widened to its own place. */
  readonly rankLow: number | null;
  readonly rankHigh: number | null;
  readonly order: OrderDoubt;
}

/** How sure each place of a ranked list is. */
export interface Standings {
  readonly order: OrderDoubt;
  /** Of the route at this place, from 1. */
  readonly at: (place: number) => Standing;
}

/** A plain mountain day, by which a pace's doubt is told as one share (design). */
const PLAIN_DAY = { upKm: 6, upM: 700, downKm: 6, downM: 700 };

const canBeChosen = ({ rank }: RouteFigures): boolean => rank <= NOT_YET;

/**
 * Weights around those of the settings, one row a draw: each times a log-normal factor of its own. A common factor would
 * change no order, so they need not sum to anything.
 */
function weightRows({ weights, acceptability: settings }: Design, draws: number): Float64Array {
  const { normal } = drawsOf(settings.seed, 'weights');
  const rows = new Float64Array(draws * CRITERION_NAMES.length);
  for (let at = 0; at < rows.length; ) {
    for (const name of CRITERION_NAMES) {
      rows[at] = weights[name] * Math.exp(settings.weightSpread * normal());
      at += 1;
    }
  }
  return rows;
}

/** One factor a draw on the group's times: the pace model's own distribution of a plain day, one slice of it a draw. */
function timeFactors(pace: PaceModel, seed: number, draws: number): Float64Array {
  const { uniform } = drawsOf(seed, 'pace');
  const day = predictMoving(pace, PLAIN_DAY);
  return Float64Array.from(
    { length: draws },
    (_, draw) => quantileMin(day, (draw + uniform()) / draws) / day.meanMin,
  );
}

/** One factor a draw on the route's gain: within its band, as often above its value as below. */
function gainFactors(
  { name, distanceM, lonDeg, latDeg, gainM: band }: RouteFigures,
  seed: number,
  draws: number,
): Float64Array {
  const { triangular } = drawsOf(seed, ['gain', name, distanceM, lonDeg, latDeg].join('/'));
  return Float64Array.from({ length: draws }, () => {
    const part = triangular();
    if (band === null || band.value <= 0) return 1;
    return 1 + (part * (part > 0 ? band.high - band.value : band.value - band.low)) / band.value;
  });
}

/** The ranks of the leading routes in every draw. */
function drawn(
  leading: readonly RouteFigures[],
  { cohort, start = null }: CohortRecord,
  { ageBand, pace }: Readiness,
  design: Design,
): RankDraws {
  const { seed, shownSpread } = design.acceptability;
  const draws = Math.floor(design.acceptability.draws);
  const weights = weightRows(design, draws);
  const times = timeFactors(pace, seed, draws);
  const { normal } = drawsOf(seed, 'shown');
  const showns = Float64Array.from({ length: draws }, () => Math.exp(shownSpread * normal()));
  const context = {
    ageBand,
    pace,
    isStartChosen: start !== null,
    aim: cohort.aim ?? 'comfort',
    design,
    chance: chanceOf(pace.posterior.degreesOfFreedom),
  } as const;
  const routes = leading.map((figures) => ({
    at: redrawnRoute(figures, context),
    gains: gainFactors(figures, seed, draws),
  }));
  const shift: Shift = { time: 1, shown: 1, gain: 1 };
  const logs = new Float64Array(CRITERION_NAMES.length);
  return rankDraws(leading.length, draws, (draw, classes, scores) => {
    shift.time = times[draw] ?? 1;
    shift.shown = showns[draw] ?? 1;
    const row = draw * logs.length;
    routes.forEach(({ at, gains }, which) => {
      shift.gain = gains[draw] ?? 1;
      classes[which] = at(shift, logs);
      // The logarithm of the weighted geometric mean, but for the sum of the weights, which all routes share.
      let score = 0;
      for (let i = 0; i < logs.length; i += 1) score += (weights[row + i] ?? 0) * (logs[i] ?? 0);
      scores[which] = score;
    });
  });
}

/**
 * Neighbours whose order changes in so many draws, each also against the first of its group, so that a group is no long
 * chain. Never across verdicts: a route that fits is not called level with a stretch (design, the cautious side).
 */
function levelGroups(
  leading: readonly RouteFigures[],
  draws: RankDraws,
  levelShare: number,
): OrderDoubt['level'] {
  const isLevel = (a: number, b: number) => swapShare(draws, a, b) >= levelShare;
  const groups: { from: number; to: number }[] = [];
  let first = 0;
  leading.forEach((figures, which) => {
    if (which === 0) return;
    const joins =
      canBeChosen(figures) &&
      figures.rank === leading[first]?.rank &&
      isLevel(which - 1, which) &&
      isLevel(first, which);
    if (!joins) {
      first = which;
      return;
    }
    const last = groups.at(-1);
    if (last !== undefined && last.from === first + 1) last.to = which + 1;
    else groups.push({ from: first + 1, to: which + 1 });
  });
  return groups;
}

/**
 * How sure the order of a ranked list is: rank acceptability (SMAA: Lahdelma, Hokkanen and Salminen 1998; sources.md §13)
 * over plausible weights and over the doubt in the group's pace, in what it has shown and in each route's gain. The
 * doubts and their spreads are design; every draw keeps the ranking's own margins, moved to where the draw lies.
 *
 * @param leading the first `acceptability.leading` of a ranked list, best first; the same list gives the same answer to
 *   the last digit
 */
export function standingsOf(
  leading: readonly RouteFigures[],
  record: CohortRecord,
  readiness: Readiness,
  design: Design,
): Standings {
  const { clearShare, levelShare } = design.acceptability;
  const draws = drawn(leading, record, readiness, design);
  const shares = leading.map((_, which) => acceptability(draws, which));
  const [first] = leading;
  const order: OrderDoubt = {
    draws: draws.draws,
    clearWinner:
      first === undefined || !canBeChosen(first) ? null : (shares[0]?.firstShare ?? 0) >= clearShare,
    level: levelGroups(leading, draws, levelShare),
  };
  const leadingPlaces = shares.map((share, which) => ({
    firstShare: share.firstShare,
    rankLow: Math.min(share.rankLow, which + 1),
    rankHigh: Math.max(share.rankHigh, which + 1),
    order,
  }));
  const behind: Standing = { firstShare: null, rankLow: null, rankHigh: null, order };
  return { order, at: (place) => leadingPlaces[place - 1] ?? behind };
}
