/**
 * Indexes of a profile's turning points: first, last, and each high or low from which the line later moves
 * at least `thresholdM` the other way. The full height of a climb counts once it counts at all, so that a
 * reading does not lose the threshold at the end of each climb. Reversing the profile reverses the result
 * but for flat ties.
 *
 * @param heightsM heights in metres, none missing
 * @param thresholdM least height of a reversal, metres
 * @example turningPoints([100, 103, 101, 110], 5) // [0, 3]
 */
export function turningPoints(heightsM: readonly number[], thresholdM: number): number[] {
  const first = heightsM[0];
  if (first === undefined) return [];
  const found = [0];
  let low = first;
  let lowAt = 0;
  let high = first;
  let highAt = 0;
  let direction = 0;
  for (let i = 1; i < heightsM.length; i += 1) {
    const height = heightsM[i] ?? first;
    if (direction >= 0 && height > high) {
      high = height;
      highAt = i;
    }
    if (direction <= 0 && height < low) {
      low = height;
      lowAt = i;
    }
    if (direction >= 0 && high - height >= thresholdM) {
      if (highAt > 0) found.push(highAt);
      direction = -1;
      low = height;
      lowAt = i;
    } else if (direction <= 0 && height - low >= thresholdM) {
      if (lowAt > 0) found.push(lowAt);
      direction = 1;
      high = height;
      highAt = i;
    }
  }
  const last = heightsM.length - 1;
  // The extreme reached after the last counted reversal is a turning point too, unless it is the end.
  const tail = direction >= 0 && direction !== 0 ? highAt : direction < 0 ? lowAt : 0;
  if (tail > (found.at(-1) ?? 0) && tail < last) found.push(tail);
  if (last > 0) found.push(last);
  return found;
}
