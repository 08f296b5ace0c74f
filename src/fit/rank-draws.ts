import { packedSort } from './packed-sort.ts';

/** The place of each alternative in each draw. */
export interface RankDraws {
  readonly alternatives: number;
  readonly draws: number;
  /** Places from 1, draw by draw for the first alternative, then for the second, and so on. */
  readonly places: Uint16Array;
}

/**
 * Ranks the alternatives in every draw: by class (lower is better), then by score (higher is better); what is equal
 * keeps the order given. Both are draw by draw for the first alternative, then for the second, and so on.
 */
export function rankDraws(
  alternatives: number,
  draws: number,
  allClasses: Uint8Array,
  allScores: Float64Array,
): RankDraws {
  const classes = new Uint8Array(alternatives);
  const scores = new Float64Array(alternatives);
  const places = new Uint16Array(alternatives * draws);
  const order = new Uint32Array(alternatives);
  const behind = new Float64Array(alternatives);
  const sort = packedSort(alternatives);
  const compare = (i: number, j: number): number =>
    (classes[i] ?? 0) - (classes[j] ?? 0) || (scores[j] ?? 0) - (scores[i] ?? 0) || i - j;
  for (let draw = 0; draw < draws; draw += 1) {
    let best = Number.NEGATIVE_INFINITY;
    let worst = Number.POSITIVE_INFINITY;
    for (let i = 0, at = draw; i < alternatives; i += 1, at += draws) {
      const score = allScores[at] ?? 0;
      scores[i] = score;
      classes[i] = allClasses[at] ?? 0;
      if (score > best) best = score;
      if (score < worst) worst = score;
    }
    const span = best > worst ? best - worst : 1;
    for (let i = 0; i < alternatives; i += 1) behind[i] = (best - (scores[i] ?? 0)) / span;
    sort(classes, behind, compare, order);
    for (let place = 0; place < alternatives; place += 1) {
      places[(order[place] ?? 0) * draws + draw] = place + 1;
    }
  }
  return { alternatives, draws, places };
}

/**
 * Rank acceptability of one alternative: its share of first places, and the places that it takes in the middle 90 % of
 * the draws (Lahdelma, Hokkanen and Salminen 1998; sources.md §13).
 */
export function acceptability(
  { alternatives, draws, places }: RankDraws,
  which: number,
): { readonly firstShare: number; readonly rankLow: number; readonly rankHigh: number } {
  const counts = new Uint32Array(alternatives + 1);
  for (let at = which * draws; at < (which + 1) * draws; at += 1)
    counts[places[at] ?? 0] = (counts[places[at] ?? 0] ?? 0) + 1;
  /** The place at which so many draws are passed. */
  const placeAfter = (passed: number): number => {
    let place = 0;
    for (let sum = 0; place < alternatives && sum <= passed; ) {
      place += 1;
      sum += counts[place] ?? 0;
    }
    return Math.max(1, place);
  };
  // One draw in twenty is left out at either end.
  const leftOut = Math.floor(draws / 20);
  return {
    firstShare: (counts[1] ?? 0) / draws,
    rankLow: placeAfter(leftOut),
    rankHigh: placeAfter(draws - 1 - leftOut),
  };
}

/** Share of the draws in which the second alternative comes before the first. */
export function swapShare({ draws, places }: RankDraws, first: number, second: number): number {
  let swaps = 0;
  for (let draw = 0; draw < draws; draw += 1) {
    if ((places[second * draws + draw] ?? 0) < (places[first * draws + draw] ?? 0)) swaps += 1;
  }
  return swaps / draws;
}
