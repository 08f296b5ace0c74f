import { at } from '../array.ts';
import type { Design } from '../design.ts';
import { OFFSET_M } from '../terrain/elevated-track.ts';
import type { Run } from './runs.ts';

/** What the error of the line does to its heights. Metres, standard deviations. */
export interface HeightNoise {
  /** Sideways error of the line. */
  readonly lineErrorM: number;
  /** What that error makes of the heights, over the whole line. */
  readonly heightM: number;
}

/**
 * The noise that a line's sideways error puts on its heights. A trail is built to an even grade; a line that wanders
 * left and right of it across a bank goes up and down with the bank. So the second difference of the heights from
 * station to station, set against the slope across the line (least squares through 0), is the sideways error: on
 * invented trails 3 to 4 m for one of 4.5 m, and 10 m for one of 10.5 m. Slow errors do not show, hence a least value;
 * ground that is rough itself looks like error, hence a most.
 */
export function heightNoise(runs: readonly Run[], design: Design['gain']['lineError']): HeightNoise {
  let sumM2 = 0;
  let weight = 0;
  let across2 = 0;
  let count = 0;
  for (const { groundM, leftM, rightM } of runs) {
    for (let i = 1; i + 1 < groundM.length; i += 1) {
      const across = (at(leftM, i) - at(rightM, i)) / (2 * OFFSET_M);
      const bend = at(groundM, i - 1) - 2 * at(groundM, i) + at(groundM, i + 1);
      sumM2 += (bend * across) ** 2;
      weight += across ** 4;
      across2 += across * across;
      count += 1;
    }
  }
  const foundM = weight > 0 ? Math.sqrt(sumM2 / weight) : 0;
  const lineErrorM = Math.min(design.mostM, Math.max(design.leastM, foundM));
  return { lineErrorM, heightM: count > 0 ? lineErrorM * Math.sqrt(across2 / count) : 0 };
}
