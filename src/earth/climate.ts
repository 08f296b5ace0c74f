import { at, last } from '../array.ts';
import { daysBetween } from './local-time.ts';

/**
 * Mean temperature of the coldest and the warmest month near the sea, over land, °C, by latitude. Round zonal figures
 * from memory of climatologies, no source at hand: a coast or a continent differs by 5 K and more, so they only raise
 * questions. Nothing here is a forecast.
 */
const ZONES: Readonly<
  Record<'north' | 'south', readonly (readonly [latDeg: number, cold: number, warm: number])[]>
> = {
  north: [
    [0, 25.5, 27],
    [10, 25, 28],
    [20, 20, 30],
    [30, 12, 31],
    [35, 8, 29.5],
    [40, 3, 25],
    [50, -8, 19],
    [60, -18, 15],
    [70, -27, 8],
    [90, -34, 0],
  ],
  south: [
    [0, 25.5, 27],
    [10, 24.5, 28],
    [20, 17, 29],
    [30, 11, 26],
    [40, 8, 18.5],
    [50, 1, 11],
    [60, -9, 2],
    [70, -25, -4],
    [90, -58, -28],
  ],
};

/** Fall of monthly means with height on mountains, K per m (design): less than in the free air, which they warm. */
const LAPSE_K_PER_M = 0.0055;

/** The warmest day of the year north of the equator; the coldest south of it (design: a month after the solstice). */
const MIDSUMMER = '2000-07-24';
const YEAR_DAYS = 365.25;

/** The year near the sea at a latitude: mean, and half its swing, below 0 south of the equator. */
export interface YearOfPlace {
  readonly meanC: number;
  readonly swingK: number;
}

/** What a year is like at a latitude, near the sea. */
export function yearAt(latDeg: number): YearOfPlace {
  const zones = latDeg < 0 ? ZONES.south : ZONES.north;
  const lat = Math.abs(latDeg);
  const above = zones.findIndex(([zone]) => zone > lat);
  const [high, coldHigh, warmHigh] = above < 0 ? last(zones) : at(zones, above);
  const [low, coldLow, warmLow] = above < 0 ? last(zones) : at(zones, above - 1);
  const share = high === low ? 0 : (lat - low) / (high - low);
  const cold = coldLow + share * (coldHigh - coldLow);
  const warm = warmLow + share * (warmHigh - warmLow);
  return { meanC: (cold + warm) / 2, swingK: ((warm - cold) / 2) * (latDeg < 0 ? -1 : 1) };
}

/** How far the north is into its summer, from 1 in late July to -1 in late January; `laterDays` after the date. */
export const summerOfNorth = (date: string, laterDays = 0): number =>
  Math.cos((2 * Math.PI * (daysBetween(MIDSUMMER, date) + laterDays)) / YEAR_DAYS);

/** Mean temperature of a day at a height, °C: of many years, day and night, no forecast. */
export const usualC = ({ meanC, swingK }: YearOfPlace, elevationM: number, summer: number): number =>
  meanC + swingK * summer - LAPSE_K_PER_M * elevationM;
