import { at, last } from '../array.ts';
import type { ElevatedTrack } from '../terrain/elevated-track.ts';

/** A stretch of line whose heights are all known, at equal steps. */
export interface Run {
  /** Distance along the route, metres. */
  readonly distanceM: readonly number[];
  readonly lonDeg: readonly number[];
  readonly latDeg: readonly number[];
  readonly groundM: readonly number[];
  readonly leftM: readonly number[];
  readonly rightM: readonly number[];
  readonly timeMs: readonly (number | null)[];
  /** Distance between stations, metres. */
  readonly spacingM: number;
}

/** Values with every gap of at most `bridgeM` filled by a straight line; gaps at the ends stay. */
function bridged(
  values: readonly (number | null)[],
  distanceM: readonly number[],
  bridgeM: number,
): (number | null)[] {
  const filled = [...values];
  let before: number | null = null;
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i] ?? null;
    if (value === null) continue;
    if (before !== null && i > before + 1) {
      const from = at(distanceM, before);
      const length = at(distanceM, i) - from;
      const start = at(filled, before) ?? value;
      if (length <= bridgeM) {
        for (let k = before + 1; k < i; k += 1) {
          filled[k] = start + ((value - start) * (at(distanceM, k) - from)) / length;
        }
      }
    }
    before = i;
  }
  return filled;
}

/**
 * The stretches of an elevated track whose heights are known: voids up to `bridgeM` metres are bridged along the
 * line, longer ones and gaps of the file end a run. Sideways heights that are missing repeat the line's own.
 */
export function runsOf(elevated: ElevatedTrack, bridgeM: number): Run[] {
  const runs: Run[] = [];
  for (const segment of elevated.segments) {
    const ground = bridged(segment.groundM, segment.distanceM, bridgeM);
    let from = 0;
    while (from < ground.length) {
      if (ground[from] === null) {
        from += 1;
        continue;
      }
      let to = from;
      while (to + 1 < ground.length && ground[to + 1] !== null) to += 1;
      if (to > from) {
        const part = <T>(values: readonly T[]): T[] => values.slice(from, to + 1);
        const groundM = part(ground).filter((height) => height !== null);
        const orOwn = (side: readonly (number | null)[]) =>
          part(side).map((height, i) => height ?? at(groundM, i));
        const distanceM = part(segment.distanceM);
        runs.push({
          distanceM,
          lonDeg: part(segment.lonDeg),
          latDeg: part(segment.latDeg),
          groundM,
          leftM: orOwn(segment.leftM),
          rightM: orOwn(segment.rightM),
          timeMs: part(segment.timeMs),
          spacingM: (last(distanceM) - at(distanceM, 0)) / (to - from),
        });
      }
      from = to + 1;
    }
  }
  return runs;
}
