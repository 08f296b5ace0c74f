import { packedSort } from './packed-sort.ts';

/** Puts one draw's verdict classes (lower is better) and scores (higher is better) in place, one for each alternative. */
export type FillDraw = (draw: number, classes: Uint8Array, scores: Float64Array) => void;

/** The place of each alternative in each draw. */
export interface RankDraws {
  readonly alternatives: number;
  readonly draws: number;
  /** Places from 1, draw by draw for the first alternative, then for the second, and so on. */
  readonly places: Uint16Array;
}

/** Ranks the alternatives in every draw: by class, then by score; what is equal keeps the order given. */
export function rankDraws(alternatives: number, draws: number, fill: FillDraw): RankDraws {
  const classes = new Uint8Array(alternatives);
  const scores = new Float64Array(alternatives);
  const places = new Uint16Array(alternatives * draws);
  const order = new Uint32Array(alternatives);
  const behind = new Float64Array(alternatives);
  const sort = packedSort(alternatives);
  const compare = (i: number, j: number): number =>
    (classes[i] ?? 0) - (classes[j] ?? 0) || (scores[j] ?? 0) - (scores[i] ?? 0) || i - j;
  for (let draw = 0; draw < draws; draw += 1) {
    fill(draw, classes, scores);
    let best = Number.NEGATIVE_INFINITY;
    let worst = Number.POSITIVE_INFINITY;
    for (let i = 0; i < alternatives; i += 1) {
      const score = scores[i] ?? 0;
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
  { draws, places }: RankDraws,
  which: number,
): { readonly firstShare: number; readonly rankLow: number; readonly rankHigh: number } {
  const own = places.slice(which * draws, (which + 1) * draws).sort();
  const upTo = own.findIndex((place) => place > 1);
  // One draw in twenty is left out at either end.
  const leftOut = Math.floor(draws / 20);
  return {
    firstShare: (upTo === -1 ? draws : upTo) / draws,
    rankLow: own[leftOut] ?? 1,
    rankHigh: own[draws - 1 - leftOut] ?? 1,
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
