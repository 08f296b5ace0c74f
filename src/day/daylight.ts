import type { Design } from '../design.ts';
import { MS_PER_DAY, MS_PER_MIN } from '../units.ts';
import { backByMs } from './start.ts';
import type { Moment, Timeline } from './walk-day.ts';

export interface Daylight {
  /** Minutes walked outside civil twilight: for a middle day and for a late one. */
  readonly headlampMin: { readonly p50: number; readonly p90: number };
  /** The late end of the day comes within an hour (design) of dark, or after it. */
  readonly endsNearDark: boolean;
}

/**
 * Minutes by headlamp and whether the day ends near dark. Civil twilight counts as light enough to walk by; hills
 * around are not counted. Polar day and a night of twilight need no lamp; without twilight all of it is dark.
 */
export function daylightOf(timeline: Timeline, end: Moment, design: Design['daylight']): Daylight {
  const { startMs, civilDawnMs, civilDuskMs, polar } = timeline;
  const dark = (untilMs: number): number => {
    const walkedMs = Math.max(0, untilMs - startMs);
    if (civilDawnMs === null || civilDuskMs === null) return polar === 'night' ? walkedMs / MS_PER_MIN : 0;
    let lightMs = 0;
    // The light of the day before too: far north it may end after midnight. Day by day the same times are taken.
    for (let ms = -MS_PER_DAY; civilDawnMs + ms < untilMs; ms += MS_PER_DAY) {
      const from = Math.max(startMs, civilDawnMs + ms);
      // Where dusk comes after the next dawn, no light counts twice.
      const to = Math.min(untilMs, civilDuskMs + ms, civilDawnMs + ms + MS_PER_DAY);
      lightMs += Math.max(0, to - from);
    }
    return Math.max(0, walkedMs - lightMs) / MS_PER_MIN;
  };
  const latestMs = backByMs(timeline, design);
  const nearDark = latestMs === null ? polar === 'night' : end.p90Ms > latestMs;
  return { headlampMin: { p50: dark(end.p50Ms), p90: dark(end.p90Ms) }, endsNearDark: nearDark };
}
