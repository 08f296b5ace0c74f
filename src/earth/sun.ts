import { MS_PER_DAY, MS_PER_MIN } from '../units.ts';
import type { Place } from './geodesic.ts';
import { localTimeMs } from './local-time.ts';

/*
 * NOAA solar calculator, after J. Meeus, Astronomical Algorithms, 2nd edition (equation numbers and NOAA's limits
 * from memory): for 1901-2099, a minute within ±72° of latitude, looser beyond, where the sun meets the horizon
 * at a flat angle. Sea-level horizon: the terrain's own is not considered.
 */
const J2000_MS = Date.UTC(2000, 0, 1, 12); // JD 2451545.0, the epoch of the series
const DAYS_PER_CENTURY = 36525;
/** Zenith angle of sunrise and sunset: 34' of refraction and 16' of half the disc below the horizon (NOAA). */
const HORIZON_DEG = 90.833;
const CIVIL_TWILIGHT_DEG = 96; // centre of the disc 6° below the horizon

const rad = (deg: number) => (deg * Math.PI) / 180;
const deg = (radians: number) => (radians * 180) / Math.PI;

/** Times are ms since 1970, `null` where the sun does not reach that height on this day. */
export interface SunDay {
  readonly solarNoonMs: number;
  readonly sunriseMs: number | null;
  readonly sunsetMs: number | null;
  readonly civilDawnMs: number | null;
  readonly civilDuskMs: number | null;
  /** The sun does not set, or does not rise. Civil twilight may still begin and end in a polar night. */
  readonly polar: 'day' | 'night' | null;
}

/** Where the sun stands in its year: declination, and how far a sundial runs before the mean sun. */
function solarPosition(epochMs: number): { declinationRad: number; equationOfTimeMin: number } {
  const T = (epochMs - J2000_MS) / MS_PER_DAY / DAYS_PER_CENTURY;
  const L0 = rad(280.46646 + 36000.76983 * T + 0.0003032 * T ** 2); // mean longitude, Meeus 25.2
  const M = rad(357.52911 + 35999.05029 * T - 0.0001537 * T ** 2); // mean anomaly, Meeus 25.3
  const e = 0.016708634 - 0.000042037 * T - 1.267e-7 * T ** 2; // eccentricity, Meeus 25.4
  const centreDeg = // equation of the centre, Meeus p. 164
    (1.914602 - 0.004817 * T - 1.4e-5 * T ** 2) * Math.sin(M) +
    (0.019993 - 0.000101 * T) * Math.sin(2 * M) +
    0.000289 * Math.sin(3 * M);
  const omega = rad(125.04 - 1934.136 * T); // node of the moon's orbit, Meeus p. 164
  const apparentLongitude = L0 + rad(centreDeg - 0.00569 - 0.00478 * Math.sin(omega)); // Meeus p. 164
  const arcsec = 21.448 - 46.815 * T - 0.00059 * T ** 2 + 0.001813 * T ** 3; // Meeus 22.2
  const obliquity = rad(23 + (26 + arcsec / 60) / 60 + 0.00256 * Math.cos(omega)); // corrected, Meeus 25.8
  const y = Math.tan(obliquity / 2) ** 2;
  const equationOfTime = // Smart's formula, Meeus 28.3, radians
    y * Math.sin(2 * L0) -
    2 * e * Math.sin(M) +
    4 * e * y * Math.sin(M) * Math.cos(2 * L0) -
    0.5 * y ** 2 * Math.sin(4 * L0) -
    1.25 * e ** 2 * Math.sin(2 * M);
  return {
    declinationRad: Math.asin(Math.sin(obliquity) * Math.sin(apparentLongitude)), // Meeus 25.7
    equationOfTimeMin: 4 * deg(equationOfTime), // 4 min of turning a degree
  };
}

/** Cosine of the hour angle at which the sun's centre stands `zenithDeg` from overhead (NOAA); beyond ±1: never. */
function cosHourAngle(zenithDeg: number, latDeg: number, declinationRad: number): number {
  const latRad = rad(latDeg);
  return (
    Math.cos(rad(zenithDeg)) / (Math.cos(latRad) * Math.cos(declinationRad)) -
    Math.tan(latRad) * Math.tan(declinationRad)
  );
}

/**
 * Noon, rise, set and civil twilight around the solar noon nearest to clock noon of the day `date` in `zone`.
 * Near midsummer in the north a sunset may fall after that day's midnight. Longitude may run past ±180°.
 * Dawn and dusk are `null` with `polar === null` where twilight lasts all night.
 * @throws RangeError on an unreal date or an unknown zone.
 */
export function sunDay(date: string, place: Place, zone: string): SunDay {
  const noon = noonAround(localTimeMs(date, '12:00', zone), place.lonDeg);
  return {
    ...twilightOf(noon, place.latDeg),
    sunriseMs: eventMs(noon, place.latDeg, HORIZON_DEG, -1),
    sunsetMs: eventMs(noon, place.latDeg, HORIZON_DEG, 1),
  };
}

interface Noon {
  readonly meanNoonMs: number;
  readonly solarNoonMs: number;
  readonly declinationRad: number;
}

const noonSeenFrom = (epochMs: number, meanNoonMs: number): number =>
  meanNoonMs - solarPosition(epochMs).equationOfTimeMin * MS_PER_MIN;

function noonAround(middayMs: number, lonDeg: number): Noon {
  // Noon of the mean sun: 720 − 4·longitude minutes after 0 h UTC (NOAA).
  const firstMs = (720 - 4 * lonDeg) * MS_PER_MIN;
  const meanNoonMs = firstMs + Math.round((middayMs - firstMs) / MS_PER_DAY) * MS_PER_DAY;
  const solarNoonMs = noonSeenFrom(meanNoonMs, meanNoonMs);
  return { meanNoonMs, solarNoonMs, declinationRad: solarPosition(solarNoonMs).declinationRad };
}

/** When the sun passes a height before (-1) or after (1) noon; `null`: it does not. */
function eventMs(noon: Noon, latDeg: number, zenithDeg: number, side: -1 | 1): number | null {
  const cosAtNoon = cosHourAngle(zenithDeg, latDeg, noon.declinationRad);
  if (Math.abs(cosAtNoon) > 1) return null;
  const firstGuessMs = noon.solarNoonMs + side * 4 * deg(Math.acos(cosAtNoon)) * MS_PER_MIN;
  // Once more with the sun as it stands at the event itself. Where it then only grazes the horizon the first
  // guess stays, so that a day has both events or neither.
  const { declinationRad, equationOfTimeMin } = solarPosition(firstGuessMs);
  const cosAtEvent = cosHourAngle(zenithDeg, latDeg, declinationRad);
  if (Math.abs(cosAtEvent) > 1) return firstGuessMs;
  const noonThenMs = noon.meanNoonMs - equationOfTimeMin * MS_PER_MIN;
  return noonThenMs + side * 4 * deg(Math.acos(cosAtEvent)) * MS_PER_MIN;
}

/** Noon and civil twilight of such a day. */
export type TwilightDay = Pick<SunDay, 'solarNoonMs' | 'civilDawnMs' | 'civilDuskMs' | 'polar'>;

function twilightOf(noon: Noon, latDeg: number): TwilightDay {
  const cosHorizon = cosHourAngle(HORIZON_DEG, latDeg, noon.declinationRad);
  return {
    solarNoonMs: noon.solarNoonMs,
    civilDawnMs: eventMs(noon, latDeg, CIVIL_TWILIGHT_DEG, -1),
    civilDuskMs: eventMs(noon, latDeg, CIVIL_TWILIGHT_DEG, 1),
    polar: cosHorizon < -1 ? 'day' : cosHorizon > 1 ? 'night' : null,
  };
}

/** The same around the solar noon nearest to a moment, ms since 1970: for many places of one zone and date. */
export function twilightAround(middayMs: number, { lonDeg, latDeg }: Place): TwilightDay {
  return twilightOf(noonAround(middayMs, lonDeg), latDeg);
}
