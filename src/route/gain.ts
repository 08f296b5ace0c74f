import { at, last } from '../array.ts';
import type { Design } from '../design.ts';
import { STATION_SPACING_M } from '../terrain/elevated-track.ts';
import { demErrorM, shortDemError } from './dem-error.ts';
import type { HeightNoise } from './height-noise.ts';
import { madeUpClimbM } from './made-up-climb.ts';
import type { Run } from './runs.ts';
import { always, type Climb, climbOf, type Reversal, traceOf } from './trace.ts';

/** An estimate with its doubt, metres: the true value is believed to lie between `low` and `high`. */
export interface Band {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** How a climb was computed, metres: heights so far apart, levelled over a window, legs from a turning point on. */
export interface GainMethod {
  readonly spacingM: number;
  readonly windowM: number;
  readonly turningPointM: number;
}

const Z90 = 1.645; // two-sided 90 % of a normal error

/** A reversal that is in doubt is about so long, metres (design). */
const DOUBT_REACH_M = 100;

/** What the errors of tile and line make of one height of a reversal, as far as the other one does not share them: metres, a standard deviation. */
function noiseM(postingM: number, noise: HeightNoise): number {
  const { spreadM, waveM } = shortDemError(postingM);
  // Without tiles there are no postings, and nothing to count.
  const share = waveM > 0 ? Math.sin((Math.PI * Math.min(DOUBT_REACH_M, waveM / 2)) / waveM) : 0;
  return Math.hypot(noise.heightM, spreadM * share);
}

/** What makes a reversal count: that it stands well above what the errors of tile and line make. */
export function reversal(postingM: number, noise: HeightNoise, design: Design['gain']): Reversal {
  const leastM = design.turningPointM;
  const errorM = noiseM(postingM, noise);
  const { allBelowM, noneAboveM } = design.restored;
  return {
    leastM,
    clearM: Math.max(leastM, design.noiseMultiples.value * errorM),
    restored: Math.min(1, Math.max(0, (noneAboveM - errorM) / (noneAboveM - allBelowM))),
  };
}

/**
 * Height gained and lost along the runs of a route as bands, metres: heights every 20 m, a distance window, then
 * turning points. The band spans a little and a heavily smoothed reading of the line and of its neighbours to the left
 * and right, less what noise makes up on level ground, widened by the errors of tiles and line at the turning points.
 *
 * @param postingM posting distance of the coarsest tile that was used, metres
 * @param noise what the line's error makes of the heights
 */
export function gainAndLoss(
  runs: readonly Run[],
  postingM: number,
  noise: HeightNoise,
  design: Design['gain'],
) {
  const { windowM, bandHigh, bandLow, noiseMultiples } = design;
  const counted = reversal(postingM, noise, design);
  const total = (heights: (run: Run) => readonly number[], window: number, counts: Reversal): Climb =>
    climbOf(runs.map((run) => traceOf(heights(run), run.spacingM, window, counts)));
  const lines = [(run: Run) => run.groundM, (run: Run) => run.leftM, (run: Run) => run.rightM];
  const value = total((run) => run.groundM, windowM, counted);
  const roughM = always(Math.max(bandHigh.turningPointM, noiseMultiples.high * noise.heightM));
  const calmM = always(Math.max(counted.clearM, bandLow.turningPointM));
  const rough = lines.map((line) => total(line, bandHigh.windowM, roughM));
  const calm = lines.map((line) => total(line, bandLow.windowM, calmM));
  // Of what lies between two runs only this much is known: that it leads from one height to another.
  const across = runs.slice(1).map((run, i) => at(run.groundM, 0) - last(at(runs, i).groundM));
  const heights = across.length === 0 ? [] : runs.flatMap((run) => run.groundM);
  const reached = (from: number) => heights.reduce((most, height) => Math.max(most, height - from), 0);
  const up = {
    acrossM: across.reduce((sum, riseM) => sum + Math.max(0, riseM), 0),
    reachedM: reached(heights[0] ?? 0),
  };
  const down = {
    acrossM: across.reduce((sum, riseM) => sum + Math.max(0, -riseM), 0),
    reachedM: reached(heights.at(-1) ?? 0),
  };
  const madeUpM = madeUpClimbM(runs, postingM, windowM, noise);
  const band = (metres: (sum: Climb) => number, legs: (sum: Climb) => number, voids: typeof up): Band => {
    const best = metres(value);
    // Half of the tile's variance stays the same over kilometres and counts once, half is new at every turning point.
    const demM2 = demErrorM(postingM) ** 2 * (1 + legs(value));
    const doubtM = Z90 * Math.sqrt(demM2 + 2 * legs(value) * noise.heightM ** 2);
    const leastM = Math.max(voids.acrossM + best, voids.reachedM);
    return {
      value: leastM,
      low: voids.acrossM + Math.max(0, Math.min(best, ...calm.map(metres)) - madeUpM - doubtM),
      high: leastM - best + Math.max(best, ...rough.map(metres)) + (best > 0 ? Math.min(doubtM, best) : 0),
    };
  };
  return {
    gainM: band(
      (sum) => sum.gain,
      (sum) => sum.climbs,
      up,
    ),
    lossM: band(
      (sum) => sum.loss,
      (sum) => sum.drops,
      down,
    ),
    method: { spacingM: STATION_SPACING_M, windowM, turningPointM: counted.clearM } satisfies GainMethod,
  };
}
