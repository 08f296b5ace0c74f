import { at, numberAt } from '../array.ts';
import { type PaceModel, predictMoving, quantileMin } from '../capability/pace-model.ts';
import type { Design } from '../design.ts';
import type { OrderCertainty, PlaceCertainty } from '../rank/certainty.ts';
import { CRITERIA } from '../rank/criteria/index.ts';
import { type Facts, factsOf } from '../rank/facts.ts';
import { newOutcome } from '../rank/outcome.ts';
import { type RankTable, tableOf } from '../rank/rank-table.ts';
import { rankFacts, type TableRanking } from '../rank/ranking.ts';
import type { FitRequest } from '../rank/readiness.ts';
import type { RouteRow } from '../rank/route-row.ts';
import { logOf } from '../rank/score.ts';
import { AS_RANKED } from '../rank/shift.ts';
import { NOT_YET } from '../rank/verdict.ts';
import { acceptability, placesIn, swapShare, type TrialPlaces } from './places.ts';
import { streamOf } from './random.ts';

/** How sure an order is: plain data, that a thread can send to another. */
export interface TriedOrder {
  readonly order: OrderCertainty;
  /** Of the leading routes, the first first. */
  readonly leading: readonly Omit<PlaceCertainty, 'order'>[];
}

/** How sure each place of a ranked list is. */
export interface ListCertainty {
  readonly order: OrderCertainty;
  /** Of the route at this place, from 1. */
  readonly at: (place: number) => PlaceCertainty;
}

/** How sure each place is, those behind the leading routes too. */
export function certaintyOf({ order, leading }: TriedOrder): ListCertainty {
  const places = leading.map((place): PlaceCertainty => ({ ...place, order }));
  const behind: PlaceCertainty = { firstShare: null, rankLow: null, rankHigh: null, order };
  return { order, at: (place) => places[place - 1] ?? behind };
}

/** A plain mountain day, by which a pace's doubt is told as one share (design). */
const PLAIN_DAY = { upKm: 6, upM: 700, downKm: 6, downM: 700 };

/**
 * Weights around those of the settings, criterion by criterion, one entry a trial: each times a log-normal factor of its
 * own. A common factor would change no order, so they need not sum to anything.
 */
function trialWeights({ weights, acceptability: settings }: Design, trials: number): Float64Array {
  const { normal } = streamOf(settings.seed, 'weights');
  const columns = new Float64Array(trials * CRITERIA.length);
  for (let trial = 0; trial < trials; trial += 1) {
    CRITERIA.forEach(({ name }, c) => {
      columns[c * trials + trial] = weights[name] * Math.exp(settings.weightSpread * normal());
    });
  }
  return columns;
}

/** One factor a trial on the group's times: the pace model's own distribution of a plain day, one slice of it a trial. */
function timeFactors(pace: PaceModel, seed: number, trials: number): Float64Array {
  const { uniform } = streamOf(seed, 'pace');
  const day = predictMoving(pace, PLAIN_DAY);
  return Float64Array.from(
    { length: trials },
    (_, trial) => quantileMin(day, (trial + uniform()) / trials) / day.meanMin,
  );
}

/** One factor a trial on what was shown. */
function shownFactors({ seed, shownSpread }: Design['acceptability'], trials: number): Float64Array {
  const { normal } = streamOf(seed, 'shown');
  return Float64Array.from({ length: trials }, () => Math.exp(shownSpread * normal()));
}

/** One factor a trial on a route's gain: within its band, as often above its value as below. */
function gainFactors({ columns, names }: RankTable, i: number, seed: number, trials: number): Float64Array {
  const factors = new Float64Array(trials).fill(1);
  const gainM = numberAt(columns.gainM, i);
  if (!(gainM > 0)) return factors;
  const own = [numberAt(columns.distanceM, i), numberAt(columns.lonDeg, i), numberAt(columns.latDeg, i)];
  streamOf(seed, ['gain', at(names, i), ...own].join('/')).triangulars(factors);
  const [below, above] = [gainM - numberAt(columns.gainLowM, i), numberAt(columns.gainHighM, i) - gainM];
  return factors.map((part) => 1 + (part * (part > 0 ? above : below)) / gainM);
}

/** A route's verdict in a trial: what is ruled out or incomplete stays so, and a slower trial alone rules nothing out. */
export const trialVerdict = (own: number, tried: number): number =>
  own > NOT_YET ? own : Math.min(tried, NOT_YET);

/** The places of some routes of a table in every trial: judged by the same criteria from shifted facts. */
function trialPlaces(facts: Facts, leading: ArrayLike<number>, verdicts: Uint8Array): TrialPlaces {
  const { design } = facts.request;
  const { seed } = design.acceptability;
  const trials = Math.floor(design.acceptability.draws);
  const weights = trialWeights(design, trials);
  const times = timeFactors(facts.readiness.pace, seed, trials);
  const showns = shownFactors(design.acceptability, trials);
  const gains = Array.from(leading, (i) => gainFactors(facts.table, i, seed, trials));
  const ranks = new Uint8Array(leading.length * trials);
  const scores = new Float64Array(leading.length * trials);
  const shift = { ...AS_RANKED };
  const out = newOutcome();
  CRITERIA.forEach(({ over, isShifted }, c) => {
    const judge = over(facts);
    for (let which = 0; which < leading.length; which += 1) {
      const i = at(leading, which);
      const gain = at(gains, which);
      judge(i, AS_RANKED, out);
      for (let trial = 0, place = which * trials; trial < trials; trial += 1, place += 1) {
        if (isShifted) {
          shift.time = numberAt(times, trial);
          shift.shown = numberAt(showns, trial);
          shift.gain = numberAt(gain, trial);
          judge(i, shift, out);
        }
        if (out.rank > at(ranks, place)) ranks[place] = out.rank;
        // The weighted geometric mean, but for the sum of the weights, which all routes share.
        scores[place] = numberAt(scores, place) + numberAt(weights, c * trials + trial) * logOf(out.value);
      }
    }
  });
  const classes = ranks.map((rank, place) =>
    trialVerdict(at(verdicts, at(leading, Math.floor(place / trials))), rank),
  );
  return placesIn(leading.length, trials, classes, scores);
}

/**
 * Neighbours whose order changes in so many trials, each also against the first of its group, so that a group is no long
 * chain. Never across verdicts: a route that fits is not called level with a stretch (design, the cautious side).
 */
function levelGroups(
  verdicts: readonly number[],
  trials: TrialPlaces,
  levelShare: number,
): OrderCertainty['level'] {
  const isLevel = (a: number, b: number) => swapShare(trials, a, b) >= levelShare;
  const groups: { from: number; to: number }[] = [];
  let first = 0;
  for (let which = 1; which < verdicts.length; which += 1) {
    const isSame = at(verdicts, which) === at(verdicts, first);
    if (!isSame || !isLevel(which - 1, which) || !isLevel(first, which)) {
      first = which;
      continue;
    }
    const group = groups.at(-1);
    if (group !== undefined && group.from === first + 1) group.to = which + 1;
    else groups.push({ from: first + 1, to: which + 1 });
  }
  return groups;
}

/**
 * How sure the order of some routes is: rank acceptability (SMAA: Lahdelma, Hokkanen and Salminen 1998; sources.md §13)
 * over plausible weights and over the doubt in the group's pace, in what it has shown and in each route's gain. The
 * doubts and their spreads are design; every trial keeps the ranking's own margins, moved to where the trial lies.
 *
 * @param leading places in the table, the first first; the same routes give the same answer to the last digit
 */
export function tryOrder(facts: Facts, leading: ArrayLike<number>, verdicts: Uint8Array): TriedOrder {
  const { clearShare, levelShare } = facts.request.design.acceptability;
  const trials = trialPlaces(facts, leading, verdicts);
  const shares = Array.from(leading, (_, which) => acceptability(trials, which));
  const [first] = shares;
  const own = Array.from(leading, (i) => at(verdicts, i));
  return {
    order: {
      trials: trials.trials,
      clearWinner: first === undefined ? null : first.firstShare >= clearShare,
      level: levelGroups(own, trials, levelShare),
    },
    leading: shares.map((share, which) => ({
      firstShare: share.firstShare,
      rankLow: Math.min(share.rankLow, which + 1),
      rankHigh: Math.max(share.rankHigh, which + 1),
    })),
  };
}

/**
 * The routes that are tried, the first first: the leading ones, of those that can be chosen or worked up to. What is
 * incomplete or ruled out stands behind them in every trial.
 */
const leadingOf = ({ order, verdicts }: TableRanking, { acceptability: settings }: Design) =>
  order.subarray(0, Math.floor(settings.leading)).filter((i) => at(verdicts, i) <= NOT_YET);

/** How sure the order of a ranked table is. */
export const rankCertainty = (facts: Facts, ranking: TableRanking): ListCertainty =>
  certaintyOf(tryOrder(facts, leadingOf(ranking, facts.request.design), ranking.verdicts));

/** The same question as plain data, for a thread: the leading routes of a ranked table, the first first, and who asks. */
export interface CertaintyQuestion {
  readonly leading: readonly RouteRow[];
  readonly request: FitRequest;
}

export const certaintyQuestion = (
  { rows }: RankTable,
  ranking: TableRanking,
  request: FitRequest,
): CertaintyQuestion => ({
  leading: Array.from(leadingOf(ranking, request.design), (i) => at(rows, i)),
  request,
});

/** Answers it; the answer is that of `rankCertainty`. */
export function tryQuestion({ leading, request }: CertaintyQuestion): TriedOrder {
  const facts = factsOf(tableOf(leading), request);
  return tryOrder(facts, Array.from(leading.keys()), rankFacts(facts).verdicts);
}
