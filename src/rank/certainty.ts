/** How sure a whole list's order is. */
export interface OrderCertainty {
  readonly trials: number;
  /** Whether the first route is first in half of the trials or more; `null` where nothing in the list can be chosen yet. */
  readonly clearWinner: boolean | null;
  /** Places in the list, first and last, of routes whose order among themselves is within the doubt. */
  readonly level: readonly { readonly from: number; readonly to: number }[];
}

/** How sure a route's place is. `null` numbers: not tried, as it is incomplete, ruled out or far down. */
export interface PlaceCertainty {
  readonly firstShare: number | null;
  /** The places it takes in the middle nine tenths of the trials, widened to its own place. */
  readonly rankLow: number | null;
  readonly rankHigh: number | null;
  readonly order: OrderCertainty;
}
