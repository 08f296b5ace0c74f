import { LRUCache } from 'lru-cache';
import { type PaceModel, predictMoving, quantileMin } from '../capability/pace-model.ts';
import type { Design } from '../design.ts';
import type { OrderCertainty, PlaceCertainty } from '../rank/certainty.ts';
import { CRITERION_NAMES } from '../rank/criterion.ts';
import type { CohortRecord, Readiness } from '../rank/readiness.ts';
import { drawsOf } from './draws.ts';
import { acceptability, type RankDraws, rankDraws, swapShare } from './rank-draws.ts';
import {
  type DrawnGroup,
  type Factors,
  factorsOf,
  newRedrawn,
  type Redrawn,
  redraw,
  redrawContextOf,
} from './redrawn.ts';
import type { RouteFigures } from './route-figures.ts';

/** How sure each place of a ranked list is. */
export interface ListCertainty {
  readonly order: OrderCertainty;
  /** Of the route at this place, from 1. */
  readonly at: (place: number) => PlaceCertainty;
}

/** How sure an order is, as it is drawn: plain data, that a thread can send to another. */
export interface DrawnOrder {
  readonly order: OrderCertainty;
  /** Of the leading routes, the first first. */
  readonly leading: readonly Omit<PlaceCertainty, 'order'>[];
}

export const drawnGroup = (
  { cohort, start = null }: CohortRecord,
  { ageBand, pace }: Readiness,
): DrawnGroup => ({ ageBand, pace, isStartChosen: start !== null, aim: cohort.aim ?? 'comfort' });

/** A plain mountain day, by which a pace's doubt is told as one share (design). */
const PLAIN_DAY = { upKm: 6, upM: 700, downKm: 6, downM: 700 };

/**
 * Weights around those of the settings, criterion by criterion, one entry a draw: each times a log-normal factor of its
 * own. A common factor would change no order, so they need not sum to anything.
 */
function weightColumns({ weights, acceptability: settings }: Design, draws: number): Float64Array {
  const { normal } = drawsOf(settings.seed, 'weights');
  const columns = new Float64Array(draws * CRITERION_NAMES.length);
  for (let draw = 0; draw < draws; draw += 1) {
    CRITERION_NAMES.forEach((name, criterion) => {
      columns[criterion * draws + draw] = weights[name] * Math.exp(settings.weightSpread * normal());
    });
  }
  return columns;
}

/** One factor a draw on the group's times: the pace model's own distribution of a plain day, one slice of it a draw. */
function timeFactors(pace: PaceModel, seed: number, draws: number): Factors {
  const { uniform } = drawsOf(seed, 'pace');
  const day = predictMoving(pace, PLAIN_DAY);
  const factors = new Float64Array(draws);
  for (let draw = 0; draw < draws; draw += 1)
    factors[draw] = quantileMin(day, (draw + uniform()) / draws) / day.meanMin;
  return factorsOf(factors);
}

/** Factors kept, bytes (design): those of 2,000 routes at 1,000 draws each. They depend on route and seed alone. */
const KEPT_BYTES = 16 * 1024 * 1024;
const knownGains = new LRUCache<string, Factors>({
  maxSize: KEPT_BYTES,
  sizeCalculation: ({ each: { byteLength } }) => Math.max(1, byteLength),
});

/** One factor a draw on the route's gain: within its band, as often above its value as below. */
function gainFactors(
  { name, distanceM, lonDeg, latDeg, gainM: band }: RouteFigures,
  seed: number,
  draws: number,
): Factors {
  const stream = ['gain', name, distanceM, lonDeg, latDeg].join('/');
  const key = [seed, draws, band?.value, band?.low, band?.high, stream].join(' ');
  const known = knownGains.get(key);
  if (known !== undefined) return known;
  const factors = new Float64Array(draws).fill(1);
  if (band !== null && band.value > 0) {
    drawsOf(seed, stream).triangulars(factors);
    const { value, low, high } = band;
    for (let draw = 0; draw < draws; draw += 1) {
      const part = factors[draw] ?? 0;
      factors[draw] = 1 + (part * (part > 0 ? high - value : value - low)) / value;
    }
  }
  const made = factorsOf(factors);
  knownGains.set(key, made);
  return made;
}

/** Adds up the logarithms by weight: that of the weighted geometric mean, but for the sum of the weights, which all routes share. */
function scoreDraws({ fixedLogs, logs }: Redrawn, weights: Float64Array, scores: Float64Array): void {
  const draws = scores.length;
  scores.fill(0);
  for (let criterion = 0; criterion < logs.length; criterion += 1) {
    const fixed = fixedLogs[criterion] ?? 0;
    if (fixed === 0) continue;
    const weight = weights.subarray(criterion * draws, (criterion + 1) * draws);
    const moved = logs[criterion];
    if (!Number.isNaN(fixed) || moved === undefined) {
      for (let draw = 0; draw < draws; draw += 1)
        scores[draw] = (scores[draw] ?? 0) + (weight[draw] ?? 0) * fixed;
    } else {
      for (let draw = 0; draw < draws; draw += 1)
        scores[draw] = (scores[draw] ?? 0) + (weight[draw] ?? 0) * (moved[draw] ?? 0);
    }
  }
}

interface SharedDraws {
  /** As `weightColumns`. */
  readonly weights: Float64Array;
  /** One factor a draw on what was shown. */
  readonly shown: Factors;
}

/** Settings whose draws are kept (design): 100 kB each at 1,000 draws. */
const knownShared = new LRUCache<string, SharedDraws>({ max: 16 });

/** What is drawn for every list alike, whatever the cohort. */
function sharedDraws(design: Design, draws: number): SharedDraws {
  const { weights, acceptability: settings } = design;
  const key = JSON.stringify([weights, settings]);
  const known = knownShared.get(key);
  if (known !== undefined) return known;
  const { normal } = drawsOf(settings.seed, 'shown');
  const made = {
    weights: weightColumns(design, draws),
    shown: factorsOf(Float64Array.from({ length: draws }, () => Math.exp(settings.shownSpread * normal()))),
  };
  knownShared.set(key, made);
  return made;
}

/** The ranks of the leading routes in every draw. */
function drawn(leading: readonly RouteFigures[], group: DrawnGroup, design: Design): RankDraws {
  const { seed } = design.acceptability;
  const draws = Math.floor(design.acceptability.draws);
  const { weights, shown } = sharedDraws(design, draws);
  const time = timeFactors(group.pace, seed, draws);
  const context = redrawContextOf(group, design);
  const route = newRedrawn(draws);
  const classes = new Uint8Array(leading.length * draws);
  const scores = new Float64Array(leading.length * draws);
  leading.forEach((figures, which) => {
    redraw(figures, { time, shown, gain: gainFactors(figures, seed, draws) }, context, route);
    classes.set(route.ranks, which * draws);
    scoreDraws(route, weights, scores.subarray(which * draws, (which + 1) * draws));
  });
  return rankDraws(leading.length, draws, classes, scores);
}

/**
 * Neighbours whose order changes in so many draws, each also against the first of its group, so that a group is no long
 * chain. Never across verdicts: a route that fits is not called level with a stretch (design, the cautious side).
 */
function levelGroups(
  leading: readonly RouteFigures[],
  draws: RankDraws,
  levelShare: number,
): OrderCertainty['level'] {
  const isLevel = (a: number, b: number) => swapShare(draws, a, b) >= levelShare;
  const groups: { from: number; to: number }[] = [];
  let first = 0;
  leading.forEach((figures, which) => {
    if (which === 0) return;
    const joins = figures.rank === leading[first]?.rank && isLevel(which - 1, which) && isLevel(first, which);
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
 * @param leading as `leadingOf` gives them; the same list gives the same answer to the last digit
 */
export function drawOrder(leading: readonly RouteFigures[], group: DrawnGroup, design: Design): DrawnOrder {
  const { clearShare, levelShare } = design.acceptability;
  const draws = drawn(leading, group, design);
  const shares = leading.map((_, which) => acceptability(draws, which));
  const [first] = shares;
  return {
    order: {
      trials: draws.draws,
      clearWinner: first === undefined ? null : first.firstShare >= clearShare,
      level: levelGroups(leading, draws, levelShare),
    },
    leading: shares.map((share, which) => ({
      firstShare: share.firstShare,
      rankLow: Math.min(share.rankLow, which + 1),
      rankHigh: Math.max(share.rankHigh, which + 1),
    })),
  };
}

/** How sure each place is, those behind the leading routes too. */
export function certaintyOf({ order, leading }: DrawnOrder): ListCertainty {
  const places = leading.map((place): PlaceCertainty => ({ ...place, order }));
  const behind: PlaceCertainty = { firstShare: null, rankLow: null, rankHigh: null, order };
  return { order, at: (place) => places[place - 1] ?? behind };
}
