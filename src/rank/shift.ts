/** What a trial changes, as factors on what the ranking uses. */
export interface Shift {
  /** On every time of the group. */
  time: number;
  /** On what was shown of distance, gain and work. */
  shown: number;
  /** On the route's gain, with its upper end. */
  gain: number;
}

/** The ranking itself. */
export const AS_RANKED: Shift = { time: 1, shown: 1, gain: 1 };
