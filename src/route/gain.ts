import type { Design } from '../design.ts';
import type { Run } from './runs.ts';
import { traceOf } from './trace.ts';

/** An estimate with its doubt, metres: the true value is believed to lie between `low` and `high`. */
export interface Band {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface GainLoss {
  readonly gainM: Band;
  readonly lossM: Band;
  /** How it was computed, for people. */
  readonly method: string;
}

interface Sum {
  readonly gain: number;
  readonly loss: number;
}

function climbed(heightsM: readonly number[], spacingM: number, windowM: number, thresholdM: number): Sum {
  const trace = traceOf(heightsM, spacingM, windowM, thresholdM);
  let gain = 0;
  let loss = 0;
  let before: number | null = null;
  for (const i of trace.turns) {
    const height = trace.heightsM[i] ?? 0;
    if (before !== null) {
      gain += Math.max(0, height - before);
      loss += Math.max(0, before - height);
    }
    before = height;
  }
  return { gain, loss };
}

/**
 * Published vertical error of elevation tiles by their posting distance, root mean square, metres.
 * 1/3″: 1.55 (USGS OFR 2014-1008: 3.04 m at 95 %); 1″: 4.36 (SRTM against 138 M marks of the conterminous US,
 * a web study); 3″: 9.73 (SRTM specification, 16 m at 90 %, Sci. Rep. 2017).
 */
function demErrorM(postingM: number): number {
  if (postingM <= 15) return 1.55;
  if (postingM <= 40) return 4.36;
  return 9.73;
}

const Z90 = 1.645; // two-sided 90 % of a normal error

/**
 * Height gained and lost along the runs of a route as bands, metres: heights every 20 m, a distance window, then
 * turning points. The band spans a nearly unsmoothed and a heavily smoothed reading of the line and of its
 * neighbours to the left and right, widened by the tiles' published error between the bottom and the top.
 *
 * @param postingM posting distance of the coarsest tile that was used, metres
 */
export function gainAndLoss(runs: readonly Run[], postingM: number, design: Design['gain']): GainLoss {
  const coarse = postingM >= design.coarsePostingM;
  const thresholdM = coarse ? design.coarseTurningPointM : design.turningPointM;
  const total = (heights: (run: Run) => readonly number[], windowM: number, threshold: number): Sum => {
    let gain = 0;
    let loss = 0;
    for (const run of runs) {
      const sum = climbed(heights(run), run.spacingM, windowM, threshold);
      gain += sum.gain;
      loss += sum.loss;
    }
    return { gain, loss };
  };
  const lines = [(run: Run) => run.groundM, (run: Run) => run.leftM, (run: Run) => run.rightM];
  const value = total((run) => run.groundM, design.windowM, thresholdM);
  const readings = lines.flatMap((line) => [
    total(line, design.bandHigh.windowM, design.bandHigh.turningPointM),
    total(line, design.bandLow.windowM, Math.max(thresholdM, design.bandLow.turningPointM)),
    total(line, design.windowM, thresholdM),
  ]);
  const demM = Z90 * demErrorM(postingM) * Math.SQRT2;
  const band = (of: (sum: Sum) => number): Band => {
    const best = of(value);
    const all = readings.map(of);
    const doubt = best > 0 ? Math.min(demM, best) : 0;
    return {
      value: best,
      low: Math.max(0, Math.min(best, ...all) - doubt),
      high: Math.max(best, ...all) + doubt,
    };
  };
  return {
    gainM: band((sum) => sum.gain),
    lossM: band((sum) => sum.loss),
    method: `heights every 20 m, ${design.windowM} m window, turning points of ${thresholdM} m`,
  };
}
