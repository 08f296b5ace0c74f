/** Fall of temperature with height in the standard atmosphere, K per m: US Standard Atmosphere 1976, up to 11 km. */
const STANDARD_LAPSE_K_PER_M = 0.0065;

/** The most that air cools as it rises without cloud, K per m: g/cp = 9.80665/1005 (from memory). */
export const DRY_LAPSE_K_PER_M = 0.00976;

/**
 * Temperature of the standard atmosphere, °C, at a height above the sea in metres: a mean over the year and the
 * middle latitudes, so a guide and no forecast. US Standard Atmosphere 1976; map heights taken as geopotential,
 * which is less than 0.05 K off up to 6,000 m.
 * @example standardTemperatureC(1000) // 8.5
 */
export const standardTemperatureC = (elevationM: number): number => 15 - STANDARD_LAPSE_K_PER_M * elevationM;

/** By how much it is colder up there than down here, K, by the mean lapse; 0 where `toM` is not higher. */
export const colderByK = (fromM: number, toM: number, lapseKPerM: number = STANDARD_LAPSE_K_PER_M): number =>
  Math.max(0, lapseKPerM * (toM - fromM));

const WARMEST_C = 10;
const LEAST_WIND_KM_PER_H = 4.8;

/**
 * What air feels like on bare skin in wind (km/h, as forecasts give it), °C; `null` where the index does not hold:
 * above 10 °C or in wind under 4.8 km/h. Environment Canada and US National Weather Service 2001, coefficients
 * from memory; a test holds them to the printed table.
 * @example windChillC(-10, 20) // -17.9
 */
export function windChillC(airC: number, windKmPerH: number): number | null {
  if (airC > WARMEST_C || windKmPerH < LEAST_WIND_KM_PER_H) return null;
  const v = windKmPerH ** 0.16;
  return 13.12 + 0.6215 * airC - 11.37 * v + 0.3965 * airC * v;
}
