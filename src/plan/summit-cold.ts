import {
  colderByK,
  DRY_LAPSE_K_PER_M,
  standardTemperatureC,
  windChillC,
} from '../earth/standard-temperature.ts';

/** How cold the top may be, for choosing layers. */
export interface SummitCold {
  readonly highM: number;
  /** Colder at the top than at the trailhead, K: by the mean lapse, and in dry, well mixed air; `null`: not known. */
  readonly colderK: { readonly mean: number; readonly dry: number } | null;
  /** The standard atmosphere's at this height, °C: a guide. */
  readonly standardC: number;
  /** How that feels in the planned wind, °C; `null`: too warm for the index. */
  readonly feelsC: number | null;
}

export function summitCold(highM: number, trailheadM: number | null, windKmPerH: number): SummitCold {
  const colderK =
    trailheadM === null
      ? null
      : { mean: colderByK(trailheadM, highM), dry: colderByK(trailheadM, highM, DRY_LAPSE_K_PER_M) };
  const standardC = standardTemperatureC(highM);
  return { highM, colderK, standardC, feelsC: windChillC(standardC, windKmPerH) };
}
