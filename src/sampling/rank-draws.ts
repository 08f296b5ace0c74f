/** Steps of a score between the best and the worst of a draw: what lies in one step is put in order one by one. */
const STEPS = 256;

/** The place of each alternative in each draw. */
export interface RankDraws {
  readonly alternatives: number;
  readonly draws: number;
  /** Places from 1, draw by draw for the first alternative, then for the second, and so on. */
  readonly places: Uint16Array;
}

/**
 * Ranks the alternatives in every draw: by class (0 to 255, lower is better), then by score (higher is better); what is
 * equal keeps the order given. Both are draw by draw for the first alternative, then for the second, and so on.
 */
export function rankDraws(
  alternatives: number,
  draws: number,
  classes: Uint8Array,
  scores: Float64Array,
): RankDraws {
  const places = new Uint16Array(alternatives * draws);
  const own = new Float64Array(alternatives);
  // Signed: as array places these are quicker.
  const steps = new Int32Array(alternatives);
  const order = new Int32Array(alternatives);
  let last = 0;
  for (let at = 0; at < classes.length; at += 1) last = Math.max(last, classes[at] ?? 0);
  const from = new Int32Array(STEPS * (1 + last));
  for (let draw = 0; draw < draws; draw += 1) {
    let best = Number.NEGATIVE_INFINITY;
    let worst = Number.POSITIVE_INFINITY;
    for (let i = 0, at = draw; i < alternatives; i += 1, at += draws) {
      const score = scores[at] ?? 0;
      own[i] = score;
      if (score > best) best = score;
      if (score < worst) worst = score;
    }
    // Steps first, counted and summed, so that nearly all comparing is spared.
    const perStep = best > worst ? (STEPS - 1) / (best - worst) : 0;
    from.fill(0);
    for (let i = 0, at = draw; i < alternatives; i += 1, at += draws) {
      // Storing it rounds it down.
      steps[i] = (classes[at] ?? 0) * STEPS + (best - (own[i] ?? 0)) * perStep;
      const step = steps[i] ?? 0;
      from[step] = (from[step] ?? 0) + 1;
    }
    let before = 0;
    for (let step = 0; step < from.length; step += 1) {
      const count = from[step] ?? 0;
      from[step] = before;
      before += count;
    }
    for (let i = 0; i < alternatives; i += 1) {
      const step = steps[i] ?? 0;
      const place = from[step] ?? 0;
      order[place] = i;
      from[step] = place + 1;
    }
    for (let place = 1; place < alternatives; place += 1) {
      const which = order[place] ?? 0;
      const step = steps[which] ?? 0;
      const score = own[which] ?? 0;
      let to = place;
      for (; to > 0; to -= 1) {
        const other = order[to - 1] ?? 0;
        if (steps[other] !== step || (own[other] ?? 0) >= score) break;
        order[to] = other;
      }
      order[to] = which;
    }
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
