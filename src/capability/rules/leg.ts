/**
 * One whole leg: all up, all down or level, from where the way turns up or down to where it next does.
 * Lengths are positive; `horizontalM` is measured on the map.
 */
export interface Leg {
  readonly horizontalM: number;
  readonly climbM: number;
  readonly dropM: number;
}

/** Moving time over the legs, minutes, without stops. Every leg counts, the last one too. */
export type HikingRule = (legs: readonly Leg[]) => number;

/**
 * The leg as its climbing and its descending part. Whole legs come back as they are; one that holds both shares
 * its length in proportion to the metres up and down (design), so that neither is hidden in the mean slope.
 */
export function monotoneParts(leg: Leg): readonly Leg[] {
  const { horizontalM, climbM, dropM } = leg;
  if (climbM === 0 || dropM === 0) return [leg];
  const heightM = climbM + dropM;
  return [
    { horizontalM: (horizontalM * climbM) / heightM, climbM, dropM: 0 },
    { horizontalM: (horizontalM * dropM) / heightM, climbM: 0, dropM },
  ];
}

/** Rise over run of a whole leg, negative downhill; ±Infinity where it goes straight up or down, 0 for no leg at all. */
export function slopeRatio(leg: Leg): number {
  const riseM = leg.climbM - leg.dropM;
  return riseM === 0 ? 0 : riseM / leg.horizontalM;
}

/** A rule of one whole leg, summed over the parts of all legs. */
export function summed(minutesOfPart: (part: Leg) => number): HikingRule {
  return (legs) => legs.flatMap(monotoneParts).reduce((sumMin, part) => sumMin + minutesOfPart(part), 0);
}
