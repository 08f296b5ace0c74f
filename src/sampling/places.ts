import { at, numberAt } from '../array.ts';

/** The place of each alternative in each trial. */
export interface TrialPlaces {
  readonly alternatives: number;
  readonly trials: number;
  /** Places from 1, trial by trial for the first alternative, then for the second, and so on. */
  readonly places: Uint16Array;
}

/**
 * Ranks the alternatives in every trial: by class (lower is better), then by score (higher is better); what is equal
 * keeps the order given. Both are trial by trial for the first alternative, then for the second, and so on.
 */
export function placesIn(
  alternatives: number,
  trials: number,
  classes: Uint8Array,
  scores: Float64Array,
): TrialPlaces {
  const places = new Uint16Array(alternatives * trials);
  const order = Array.from({ length: alternatives }, (_, which) => which);
  for (let trial = 0; trial < trials; trial += 1) {
    order.sort((a, b) => {
      const [placeA, placeB] = [a * trials + trial, b * trials + trial];
      return (
        at(classes, placeA) - at(classes, placeB) ||
        numberAt(scores, placeB) - numberAt(scores, placeA) ||
        a - b
      );
    });
    order.forEach((which, index) => {
      places[which * trials + trial] = index + 1;
    });
  }
  return { alternatives, trials, places };
}

/** The share of trials in which an alternative is first, and the places it takes in the middle nine tenths of them. */
export function acceptability(
  { trials, places }: TrialPlaces,
  which: number,
): { readonly firstShare: number; readonly rankLow: number; readonly rankHigh: number } {
  const own = places.slice(which * trials, (which + 1) * trials).sort();
  // One trial in twenty is left out at either end.
  const leftOut = Math.floor(trials / 20);
  const firsts = own.findIndex((place) => place > 1);
  return {
    firstShare: (firsts < 0 ? trials : firsts) / trials,
    rankLow: at(own, leftOut),
    rankHigh: at(own, trials - 1 - leftOut),
  };
}

/** Share of the trials in which the second alternative comes before the first. */
export function swapShare({ trials, places }: TrialPlaces, first: number, second: number): number {
  let swaps = 0;
  for (let trial = 0; trial < trials; trial += 1) {
    if (at(places, second * trials + trial) < at(places, first * trials + trial)) swaps += 1;
  }
  return swaps / trials;
}
