import {
  colderByK,
  DRY_LAPSE_K_PER_M,
  standardTemperatureC,
  windChillC,
} from '../earth/standard-temperature.ts';

export interface ColdQuestion {
  /** `null`: not known. */
  readonly highM: number | null;
  readonly trailheadM: number | null;
  /** Expected at the trailhead at the hour of the summit, °C; `null`: no forecast. */
  readonly trailheadC: number | null;
}

export interface SummitCold {
  readonly highM: number;
  /** Colder at the top than at the trailhead, K: by the mean lapse, and in dry, well mixed air; `null`: not known. */
  readonly colderK: { readonly mean: number; readonly dry: number } | null;
  /** From the stated temperature of the trailhead, by the mean lapse, °C; `null`: none stated. */
  readonly expectedC: number | null;
  /** The standard atmosphere's at this height, °C: a guide. */
  readonly standardC: number;
  /** The colder of the two, °C, and how it feels in the planned wind; `null`: too warm for the index. */
  readonly planC: number;
  readonly feelsC: number | null;
}

/**
 * How cold the top may be, for choosing layers; `null` where its height is not known. The colder of the stated
 * temperature carried up and of the standard atmosphere counts.
 */
export function summitCold(
  { highM, trailheadM, trailheadC }: ColdQuestion,
  windKmPerH: number,
): SummitCold | null {
  if (highM === null) return null;
  const colderK =
    trailheadM === null
      ? null
      : { mean: colderByK(trailheadM, highM), dry: colderByK(trailheadM, highM, DRY_LAPSE_K_PER_M) };
  const expectedC = colderK === null || trailheadC === null ? null : trailheadC - colderK.mean;
  const standardC = standardTemperatureC(highM);
  const planC = Math.min(standardC, expectedC ?? standardC);
  return { highM, colderK, expectedC, standardC, planC, feelsC: windChillC(planC, windKmPerH) };
}
