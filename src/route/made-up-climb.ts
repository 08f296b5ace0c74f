import { at } from '../array.ts';
import { shortDemError } from './dem-error.ts';
import type { HeightNoise } from './height-noise.ts';
import type { Run } from './runs.ts';
import { smooth } from './smooth.ts';

/** Over this length of way a line's error becomes another one (design: a minute or two of walking). */
const LINE_REACH_M = 60;
/** Of the climb that noise would make on such slopes, so much is counted: what is read has noise in it already (fitted by truth:gain). */
const COUNTED = 0.6;

/** Share of a wave's height that a mean over `windowM` leaves. */
function shareLeft(windowM: number, waveM: number): number {
  if (windowM >= waveM) return 0;
  const x = (Math.PI * windowM) / waveM;
  return Math.sin(x) / x;
}

/**
 * What noise of the tile and of the line is expected to add to the climb, metres. On level ground noise of slope
 * spread σ goes up by 0.4·σ a metre; on a slope of t spreads, noise turns the way round so seldom that it adds
 * σ·(φ(t) − t·Φ(−t)), here 0.4·exp(−1.25·t − 0.33·t²), which is within 3 % of 0.4·σ (our own fit). Steady climbs
 * gain nothing from noise, level ways much.
 */
export function madeUpClimbM(
  runs: readonly Run[],
  postingM: number,
  windowM: number,
  noise: HeightNoise,
): number {
  // The long part of a tile's error makes no climb.
  const { spreadM, waveM } = shortDemError(postingM);
  const demSlope = (spreadM * 2 * Math.PI * shareLeft(windowM, waveM)) / waveM;
  const spread = Math.hypot(demSlope, noise.heightM / LINE_REACH_M);
  if (spread === 0) return 0;
  let climbM = 0;
  for (const run of runs) {
    const heights = smooth(run.groundM, run.spacingM, windowM);
    const reach = Math.max(1, Math.round(Math.max(windowM, waveM / 3) / run.spacingM / 2));
    heights.forEach((_, i) => {
      const from = Math.max(0, i - reach);
      const to = Math.min(heights.length - 1, i + reach);
      const riseM = Math.abs(at(heights, to) - at(heights, from));
      const t = riseM / ((to - from) * run.spacingM) / spread;
      climbM += run.spacingM * spread * 0.4 * Math.exp(-1.25 * t - 0.33 * t * t);
    });
  }
  return COUNTED * climbM;
}
